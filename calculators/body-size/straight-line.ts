import type { Formula, FormulaSymbol } from '../calculator.ts';

/** What the published straight lines are drawn on. The ranges are only for comparing a formula with its printed text. */
const variables = {
  age: { means: 'age', unit: 'year', range: [3, 90] },
  height: { means: 'height', unit: 'cm', range: [100, 210] },
  weight: { means: 'weight', unit: 'kg', range: [15, 150] },
  waist: { means: 'waist', unit: 'cm', range: [50, 150] },
  bmi: { means: 'body mass index', unit: 'kg/m^2', range: [15, 45] },
  ulna: { means: 'ulna length', unit: 'cm', range: [15, 32] },
  armSpan: { means: 'arm span', unit: 'cm', range: [100, 210] },
  kneeHeight: { means: 'knee height', unit: 'cm', range: [25, 65] },
  segment: { means: 'length of the segment', unit: 'cm', range: [10, 45] },
} as const satisfies Record<string, FormulaSymbol>;

type Variable = keyof typeof variables;
export type Slopes = Partial<Record<Variable, number>>;

/**
 * A published regression of the plain kind: a constant and one slope for each thing measured.
 *
 *   result = constant + slope x variable + slope x variable ...
 *
 * From the coefficients it makes all three forms that a formula needs: the text that is printed, the same
 * text with units (each slope carries the unit that makes its term balance), and the function that runs.
 * One place writes them, so that a copied coefficient cannot differ between the page and the calculation.
 *
 * @param result    name of the left-hand side, and its unit as mathjs writes it
 * @param constant  in that unit
 * @param slopes    per unit of each variable, in the order in which they are printed; none for a plain mean
 */
export function straightLine(result: { name: string; unit: string }, constant: number, slopes: Slopes): Formula {
  const terms = Object.entries(slopes) as [Variable, number][];
  const write = (first: string, slope: (size: number, variable: Variable) => string) =>
    terms.reduce(
      (text, [variable, size]) => `${text} ${size < 0 ? '-' : '+'} ${slope(Math.abs(size), variable)} * ${variable}`,
      first,
    );
  return {
    result: result.name,
    unit: result.unit,
    text: write(`${constant}`, (size) => `${size}`),
    withUnits: write(
      `${constant} ${result.unit}`,
      (size, variable) => `${size} ${result.unit}/(${variables[variable].unit})`,
    ),
    symbols: Object.fromEntries(terms.map(([variable]) => [variable, variables[variable]])),
    run: (values) => terms.reduce((sum, [variable, size]) => sum + size * (values[variable] ?? Number.NaN), constant),
  };
}
