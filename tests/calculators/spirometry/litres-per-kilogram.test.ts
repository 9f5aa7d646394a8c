import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

describe('vital capacity per kilogram', () => {
  test('1.2 L in 60 kg is exactly 20 mL/kg, so it is not below 20', () => {
    const outcome = calculate('litres-per-kilogram', { vitalCapacity: 1.2, weight: 60, weightKind: 'actual' });
    expect(outcome.ok && outcome.results.perKilogram).toEqual({ value: 20, unit: 'mL/kg' });
  });

  test('the answer says which weight it was divided by', () => {
    const cautionFor = (weightKind: string) => {
      const outcome = calculate('litres-per-kilogram', { vitalCapacity: 1.2, weight: 60, weightKind });
      return outcome.ok ? outcome.cautions[0] : outcome.problems;
    };
    expect(cautionFor('actual')).toBe(
      'This is per kilogram of actual weight, 60.0\u00a0kg. In a heavy person, this figure is smaller than the figure per kilogram of ideal weight.',
    );
    expect(cautionFor('ideal')).toBe(
      'This is per kilogram of ideal weight, 60.0\u00a0kg. In a heavy person, this figure is larger than the figure per kilogram of actual weight.',
    );
  });

  test('a weight without its kind gives no figure', () => {
    expect(calculate('litres-per-kilogram', { vitalCapacity: 1.2, weight: 60 })).toEqual({
      ok: false,
      problems: [{ field: 'weightKind', message: 'Choose which weight this is' }],
    });
  });

  test('pounds and millilitres give the same figure as kilograms and litres', () => {
    const outcome = calculate('litres-per-kilogram', {
      vitalCapacity: { value: 1200, unit: 'mL' },
      weight: { value: 60 / 0.45359237, unit: '[lb_av]' },
      weightKind: 'actual',
    });
    expect(outcome.ok && outcome.results.perKilogram?.value).toBeCloseTo(20, 10);
  });
});
