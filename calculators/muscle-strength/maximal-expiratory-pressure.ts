/**
 * Maximal expiratory pressure (MEP): predicted, lower limit and per cent of predicted by a named set.
 *
 *   predicted   = constant + slope x age, height or waist, by set and sex
 *   per cent    = measured / predicted x 100
 *
 * The hardest blow against a closed mouthpiece from full lungs, held about a second. Cough needs it:
 * without expiratory force a full breath does not become a flow. Cheeks and lips must hold, so it reads
 * low in a weak face.
 *
 * The sets lie further apart here than anywhere else, with a tube mouthpiece reading highest. Never move
 * a per cent from one set to another.
 *
 * @param measured  cmH2O, kPa or mmHg; the sign is dropped; best repeatable effort
 * @returns predicted, lower limit where one was published, per cent of predicted; cmH2O, unrounded
 * @refuses a set outside its ages, an adult set for a child and a child's set for an adult, and sizes
 *          outside our limits (no paper prints its own)
 * @source  Evans and Whitelaw 2009 (abstract read) unless another set is chosen; each set says how well known
 */

import { age, height, sex } from '../body-size/shared-fields.ts';
import { defineCalculator, type Formula, formula, type NumberField } from '../calculator.ts';
import type { Sex } from '../domain/age-and-sex.ts';
import { answerBySet, type ExtraRow, pressureCautions } from './answer-by-set.ts';
import {
  citationsOf,
  formulasOf,
  less,
  lessStandardErrors,
  line,
  lowerLine,
  measured,
  predictedLine,
  setOptions,
} from './predicted-pressure.ts';

/** Pessoa 2014: rises to the late thirties, then falls; 33.72 more for men. */
const pessoa = (constant: number): Formula =>
  formula({
    result: 'predicted',
    unit: 'cmH2O',
    text: `${constant} + 2.29 * age - 0.03 * age^2 + 1.4 * waist`,
    withUnits: `${constant} cmH2O + 2.29 cmH2O/year * age - 0.03 cmH2O/year^2 * age^2 + 1.4 cmH2O/cm * waist`,
    symbols: {
      age: { means: 'age', unit: 'year', range: [20, 89] },
      waist: { means: 'waist', unit: 'cm', range: [50, 150] },
    },
    run: ({ age, waist }) => constant + 2.29 * age - 0.03 * age ** 2 + 1.4 * waist,
  });

export const mepLines = [
  line('evans-whitelaw-2009', 'male', 'checked', predictedLine(174, { age: -0.83 }), {
    lower: lowerLine(117, { age: -0.83 }),
  }),
  line('evans-whitelaw-2009', 'female', 'checked', predictedLine(131, { age: -0.86 }), {
    lower: lowerLine(95, { age: -0.57 }),
  }),
  line('araujo-2024-brazil', 'male', 'checked', predictedLine(179.9, { age: -0.67 }), {
    lower: lessStandardErrors(38.54),
  }),
  line('araujo-2024-brazil', 'female', 'checked', predictedLine(127.4, { age: -0.43 }), {
    lower: lessStandardErrors(24.09),
  }),
  line('pessoa-2014-brazil', 'male', 'checked', pessoa(-27.69)),
  line('pessoa-2014-brazil', 'female', 'checked', pessoa(-61.41)),
  line('black-hyatt-1969', 'male', 'from-memory', predictedLine(233), { lower: less(84), band: [20, 54] }),
  line('black-hyatt-1969', 'male', 'from-memory', predictedLine(353, { age: -2.33 }), { band: [55, 74] }),
  line('black-hyatt-1969', 'female', 'from-memory', predictedLine(152), { lower: less(54), band: [20, 54] }),
  line('black-hyatt-1969', 'female', 'from-memory', predictedLine(210, { age: -1.14 }), { band: [55, 74] }),
  line('wilson-1984-adult', 'male', 'from-memory', predictedLine(180, { age: -0.91 })),
  line('wilson-1984-adult', 'female', 'from-memory', predictedLine(3.5, { height: 0.55 })),
  line('neder-1999-brazil', 'male', 'from-memory', predictedLine(165.3, { age: -0.81 }), {
    lower: lessStandardErrors(15.6),
  }),
  line('neder-1999-brazil', 'female', 'from-memory', predictedLine(115.6, { age: -0.61 }), {
    lower: lessStandardErrors(11.2),
  }),
  line('wilson-1984-child', 'male', 'from-memory', predictedLine(35, { age: 5.5 })),
  line('wilson-1984-child', 'female', 'from-memory', predictedLine(24, { age: 4.8 })),
];

/** Black and Hyatt as it circulates under 55, with a slope that the paper's own summary does not find. */
export const blackHyattInCirculation: Record<Sex, Formula> = {
  male: predictedLine(229, { age: 0.08 }),
  female: predictedLine(158, { age: -0.18 }),
};

/** 95 % limits over 55 years, cmH2O (McElvaney 1989). */
const limitsOver55: Record<Sex, readonly [number, number]> = { male: [90, 256], female: [46, 184] };

function extraRows(sex: Sex, age: number): ExtraRow[] {
  if (age >= 20 && age < 55)
    return [
      {
        set: 'black-hyatt-1969',
        label: 'Black and Hyatt, slopes as they circulate',
        predicted: blackHyattInCirculation[sex].run({ age }),
        standing: 'from-memory',
        note: 'the paper\u2019s own summary finds no such slope here',
      },
    ];
  if (age < 55) return [];
  return [
    {
      set: 'mcelvaney-1989-elderly',
      instead: `${limitsOver55[sex][0]} to ${limitsOver55[sex][1]}\u00a0cmH2O`,
      standing: 'checked',
      note: '95 % limits for people older than 55, no predicted value',
    },
  ];
}

const waist = {
  kind: 'number',
  label: 'Waist',
  unit: 'cm',
  accepts: ['[in_i]'],
  plausible: [55, 140],
  hard: [30, 250],
  optional: true,
  help: 'Waist circumference is needed only for the Pessoa set.',
} as const satisfies NumberField;

export default defineCalculator({
  id: 'maximal-expiratory-pressure',
  title: 'Maximal expiratory pressure, per cent of predicted',
  purpose:
    'Compares a maximal expiratory pressure with a named published reference set, and also shows how it compares with every other set.',
  group: 'strength',
  keywords: ['MEP', 'PEmax', 'expiratory muscle strength', 'mouth pressure', 'cough strength', 'per cent predicted'],
  fields: {
    measured: { ...measured, label: 'Measured MEP', plausible: [10, 300], optional: true },
    sex,
    age,
    height: { ...height, optional: true, help: 'Height is needed only for the Wilson set in women.' },
    waist,
    set: {
      kind: 'choice',
      label: 'Published set',
      options: setOptions(mepLines),
      initial: 'evans-whitelaw-2009',
      help: 'Use the same reference set for all readings in a series. Changing the reference set can change the percentage of predicted by more than the illness has changed it.',
    },
  },
  formulas: formulasOf(mepLines),
  results: {
    percentPredicted: { label: 'Of predicted', unit: '%', decimals: 0, plausible: [0, 300], main: true },
    predicted: { label: 'Predicted', unit: 'cm[H2O]', decimals: 0, plausible: [20, 260] },
    lowerLimit: { label: 'Lower limit of the set', unit: 'cm[H2O]', decimals: 0, plausible: [0, 180] },
    measuredPressure: {
      label: 'Measured, as a magnitude',
      unit: 'cm[H2O]',
      decimals: 0,
      plausible: [0, 350],
      measure: 'mep',
    },
  },
  holds: {
    population: 'healthy adults and children like those in each study',
    ages: '18 to 70 years in the first reference set; 7 to 89 years across all reference sets',
    posture: 'seated, from full lungs',
    notFor: 'a reading through a tracheostomy, or taken on the ventilator',
  },
  cautions: [
    ...pressureCautions,
    'Black and Hyatt used a tube, which reads higher than a flanged mouthpiece. Choose a reference set whose mouthpiece is like yours.',
  ],
  citations: citationsOf([
    'evans-whitelaw-2009',
    'araujo-2024-brazil',
    'pessoa-2014-brazil',
    'black-hyatt-1969',
    'wilson-1984-adult',
    'neder-1999-brazil',
    'wilson-1984-child',
    'mcelvaney-1989-elderly',
  ]),
  compute: (given, step) => answerBySet(mepLines, extraRows, given, step),
});
