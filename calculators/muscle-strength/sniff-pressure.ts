/**
 * Sniff nasal inspiratory pressure (SNIP): mean or predicted, lower limit and per cent of it by a named set.
 *
 *   per cent    = measured / predicted x 100
 *
 * The hardest short sniff through one nostril with a plug in the other, from the end of a quiet breath
 * out, best of ten or more. It needs no lip seal, so it lasts longest in a weak face. A blocked nose, a
 * crooked septum or a leaking plug reads low.
 *
 * Of the adult sets only the Japanese one was read, and it gives group means, lower than the European
 * line that many laboratories use. That line is from memory and is printed beside it.
 *
 * @param measured  cmH2O, kPa or mmHg; the sign is dropped
 * @returns predicted (or the mean of the group), lower limit, per cent; cmH2O, unrounded
 * @refuses a set outside its ages, an adult set for a child and a child's set for an adult
 * @source  Kamide 2009 (abstract read) unless another set is chosen; each set says how well known
 */

import { age, sex } from '../body-size/shared-fields.ts';
import { defineCalculator } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { answerBySet, type ExtraRow, pressureCautions } from './answer-by-set.ts';
import {
  citationsOf,
  formulasOf,
  less,
  line,
  lowerLine,
  measured,
  predictedLine,
  setOptions,
} from './predicted-pressure.ts';

export const snipLines = [
  line('japan-2009', 'male', 'checked', predictedLine(76.8), { lower: lowerLine(32.9) }),
  line('japan-2009', 'female', 'checked', predictedLine(60), { lower: lowerLine(28.8) }),
  line('uldry-fitting-1995', 'male', 'from-memory', predictedLine(126.8, { age: -0.42 }), { lower: less(39) }),
  line('uldry-fitting-1995', 'female', 'from-memory', predictedLine(94.9, { age: -0.22 }), { lower: less(28) }),
  line('stefanutti-fitting-1999-child', 'male', 'checked', predictedLine(104)),
  line('stefanutti-fitting-1999-child', 'female', 'checked', predictedLine(93)),
  line('marcelino-2020-child', 'male', 'checked', predictedLine(87.7), { lower: lowerLine(56.66) }),
  line('marcelino-2020-child', 'female', 'checked', predictedLine(91.1), { lower: lowerLine(56.88) }),
];

/** Stefanutti's line for boys, recalled; girls showed no tie to age. */
const boysByAge = predictedLine(70, { age: 3.3 });

function extraRows(sex: Sex, age: number): ExtraRow[] {
  if (sex !== 'male' || age < 6 || !isChild(age)) return [];
  return [
    {
      set: 'stefanutti-fitting-1999-child',
      label: 'Stefanutti and Fitting 1999, boys by age',
      predicted: boysByAge.run({ age }),
      standing: 'from-memory',
    },
  ];
}

export default defineCalculator({
  id: 'sniff-pressure',
  title: 'Sniff pressure, per cent of predicted',
  purpose:
    'Compares a sniff nasal inspiratory pressure with a named published reference set, and also shows how it compares with every other set.',
  group: 'strength',
  keywords: [
    'SNIP',
    'sniff',
    'nasal inspiratory pressure',
    'Pnsn',
    'inspiratory muscle strength',
    'per cent predicted',
  ],
  fields: {
    measured: { ...measured, label: 'Measured sniff pressure', plausible: [10, 160], optional: true },
    sex,
    age,
    set: {
      kind: 'choice',
      label: 'Published set',
      options: setOptions(snipLines),
      initial: 'japan-2009',
      help: 'Use the same reference set for all readings in a series.',
    },
  },
  formulas: { ...formulasOf(snipLines), boysByAge },
  results: {
    percentPredicted: { label: 'Of predicted or mean', unit: '%', decimals: 0, plausible: [0, 220], main: true },
    predicted: { label: 'Predicted or mean of the group', unit: 'cm[H2O]', decimals: 0, plausible: [40, 140] },
    lowerLimit: { label: 'Lower limit of the set', unit: 'cm[H2O]', decimals: 0, plausible: [0, 110] },
    measuredPressure: {
      label: 'Measured, as a magnitude',
      unit: 'cm[H2O]',
      decimals: 0,
      plausible: [0, 200],
      measure: 'snip',
    },
  },
  holds: {
    population: 'healthy adults and children like those in each study',
    ages: '18 to 69 years in the first reference set; 6 to 80 years across all reference sets',
    posture: 'seated, from the end of a quiet breath out',
    notFor: 'a blocked nose; a reading taken on the ventilator',
  },
  cautions: [
    'A blocked nose, a deviated septum or a leaking nasal plug makes SNIP read low. Try both nostrils.',
    ...pressureCautions,
    'MIP and SNIP are not interchangeable. MIP and SNIP each have their own reference sets and their own thresholds.',
  ],
  citations: citationsOf(['japan-2009', 'uldry-fitting-1995', 'stefanutti-fitting-1999-child', 'marcelino-2020-child']),
  compute: (given, step) => answerBySet(snipLines, extraRows, given, step),
});
