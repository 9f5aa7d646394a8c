/**
 * Height from arm span, for a person who cannot stand but can open both arms.
 *
 *   adults:              height = arm span / ratio
 *   6 to 17 years:       height = arm span
 *   or a regression:     height = constant + slope x arm span + slope x age
 *
 * The span is measured from one middle fingertip to the other, both arms straight out at shoulder height,
 * back against a wall. A bent elbow, a stiff shoulder or a curved upper spine makes it short.
 *
 * Published ratios run from 1.01 to 1.06, and that choice alone moves the height by 8 cm at a span of
 * 175 cm. So the ratio used is part of the answer, and the others are printed beside it. Only the regressions
 * print an error for one person.
 *
 * @refuses under 6 years; an adult ratio or line under 18; the adolescent line outside 13 to 16 years
 */

import { type Citation, defineCalculator, type Formula, formula, type NumberField } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { type Refusal, type ResultTable, refuse } from '../outcome.ts';
import {
  estimated,
  fromStandardError,
  guidelineAdvice,
  type HeightError,
  heightCautions,
  heightResults,
  showAge,
  showHeight,
  showRange,
} from './estimated-height.ts';
import { age, sex } from './shared-fields.ts';
import { straightLine } from './straight-line.ts';

const cm = { name: 'height', unit: 'cm' } as const;

export const byRatio = formula({
  result: 'height',
  unit: 'cm',
  text: 'armSpan / ratio',
  symbols: {
    armSpan: { means: 'arm span', unit: 'cm', range: [100, 215] },
    ratio: { means: 'arm span over height', unit: '', range: [1, 1.06] },
  },
  run: ({ armSpan, ratio }) => armSpan / ratio,
});

/** Arm span over height. 1.06 is the figure many laboratories recall; nobody here has met it in a source. */
export const ratios = { men: 1.03, women: 1.01, child: 1, northIndian: 1.024, recalled: 1.06 } as const;

type Line = { line: Formula; error: HeightError };
const parkerLine = (constant: number, slopes: { armSpan: number; age?: number }, spread: number): Line => ({
  line: straightLine(cm, constant, slopes),
  error: fromStandardError(spread, 'Parker'),
});

/** The line for Black women is cut off in the copy that was read, so it is not here. */
const parker = {
  whiteMan: parkerLine(68.74, { armSpan: 0.63008, age: -0.1019 }, 4.122),
  whiteWoman: parkerLine(33.14, { armSpan: 0.79499 }, 3.391),
  blackMan: parkerLine(60.13, { armSpan: 0.65336, age: -0.08399 }, 3.044),
};

const malaysia: Record<Sex, Line> = {
  male: {
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: 0.707 is the printed slope, not half the root of 2
    line: straightLine(cm, 28.281, { armSpan: 0.707, age: 1.212 }),
    error: fromStandardError(3.56, 'the Malaysian series'),
  },
  female: {
    line: straightLine(cm, 40.107, { armSpan: 0.658, age: 0.863 }),
    error: fromStandardError(3.49, 'the Malaysian series'),
  },
};

const armSpan = {
  kind: 'number',
  label: 'Arm span',
  unit: 'cm',
  accepts: ['m', '[in_i]'],
  plausible: [95, 215],
  hard: [60, 260],
  help: 'Measure arm span from fingertip to fingertip, with both arms straight out at shoulder height. If one arm will not straighten, estimate height by another method.',
} as const satisfies NumberField;

const methods = [
  { value: 'ratio-by-sex', label: 'Ratio 1.03 men, 1.01 women; none from 6 to 17 years' },
  { value: 'north-indian', label: 'Ratio 1.024, North Indian adults' },
  { value: 'fixed-ratio', label: 'Ratio 1.06 (not yet checked)' },
  { value: 'parker-white', label: 'Parker equation, White adults' },
  { value: 'parker-black', label: 'Parker equation, Black men' },
  { value: 'malaysia-adolescent', label: 'Malaysian equation, 13 to 16 years' },
] as const;
type Method = (typeof methods)[number]['value'];

const citations: Citation[] = [
  {
    cite: 'Quanjer PH, spirometry teaching site, reference-values page (citing Hibbert, Torres, Aggarwal and Parker)',
    locator: 'ratios 1.03 men, 1.01 women, 1.024 North Indian adults; no correction from 6 to 18 years',
    standing: 'checked',
    note: 'The teaching site gives an age range of 6 to 18 years; in this handbook, a person aged 18 counts as an adult',
  },
  {
    cite: 'Parker et al., arm span and height in adults',
    locator:
      'equations for White men and women and for Black men with their residual spread, as quoted on the same site',
    standing: 'checked-in-summary',
    note: 'The equation for Black women was cut off in the copy that we read, so it is left out',
  },
  { cite: 'Arm span divided by 1.06', locator: 'from memory; not found in any source', standing: 'from-memory' },
  {
    cite: 'Aggarwal AN, Gupta D, Jindal SK. Chest 1999;115:557-562',
    locator:
      'abstract: using arm span in place of height put 16.2 % of 228 spirometry results in the wrong class, and using a fixed ratio put 14.0 % in the wrong class',
    standing: 'checked',
  },
  {
    cite: 'Navajyothi D, Lim ZX, Prarthana KG. Pak J Med Health Sci: height from arm span and ulna in Malaysian adolescents',
    locator: 'abstract: 13 to 16 years, standard errors 3.56 and 3.49 cm',
    standing: 'checked',
  },
  {
    cite: 'Four ways of estimating height, compared in 141 wheelchair users. Am J Phys Med Rehabil 2011;90:658-666',
    locator: 'abstract: arm span gave the tallest estimate and agreed least with the others',
    standing: 'checked',
  },
  {
    cite: 'Arm span in elderly Thai patients with COPD. COPD 2015;10:1173',
    locator: 'abstract: the ratio of arm span to height was 1.05 ± 0.03',
    standing: 'checked',
    note: 'People lose height with age, but their arm span does not shrink',
  },
  guidelineAdvice,
];

export default defineCalculator({
  id: 'height-from-arm-span',
  title: 'Height from arm span',
  purpose:
    'Estimates standing height from arm span by a named ratio or equation, and shows every other ratio for comparison.',
  group: 'size',
  keywords: ['arm span', 'armspan', 'wingspan', 'height estimate', 'cannot stand', 'wheelchair', '1.06', 'Parker'],
  fields: {
    sex,
    age,
    armSpan,
    method: { kind: 'choice', label: 'Ratio or equation', options: methods, initial: 'ratio-by-sex' },
  },
  formulas: {
    byRatio,
    parkerWhiteMan: parker.whiteMan.line,
    parkerWhiteWoman: parker.whiteWoman.line,
    parkerBlackMan: parker.blackMan.line,
    malaysiaBoy: malaysia.male.line,
    malaysiaGirl: malaysia.female.line,
  },
  results: {
    ...heightResults,
    ratio: {
      label: 'Ratio used',
      unit: '{ratio}',
      decimals: 3,
      plausible: [0.9, 1.2],
      help: 'This is arm span divided by height. Write the ratio next to the height.',
    },
  },
  holds: {
    population: 'people who can hold both arms straight',
    ages: '6 years and over; each ratio or equation has its own age range',
    notFor: 'people with a contracture at the elbow or shoulder; children under 6',
  },
  cautions: [
    'Published ratios of arm span to height range from 1.01 to 1.06. Record which ratio was used.',
    'In 141 wheelchair users, arm span gave the tallest height of four methods and agreed least with the other three.',
    'Older people lose height but keep their arm span, so the ratio of arm span to height rises: it was 1.05 in one group of older Thai adults with lung disease.',
    ...heightCautions,
  ],
  citations,
  compute: ({ sex, age, armSpan, method }, step) => {
    const chosen = choose(method, sex, age);
    if ('ok' in chosen) return chosen;
    const tables = [sideBySide(sex, age, armSpan)];
    if ('ratio' in chosen) {
      const found = estimated(step(byRatio, { armSpan, ratio: chosen.ratio }), undefined);
      return {
        results: { ...found.results, ratio: { value: chosen.ratio } },
        cautions: [
          ...found.cautions,
          ...(method === 'fixed-ratio'
            ? ['The ratio of 1.06 is not yet checked. Nobody here has read it at a source.']
            : []),
        ],
        tables,
      };
    }
    const found = estimated(step(chosen.line, { armSpan, age }), chosen.error);
    return { results: found.results, cautions: found.cautions, tables };
  },
});

function choose(method: Method, sex: Sex, age: number): { ratio: number } | Line | Refusal {
  if (age < 6)
    return refuse('age', `Arm span is used from 6 years. At ${showAge(age)} measure lying length or a segment`);
  const child = isChild(age);
  if (method === 'malaysia-adolescent')
    return age >= 13 && age < 17
      ? malaysia[sex]
      : refuse('age', `The Malaysian equation is for 13 to 16 years. ${showAge(age)} is outside it`);
  if (method === 'ratio-by-sex') return { ratio: child ? ratios.child : sex === 'male' ? ratios.men : ratios.women };
  if (child)
    return refuse(
      'age',
      `This ratio or equation is for adults aged 18 and over. From 6 to 17 years take the arm span as the height`,
    );
  if (method === 'north-indian') return { ratio: ratios.northIndian };
  if (method === 'fixed-ratio') return { ratio: ratios.recalled };
  if (method === 'parker-white') return sex === 'male' ? parker.whiteMan : parker.whiteWoman;
  if (sex === 'male') return parker.blackMan;
  return refuse('method', 'The Parker equation for Black women was cut off in the copy we read. Choose a ratio');
}

/** Every ratio and line that applies at this age, so that nobody takes a single one for the truth. */
function sideBySide(sex: Sex, age: number, armSpan: number): ResultTable {
  const ratioRow = (label: string, ratio: number) => ({
    label,
    cells: [showHeight(byRatio.run({ armSpan, ratio })), 'none found'],
  });
  const lineRow = (label: string, { line, error }: Line) => ({
    label,
    cells: [showHeight(line.run({ armSpan, age })), showRange(line.run({ armSpan, age }), error)],
  });
  const child = [
    ratioRow('No correction, 6 to 17 years', ratios.child),
    ...(age >= 13 && age < 17 ? [lineRow('Malaysian equation, 13 to 16 years', malaysia[sex])] : []),
  ];
  const adult = [
    sex === 'male' ? ratioRow('1.03, men', ratios.men) : ratioRow('1.01, women', ratios.women),
    ratioRow('1.024, North Indian adults', ratios.northIndian),
    ratioRow('1.06, not yet checked', ratios.recalled),
    ...(sex === 'male'
      ? [lineRow('Parker, White men', parker.whiteMan), lineRow('Parker, Black men', parker.blackMan)]
      : [lineRow('Parker, White women', parker.whiteWoman)]),
  ];
  return {
    caption: 'The same arm span by every ratio and equation for this age',
    columns: ['Ratio or equation', 'Height', 'Range'],
    rows: isChild(age) ? child : adult,
  };
}
