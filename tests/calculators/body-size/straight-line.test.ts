import { expect, test } from 'vitest';
import { straightLine } from '../../../calculators/body-size/straight-line.ts';

const line = straightLine({ name: 'predicted', unit: 'cmH2O' }, 171, { age: -0.694, weight: 0.861, height: -0.743 });

test('the printed equation has the signs and the order of the paper', () => {
  expect(line.text).toBe('171 - 0.694 * age + 0.861 * weight - 0.743 * height');
});

test('with units each slope carries the unit that makes its term a pressure', () => {
  expect(line.withUnits).toBe(
    '171 cmH2O - 0.694 cmH2O/(year) * age + 0.861 cmH2O/(kg) * weight - 0.743 cmH2O/(cm) * height',
  );
});

test('the equation runs as printed', () => {
  // 171 - 34.7 + 55.965 - 122.595, by hand
  expect(line.run({ age: 50, weight: 65, height: 165 })).toBeCloseTo(69.67, 10);
});

test('a plain mean is an equation without slopes', () => {
  const mean = straightLine({ name: 'predicted', unit: 'cmH2O' }, 76.8, {});
  expect([mean.text, mean.run({}), Object.keys(mean.symbols)]).toEqual(['76.8', 76.8, []]);
});

test('a value that was not given is not taken for nought', () => {
  expect(line.run({ age: 50, weight: 65 })).toBeNaN();
});
