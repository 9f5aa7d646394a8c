import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { daysInMonth } from '../../../calculators/quantity.ts';
import {
  datesFor,
  fitLine,
  halfWidthOn,
  type Line,
  type Reaches,
  slopeHalfWidthOf,
  surelyFalls,
  valueOn,
} from '../../../calculators/trend/line.ts';

type Readings = { day: number; value: number }[];
/** Two tests differ by so much by chance alone; 0 leaves the interval to the readings. */
const fitted = (readings: Readings, difference = 0): Line => {
  const line = fitLine(readings, () => difference);
  if (!line) throw new Error('no line');
  return line;
};
const dated = (line: Line, threshold: number): Reaches | undefined => {
  const found = datesFor(line, threshold);
  return typeof found === 'string' ? undefined : found;
};
const onLine = (start: number, slope: number, days: number[]) =>
  days.map((day) => ({ day, value: start + slope * day }));
/** Five readings around a fall of 0.1 a day; every calculation below can be done by hand. */
const wobbling = [
  { day: 0, value: 80 },
  { day: 50, value: 76 },
  { day: 100, value: 70 },
  { day: 150, value: 64 },
  { day: 200, value: 60 },
];

describe('the line', () => {
  test('readings on a line give that line back, and no scatter', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 110, noNaN: true }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        fc.uniqueArray(fc.integer({ min: 0, max: 1000 }), { minLength: 3, maxLength: 12 }),
        (start, slope, days) => {
          const line = fitted(onLine(start, slope, days));
          expect(line.slope).toBeCloseTo(slope, 8);
          expect(valueOn(line, 0)).toBeCloseTo(start, 6);
          expect(line.scatter).toBeCloseTo(0, 6);
        },
      ),
    );
  });

  test('the order of the readings does not matter, nor on which day counting began', () => {
    const line = fitted(wobbling);
    expect(fitted(wobbling.toReversed()).slope).toBeCloseTo(line.slope, 12);
    const later = fitted(wobbling.map(({ day, value }) => ({ day: day + 365, value })));
    expect(later.slope).toBeCloseTo(line.slope, 12);
    expect(later.scatter).toBeCloseTo(line.scatter ?? Number.NaN, 9);
  });

  test('by hand: products -2600 over squares 25 000 fall 0.104 a day; misses of 0.4, 0.8 and 1.2 leave 1.6 of squares', () => {
    // days from their mean: -100 -50 0 50 100; readings from theirs: 10 6 0 -6 -10; products -1000 -300 0 -300 -1000
    // line: 80.4 75.2 70 64.8 59.6; misses -0.4 0.8 0 -0.8 0.4; squares 0.16 0.64 0 0.64 0.16
    const line = fitted(wobbling);
    expect(line.slope).toBeCloseTo(-2600 / 25000, 12);
    expect(line.scatter).toBeCloseTo(Math.sqrt(1.6 / 3), 12);
    // t for 3 degrees of freedom is 3.182 (NIST/SEMATECH table)
    expect(line.reach).toBeCloseTo(3.182 * Math.sqrt(1.6 / 3), 3);
  });

  test('no other slope leaves less scatter', () => {
    const line = fitted(wobbling);
    const missed = (slope: number) =>
      wobbling.reduce((sum, { day, value }) => sum + (value - line.meanValue - slope * (day - line.meanDay)) ** 2, 0);
    for (const tilt of [-0.01, -0.001, 0.001, 0.01])
      expect(missed(line.slope + tilt)).toBeGreaterThan(missed(line.slope));
  });

  test('two readings have a slope and no scatter, one day has no line', () => {
    expect(fitted(wobbling.slice(0, 2))).not.toHaveProperty('scatter');
    const none = (readings: Readings) => expect(fitLine(readings, () => 0)).toBeUndefined();
    none([{ day: 10, value: 60 }]);
    none([]);
    none([
      { day: 10, value: 60 },
      { day: 10, value: 58 },
    ]);
  });
});

describe('the interval', () => {
  test('by hand: at the mean day of five readings it is t x scatter x sqrt(1.2), and wider away from it', () => {
    const line = fitted(wobbling);
    expect(halfWidthOn(line, 100)).toBeCloseTo(3.1824 * Math.sqrt(1.6 / 3) * Math.sqrt(1.2), 3);
    expect(halfWidthOn(line, 300) ?? 0).toBeGreaterThan(halfWidthOn(line, 200) ?? 0);
  });

  test('it holds about 95 of 100 next readings when the truth is a line with even scatter', () => {
    // A fixed sequence of normal deviates (sum of twelve), so that the count is the same on every run
    let state = 20251125;
    const uniform = () => {
      state = (state * 1664525 + 1013904223) % 4294967296;
      return state / 4294967296;
    };
    const normal = () => Array.from({ length: 12 }, uniform).reduce((sum, u) => sum + u, -6);
    let inside = 0;
    const runs = 4000;
    for (let run = 0; run < runs; run += 1) {
      const line = fitted([0, 60, 120, 180, 240].map((day) => ({ day, value: 90 - 0.1 * day + 2 * normal() })));
      const next = 90 - 0.1 * 300 + 2 * normal();
      if (Math.abs(next - valueOn(line, 300)) <= (halfWidthOn(line, 300) ?? 0)) inside += 1;
    }
    expect(inside / runs).toBeGreaterThan(0.935);
    expect(inside / runs).toBeLessThan(0.965);
  });
});

describe('repeatability keeps the interval from becoming too narrow', () => {
  const aligned = onLine(80, -0.1, [0, 60, 120]);

  test('by hand: aligned readings reach a difference over the square root of 2; scattered ones their own scatter', () => {
    expect(fitted(aligned, 8).reach).toBeCloseTo(8 / Math.SQRT2, 9);
    // 1.96 times the standard deviation of one test, where two of them differ by 1.96 x sqrt(2) times it
    expect(fitted(aligned, 1.96 * Math.SQRT2 * 3).reach).toBeCloseTo(1.96 * 3, 9);
    // 3.182 x 0.7303 = 2.324, more than 2 / 1.414
    expect(fitted(wobbling, 2).reach).toBeCloseTo(3.1824 * Math.sqrt(1.6 / 3), 3);
    expect(fitted(wobbling, 8).reach).toBeCloseTo(8 / Math.SQRT2, 9);
  });

  test('by hand: the slope of three readings 60 days apart is known to within the reach over sqrt(7200)', () => {
    // days from their mean: -60 0 60
    expect(slopeHalfWidthOf(fitted(aligned, 8))).toBeCloseTo(8 / Math.SQRT2 / Math.sqrt(7200), 12);
  });

  test('a wider repeatability never narrows the interval, whatever the readings', () => {
    const reading = fc.tuple(fc.integer({ min: 1, max: 90 }), fc.double({ min: -4, max: 4, noNaN: true }));
    fc.assert(
      fc.property(
        fc.array(reading, { minLength: 3, maxLength: 10 }),
        fc.double({ min: -0.3, max: 0.1, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        (gaps, slope, difference, more) => {
          let day = 0;
          const readings = gaps.map(([gap, miss]) => {
            day += gap;
            return { day, value: 100 + slope * day + miss };
          });
          const [narrow, wide] = [fitted(readings, difference), fitted(readings, difference + more)];
          expect(slopeHalfWidthOf(wide)).toBeGreaterThanOrEqual(slopeHalfWidthOf(narrow) ?? Number.NaN);
          expect(halfWidthOn(wide, day + 90)).toBeGreaterThanOrEqual(halfWidthOn(narrow, day + 90) ?? Number.NaN);
          // What was too unsure for a date stays so, and a date never moves away.
          const [before, after] = [dated(narrow, 50), dated(wide, 50)];
          if (!before) expect(after).toBeUndefined();
          if (before && after) expect(after.earliest).toBeLessThanOrEqual(before.earliest + 1e-6);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('where no repeatability is published there is no interval, and so no date', () => {
    const line = fitLine(wobbling, () => undefined);
    expect(line).not.toHaveProperty('reach');
    expect(line && [slopeHalfWidthOf(line), halfWidthOn(line, 300), surelyFalls(line)]).toEqual([
      undefined,
      undefined,
      false,
    ]);
    expect(line && datesFor(line, 40)).toBe('no-interval');
  });
});

describe('reaching a threshold', () => {
  test('a line from 80 falling 0.1 a day is at 50 on day 300 (by hand), and so is its edge when nothing scatters', () => {
    const found = dated(fitted(onLine(80, -0.1, [0, 60, 120, 180])), 50);
    expect(found?.line).toBeCloseTo(300, 6);
    expect(found?.earliest).toBeCloseTo(300, 4);
  });

  test('on the earliest day the lower edge is at the threshold: never after the line, never before the last reading', () => {
    const reading = fc.tuple(fc.integer({ min: 1, max: 90 }), fc.double({ min: -3, max: 3, noNaN: true }));
    fc.assert(
      fc.property(
        fc.array(reading, { minLength: 3, maxLength: 10 }),
        fc.double({ min: -0.3, max: -0.02, noNaN: true }),
        fc.double({ min: 1, max: 40, noNaN: true }),
        (gaps, slope, below) => {
          let day = 0;
          const line = fitted(
            gaps.map(([gap, miss]) => {
              day += gap;
              return { day, value: 100 + slope * day + miss };
            }),
          );
          const threshold = valueOn(line, line.lastDay) - below;
          const found = dated(line, threshold);
          fc.pre(found !== undefined);
          if (!found) return;
          expect(found.earliest).toBeLessThanOrEqual(found.line + 1e-6);
          expect(found.earliest).toBeGreaterThanOrEqual(line.lastDay);
          const edge = (on: number) => valueOn(line, on) - (halfWidthOn(line, on) ?? 0);
          if (found.earliest > line.lastDay) {
            expect(edge(found.earliest)).toBeCloseTo(threshold, 5);
            // and it is the first such day: halfway there the edge is still above
            expect(edge((line.lastDay + found.earliest) / 2)).toBeGreaterThan(threshold);
          } else expect(edge(line.lastDay)).toBeLessThanOrEqual(threshold + 1e-9);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('a lower threshold is never reached sooner', () => {
    const line = fitted(wobbling);
    let before = 0;
    for (const threshold of [55, 50, 45, 40, 30]) {
      const found = dated(line, threshold)?.earliest ?? Number.NaN;
      expect(found).toBeGreaterThanOrEqual(before);
      before = found;
    }
  });

  test('why there is no date: what weighs most is told first', () => {
    expect(datesFor(fitted(wobbling.slice(0, 2)), 50)).toBe('no-interval');
    expect(datesFor(fitted(onLine(60, 0.1, [0, 60, 120])), 50)).toBe('not-falling');
    expect(datesFor(fitted(onLine(60, 0, [0, 60, 120])), 50)).toBe('not-falling');
    expect(datesFor(fitted(wobbling), 60)).toBe('line-already-there');
    // a fall of 1 in 120 days, where two tests differ by 8
    expect(datesFor(fitted(onLine(80, -1 / 120, [0, 60, 120]), 8), 50)).toBe('fall-not-sure');
  });

  test('an interval that just touches zero is no sure fall', () => {
    // slope -0.1 a day; half-width 0.1 when the reach is 0.1 x sqrt(7200)
    const touching = 0.1 * Math.sqrt(7200) * Math.SQRT2;
    const line = (difference: number) => fitted(onLine(80, -0.1, [0, 60, 120]), difference);
    expect(surelyFalls(line(touching * 1.0001))).toBe(false);
    expect(datesFor(line(touching * 1.0001), 20)).toBe('fall-not-sure');
    expect(surelyFalls(line(touching * 0.9999))).toBe(true);
  });

  test('two years by the line itself is the end, however soon the edge of the interval is there', () => {
    // 1 a month from 80; last reading after 10 months, at 70
    const months = [0, 5, 10].map((month) => month * daysInMonth);
    const line = fitted(onLine(80, -1 / daysInMonth, months), 5);
    expect(dated(line, 70 - 24 + 0.001)).toBeDefined();
    expect(datesFor(line, 70 - 24 - 0.001)).toBe('too-far');
    const edge = (threshold: number) =>
      valueOn(line, line.lastDay + 700) - (halfWidthOn(line, line.lastDay + 700) ?? 0) < threshold;
    expect(edge(45.9)).toBe(true);
  });

  test('no date whenever the interval of the slope contains zero', () => {
    const reading = fc.tuple(fc.integer({ min: 1, max: 90 }), fc.double({ min: -10, max: 10, noNaN: true }));
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(reading, { minLength: 2, maxLength: 10 }),
        fc.double({ min: -0.3, max: 0.1, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        (gaps, slope, difference, below) => {
          let day = 0;
          const line = fitted(
            gaps.map(([gap, miss]) => {
              day += gap;
              return { day, value: 100 + slope * day + miss };
            }),
            difference,
          );
          const half = slopeHalfWidthOf(line);
          if (half !== undefined && line.slope + half < 0) return;
          refused += 1;
          expect(dated(line, valueOn(line, line.lastDay) - below)).toBeUndefined();
        },
      ),
      { numRuns: 2000 },
    );
    expect(refused).toBeGreaterThan(100);
  });
});
