/**
 * ECSC/ERS 1993 (Quanjer 1993), adults of 18 to 70.
 *
 *   predicted = a height + b age + constant        height in metres, and age never below 25
 *
 * FVC, FEV1 and inspiratory vital capacity in litres, PEF in L/s, FEV1/VC in per cent. Lower limit = predicted -
 * 1.64 RSD. The people measured were 1.55 to 1.95 m (men) and 1.45 to 1.80 m (women); the line has nobody under
 * it outside those heights, and the answer says so.
 *
 * @refuses ages under 18 and over 70; a height so small that the lower limit is not above zero
 * @source  coefficients of these five: read in an open data table, not in the paper. The residual standard
 *          deviations (RSD), the ages, the heights and the rule for ages 18 to 25: from memory
 */

import { formula } from '../calculator.ts';
import { adultsOfSex, type Sex } from '../domain/age-and-sex.ts';
import { refuse } from '../outcome.ts';
import { type Expected, lowerLimitOf } from './expected.ts';
import { type Index, outside, type ReferenceSet } from './reference-set.ts';
import { plainly } from './run.ts';

type OwnIndex = Extract<Index, 'FVC' | 'IVC' | 'FEV1' | 'FEV1FVC' | 'PEF'>;

/** [per metre, per year, constant, RSD] */
const lines: Record<Sex, Record<OwnIndex, readonly [number, number, number, number]>> = {
  male: {
    FVC: [5.76, -0.026, -4.34, 0.61],
    IVC: [6.1, -0.028, -4.65, 0.56],
    FEV1: [4.3, -0.029, -2.49, 0.51],
    FEV1FVC: [0, -0.18, 87.21, 7.17],
    PEF: [6.14, -0.043, 0.15, 1.21],
  },
  female: {
    FVC: [4.43, -0.026, -2.89, 0.43],
    IVC: [4.66, -0.026, -3.28, 0.42],
    FEV1: [3.95, -0.025, -2.6, 0.38],
    FEV1FVC: [0, -0.19, 89.1, 6.51],
    PEF: [5.5, -0.03, -1.11, 0.9],
  },
};

/** cm, of the people the lines were made from. */
const heights = { male: [155, 195], female: [145, 180] } as const;

export const ecscPredicted = formula({
  result: 'predicted',
  unit: 'L',
  text: 'perMetre * height + perYear * max(age, 25) + constant',
  withUnits: 'perMetre * height + perYear * max(age, 25 year) + constant',
  symbols: {
    perMetre: { means: 'change with each metre of height', unit: 'L/m', range: [3.9, 6.2] },
    height: { means: 'height', unit: 'm', range: [1.4, 2] },
    perYear: { means: 'change with each year of age', unit: 'L/year', range: [-0.03, -0.02] },
    age: { means: 'age (held at 25 for ages 18 to 25)', unit: 'year', range: [18, 70] },
    constant: { means: 'constant', unit: 'L', range: [-4.7, -2.4] },
  },
  run: ({ perMetre, height, perYear, age, constant }) => perMetre * height + perYear * Math.max(age, 25) + constant,
});

const set = {
  id: 'ecsc-1993',
  name: 'ECSC 1993',
  ages: [18, 70],
  indices: ['FVC', 'IVC', 'FEV1', 'FEV1FVC', 'PEF'],
  groups: [],
} as const;

export const ecsc1993: ReferenceSet = {
  ...set,
  expected: (index, person, run = plainly) => {
    const refusal = outside(set, index, person);
    if (refusal) return refusal;
    const [perMetre, perYear, constant, residual] = lines[person.sex][index as OwnIndex];
    const { age, height } = person;
    const predicted = run(ecscPredicted, { perMetre, height: height / 100, perYear, age, constant });
    const expected: Expected = { form: 'normal', predicted, residual };
    if (lowerLimitOf(expected) <= 0)
      return refuse(
        'height',
        `${set.name} gives no usable value at this height: its lower limit falls to zero. Is the height in cm right?`,
      );
    const [from, to] = heights[person.sex];
    if (height < from || height > to)
      return {
        ...expected,
        caution: `${set.name} was made from ${adultsOfSex[person.sex]} of ${from} to ${to} cm (not yet checked). This height is outside it: do not rely on the line there.`,
      };
    return expected;
  },
};
