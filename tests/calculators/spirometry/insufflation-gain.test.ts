import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

const answer = (insufflationCapacity: number, vitalCapacity: number) => {
  const outcome = calculate('insufflation-gain', { insufflationCapacity, vitalCapacity });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('gain from breath stacking', () => {
  test('2 litres held over 0.5 alone is 1.5 litres more, three times the vital capacity', () => {
    const { results } = answer(2, 0.5);
    expect(results).toEqual({ gain: { value: 1.5, unit: 'L' }, gainShare: { value: 300, unit: '%' } });
  });

  test('no gain is zero, and is not called a lost stack', () => {
    const { results, cautions } = answer(1, 1);
    expect(results.gain?.value).toBe(0);
    expect(cautions.join()).not.toContain('the stack was lost');
  });

  test('a held volume under the vital capacity is a lost stack, and is shown as it is', () => {
    const { results, cautions } = answer(0.75, 1);
    expect(results.gain?.value).toBe(-0.25);
    expect(cautions[0]).toBe(
      'The held volume is smaller than the vital capacity, so air was lost through a leak or an open throat. Repeat the test.',
    );
  });

  test('millilitres typed as litres are asked about', () => {
    expect(calculate('insufflation-gain', { insufflationCapacity: 2100, vitalCapacity: 0.9 })).toEqual({
      ok: false,
      problems: [
        {
          field: 'insufflationCapacity',
          message: 'Maximum insufflation capacity is above 0 and at most 12 L. Is 2100 in mL?',
        },
      ],
    });
  });
});
