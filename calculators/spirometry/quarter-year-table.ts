/**
 * A published look-up table, one value every quarter of a year, rebuilt from its compact form.
 *
 * The Global Lung Function Initiative prints each curve as a value for every quarter-year of age. We keep
 * the knots that give those values back (`*-knots.json`), write the table out again when it is first
 * read, and read it the way the published table is read: the two neighbouring quarter-years, and a straight
 * line between them. At a quarter-year, and at the last age, the single value counts.
 *
 *   value = below + (above - below) x (age - ageBelow) / 0.25
 *
 * Why not take the nearest quarter, or the whole year: a child grows between birthdays. Reading a boy of
 * nearly 15 at 14 makes his predicted FVC about 4 % too small.
 *
 * @source  straight line between quarters: done so by an open implementation of GLI-2012 (read). For GLI
 *          Global nothing that was read says how; the same rule is used here
 */
import { type Formula, formula } from '../calculator.ts';
import { type Knots, naturalSpline } from './natural-spline.ts';
import type { Run } from './run.ts';

const quarter = 0.25;

export interface QuarterYearTable {
  firstAge: number;
  values: Float64Array;
}

/** @param knots  first and last knot are the first and last age of the table */
export function quarterYearTable(knots: Knots): QuarterYearTable {
  const firstAge = knots.ages[0] ?? Number.NaN;
  const lastAge = knots.ages.at(-1) ?? Number.NaN;
  const curve = naturalSpline(knots);
  const values = Float64Array.from({ length: (lastAge - firstAge) / quarter + 1 }, (_, i) =>
    curve(firstAge + i * quarter),
  );
  return { firstAge, values };
}

type TableFormula = Formula<'below' | 'above' | 'age' | 'ageBelow'>;

/** The straight line between two quarter-years, named after the curve that is read. */
export const betweenQuarters = (curve: string, means: string): TableFormula =>
  formula({
    result: curve,
    unit: '',
    text: 'below + (above - below) * (age - ageBelow) / 0.25',
    withUnits: 'below + (above - below) * (age - ageBelow) / (0.25 year)',
    symbols: {
      below: { means: `${means} at the quarter-year below`, unit: '', range: [-0.6, 0.5] },
      above: { means: `${means} at the quarter-year above`, unit: '', range: [-0.6, 0.5] },
      age: { means: 'exact age', unit: 'year', range: [3, 95] },
      ageBelow: { means: 'age at the quarter-year below', unit: 'year', range: [3, 95] },
    },
    run: ({ below, above, age, ageBelow }) => below + ((above - below) * (age - ageBelow)) / 0.25,
  });

/** @param age  inside the table; the caller has refused any other */
export function readTable(table: QuarterYearTable, age: number, line: TableFormula, run: Run): number {
  const step = Math.floor((age - table.firstAge) / quarter);
  const below = table.values[step] as number;
  // The last age has no quarter above it; the line then starts and ends at the single value.
  const above = table.values[step + 1] ?? below;
  return run(line, { below, above, age, ageBelow: table.firstAge + step * quarter });
}
