import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitLine, halfWidthOn, type Line, reaches, valueOn } from '../../../calculators/trend/line.ts';

const fitted = (readings: { day: number; value: number }[]): Line => {
  const line = fitLine(readings);
  if (!line) throw new Error('no line');
  return line;
};
const onLine = (start: number, slope: number, days: number[]) =>
  days.map((day) => ({ day, value: start + slope * day }));
/** Five readings around a fall of 0.1 a day; every sum below can be done by hand. */
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
    expect(fitLine([{ day: 10, value: 60 }])).toBeUndefined();
    expect(fitLine([])).toBeUndefined();
    expect(
      fitLine([
        { day: 10, value: 60 },
        { day: 10, value: 58 },
      ]),
    ).toBeUndefined();
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
    let held = 0;
    const runs = 4000;
    for (let run = 0; run < runs; run += 1) {
      const line = fitted([0, 60, 120, 180, 240].map((day) => ({ day, value: 90 - 0.1 * day + 2 * normal() })));
      const next = 90 - 0.1 * 300 + 2 * normal();
      if (Math.abs(next - valueOn(line, 300)) <= (halfWidthOn(line, 300) ?? 0)) held += 1;
    }
    expect(held / runs).toBeGreaterThan(0.935);
    expect(held / runs).toBeLessThan(0.965);
  });
});

describe('reaching a mark', () => {
  test('a line from 80 falling 0.1 a day is at 50 on day 300 (by hand), and so is its edge when nothing scatters', () => {
    const found = reaches(fitted(onLine(80, -0.1, [0, 60, 120, 180])), 50);
    expect(found?.line).toBeCloseTo(300, 6);
    expect(found?.earliest).toBeCloseTo(300, 4);
  });

  test('on the earliest day the lower edge is at the mark: never after the line, never before the last reading', () => {
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
          const mark = valueOn(line, line.lastDay) - below;
          const found = reaches(line, mark);
          fc.pre(found !== undefined);
          if (!found) return;
          expect(found.earliest).toBeLessThanOrEqual(found.line + 1e-6);
          expect(found.earliest).toBeGreaterThanOrEqual(line.lastDay);
          const edge = (on: number) => valueOn(line, on) - (halfWidthOn(line, on) ?? 0);
          if (found.earliest > line.lastDay) {
            expect(edge(found.earliest)).toBeCloseTo(mark, 5);
            // and it is the first such day: halfway there the edge is still above
            expect(edge((line.lastDay + found.earliest) / 2)).toBeGreaterThan(mark);
          } else expect(edge(line.lastDay)).toBeLessThanOrEqual(mark + 1e-9);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('a lower mark is never reached sooner', () => {
    const line = fitted(wobbling);
    let before = 0;
    for (const mark of [55, 50, 45, 40, 30]) {
      const found = reaches(line, mark)?.earliest ?? Number.NaN;
      expect(found).toBeGreaterThanOrEqual(before);
      before = found;
    }
  });

  test('there is nothing to say for two readings, a rising line, or a line already there', () => {
    expect(reaches(fitted(wobbling.slice(0, 2)), 50)).toBeUndefined();
    expect(reaches(fitted(onLine(60, 0.1, [0, 60, 120])), 50)).toBeUndefined();
    expect(reaches(fitted(wobbling), 60)).toBeUndefined();
  });
});
