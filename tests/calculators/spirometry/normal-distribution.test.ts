import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shareBelow } from '../../../calculators/spirometry/normal-distribution.ts';

describe('share of a standard normal distribution', () => {
  // Printed in any table of the normal distribution (Abramowitz and Stegun, table 26.1).
  test.each([
    [0, 0.5],
    [1, 0.8413447461],
    [1.645, 0.9500150945],
    [1.96, 0.9750021049],
    [2, 0.977249868],
    [3, 0.998650102],
  ])('below z = %s lies %s', (z, share) => {
    expect(shareBelow(z)).toBeCloseTo(share, 9);
    expect(shareBelow(-z)).toBeCloseTo(1 - share, 9);
  });

  // Tail areas as printed there, with their exponent.
  test.each([
    [-4, 3.16712e-5],
    [-5, 2.86652e-7],
    [-6, 9.86588e-10],
  ])('the far tail keeps its digits: below z = %s lies %s', (z, share) => {
    expect(Math.abs(shareBelow(z) / share - 1)).toBeLessThan(1e-5);
  });

  test('it rises with z, stays between 0 and 1, and the two sides add up to 1', () => {
    const z = fc.double({ min: -40, max: 40, noNaN: true });
    fc.assert(
      fc.property(z, z, (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(shareBelow(low)).toBeLessThanOrEqual(shareBelow(high) + 1e-15);
        expect(shareBelow(a)).toBeGreaterThanOrEqual(0);
        expect(shareBelow(a)).toBeLessThanOrEqual(1);
        expect(shareBelow(a) + shareBelow(-a)).toBeCloseTo(1, 14);
      }),
    );
  });

  test('the two ways of reckoning meet at z = 3 root 2 without a step', () => {
    const seam = 3 * Math.SQRT2;
    const [before, after] = [shareBelow(-seam * (1 - 1e-12)), shareBelow(-seam * (1 + 1e-12))];
    expect(Math.abs(before / after - 1)).toBeLessThan(1e-9);
  });
});
