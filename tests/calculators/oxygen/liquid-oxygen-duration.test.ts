import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

test('1.2 L of liquid is 1032 L of gas and lasts 516 minutes at 2 L/min (860 from suppliers\u2019 pages)', () => {
  const outcome = calculate('liquid-oxygen-duration', { liquid: 1.2, flow: 2 });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  expect(outcome.results.litres?.value).toBeCloseTo(1032, 9);
  expect(outcome.results.minutes?.value).toBeCloseTo(516, 9);
  expect(outcome.results.hours?.value).toBeCloseTo(8.6, 9);
  expect(outcome.cautions).toContain(
    'The time shown is the longest possible time, because liquid oxygen boils off even when it is not used.',
  );
});

test('the litres of gas on a label are not the litres of liquid', () => {
  expect(calculate('liquid-oxygen-duration', { liquid: 1032, flow: 2 })).toEqual({
    ok: false,
    problems: [
      {
        field: 'liquid',
        message: 'Liquid oxygen in the vessel is between 0 and 100 L. 1032 is outside that',
      },
    ],
  });
});

test('an empty vessel lasts 0 minutes and says so first', () => {
  const outcome = calculate('liquid-oxygen-duration', { liquid: 0, flow: 2 });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  expect(outcome.results.minutes?.value).toBe(0);
  expect(outcome.cautions[0]).toMatch(/^The supply is empty\./);
});
