/**
 * Sets in the form of the Global Lung Function Initiative's spirometry equations: three curves over age.
 *
 *   M = exp(intercept + a ln(height) + b ln(age) + group term + spline at this age)    the predicted value
 *   S = exp(intercept + c ln(age) + group term + spline at this age)                   spread
 *   L = intercept + d ln(age) + spline at this age                                     skewness
 *
 * Height in cm, age in exact decimal years; the splines are read from their quarter-year tables. The age in the
 * logarithm is the exact one.
 */

import { formula } from '../calculator.ts';
import type { Sex } from '../domain/age-and-sex.ts';
import type { Knots } from './natural-spline.ts';
import { betweenQuarters, type QuarterYearTable, quarterYearTable, readTable } from './quarter-year-table.ts';
import { type Group, type Index, outside, type ReferenceSet } from './reference-set.ts';
import { plainly } from './run.ts';

const age = { means: 'age', unit: 'year', range: [3, 95] } as const;
const intercept = { means: 'constant', unit: '', range: [-13, -9] } as const;
const groupTerm = { means: 'group term (0 where the set has none)', unit: '', range: [-0.5, 0.2] } as const;

export const medianSpline = betweenQuarters('medianSpline', 'table value for M');
export const spreadSpline = betweenQuarters('spreadSpline', 'table value for S');
const skewnessSpline = betweenQuarters('skewnessSpline', 'table value for L');

export const median = formula({
  result: 'predicted',
  unit: 'L',
  text: 'exp(intercept + heightPower * log(height) + agePower * log(age) + groupTerm + spline)',
  withUnits:
    'exp(intercept + heightPower * log(height / (1 cm)) + agePower * log(age / (1 year)) + groupTerm + spline) * 1 L',
  symbols: {
    intercept,
    heightPower: { means: 'power of height', unit: '', range: [2, 2.8] },
    height: { means: 'height', unit: 'cm', range: [80, 210] },
    agePower: { means: 'power of age', unit: '', range: [-0.1, 0.1] },
    age,
    groupTerm,
    spline: { means: 'table value for M at this age', unit: '', range: [-0.5, 0.3] },
  },
  run: ({ intercept, heightPower, height, agePower, age, groupTerm, spline }) =>
    Math.exp(intercept + heightPower * Math.log(height) + agePower * Math.log(age) + groupTerm + spline),
});

export const spread = formula({
  result: 'spread',
  unit: '',
  text: 'exp(intercept + agePower * log(age) + groupTerm + spline)',
  withUnits: 'exp(intercept + agePower * log(age / (1 year)) + groupTerm + spline)',
  symbols: {
    intercept: { ...intercept, range: [-3.3, -2] },
    agePower: { means: 'power of age', unit: '', range: [0.05, 0.2] },
    age,
    groupTerm,
    spline: { means: 'table value for S at this age', unit: '', range: [-0.2, 0.5] },
  },
  run: ({ intercept, agePower, age, groupTerm, spline }) =>
    Math.exp(intercept + agePower * Math.log(age) + groupTerm + spline),
});

export const skewness = formula({
  result: 'skewness',
  unit: '',
  text: 'intercept + perLogAge * log(age) + spline',
  withUnits: 'intercept + perLogAge * log(age / (1 year)) + spline',
  symbols: {
    intercept: { means: 'constant', unit: '', range: [0.8, 7.1] },
    perLogAge: { means: 'change with the logarithm of age', unit: '', range: [-1.2, 0.1] },
    age,
    spline: { means: 'table value for L at this age', unit: '', range: [-0.4, 1.4] },
  },
  run: ({ intercept, perLogAge, age, spline }) => intercept + perLogAge * Math.log(age) + spline,
});

/** Key of each group in the coefficient files; the reference group has no terms. */
const termKeys = {
  'african-american': 'afram',
  'north-east-asian': 'neasia',
  'south-east-asian': 'seasia',
  other: 'other',
} as const satisfies Partial<Record<Group, string>>;

interface GroupTerms {
  group?: Record<(typeof termKeys)[keyof typeof termKeys], number>;
}
interface LmsCoefficients {
  M: { intercept: number; lnHeightCm: number; lnAge: number } & GroupTerms;
  S: { intercept: number; lnAge: number } & GroupTerms;
  L: { intercept: number; lnAge: number };
  /** no knots: the curve is zero at every age */
  spline: Record<'M' | 'S' | 'L', Knots | null>;
}
type LmsIndices = Partial<Record<Index, Record<Sex, LmsCoefficients>>>;

const ages = [3, 95] as const;
export const gliGlobalNamed = { id: 'gli-2022-global', name: 'GLI Global 2022', ages, groups: [] } as const;
export const gli2012Named = {
  id: 'gli-2012',
  name: 'GLI-2012',
  ages,
  groups: ['caucasian', 'african-american', 'north-east-asian', 'south-east-asian', 'other'],
} as const;

/** @param indices  as the `*-knots.json` files carry them */
export function lmsSet(
  named: Pick<ReferenceSet, 'id' | 'name' | 'ages' | 'groups'>,
  indices: LmsIndices,
): ReferenceSet {
  const set = { ...named, indices: Object.keys(indices) as Index[] };
  const tablesOf = tablesOnce();
  return {
    ...set,
    expected: (index, person, run = plainly) => {
      const refusal = outside(set, index, person);
      if (refusal) return refusal;
      const { sex, age, height, group } = person;
      const coefficients = (indices[index] as Record<Sex, LmsCoefficients>)[sex];
      const { M, S, L } = coefficients;
      const tables = tablesOf(coefficients);
      const predicted = run(median, {
        intercept: M.intercept,
        heightPower: M.lnHeightCm,
        height,
        agePower: M.lnAge,
        age,
        groupTerm: termFor(group, M),
        spline: tables.M ? readTable(tables.M, age, medianSpline, run) : 0,
      });
      return {
        form: 'lms',
        predicted,
        spread: run(spread, {
          intercept: S.intercept,
          agePower: S.lnAge,
          age,
          groupTerm: termFor(group, S),
          spline: tables.S ? readTable(tables.S, age, spreadSpline, run) : 0,
        }),
        skewness: run(skewness, {
          intercept: L.intercept,
          perLogAge: L.lnAge,
          age,
          spline: tables.L ? readTable(tables.L, age, skewnessSpline, run) : 0,
        }),
      };
    },
  };
}

// A group the set does not have was refused before this. Were one to slip through, it would find no term and give NaN,
// which is refused as well; it must never be read as the reference group, whose term is zero.
const termFor = (group: Group | undefined, { group: terms }: GroupTerms): number => {
  if (terms === undefined || group === 'caucasian') return 0;
  return terms[termKeys[group as keyof typeof termKeys]];
};

type Tables = Record<'M' | 'S' | 'L', QuarterYearTable | null>;

/** A table is written out when its curve is first asked for: a page that shows FVC never builds FEV1. */
function tablesOnce(): (coefficients: LmsCoefficients) => Tables {
  const built = new Map<LmsCoefficients, Tables>();
  const table = (knots: Knots | null) => (knots === null ? null : quarterYearTable(knots));
  return (coefficients) => {
    const known = built.get(coefficients);
    if (known) return known;
    const { M, S, L } = coefficients.spline;
    const tables = { M: table(M), S: table(S), L: table(L) };
    built.set(coefficients, tables);
    return tables;
  };
}
