import fc from 'fast-check';
import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

const answer = (pressure: number | { value: number; unit: string }) => {
  const outcome = calculate('pressure-units', { pressure });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

test('1 kPa is 10.19716 cmH2O (UCUM: 98.0665 Pa to the centimetre)', () => {
  expect(answer({ value: 1, unit: 'kPa' }).results.centimetresOfWater?.value).toBeCloseTo(10.19716, 5);
});

test('1 mmHg is 1.35951 cmH2O (UCUM: 133.322387415 Pa)', () => {
  expect(answer({ value: 1, unit: 'mm[Hg]' }).results.centimetresOfWater?.value).toBeCloseTo(1.35951, 5);
});

test('-35 and 35 are the same pressure', () => {
  expect(answer(-35)).toEqual(answer(35));
});

test('6 kPa written down as 6 cmH2O is ten times too small, and the table shows it', () => {
  expect(answer({ value: 6, unit: 'kPa' }).tables[0]?.rows).toEqual([
    { label: '6.0 on a kPa meter, mistaken for cmH2O', cells: ['6.0\u00a0cmH2O', '10.2 times too small'] },
    { label: '45.0 on a mmHg meter, mistaken for cmH2O', cells: ['45.0\u00a0cmH2O', '1.36 times too small'] },
    { label: '61.2 on a cmH2O meter, mistaken for kPa', cells: ['61.2\u00a0kPa', '10.2 times too large'] },
  ]);
});

test('there and back again is the same pressure, in every unit', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 380, noNaN: true }), (pressure) => {
      const { results } = answer(pressure);
      for (const [name, unit] of [
        ['kilopascals', 'kPa'],
        ['millimetresOfMercury', 'mm[Hg]'],
      ] as const) {
        const back = answer({ value: results[name]?.value ?? Number.NaN, unit }).results.centimetresOfWater?.value;
        expect(Math.abs((back ?? Number.NaN) - pressure)).toBeLessThanOrEqual(1e-9 * pressure);
      }
    }),
  );
});

test('60 typed as kPa asks whether it was cmH2O', () => {
  expect(calculate('pressure-units', { pressure: { value: 60, unit: 'kPa' } })).toEqual({
    ok: false,
    problems: [{ field: 'pressure', message: 'Pressure is between 0 and 39.23 kPa. Is 60 in cmH2O?' }],
  });
});
