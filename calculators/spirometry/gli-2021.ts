/**
 * Slow vital capacity and inspiratory capacity after GLI 2021 (static lung volumes), ages 5 to 80, European ancestry.
 *
 *   M = exp(intercept + a age + b ln(height) + spline at this age)      age itself here, not its logarithm
 *   S = exp(intercept + c age),  L constant
 *
 * Height in cm, age in years, results in litres BTPS. No group other than European ancestry was measured.
 *
 * @refuses ages under 5 and over 80
 * @source  Hall 2021; coefficients read in the journal's equation table. The splines rest on a single open data
 *          table and were not cross-checked
 */

import { formula } from '../calculator.ts';
import type { Sex } from '../domain/age-and-sex.ts';
import vcKnots from './gli-2021-vc-knots.json' with { type: 'json' };
import type { Knots } from './natural-spline.ts';
import { betweenQuarters, type QuarterYearTable, quarterYearTable, readTable } from './quarter-year-table.ts';
import { outside, type ReferenceSet } from './reference-set.ts';
import { plainly } from './run.ts';

const age = { means: 'age', unit: 'year', range: [5, 80] } as const;
const perYear = { means: 'change with each year of age', unit: 'year^-1', range: [-0.006, 0.004] } as const;

export const slowMedianSpline = betweenQuarters('slowMedianSpline', 'table value for M');

export const slowMedian = formula({
  result: 'predicted',
  unit: 'L',
  text: 'exp(intercept + perYear * age + heightPower * log(height) + spline)',
  withUnits: 'exp(intercept + perYear * age + heightPower * log(height / (1 cm)) + spline) * 1 L',
  symbols: {
    intercept: { means: 'constant', unit: '', range: [-10.2, -9.2] },
    perYear,
    age,
    heightPower: { means: 'power of height', unit: '', range: [2, 2.4] },
    height: { means: 'height', unit: 'cm', range: [80, 210] },
    spline: { means: 'table value for M at this age', unit: '', range: [-0.4, 0.1] },
  },
  run: ({ intercept, perYear, age, heightPower, height, spline }) =>
    Math.exp(intercept + perYear * age + heightPower * Math.log(height) + spline),
});

export const slowSpread = formula({
  result: 'spread',
  unit: '',
  text: 'exp(intercept + perYear * age)',
  symbols: {
    intercept: { means: 'constant', unit: '', range: [-2.3, -1.7] },
    perYear,
    age,
  },
  run: ({ intercept, perYear, age }) => Math.exp(intercept + perYear * age),
});

interface SlowCoefficients {
  M: { intercept: number; age: number; lnHeightCm: number };
  S: { intercept: number; age: number };
  L: number;
  spline: { M: Knots };
}

const indices: Record<'VC' | 'IC', Record<Sex, SlowCoefficients>> = vcKnots;
const set = { id: 'gli-2021-vc', name: 'GLI 2021', ages: [5, 80], indices: ['VC', 'IC'], groups: [] } as const;

const tables = new Map<SlowCoefficients, QuarterYearTable>();
function tableOf(coefficients: SlowCoefficients): QuarterYearTable {
  const table = tables.get(coefficients) ?? quarterYearTable(coefficients.spline.M);
  tables.set(coefficients, table);
  return table;
}

export const gli2021: ReferenceSet = {
  ...set,
  expected: (index, person, run = plainly) => {
    const refusal = outside(set, index, person);
    if (refusal) return refusal;
    const coefficients = indices[index as 'VC' | 'IC'][person.sex];
    const { M, S, L } = coefficients;
    const { age, height } = person;
    const spline = readTable(tableOf(coefficients), age, slowMedianSpline, run);
    const predicted = run(slowMedian, {
      intercept: M.intercept,
      perYear: M.age,
      age,
      heightPower: M.lnHeightCm,
      height,
      spline,
    });
    return {
      form: 'lms',
      predicted,
      spread: run(slowSpread, { intercept: S.intercept, perYear: S.age, age }),
      skewness: L,
    };
  },
};
