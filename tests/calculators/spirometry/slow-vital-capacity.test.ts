import { describe, expect, test } from 'vitest';
import type { RawInputs } from '../../../calculators/calculator.ts';
import { calculate } from '../../../calculators/index.ts';

const answer = (inputs: RawInputs) => {
  const outcome = calculate('slow-vital-capacity', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('slow vital capacity', () => {
  test('half of the predicted volume is 50 % of predicted', () => {
    // C-VC21-118: 5.3700 L for a man of 40 and 175 cm.
    const { results } = answer({ sex: 'male', age: 40, height: 175, measured: 2.685 });
    expect(results.percentPredicted?.value).toBeCloseTo(50, 1);
  });

  test('age goes in as years, not as its logarithm: a woman of 60 and 160 cm has a lower limit of 2.586 L', () => {
    // C-VC21-119; the reference notes name a program that takes the logarithm, trap 6.
    expect(answer({ sex: 'female', age: 60, height: 160 }).results.lln?.value).toBeCloseTo(2.5858, 3);
  });

  test('the inspiratory capacity is part of the vital capacity', () => {
    for (const sex of ['female', 'male'])
      for (const age of [5, 12, 30, 55, 80]) {
        const predicted = (index: string) =>
          answer({ sex, age, height: 150, index }).results.predicted?.value ?? Number.NaN;
        expect(predicted('IC')).toBeLessThan(predicted('VC'));
      }
  });

  test('an age of 4 and one of 81 are refused with the limits', () => {
    for (const age of [4, 81]) {
      const outcome = calculate('slow-vital-capacity', { sex: 'male', age, height: 150 });
      expect(outcome).toEqual({
        ok: false,
        problems: [{ field: 'age', message: `GLI 2021 is for ages 5 to 80 years. ${age} is outside it` }],
      });
    }
  });

  test('an estimated height gives ends', () => {
    const { results } = answer({ sex: 'male', age: 40, height: 175, measured: 3, heightError: 3 });
    const at = (height: number) => answer({ sex: 'male', age: 40, height, measured: 3 }).results;
    expect([results.percentPredicted?.low, results.percentPredicted?.high]).toEqual([
      at(178).percentPredicted?.value,
      at(172).percentPredicted?.value,
    ]);
  });

  test('it is not offered as a forced vital capacity to any criterion', async () => {
    const { calculators } = await import('../../../calculators/index.ts');
    expect(Object.values(calculators['slow-vital-capacity']?.results ?? {}).filter(({ measure }) => measure)).toEqual(
      [],
    );
  });
});
