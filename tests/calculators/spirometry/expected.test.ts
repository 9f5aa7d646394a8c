import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  centileOf,
  type Expected,
  lowerLimitOf,
  percentPredictedOf,
  readingAgainst,
  zScoreOf,
} from '../../../calculators/spirometry/expected.ts';

/** Spread and skewness over the whole of the published ages. */
const lms = fc.record({
  form: fc.constant('lms' as const),
  predicted: fc.double({ min: 0.3, max: 8, noNaN: true }),
  spread: fc.double({ min: 0.05, max: 0.24, noNaN: true }),
  skewness: fc.double({ min: 0.8, max: 1.4, noNaN: true }),
});
const normal = fc.record({
  form: fc.constant('normal' as const),
  predicted: fc.double({ min: 1.5, max: 8, noNaN: true }),
  residual: fc.double({ min: 0.38, max: 0.61, noNaN: true }),
});
const withSpread: fc.Arbitrary<Expected> = fc.oneof(lms, normal);
const litres = fc.double({ min: 0.05, max: 12, noNaN: true });

describe('a reading against what is expected', () => {
  test('with no skewness to speak of (L = 1) the spread is a plain share: 10 % of 5 L, so 4 L is 2 below', () => {
    const expected: Expected = { form: 'lms', predicted: 5, spread: 0.1, skewness: 1 };
    expect(zScoreOf(expected, 4)).toBeCloseTo(-2, 12);
    expect(lowerLimitOf(expected)).toBeCloseTo(5 * (1 - 0.1645), 12);
    expect(zScoreOf(expected, 5 * (1 + 0.1645))).toBeCloseTo(1.645, 12);
  });

  test('at zero skewness the power form turns into a logarithm, without a step', () => {
    const at = (skewness: number): Expected => ({ form: 'lms', predicted: 4, spread: 0.12, skewness });
    expect(zScoreOf(at(0), 2)).toBeCloseTo(Math.log(0.5) / 0.12, 12);
    expect(zScoreOf(at(1e-5), 2)).toBeCloseTo(zScoreOf(at(0), 2) ?? Number.NaN, 3);
    expect(lowerLimitOf(at(0))).toBeCloseTo(4 * Math.exp(-1.645 * 0.12), 12);
    expect(lowerLimitOf(at(1e-5))).toBeCloseTo(lowerLimitOf(at(0)), 4);
  });

  test('a set that prints no spread gives no z-score and no centile', () => {
    const expected: Expected = { form: 'limit', predicted: 5, lowerLimit: 4 };
    expect(readingAgainst(expected, 2.5)).toEqual({ predicted: 5, lln: 4, percentPredicted: 50 });
    expect(zScoreOf(expected, 2.5)).toBeUndefined();
  });

  test('without a reading only the prediction is given', () => {
    expect(readingAgainst({ form: 'normal', predicted: 5, residual: 0.5 }, undefined)).toEqual({
      predicted: 5,
      lln: 5 - 0.82,
    });
  });

  test('the predicted value itself is 100 % of predicted, z = 0, centile 50', () => {
    fc.assert(
      fc.property(withSpread, (expected) => {
        expect(percentPredictedOf(expected, expected.predicted)).toBe(100);
        expect(zScoreOf(expected, expected.predicted)).toBeCloseTo(0, 12);
        expect(centileOf(0)).toBe(50);
      }),
    );
  });

  test('the lower limit lies under the predicted value', () => {
    fc.assert(
      fc.property(withSpread, (expected) => {
        expect(lowerLimitOf(expected)).toBeLessThan(expected.predicted);
      }),
    );
  });

  test('a reading on the lower limit is on the 5th centile', () => {
    fc.assert(
      fc.property(lms, (expected) => {
        const z = zScoreOf(expected, lowerLimitOf(expected)) ?? Number.NaN;
        expect(z).toBeCloseTo(-1.645, 9);
        expect(centileOf(z)).toBeCloseTo(5, 2);
      }),
    );
  });

  test('a larger reading has a larger z-score and centile, and the centile stays in 0 to 100', () => {
    fc.assert(
      fc.property(withSpread, litres, litres, (expected, a, b) => {
        fc.pre(Math.abs(a - b) > 1e-6);
        const [less, more] = [Math.min(a, b), Math.max(a, b)].map((volume) => readingAgainst(expected, volume));
        expect(less?.zScore).toBeLessThan(more?.zScore ?? Number.NaN);
        expect(less?.centile).toBeLessThanOrEqual(more?.centile ?? Number.NaN);
        expect(less?.centile).toBeGreaterThanOrEqual(0);
        expect(more?.centile).toBeLessThanOrEqual(100);
      }),
    );
  });
});
