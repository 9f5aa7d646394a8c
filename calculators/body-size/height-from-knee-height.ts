/**
 * Height of an adult from knee height: heel to the front of the thigh, knee and ankle at right angles.
 *
 *   height = constant + slope x knee height + slope x age
 *
 * The shin keeps its length when the back bends, and it can be measured lying down. A foot that will not
 * come to a right angle makes it wrong.
 *
 * Three lines were read, in the paper's abstract or in pages that print the equation, and one of them
 * gives the answer. The lines of 1994 and 1998 were not read in their papers: those of 1994 in copies by
 * others, those of 1998 nowhere. They are in a table of their own, each with how it was checked, and
 * never give the answer.
 *
 * Adult lines begin at 19 years. At 18 the lines for 6 to 18 years hold (`height-from-segments`): for a
 * man with a knee height of 52 cm the two are 14 cm apart.
 *
 * @refuses under 19 (see the segments of a child), over 90, and the older people's lines under 60
 */

import { type Citation, defineCalculator, type Formula, type NumberField } from '../calculator.ts';
import type { Sex } from '../domain/age-and-sex.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { type Standing, standingWords } from '../standing.ts';
import {
  estimated,
  fromStandardError,
  guidelineAdvice,
  type HeightError,
  heightCautions,
  heightResults,
  showAge,
  showHeight,
} from './estimated-height.ts';
import { age, sex } from './shared-fields.ts';
import { type Slopes, straightLine } from './straight-line.ts';

const line = (constant: number, slopes: Slopes): Formula =>
  straightLine({ name: 'height', unit: 'cm' }, constant, slopes);

/** Lines that were read. Ages in years, both ends included. */
const checkedLines = {
  'chumlea-1985': {
    name: 'Chumlea 1985',
    ages: [60, 90],
    male: line(64.19, { kneeHeight: 2.02, age: -0.04 }),
    female: line(84.88, { kneeHeight: 1.83, age: -0.24 }),
  },
  'donini-2000': {
    name: 'Donini 2000',
    ages: [60, 90],
    male: line(94.87 + 4.8, { kneeHeight: 1.58, age: -0.23 }),
    female: line(94.87, { kneeHeight: 1.58, age: -0.23 }),
  },
  'taiwan-1998-adult': {
    name: 'Taiwan 1998',
    ages: [19, 90],
    male: line(85.1, { kneeHeight: 1.73, age: -0.11 }),
    female: line(91.45, { kneeHeight: 1.53, age: -0.16 }),
  },
} as const satisfies Record<string, { name: string; ages: readonly [number, number] } & Record<Sex, Formula>>;
type CheckedLine = keyof typeof checkedLines;

interface Unread {
  set: string;
  sex: Sex;
  group: string;
  label: string;
  /** years, both ends included */
  ages: readonly [number, number];
  line: Formula;
  error?: HeightError;
  standing: Standing;
}

/** Not read in their papers. The groups are the studies' own words. */
export const unreadLines: readonly Unread[] = [
  ...(
    [
      ['male', 'White', 71.85, { kneeHeight: 1.88 }, 3.97],
      ['male', 'Black', 73.42, { kneeHeight: 1.79 }, 3.6],
      ['female', 'White', 70.25, { kneeHeight: 1.87, age: -0.06 }, 3.6],
      ['female', 'Black', 68.1, { kneeHeight: 1.86, age: -0.06 }, 3.8],
    ] as const
  ).map(([sex, group, constant, slopes, see]) => ({
    set: 'chumlea-1994-adult',
    sex,
    group,
    label: `Chumlea 1994, ${group}, 19 to 60 years`,
    ages: [19, 60] as const,
    line: line(constant, slopes),
    error: fromStandardError(see, 'Chumlea 1994'),
    standing: 'checked-in-summary' as const,
  })),
  ...(
    [
      ['male', 'White', 78.31, 1.94, -0.14],
      ['male', 'Black', 79.69, 1.85, -0.14],
      ['male', 'MexicanAmerican', 82.77, 1.83, -0.16],
      ['female', 'White', 82.21, 1.85, -0.21],
      ['female', 'Black', 89.58, 1.61, -0.17],
      ['female', 'MexicanAmerican', 84.25, 1.82, -0.26],
    ] as const
  ).map(([sex, group, constant, kneeHeight, age]) => ({
    set: 'chumlea-1998-elderly',
    sex,
    group,
    label: `Chumlea 1998, ${group === 'MexicanAmerican' ? 'Mexican American' : group}, 60 years and over`,
    ages: [60, 90] as const,
    line: line(constant, { kneeHeight, age }),
    standing: 'from-memory' as const,
  })),
];

const kneeHeight = {
  kind: 'number',
  label: 'Knee height',
  unit: 'cm',
  accepts: ['mm', '[in_i]'],
  plausible: [38, 65],
  hard: [30, 75],
  help: 'Measure knee height from under the heel to the top of the thigh just behind the kneecap, with the knee and ankle at right angles. Measure the left leg, with the person lying or sitting.',
} as const satisfies NumberField;

const setNames = Object.keys(checkedLines) as CheckedLine[];

const citations: Citation[] = [
  {
    cite: 'Chumlea WC, Roche AF, Steinbaugh ML. J Am Geriatr Soc 1985;33:116-120',
    locator: 'both equations, the same on three general nutrition pages',
    standing: 'checked-in-summary',
    note: 'We have not yet checked the age range of 60 to 90 years for these equations',
  },
  {
    cite: 'Donini 2000, knee height in older people',
    locator: 'one equation, with 4.8 cm added for men, as printed in nutrition pages in three languages',
    standing: 'checked-in-summary',
    note: 'We did not read the age range of the Donini equation. Here the Donini equation is limited to ages 60 to 90 years',
  },
  {
    cite: 'Estimating stature from knee height for adults in Taiwan (Chang-Gung Memorial Hospital, 1998)',
    locator: 'abstract: 603 men and 576 women, knee height measured lying down; r squared 0.61 and 0.58',
    standing: 'checked',
    note: 'The abstract says only “adults”; we set the limits of 19 and 90 years',
  },
  {
    cite: 'Chumlea WC, Guo SS, Steinbaugh ML. J Am Diet Assoc 1994;94:1385-1388',
    locator: 'equations by sex and group, 19 to 60 years, with their standard errors',
    standing: 'checked-in-summary',
    note: 'We read the equations in publicly available program code, not in the paper. At least four programs give the same equations, with a slope of 1.86 for Black women. The programs give an age range of 19 to 60 years for the equations, except one program, which gives 18 to 59. The standard error printed in one program is twice the standard error used here',
  },
  {
    cite: 'Chumlea WC, Guo SS, Wholihan K, et al. J Am Diet Assoc 1998;98:137-142',
    locator: 'equations by sex and group, 60 years and over',
    standing: 'from-memory',
    note: 'We read only the abstract, which names the same groups and counts 4750 people. The coefficients come from memory',
  },
  {
    cite: 'Four ways of estimating height, compared in 141 wheelchair users. Am J Phys Med Rehabil 2011;90:658-666',
    locator: 'abstract: lying length agreed best with the other methods, then knee height; arm span agreed least',
    standing: 'checked',
  },
  guidelineAdvice,
];

export default defineCalculator({
  id: 'height-from-knee-height',
  title: 'Height from knee height (adults)',
  purpose:
    'Estimates the standing height of an adult from knee height by a named equation, and shows the other equations for comparison.',
  group: 'size',
  keywords: ['knee height', 'lower leg', 'height estimate', 'cannot stand', 'bedbound', 'wheelchair', 'Chumlea'],
  fields: {
    sex,
    age,
    kneeHeight,
    set: {
      kind: 'choice',
      label: 'Equation',
      options: [
        { value: 'chumlea-1985', label: 'Chumlea 1985, 60 to 90 years' },
        { value: 'donini-2000', label: 'Donini 2000, older Italian adults' },
        { value: 'taiwan-1998-adult', label: 'Taiwan 1998, adults' },
      ],
      optional: true,
      help: 'If you do not choose an equation, Chumlea 1985 is used from the age of 60 years. Below 60 years, the Taiwan 1998 equation is used, because it is the only equation for adults under 60 that we have read.',
    },
  },
  formulas: {
    ...Object.fromEntries(
      setNames.flatMap((name) =>
        (['male', 'female'] as const).map((sex) => [`${name}-${sex}`, checkedLines[name][sex]]),
      ),
    ),
    ...Object.fromEntries(unreadLines.map(({ set, sex, group, line }) => [`${set}-${sex}-${group}`, line])),
  },
  results: heightResults,
  holds: {
    population: 'adults; each equation applies to people like those in whom it was derived',
    ages: '19 to 90 years',
    notFor: 'children; anyone whose knee or ankle cannot be brought to a right angle',
  },
  cautions: [
    'Each knee-height equation comes from healthy people in one place. None of the equations comes from people with neuromuscular disease.',
    'In 141 wheelchair users, lying length agreed best with the other methods, and knee height agreed second best. If the person can lie straight, measure the lying length instead.',
    ...heightCautions,
  ],
  citations,
  compute: ({ sex, age, kneeHeight, set }, step) => {
    if (age < 19)
      return refuse(
        'age',
        `These equations begin at 19 years. At ${showAge(age)} use the ulna, arm span or the height of a child from a segment${age >= 6 ? ', which has the knee-height equations for 6 to 18 years' : ''}`,
      );
    if (age > 90) return refuse('age', `These equations end at 90 years. At ${showAge(age)} measure lying length`);
    const chosen = set ?? (age < 60 ? 'taiwan-1998-adult' : 'chumlea-1985');
    const { name, ages, ...lines } = checkedLines[chosen];
    if (age < ages[0])
      return refuse('age', `${name} is for ${ages[0]} to ${ages[1]} years. At ${showAge(age)} choose Taiwan 1998`);
    const found = estimated(step(lines[sex], { kneeHeight, age }), undefined);
    return {
      results: found.results,
      cautions: [
        ...found.cautions,
        ...(chosen === 'taiwan-1998-adult'
          ? [
              'Taiwan 1998 comes from adults in Taiwan. Elsewhere it may read too short or too tall; we do not know by how much.',
            ]
          : []),
      ],
      tables: [beside(sex, age, kneeHeight), unread(sex, age, kneeHeight)],
    };
  },
});

function beside(sex: Sex, age: number, kneeHeight: number): ResultTable {
  return {
    caption: 'The same knee height by the equations that were read',
    columns: ['Equation', 'Height'],
    rows: Object.values(checkedLines).map((checked) => ({
      label: checked.name,
      cells: [
        age < checked.ages[0] || age > checked.ages[1]
          ? `made for ${checked.ages[0]} to ${checked.ages[1]} years`
          : showHeight(checked[sex].run({ kneeHeight, age })),
      ],
    })),
  };
}

function unread(sex: Sex, age: number, kneeHeight: number): ResultTable {
  return {
    caption: 'These were not read in the papers themselves. Read the paper before using one',
    columns: ['Equation', 'Height (range where a spread is known)', 'How it was checked'],
    rows: unreadLines
      .filter((one) => one.sex === sex && age >= one.ages[0] && age <= one.ages[1])
      .map(({ label, line, error, standing }) => ({
        label,
        cells: [showHeight(line.run({ kneeHeight, age }), error), standingWords[standing]],
      })),
  };
}
