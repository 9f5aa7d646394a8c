/**
 * Vital capacity against what is expected of a person of this sex, age and height.
 *
 * Litres alone say little: 2 L is ample at 6 and a warning at 40. A reference set turns litres into per cent of
 * predicted, which is what nearly every published threshold is written in, and into a z-score, which says how unusual
 * the reading is. Sets differ by 10 % and more for the same person, so the set belongs beside the number, and the
 * table shows the same reading under each.
 *
 * @refuses an age outside the chosen set; GLI-2012 or NHANES III without one of their own groups
 * @source  see `gli.ts`, `nhanes3.ts`, `ecsc-1993.ts`
 */

import { age, height, sex } from '../body-size/shared-fields.ts';
import { type ChoiceField, type Citation, defineCalculator } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';
import { show } from '../quantity.ts';
import { defaultSet } from './default-set.ts';
import { ecscPredicted } from './ecsc-1993.ts';
import {
  centile,
  lowerLimit,
  normalLowerLimit,
  normalZScore,
  percentPredicted,
  readingAgainst,
  zScore,
} from './expected.ts';
import { heightError, withHeightError } from './height-error.ts';
import { median, medianSpline, skewness, spread, spreadSpline } from './lms-set.ts';
import { nhanesLowerLimit, nhanesPredicted } from './nhanes3.ts';
import { type Group, groupNames, type Index, nameOnReport, type Person, type ReferenceSet } from './reference-set.ts';
import { type ForcedSet, forcedSets } from './reference-sets.ts';
import { measuredVolume } from './shared-fields.ts';

const index = {
  kind: 'choice',
  label: 'Index',
  options: [
    { value: 'FVC', label: 'FVC, forced vital capacity' },
    { value: 'FEV1', label: 'FEV1, volume in the first second' },
  ],
  initial: 'FVC',
} as const satisfies ChoiceField;

const set = {
  kind: 'choice',
  label: 'Reference set',
  options: [
    { value: 'gli-2022-global', label: 'GLI Global 2022 (3 to 95 years)' },
    { value: 'gli-2012', label: 'GLI-2012 (3 to 95 years, needs a group)' },
    { value: 'nhanes3-1999', label: 'NHANES III (8 to 80 years, needs a group)' },
    { value: 'ecsc-1993', label: 'ECSC 1993 (18 to 70 years)' },
  ],
  initial: defaultSet,
  help: 'Use the reference set named on this person\u2019s earlier reports.',
} as const satisfies ChoiceField;

const group = {
  kind: 'choice',
  label: 'Group in that set',
  options: [
    { value: 'caucasian', label: 'GLI-2012 Caucasian, NHANES III Caucasian' },
    { value: 'african-american', label: 'GLI-2012 African-American, NHANES III African-American' },
    { value: 'north-east-asian', label: 'GLI-2012 North East Asian' },
    { value: 'south-east-asian', label: 'GLI-2012 South East Asian' },
    { value: 'other', label: 'GLI-2012 other/mixed' },
    { value: 'mexican-american', label: 'NHANES III Mexican-American' },
  ],
  optional: true,
  help: 'Only GLI-2012 and NHANES III publish separate values for ethnic groups. The ethnic groups keep their published names here. Choose the ethnic group that is printed on earlier reports.',
} as const satisfies ChoiceField;

const citations: Citation[] = [
  {
    cite: 'GLI Global 2022: Bowerman C, et al. Am J Respir Crit Care Med 2023;207:768-774',
    locator: 'the initiative\u2019s own workbook of equations and look-up tables',
    standing: 'checked',
    note: 'Nothing that we read says how to interpolate between two quarter-years of age in the look-up tables. We use linear interpolation. Using the nearest quarter-year below the exact age, without interpolation, would change the predicted FVC by up to 0.6 %.',
  },
  {
    cite: 'GLI-2012: Quanjer PH, et al. Eur Respir J 2012;40:1324-1343',
    locator: 'coefficients and look-up tables',
    standing: 'checked-in-summary',
    note: 'We read the coefficients in two independent open-source programs, which agree. We did not read the paper itself.',
  },
  {
    cite: 'NHANES III: Hankinson JL, et al. Am J Respir Crit Care Med 1999;159:179-187',
    locator: 'coefficients of the prediction and lower-limit equations',
    standing: 'checked-in-summary',
    note: 'We read the coefficients in two independent open-source programs, which agree in every row. We did not read the paper itself.',
  },
  {
    cite: 'NHANES III: Hankinson JL, et al. Am J Respir Crit Care Med 1999;159:179-187',
    locator: 'change from the young to the adult equation: 20 years in men, 18 in women',
    standing: 'from-memory',
  },
  {
    cite: 'ECSC 1993: Quanjer PH, et al. Eur Respir J 1993;6 Suppl 16:5-40',
    locator: 'FVC and FEV1 coefficients',
    standing: 'checked-in-summary',
    note: 'We read the coefficients in an open data table. We did not read the statement itself.',
  },
  {
    cite: 'ECSC 1993: Quanjer PH, et al. Eur Respir J 1993;6 Suppl 16:5-40',
    locator:
      'residual standard deviations (for the lower limit and z-score), range of ages and heights, and age 25 used for younger adults',
    standing: 'from-memory',
  },
  {
    cite: 'Condensed version of the GLI tables, made for this handbook',
    locator:
      'which differs from all the published quarter-year values by at most 0.015 % in the predicted value and 0.003 in the z-score',
    standing: 'checked',
  },
];

export default defineCalculator({
  id: 'predicted-vital-capacity',
  title: 'Vital capacity: per cent of predicted',
  purpose:
    'Converts a vital capacity in litres to a percentage of predicted and a z-score, and shows how far the reference sets differ.',
  group: 'vital-capacity',
  keywords: [
    'FVC',
    'FEV1',
    'forced vital capacity',
    'vital capacity',
    'VC',
    '% predicted',
    'per cent predicted',
    'lower limit of normal',
    'LLN',
    'z-score',
    'centile',
    'GLI',
    'GLI Global',
    'GLI-2012',
    'NHANES III',
    'ECSC',
    'spirometry',
    'reference values',
  ],
  fields: { sex, age, height, heightError, measured: measuredVolume, index, set, group },
  formulas: {
    medianSpline,
    median,
    spreadSpline,
    spread,
    skewness,
    nhanesPredicted,
    nhanesLowerLimit,
    ecscPredicted,
    lowerLimit,
    normalLowerLimit,
    percentPredicted,
    zScore,
    normalZScore,
    centile,
  },
  results: {
    predicted: { label: 'Predicted', unit: 'L', decimals: 2, plausible: [0.3, 8.5], main: true },
    percentPredicted: {
      label: 'FVC, per cent of predicted',
      unit: '%',
      decimals: 1,
      plausible: [0, 160],
      main: true,
      measure: 'fvc-percent',
    },
    // Apart from FVC, so that an FEV1 can never be compared with an FVC threshold.
    fev1PercentPredicted: {
      label: 'FEV1, per cent of predicted',
      unit: '%',
      decimals: 1,
      plausible: [0, 160],
      main: true,
      measure: 'fev1-percent',
    },
    lln: { label: 'Lower limit of normal (5th centile)', unit: 'L', decimals: 2, plausible: [0.1, 7] },
    zScore: {
      label: 'z-score',
      unit: '{SD}',
      decimals: 2,
      plausible: [-15, 6],
      help: 'This is the number of standard deviations from the median of healthy people. A z-score of −1.645 is the 5th centile.',
    },
    centile: {
      label: 'Centile',
      unit: '%',
      decimals: 1,
      plausible: [0, 100],
      help: 'This is the share of healthy people with a smaller value. A figure of 0.0 means under 0.05.',
    },
  },
  holds: {
    population:
      'people without lung disease who were measured standing or sitting upright, like the people in the published sets',
    ages: 'GLI 3 to 95, NHANES III 8 to 80, ECSC 1993 18 to 70 years',
    posture: 'upright',
    notFor: 'ages outside the range of the chosen reference set',
  },
  before: [
    'Look at the person’s last report before you choose: the report names its reference set. Use the reference set of the last report, or the two results cannot be compared.',
  ],
  cautions: [
    'The percentage of predicted and the z-score answer two different questions. The percentage of predicted says how large the volume is compared with the predicted value. The z-score says how unusual the volume is. A threshold in per cent of predicted cannot be applied to a z-score, and a z-score threshold cannot be applied to a percentage of predicted.',
    'The reference sets differ. Write the name of the reference set next to the result, and use the same reference set in a series: a change of reference set is not a change in the person.',
    'Predicted values rise with height. If the height was estimated, enter by how many centimetres the estimate may be wrong. Record how the height was estimated, and use the same method next time.',
    'The reference sets are for an upright reading. Always write "supine" beside a reading taken lying down.',
    'A leak at the lips, an early stop or tiredness makes the reading too low. If the effort was faulty, do not rely on a low reading alone.',
    'The GLI values come from a condensed version of the published tables. The condensed version differs from the published tables by at most 0.015 % in the predicted value and 0.003 in the z-score.',
    'The result is a finding, not a decision. The prescriber decides on support with the person, under local policy.',
  ],
  citations,
  compute: ({ sex, age, height, heightError, measured, index, set, group }, step) => {
    const chosen: ReferenceSet = forcedSets[set];
    const person: Person = { sex, age, height, group };
    const expected = chosen.expected(index, person, step);
    if ('problems' in expected) return expected;
    const reading = readingAgainst(expected, measured, step);
    const ends = withHeightError(reading, chosen, index, person, measured, heightError);
    if ('problems' in ends) return ends;
    const { percentPredicted, ...others } = ends.values;
    const stretched = expected.caution ?? ends.caution;
    return {
      results: {
        ...others,
        ...(percentPredicted && (index === 'FVC' ? { percentPredicted } : { fev1PercentPredicted: percentPredicted })),
      },
      cautions: [
        ...(stretched ? [stretched] : []),
        ...cautionsOf(set, person),
        ...(reading.percentPredicted !== undefined && reading.percentPredicted > 150
          ? [
              'More than 150 % of predicted is very unusual. Check that volume, age, sex and height belong to one person.',
            ]
          : []),
      ],
      tables: [sideBySide(index, person, measured, nameOnReport(chosen, group))],
    };
  },
});

function cautionsOf(set: ForcedSet, { sex, age, group }: Person): string[] {
  const cautions: string[] = [];
  if (age < 20 && Number.isInteger(age))
    cautions.push(
      'For a growing child enter the age in years and months. In GLI-2012 a boy of almost 15 entered as 14 gets a predicted FVC about 4 % too low.',
    );
  if (set === 'gli-2012' && sex === 'male' && group === 'north-east-asian')
    cautions.push(
      'For North East Asian males the GLI-2012 tables, as carried by two open copies, print a very narrow spread. The z-score comes out far lower than per cent of predicted suggests. Rely on per cent of predicted rather than z.',
    );
  if (set === 'nhanes3-1999')
    cautions.push(
      'NHANES III prints a lower limit and no spread, so there is no z-score or centile. The change to its adult equation (men 20, women 18) is from memory.',
    );
  if (set === 'ecsc-1993')
    cautions.push(
      'The ECSC lower limit, z-score and centile rest on a spread that is not yet checked. From 18 to 25 years, the equation uses an age of 25; this is also not yet checked.',
    );
  return cautions;
}

/** The same person and reading under every set; under every group too, unless one was chosen. */
function sideBySide(index: Index, person: Person, measured: number | undefined, chosen: string): ResultTable {
  const rows = Object.values(forcedSets).flatMap((set: ReferenceSet) =>
    groupsShown(set, person.group).map((group) => {
      const label = nameOnReport(set, group);
      return {
        label: label === chosen ? `${label} (chosen)` : label,
        cells: cellsOf(set, index, { ...person, group }, measured),
      };
    }),
  );
  return {
    caption:
      measured === undefined
        ? 'The same person under each set'
        : 'The same reading under each set. The ECSC lower limit and z-score are not yet checked',
    columns: [
      'Reference set',
      'Predicted',
      'Lower limit',
      ...(measured === undefined ? [] : ['% predicted', 'z-score']),
    ],
    rows,
  };
}

const groupsShown = (set: ReferenceSet, group: Group | undefined): readonly (Group | undefined)[] => {
  if (set.groups.length === 0) return [undefined];
  return group === undefined ? set.groups : [group];
};

function cellsOf(set: ReferenceSet, index: Index, person: Person, measured: number | undefined): string[] {
  const expected = set.expected(index, person);
  if ('problems' in expected) {
    const why = {
      age: 'outside its ages',
      height: 'outside its heights',
      group: `no group ${person.group && groupNames[person.group]}`,
    };
    const field = expected.problems[0]?.field as keyof typeof why;
    return [why[field], ...Array<string>(measured === undefined ? 1 : 3).fill('no value')];
  }
  const { predicted, lln, percentPredicted, zScore } = readingAgainst(expected, measured);
  return [
    show(predicted, 'L', 2) + (expected.caution ? ' (outside its heights)' : ''),
    show(lln, 'L', 2),
    ...(percentPredicted === undefined
      ? []
      : [show(percentPredicted, '%', 1), zScore === undefined ? 'not published' : show(zScore, '{SD}', 2)]),
  ];
}
