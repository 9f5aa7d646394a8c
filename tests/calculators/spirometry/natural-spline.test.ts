import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { naturalSpline } from '../../../calculators/spirometry/natural-spline.ts';

describe('natural cubic spline', () => {
  test('through (0, 0), (1, 1), (2, 0) it passes 0.6875 at a half', () => {
    // By hand: the bends are 0, m, 0 with 4 m = 6 x (-1 - 1), so m = -3; y(0.5) = 0.5 + (0.125 - 0.5) x -3 / 6.
    const curve = naturalSpline({ ages: [0, 1, 2], values: [0, 1, 0] });
    expect(curve(0.5)).toBeCloseTo(0.6875, 14);
    expect(curve(1.5)).toBeCloseTo(0.6875, 14);
  });

  test('through two knots it is the straight line', () => {
    const line = naturalSpline({ ages: [3, 95], values: [1, 3] });
    expect(line(49)).toBeCloseTo(2, 14);
  });

  const knots = fc.uniqueArray(fc.integer({ min: 12, max: 380 }), { minLength: 3, maxLength: 25 }).chain((quarters) =>
    fc.record({
      ages: fc.constant(quarters.map((quarter) => quarter / 4).sort((a, b) => a - b)),
      values: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
        minLength: quarters.length,
        maxLength: quarters.length,
      }),
    }),
  );

  test('it passes through every knot', () => {
    fc.assert(
      fc.property(knots, ({ ages, values }) => {
        const curve = naturalSpline({ ages, values });
        for (const [i, age] of ages.entries()) expect(curve(age)).toBeCloseTo(values[i] ?? Number.NaN, 12);
      }),
    );
  });

  test('points of a straight line give the straight line back', () => {
    fc.assert(
      fc.property(knots, fc.double({ min: 0, max: 1, noNaN: true }), ({ ages }, share) => {
        const [first = 0, last = 0] = [ages[0], ages.at(-1)];
        const curve = naturalSpline({ ages, values: ages.map((age) => 0.3 - 0.02 * age) });
        const age = first + share * (last - first);
        expect(curve(age)).toBeCloseTo(0.3 - 0.02 * age, 10);
      }),
    );
  });

  test('at an inner knot the two cubics meet in slope and bend, and the ends do not bend', () => {
    const ages = [3, 4, 6.5, 11, 20];
    const curve = naturalSpline({ ages, values: [0.1, -0.2, 0.3, 0.25, -0.4] });
    const h = 1e-4;
    const bendAt = (x: number) => (curve(x - h) - 2 * curve(x) + curve(x + h)) / h ** 2;
    const slopeRight = (x: number) => (curve(x + h) - curve(x)) / h;
    const slopeLeft = (x: number) => (curve(x) - curve(x - h)) / h;
    for (const knot of [4, 6.5, 11]) {
      expect(slopeRight(knot)).toBeCloseTo(slopeLeft(knot), 3);
      expect(bendAt(knot + 2 * h)).toBeCloseTo(bendAt(knot - 2 * h), 2);
    }
    expect(bendAt(3 + h)).toBeCloseTo(0, 2);
    expect(bendAt(20 - h)).toBeCloseTo(0, 2);
  });
});
