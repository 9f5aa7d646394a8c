/**
 * Maximal inspiratory pressure (MIP): predicted, lower limit and per cent of predicted by a named set.
 *
 *   predicted   = constant + slope x age, weight, height or body mass index, by set and sex
 *   per cent    = measured / predicted x 100
 *
 * The hardest pull against a closed mouthpiece from near residual volume, held about a second. It falls
 * before vital capacity does, since half the strength can go before the volume moves much, but it asks
 * for tight lips and full effort. Clinics write 35 and -35 for the same pull; only the size counts.
 *
 * @param measured  cmH2O, kPa or mmHg; the sign is dropped; best repeatable effort
 * @returns predicted, lower limit where one was published, per cent of predicted; cmH2O, unrounded
 * @refuses a set outside its ages, an adult set for a child and a child's set for an adult, and sizes
 *          outside our limits (no paper prints its own)
 * @source  Evans and Whitelaw 2009 (abstract read) unless another set is chosen; each set says how well known
 */

import { age, height, sex, weight } from '../body-size/shared-fields.ts';
import { defineCalculator, type Formula } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { showNumber } from '../quantity.ts';
import { answerBySet, type ExtraRow, pressureCautions } from './answer-by-set.ts';
import {
  citationsOf,
  formulasOf,
  less,
  lessStandardErrors,
  line,
  lineInKPa,
  lowerLine,
  measured,
  predictedLine,
  setOptions,
  shareOf,
} from './predicted-pressure.ts';
import { published } from './published-sets.ts';

export const mipLines = [
  line('evans-whitelaw-2009', 'male', 'checked', predictedLine(120, { age: -0.41 }), {
    lower: lowerLine(62, { age: -0.15 }),
  }),
  line('evans-whitelaw-2009', 'female', 'checked', predictedLine(108, { age: -0.61 }), {
    lower: lowerLine(62, { age: -0.5 }),
  }),
  line('harik-khan-1998', 'male', 'checked', predictedLine(126, { age: -1.028, weight: 0.343 }), {
    lower: lessStandardErrors(22.4),
  }),
  line('harik-khan-1998', 'female', 'checked', predictedLine(171, { age: -0.694, weight: 0.861, height: -0.743 }), {
    lower: lessStandardErrors(18.5),
  }),
  line('araujo-2024-brazil', 'male', 'checked', predictedLine(137, { age: -0.57 }), {
    lower: lessStandardErrors(26.11),
  }),
  line('araujo-2024-brazil', 'female', 'checked', predictedLine(107.3, { age: -0.4 }), {
    lower: lessStandardErrors(16.1),
  }),
  // One published line, 63.27 - 0.55 x age + 0.58 x weight, and 17.96 more for men.
  line('pessoa-2014-brazil', 'male', 'checked', predictedLine(81.23, { age: -0.55, weight: 0.58 })),
  line('pessoa-2014-brazil', 'female', 'checked', predictedLine(63.27, { age: -0.55, weight: 0.58 })),
  line('hautmann-2000', 'male', 'from-memory', lineInKPa(8.22, { bmi: 0.158, age: -0.051 }), { lower: shareOf(0.6) }),
  line('hautmann-2000', 'female', 'from-memory', lineInKPa(6.29, { bmi: 0.131, age: -0.035 }), {
    lower: shareOf(0.59),
  }),
  line('black-hyatt-1969', 'male', 'from-memory', predictedLine(124), { lower: less(44), band: [20, 54] }),
  line('black-hyatt-1969', 'female', 'from-memory', predictedLine(87), { lower: less(32), band: [20, 54] }),
  line('black-hyatt-1969', 'female', 'from-memory', predictedLine(122, { age: -0.79 }), { band: [55, 74] }),
  line('wilson-1984-adult', 'male', 'from-memory', predictedLine(142, { age: -1.03 })),
  line('wilson-1984-adult', 'female', 'from-memory', predictedLine(-43, { height: 0.71 })),
  line('neder-1999-brazil', 'male', 'from-memory', predictedLine(155.3, { age: -0.8 }), {
    lower: lessStandardErrors(17.3),
  }),
  line('neder-1999-brazil', 'female', 'from-memory', predictedLine(110.4, { age: -0.49 }), {
    lower: lessStandardErrors(9.1),
  }),
  line('wilson-1984-child', 'male', 'checked-in-summary', predictedLine(44.5, { weight: 0.75 })),
  line('wilson-1984-child', 'female', 'from-memory', predictedLine(40, { weight: 0.57 })),
];

/**
 * Black and Hyatt as it circulates, with a slope in every band. The paper's own summary finds none under
 * 55, nor for men after it. Kept so that a number met elsewhere can be recognised; never a set to choose.
 */
export const blackHyattInCirculation: Record<Sex, { under55: Formula; from55: Formula }> = {
  male: { under55: predictedLine(129, { age: -0.13 }), from55: predictedLine(120, { age: -0.25 }) },
  female: { under55: predictedLine(100, { age: -0.39 }), from55: predictedLine(122, { age: -0.79 }) },
};

/** 95 % limits over 55 years, cmH2O (McElvaney 1989). */
const limitsOver55: Record<Sex, readonly [number, number]> = { male: [55, 161], female: [26, 124] };

/** Lower limits to the last completed year named (Rodrigues 2017, recalled). */
const cutOffs: Record<Sex, readonly (readonly [number, number])[]> = {
  male: [
    [39, 63],
    [60, 55],
    [80, 47],
    [120, 42],
  ],
  female: [
    [39, 58],
    [60, 50],
    [80, 43],
    [120, 38],
  ],
};

/** Pooled means to the last completed year named, with the confidence interval of the mean (recalled). */
const pooledMeans: Record<Sex, readonly (readonly [number, number, number, number])[]> = {
  male: [
    [29, 128, 116.3, 139.5],
    [39, 128.5, 118.3, 138.7],
    [49, 117.1, 104.9, 129.2],
    [59, 108.1, 98.7, 117.6],
    [69, 92.7, 84.6, 100.8],
    [83, 76.2, 66.1, 86.4],
  ],
  female: [
    [29, 97, 88.6, 105.4],
    [39, 89, 84.5, 93.5],
    [49, 92.9, 78.4, 107.4],
    [59, 79.7, 74.9, 84.9],
    [69, 75.1, 67.3, 82.9],
    [83, 65.3, 57.8, 72.7],
  ],
};

function extraRows(sex: Sex, age: number): ExtraRow[] {
  if (isChild(age)) return [];
  const rows: ExtraRow[] = [];
  const circulating = blackHyattInCirculation[sex];
  if (age >= 20 && age < 75)
    rows.push({
      set: 'black-hyatt-1969',
      label: 'Black and Hyatt, slopes as they circulate',
      predicted: (age < 55 ? circulating.under55 : circulating.from55).run({ age }),
      standing: 'from-memory',
      ...(age < 55 || sex === 'male' ? { note: 'the paper\u2019s own summary finds no such slope here' } : {}),
    });
  const mean = pooledMeans[sex].find(([last]) => age < last + 1);
  if (mean)
    rows.push({
      set: 'sclauser-pessoa-2014-meta',
      predicted: mean[1],
      instead: 'none',
      standing: 'from-memory',
      note: `interval of the mean ${showNumber(mean[2], 0)} to ${showNumber(mean[3], 0)}, not a lower limit`,
    });
  if (age >= 55)
    rows.push({
      set: 'mcelvaney-1989-elderly',
      instead: `${limitsOver55[sex][0]} to ${limitsOver55[sex][1]}\u00a0cmH2O`,
      standing: 'checked',
      note: '95 % limits for people older than 55, no predicted value',
    });
  const cutOff = cutOffs[sex].find(([last]) => age < last + 1);
  if (cutOff && age >= published['rodrigues-2017'].ages[0])
    rows.push({ set: 'rodrigues-2017', lower: cutOff[1], standing: 'from-memory', note: 'lower limit only' });
  return rows;
}

export default defineCalculator({
  id: 'maximal-inspiratory-pressure',
  title: 'Maximal inspiratory pressure, per cent of predicted',
  purpose:
    'Compares a maximal inspiratory pressure with a named published reference set, and also shows how it compares with every other set.',
  group: 'strength',
  keywords: [
    'MIP',
    'PImax',
    'NIF',
    'inspiratory muscle strength',
    'mouth pressure',
    'per cent predicted',
    'lower limit',
  ],
  fields: {
    measured: { ...measured, label: 'Measured MIP', optional: true },
    sex,
    age,
    weight: {
      ...weight,
      optional: true,
      help: 'Weight is needed only for the sets that use it: Harik-Khan, Pessoa, Hautmann, and Wilson in children.',
    },
    height: {
      ...height,
      optional: true,
      help: 'Height is needed only for the sets that use it: Harik-Khan, Hautmann, and Wilson in women.',
    },
    set: {
      kind: 'choice',
      label: 'Published set',
      options: setOptions(mipLines),
      initial: 'evans-whitelaw-2009',
      help: 'Use the same reference set for all readings in a series. Changing the reference set can change the percentage of predicted by more than the illness has changed it.',
    },
  },
  formulas: formulasOf(mipLines),
  results: {
    percentPredicted: {
      label: 'Of predicted',
      unit: '%',
      decimals: 0,
      plausible: [0, 250],
      main: true,
      measure: 'mip-percent-predicted',
    },
    predicted: { label: 'Predicted', unit: 'cm[H2O]', decimals: 0, plausible: [20, 220] },
    lowerLimit: { label: 'Lower limit of the set', unit: 'cm[H2O]', decimals: 0, plausible: [0, 180] },
    measuredPressure: {
      label: 'Measured, as a magnitude',
      unit: 'cm[H2O]',
      decimals: 0,
      plausible: [0, 250],
      measure: 'mip',
    },
  },
  holds: {
    population: 'healthy adults and children like those in each study',
    ages: '18 to 70 years in the first reference set; 7 to 90 years across all reference sets',
    posture: 'seated, from near residual volume',
    notFor: 'a reading through a tracheostomy, or taken on the ventilator',
  },
  cautions: [
    ...pressureCautions,
    'MIP and SNIP are not interchangeable. MIP and SNIP each have their own reference sets and their own thresholds.',
  ],
  citations: citationsOf([
    'evans-whitelaw-2009',
    'harik-khan-1998',
    'araujo-2024-brazil',
    'pessoa-2014-brazil',
    'hautmann-2000',
    'black-hyatt-1969',
    'wilson-1984-adult',
    'neder-1999-brazil',
    'wilson-1984-child',
    'mcelvaney-1989-elderly',
    'sclauser-pessoa-2014-meta',
    'rodrigues-2017',
  ]),
  compute: (given, step) => answerBySet(mipLines, extraRows, given, step),
});
