import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

const answer = (inputs: Parameters<typeof calculate>[1]) => {
  const outcome = calculate('weight-loss', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

test('8 kg of a usual 80 is 10 per cent, and 2 per cent a month over 5 months', () => {
  const { results } = answer({ usual: 80, now: 72, months: 5 });
  expect([results.loss?.value, results.rate?.value]).toEqual([10, 2]);
  expect([results.loss?.unit, results.rate?.unit]).toEqual(['%', '%/mo']);
});

test('the share is of usual weight, not of weight now', () => {
  expect(answer({ usual: 100, now: 50 }).results.loss?.value).toBe(50);
});

test('a gain is a minus and asks about fluid', () => {
  const outcome = answer({ usual: 60, now: 63 });
  expect(outcome.results.loss?.value).toBeCloseTo(-5, 12);
  expect(outcome.cautions[0]).toBe('Weight is up by 3.0\u00a0kg. The gain can be fluid, so look at the legs.');
});

test('half a year may be typed in years', () => {
  expect(answer({ usual: 80, now: 76, months: { value: 0.5, unit: 'a' } }).results.rate?.value).toBeCloseTo(5 / 6, 9);
});

test('under one month there is no rate, and it says why', () => {
  const outcome = answer({ usual: 80, now: 78, months: 0.5 });
  expect(outcome.results.rate).toBeUndefined();
  expect(outcome.cautions).toContain(
    'The two weights were taken less than a month apart, so no monthly rate is given.',
  );
  expect(answer({ usual: 80, now: 78, months: 1 }).cautions.join()).not.toContain('less than a month apart');
  expect(answer({ usual: 80, now: 78, months: 1 }).results.rate?.value).toBe(2.5);
});

test('a usual weight that was not given is asked for', () => {
  expect(calculate('weight-loss', { now: 70 })).toEqual({
    ok: false,
    problems: [{ field: 'usual', message: 'Enter usual weight' }],
  });
});
