import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

test('80 kg at 2 m is 20, whatever the units typed', () => {
  for (const inputs of [
    { weight: 80, height: 200 },
    { weight: 80, height: { value: 2, unit: 'm' } },
    { weight: { value: 80 / 0.45359237, unit: '[lb_av]' }, height: { value: 200 / 2.54, unit: '[in_i]' } },
  ]) {
    const outcome = calculate('body-mass-index', inputs);
    expect(outcome.ok && outcome.results.bodyMassIndex?.value).toBeCloseTo(20, 9);
    expect(outcome.ok && outcome.results.bodyMassIndex?.unit).toBe('kg/m2');
  }
});

test('it says that muscle loss hides behind it, and prints no label', () => {
  const outcome = calculate('body-mass-index', { weight: 45, height: 175 });
  if (!outcome.ok) throw new Error('refused');
  expect(outcome.cautions[0]).toBe(
    'Body mass index can hide muscle loss. A normal body mass index does not mean that muscle mass or food intake is adequate.',
  );
  expect(JSON.stringify(outcome)).not.toMatch(/underweight|overweight|obes/i);
});

test('a child is refused: the number would mean nothing', () => {
  expect(calculate('body-mass-index', { weight: 30, height: 135, age: 9 })).toEqual({
    ok: false,
    problems: [{ field: 'age', message: 'This index is for adults only. At 9 use the centiles for age and sex' }],
  });
});

test('the eighteenth birthday is the line', () => {
  const at = (age: number) => calculate('body-mass-index', { weight: 60, height: 165, age }).ok;
  expect([at(17.99), at(18)]).toEqual([false, true]);
});
