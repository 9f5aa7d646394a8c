import fc from 'fast-check';
import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

const saturation = (po2: number | { value: number; unit: string }) => {
  const outcome = calculate('saturation-from-po2', { po2 });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.results.saturation?.value ?? Number.NaN;
};

// Equation 1 of Severinghaus 1979 (abstract), by hand: 60^3 + 150 x 60 = 225 000 and 40^3 + 150 x 40 = 70 000.
test('60 mmHg is 90.6 % and 40 mmHg is 74.9 %', () => {
  expect(saturation(60)).toBeCloseTo(100 / (1 + 23400 / 225_000), 9);
  expect(saturation(40)).toBeCloseTo(100 / (1 + 23400 / 70_000), 9);
  expect(saturation(60)).toBeCloseTo(90.58, 2);
});

test('the shoulder of the curve hides a fall: 100 to 60 mmHg costs 7 points, 60 to 40 costs 16', () => {
  expect(Math.round(saturation(100) - saturation(60))).toBe(7);
  expect(Math.round(saturation(60) - saturation(40))).toBe(16);
});

test('8 kPa and 60 mmHg are the same tension', () => {
  expect(saturation({ value: 8, unit: 'kPa' })).toBeCloseTo(saturation(8 * 7.50062), 4);
});

test('kPa typed as mmHg is asked about', () => {
  expect(calculate('saturation-from-po2', { po2: 8 })).toEqual({
    ok: false,
    problems: [{ field: 'po2', message: 'Oxygen tension (PaO2) is between 16 and 500 mmHg. Is 8 in kPa?' }],
  });
});

test('a higher tension never goes with a lower saturation, and none is above 100 %', () => {
  fc.assert(
    fc.property(fc.double({ min: 16, max: 499, noNaN: true }), (po2) => {
      expect(saturation(po2 + 1)).toBeGreaterThan(saturation(po2));
      expect(saturation(po2)).toBeLessThan(100);
    }),
  );
});
