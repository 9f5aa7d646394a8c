import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shareWithin, t975 } from '../../../calculators/trend/student-t.ts';

/**
 * Upper critical values of Student's t at 0.025, NIST/SEMATECH e-Handbook of Statistical Methods, read in a
 * reprint of the table that names it. Three decimals are printed.
 */
const printed: Record<number, number> = {
  1: 12.706,
  2: 4.303,
  3: 3.182,
  4: 2.776,
  5: 2.571,
  6: 2.447,
  7: 2.365,
  8: 2.306,
  9: 2.262,
  10: 2.228,
  11: 2.201,
  12: 2.179,
  13: 2.16,
  14: 2.145,
  15: 2.131,
  16: 2.12,
  17: 2.11,
  18: 2.101,
  19: 2.093,
  20: 2.086,
  21: 2.08,
  22: 2.074,
  23: 2.069,
  24: 2.064,
  25: 2.06,
  26: 2.056,
  27: 2.052,
  28: 2.048,
  29: 2.045,
  30: 2.042,
  40: 2.021,
  60: 2,
  100: 1.984,
};

/** Other columns of the same table: t, and the share that lies above it. */
const otherColumns = [
  [1, 6.314, 0.05],
  [2, 9.925, 0.005],
  [5, 1.476, 0.1],
  [8, 2.896, 0.01],
  [15, 3.733, 0.001],
  [30, 1.697, 0.05],
] as const;

describe('Student\u2019s t at 0.975', () => {
  test.each(Object.entries(printed))('%s degrees of freedom: %s as printed', (degrees, t) => {
    expect(Math.abs(t975(Number(degrees)) - t)).toBeLessThanOrEqual(0.0005 + 1e-9);
  });

  test('exact where the angle is known: 1 degree of freedom is tan(0.475 pi), 2 are 0.95 x sqrt(2 / (1 - 0.95^2))', () => {
    expect(t975(1)).toBeCloseTo(Math.tan(0.475 * Math.PI), 11);
    expect(t975(2)).toBeCloseTo(0.95 * Math.sqrt(2 / (1 - 0.95 ** 2)), 11);
  });

  test('fewer readings always mean a larger multiplier, and never below 1.96', () => {
    for (let degrees = 1; degrees < 60; degrees += 1) {
      expect(t975(degrees)).toBeGreaterThan(t975(degrees + 1));
      expect(t975(degrees)).toBeGreaterThan(1.96);
    }
  });
});

describe('share of the distribution within t', () => {
  test.each(otherColumns)('%s degrees of freedom: %s has %s above it', (degrees, t, above) => {
    expect(1 - shareWithin(t, degrees)).toBeCloseTo(2 * above, 4);
  });

  test('it is the area under the curve, added up in thin slices', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 38 }), fc.double({ min: 0.1, max: 6, noNaN: true }), (degrees, t) => {
        const density = (x: number) => (1 + (x * x) / degrees) ** (-(degrees + 1) / 2);
        const area = (to: number, slices: number) => {
          const width = to / slices;
          return Array.from({ length: slices }, (_, i) => density((i + 0.5) * width) * width).reduce(
            (a, b) => a + b,
            0,
          );
        };
        // x = tan(u) folds the infinite tail into a finite one, so that the whole area can be added up as well
        const whole = Array.from({ length: 4000 }, (_, i) => {
          const u = ((i + 0.5) * Math.PI) / 8000;
          return (density(Math.tan(u)) / Math.cos(u) ** 2) * (Math.PI / 8000);
        }).reduce((a, b) => a + b, 0);
        expect(shareWithin(t, degrees)).toBeCloseTo(area(t, 2000) / whole, 4);
      }),
      { numRuns: 60 },
    );
  });
});
