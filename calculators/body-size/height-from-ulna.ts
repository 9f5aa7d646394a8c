/**
 * Height from the length of the ulna, for a person who cannot stand or be laid straight.
 *
 *   adult:  height = constant + slope x ulna, by sex and by age under 65 or 65 and over
 *   child:  height = slope x ulna + slope x age + constant (Gauld 2004, 5 to 19 years)
 *
 * The forearm keeps its length when the spine bends and the legs contract, which is why it is measured
 * here. It is measured from the point of the elbow to the middle of the prominent wrist bone, left arm
 * if possible, folded across the chest, to the nearest half centimetre.
 *
 * The adult lines are our own: fitted by least squares to the 112 heights of the BAPEN sheet (28 lengths of the ulna, two
 * sexes, two age groups), from which they differ by at most 0.54 cm. The sheet's table itself is not copied here
 * (.github/NOTICE.md). It reads tall in several populations, and so do the lines; the published errors are printed with
 * the answer. The child's line was made for children
 * with neuromuscular weakness; on adults it gives heights far too tall, so it is refused above 19.
 *
 * @refuses an ulna outside 18.5 to 32 cm, where the sheet ends, for an adult; the adult lines under 18 years; the child's line under
 *          5 or above 19 years
 * @source  the sheet's heights and the child's line read in another's data set and program (see the citations); errors read in abstracts
 */

import { type Citation, defineCalculator, type Formula, type NumberField } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import {
  estimated,
  fromLimits,
  fromStandardError,
  guidelineAdvice,
  type HeightError,
  heightCautions,
  heightResults,
  showAge,
  showHeight,
} from './estimated-height.ts';
import { age, sex } from './shared-fields.ts';
import { straightLine } from './straight-line.ts';

const cm = { name: 'height', unit: 'cm' } as const;

/** Fitted to the heights of the BAPEN sheet; no height on it is more than 0.54 cm away. */
const adult: Record<Sex, { younger: Formula; older: Formula }> = {
  male: { younger: straightLine(cm, 79.29, { ulna: 3.597 }), older: straightLine(cm, 86.22, { ulna: 3.154 }) },
  female: { younger: straightLine(cm, 95.6, { ulna: 2.768 }), older: straightLine(cm, 79.81, { ulna: 3.265 }) },
};

/** The line for an adult of this age; the sheet leaves 65 itself open. */
const adultLine = (sex: Sex, age: number): Formula => (age < 65 ? adult[sex].younger : adult[sex].older);

/** The Gauld line by sex, for children with neuromuscular weakness. */
export const gauld: Record<Sex, Formula> = {
  male: straightLine(cm, 28.003, { ulna: 4.605, age: 1.308 }),
  female: straightLine(cm, 31.485, { ulna: 4.459, age: 1.315 }),
};

const malaysia: Record<Sex, { line: Formula; error: HeightError }> = {
  male: {
    line: straightLine(cm, 67.878, { ulna: 2.333, age: 2.399 }),
    error: fromStandardError(5.75, 'the Malaysian series'),
  },
  female: {
    line: straightLine(cm, 90.648, { ulna: 1.752, age: 1.479 }),
    error: fromStandardError(5.393, 'the Malaysian series'),
  },
};

/** Lines made in the UK because the table reads tall in these groups; the groups are the study's own words. */
const asian: Record<Sex, Formula> = {
  male: straightLine(cm, 83.58, { ulna: 3.26 }),
  female: straightLine(cm, 77.62, { ulna: 3.26 }),
};
const black: Record<Sex, Formula> = {
  male: straightLine(cm, 85.8, { ulna: 3.14 }),
  female: straightLine(cm, 79.55, { ulna: 3.14 }),
};

/** The one series with limits for single people. The BAPEN table read 7 cm tall there, so the range is not even. */
const adultError = fromLimits(
  19.8,
  5.7,
  'the limits of agreement in 200 South African in-patients aged 19 to 60 years, in whom the BAPEN table read 7 cm tall. No such limits were found for other groups',
);

/** The paper's own error was not read. A later series found this for every segment line that it tried, one on the ulna among them. */
const gauldError = fromLimits(
  10,
  10,
  'borrowed: limits of agreement were near 10 cm either way for every segment equation tried in 137 people aged 2 to 25 years with cerebral palsy, ulna included. The error printed for this equation itself was not read',
);

const ulna = {
  kind: 'number',
  label: 'Ulna length',
  unit: 'cm',
  accepts: ['mm', '[in_i]'],
  plausible: [15, 32],
  hard: [8, 40],
  help: 'Measure the ulna from the point of the elbow to the middle of the prominent wrist bone. Measure the left arm if possible, folded across the chest.',
} as const satisfies NumberField;

const citations: Citation[] = [
  {
    cite: 'British Association for Parenteral and Enteral Nutrition, screening tool: height from ulna length',
    locator:
      'heights for 28 lengths of the ulna, as held in a hospital research unit\u2019s data set that names a book appendix; the four equations are our own fit, at most 0.54 cm from any of them',
    standing: 'checked-in-summary',
    note: 'The BAPEN table itself is not copied, because its terms allow non-commercial use only (NOTICE.md). The columns of the BAPEN sheet are headed “under 65” and “over 65”. Here, a person of exactly 65 gets the equation for people over 65',
  },
  {
    cite: 'Gauld LM, Kappers J, Carlin JB, Robertson CF. Dev Med Child Neurol 2004;46:475-480',
    locator: 'six coefficients, as printed with this citation in a hospital research unit\u2019s program',
    standing: 'checked-in-summary',
    note: 'The age range of 5 to 19 years is not yet checked. In boys with Duchenne on glucocorticoids, Gauld’s arm-span equation gave a height that was 1.7 cm too tall on average, SD 2.5 (conference abstract)',
  },
  {
    cite: 'van den Berg L, Nel M, Brand D, et al. S Afr J Clin Nutr 2016: height from ulna in Bloemfontein in-patients',
    locator: 'abstract: median 170.2 cm estimated, 163.9 cm measured; limits of agreement -19.8 to 5.7 cm',
    standing: 'checked',
  },
  {
    cite: 'The estimation of body height from ulnar length in adults from different ethnic groups. J Hum Nutr Diet 2008;21(4)',
    locator: 'abstract: the table overestimates height in Asian and Black adults in London, but not in White adults',
    standing: 'checked',
  },
  {
    cite: 'Madden AM, Mashanova A, Amirabdollahian F, et al. Improved prediction equations for estimating height in adults from ethnically diverse backgrounds',
    locator: 'abstract: four equations, 542 adults at seven UK sites',
    standing: 'checked',
    note: 'In a second group of adults, the mean differences between estimated and measured height were 0.4 to 0.8 cm. The abstract does not say how far out the estimate may be for one person',
  },
  {
    cite: 'Haapala H, Peterson MD, Daunter A, Hurvitz EA: actual and estimated height from segments in cerebral palsy',
    locator: 'abstract: limits of agreement usually near 10 cm either way',
    standing: 'checked',
  },
  {
    cite: 'Navajyothi D, Lim ZX, Prarthana KG. Pak J Med Health Sci: height from arm span and ulna in Malaysian adolescents',
    locator: 'abstract: left ulna, 13 to 16 years',
    standing: 'checked',
  },
  guidelineAdvice,
];

export default defineCalculator({
  id: 'height-from-ulna',
  title: 'Height from the ulna',
  purpose:
    'Estimates standing height from the forearm when a person cannot stand or lie straight, and gives the error of the estimate.',
  group: 'size',
  keywords: ['ulna', 'forearm', 'height estimate', 'cannot stand', 'wheelchair', 'scoliosis', 'contracture', 'Gauld'],
  fields: {
    sex,
    age,
    ulna,
    method: {
      kind: 'choice',
      label: 'Which equation',
      options: [
        { value: 'adult-line', label: 'Equation fitted to the BAPEN table (adults)' },
        { value: 'gauld-2004-child', label: 'Gauld 2004 (5 to 19 years, made for neuromuscular weakness)' },
      ],
      optional: true,
      help: 'If you do not choose an equation, the adult equation is used from 18 years, and the Gauld equation below 18 years.',
    },
  },
  formulas: {
    youngerMan: adult.male.younger,
    olderMan: adult.male.older,
    youngerWoman: adult.female.younger,
    olderWoman: adult.female.older,
    gauldBoy: gauld.male,
    gauldGirl: gauld.female,
    malaysiaBoy: malaysia.male.line,
    malaysiaGirl: malaysia.female.line,
    asianMan: asian.male,
    asianWoman: asian.female,
    blackMan: black.male,
    blackWoman: black.female,
  },
  results: heightResults,
  holds: {
    population: 'adults (fitted equation); children with neuromuscular weakness (Gauld equation)',
    ages: '18 years and over by the fitted equation, 5 to 19 by the Gauld equation',
    notFor: 'an ulna outside 18.5 to 32 cm in an adult; a forearm that was broken or has not grown',
  },
  cautions: heightCautions,
  citations,
  compute: ({ sex, age, ulna, method }, step) => {
    const chosen = method ?? (isChild(age) ? 'gauld-2004-child' : 'adult-line');
    if (chosen === 'gauld-2004-child') {
      if (age > 19)
        return refuse(
          'age',
          `The Gauld equation is for 5 to 19 years. In adults it gives heights far too tall: use the adult equation at ${showAge(age)}`,
        );
      if (age < 5)
        return refuse(
          'age',
          `The Gauld equation is for 5 to 19 years. No ulna equation here reaches ${showAge(age)}: measure lying length`,
        );
      const found = estimated(step(gauld[sex], { ulna, age }), gauldError);
      return {
        results: found.results,
        cautions: [
          ...found.cautions,
          'In boys with Duchenne on steroids, Gauld’s arm-span equation gave a height that was 1.7 cm too tall on average (conference abstract).',
        ],
        tables: age >= 13 && age < 17 ? [malaysianRow(sex, age, ulna)] : [],
      };
    }
    if (isChild(age))
      return refuse(
        'age',
        `The adult equation is for 18 years and over. At ${showAge(age)} use the Gauld equation (5 to 19 years)`,
      );
    if (ulna < 18.5 || ulna > 32)
      return refuse(
        'ulna',
        `The adult equation runs from 18.5 to 32 cm. ${Number(ulna.toFixed(2))} cm is outside it: was the ulna measured from elbow to wrist bone?`,
      );
    const height = step(adultLine(sex, age), { ulna });
    const found = estimated(height, adultError);
    return {
      results: found.results,
      cautions: [
        ...found.cautions,
        'The BAPEN table, and so this equation, reads tall in several populations: 7 cm on average in South African in-patients, and too tall in Asian and Black adults in London.',
        ...(age >= 65 && age < 66
          ? [
              'The original sheet does not say which equation applies at exactly 65. The equation for older people was used.',
            ]
          : []),
      ],
      tables: [ukLines(sex, ulna, height)],
    };
  },
});

function ukLines(sex: Sex, ulna: number, height: number): ResultTable {
  return {
    caption: 'The same ulna by equations made where the table reads tall (Madden, abstract read; no range published)',
    columns: ['Equation', 'Height'],
    rows: [
      { label: 'Equation fitted to the BAPEN table', cells: [showHeight(height, adultError)] },
      { label: 'Asian adults, UK', cells: [showHeight(asian[sex].run({ ulna }))] },
      { label: 'Black adults, UK', cells: [showHeight(black[sex].run({ ulna }))] },
    ],
  };
}

function malaysianRow(sex: Sex, age: number, ulna: number): ResultTable {
  const { line, error } = malaysia[sex];
  return {
    caption: 'The same ulna by an equation for healthy adolescents',
    columns: ['Equation', 'Height and range'],
    rows: [{ label: 'Malaysian adolescents, 13 to 16 years', cells: [showHeight(line.run({ ulna, age }), error)] }],
  };
}
