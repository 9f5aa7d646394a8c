import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Knots } from '../../../calculators/spirometry/natural-spline.ts';
import { betweenQuarters, quarterYearTable, readTable } from '../../../calculators/spirometry/quarter-year-table.ts';
import { plainly } from '../../../calculators/spirometry/run.ts';

const line = betweenQuarters('curve', 'value');
const small = quarterYearTable({ ages: [3, 4], values: [1, 2] });
const read = (table: typeof small, age: number) => readTable(table, age, line, plainly);

/** Every curve of every committed knot file. */
const curves = globSync('{calculators/spirometry,tests/reference/quantities}/*-knots.json').flatMap((file) => {
  const indices: Record<string, Record<string, { spline: Record<string, Knots | null> }>> = JSON.parse(
    readFileSync(file, 'utf8'),
  );
  return Object.entries(indices).flatMap(([index, sexes]) =>
    Object.entries(sexes).flatMap(([sex, { spline }]) =>
      Object.entries(spline).flatMap(([curve, knots]) =>
        knots === null ? [] : [[`${file.replace(/.*\//, '')} ${index} ${sex} ${curve}`, knots] as const],
      ),
    ),
  );
});

describe('quarter-year table', () => {
  test('it holds one value for each quarter of a year, both ends included', () => {
    expect([...small.values]).toEqual([1, 1.25, 1.5, 1.75, 2]);
  });

  test('between two quarters it is read on the straight line, and not on the curve', () => {
    const table = quarterYearTable({ ages: [3, 3.5, 4], values: [0, 1, 0] });
    const [, quarter = Number.NaN, half = Number.NaN] = table.values;
    expect(read(table, 3.375)).toBeCloseTo((quarter + half) / 2, 14);
    expect(read(table, 3.3)).toBeCloseTo(quarter + (half - quarter) * 0.2, 12);
  });

  test('the last age counts, and is the single value, in the working too', () => {
    expect(read(small, 4)).toBe(2);
    const shown: Record<string, number>[] = [];
    readTable(small, 4, line, (formula, values) => {
      shown.push(values);
      return formula.run(values);
    });
    expect(shown).toEqual([{ below: 2, above: 2, age: 4, ageBelow: 4 }]);
  });

  test('a reading a hair before a quarter and one on it agree', () => {
    expect(read(small, 3.5 - 1e-9)).toBeCloseTo(read(small, 3.5), 8);
  });
});

describe('the committed curves', () => {
  test('are 13 of GLI-2012, 12 of GLI Global and 4 of GLI 2021', () => {
    const count = (start: string) => curves.filter(([name]) => name.startsWith(start)).length;
    expect([count('gli-2012'), count('gli-2022'), count('gli-2021')]).toEqual([13, 12, 4]);
  });

  test.each(curves)('%s: knots rise, lie on quarter-years and span the published ages', (name, { ages, values }) => {
    expect(ages.length).toBe(values.length);
    expect(ages.every((age, i) => Number.isInteger(age * 4) && age > (ages[i - 1] ?? 0))).toBe(true);
    expect([ages[0], ages.at(-1)]).toEqual(name.startsWith('gli-2021') ? [5, 80] : [3, 95]);
  });

  test.each(curves)('%s: the rebuilt table has the published value at every knot', (_, knots) => {
    const table = quarterYearTable(knots);
    for (const [i, age] of knots.ages.entries())
      expect(read(table, age)).toBeCloseTo(knots.values[i] ?? Number.NaN, 12);
  });
});
