/** Expected figures are counted on paper from the made nights: each test says how. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readingsOf } from '../../../calculators/night-oximetry/readings.ts';
import { rules } from '../../../calculators/night-oximetry/rules.ts';
import { type NightSummary, row, summarise } from '../../../calculators/night-oximetry/summary.ts';
import { drawable } from '../../../calculators/night-oximetry/trace.ts';
import { flat, type Night, ramp } from './build.ts';

const of = (night: Night, seconds = night.map((_, second) => second)) => ({
  seconds: Float64Array.from(seconds),
  spo2: Float32Array.from(night),
});

function figures(night: Night, seconds?: number[]): NightSummary {
  const found = summarise(of(night, seconds));
  if (!found.ok) throw new Error(found.message);
  return found.summary;
}

describe('time and level', () => {
  test('eight hours at 95 are eight usable hours, mean 95, lowest 95, none of it below 90', () => {
    const night = figures(flat(95, 8 * 3600));
    expect(night).toMatchObject({
      usableSeconds: 28_800,
      recordedSeconds: 28_800,
      meanSpo2: 95,
      lowestSpo2: 95,
      below90Seconds: 0,
      atOrBelow88Seconds: 0,
      drops3: 0,
      drops4: 0,
    });
  });

  test('90 is not below 90 and 88 is at or below 88', () => {
    const night = figures([...flat(90, 600), ...flat(89, 300), ...flat(88, 100)]);
    expect(night.below90Seconds).toBe(400);
    expect(night.atOrBelow88Seconds).toBe(100);
    expect(night.below90Percent).toBeCloseTo(40, 12);
    expect(night.atOrBelow88Percent).toBeCloseTo(10, 12);
  });

  test('88.04, stored in binary as a little less, is not at or below 88', () => {
    expect(figures([...flat(88.04, 100), ...flat(96, 100)]).atOrBelow88Seconds).toBe(0);
  });

  test('the mean is weighted by time: 3 hours at 96 and 1 hour at 92 are 95', () => {
    expect(figures([...flat(96, 10_800), ...ramp(96, 92, 4), ...flat(92, 3596)]).meanSpo2).toBeCloseTo(95, 2);
  });

  test('a row counts until the next one; where the next comes late it counts for one usual step', () => {
    // every 2 s, but 60 s after the third: 88 counts 2 + 2 + 2 s, not 64
    expect(figures([88, 88, 88, 95, 95, 95], [0, 2, 4, 64, 66, 68])).toMatchObject({
      atOrBelow88Seconds: 6,
      usableSeconds: 12,
      recordedSeconds: 70,
    });
    // 3 s is one and a half steps: still to the next
    expect(figures([88, 88, 95, 95, 95, 95], [0, 2, 5, 7, 9, 11]).atOrBelow88Seconds).toBe(5);
    // the last row counts one step
    expect(figures([95, 95, 95, 88], [0, 2, 4, 6]).atOrBelow88Seconds).toBe(2);
  });

  test('one row is no recording, two are', () => {
    expect(summarise(of([95]))).toMatchObject({ ok: false });
    expect(summarise(of([95, 95])).ok).toBe(true);
  });

  test('the longest run at or below 88 is the longer of two, and the total is both', () => {
    const night = figures([...flat(92, 100), ...flat(88, 299), ...flat(91, 50), ...flat(87, 301), ...flat(92, 100)]);
    expect(night.longestAtOrBelow88Seconds).toBe(301);
    expect(night.atOrBelow88Seconds).toBe(600);
  });

  test.each([
    [10, 210],
    [11, 100],
  ])('a gap of %i seconds in a run at or below 88 leaves a longest run of %i seconds', (gap, longest) => {
    // 100 s, the gap, 110 s in the first case: the gap is bridged and not counted; in the second the longer part stands.
    const after = gap === 10 ? 110 : 90;
    const night = figures([
      ...flat(92, 60),
      ...flat(88, 100),
      ...flat(Number.NaN, gap),
      ...flat(88, after),
      ...flat(92, 60),
    ]);
    expect(night.longestAtOrBelow88Seconds).toBe(longest);
  });

  test('a recorder that writes once in four seconds gives the same minutes as one that writes four times a second', () => {
    const low = (second: number) => (second >= 3600 && second < 4800 ? 86 : 94);
    const every = (step: number) => Array.from({ length: 7200 / step }, (_, at) => at * step);
    for (const step of [0.25, 1, 4]) {
      const times = every(step);
      const night = figures(
        times.map((second) => low(Math.floor(second))),
        times,
      );
      expect(night.usableSeconds, `step ${step}`).toBeCloseTo(7200, 6);
      // The fall of 8 points in one second begins a stretch that lasts 20 minutes: longer than a minute, so it is kept.
      expect(night.atOrBelow88Seconds, `step ${step}`).toBeCloseTo(1200, 6);
    }
  });

  test('rows that are missing are a gap, not more time at the last value', () => {
    const times = [...Array(600).keys(), ...Array.from({ length: 600 }, (_, at) => 1800 + at)];
    const night = figures(flat(86, 1200), times);
    expect(night.recordedSeconds).toBe(2400);
    expect(night.usableSeconds).toBe(1200);
    expect(night.leftOut.gapSeconds).toBe(1200);
    expect(night.longestAtOrBelow88Seconds).toBe(600);
  });

  test('hours are counted from the start, and together make the night', () => {
    const night = figures([...flat(95, 3600), ...ramp(95, 89, 6), ...flat(89, 3594), ...flat(95, 1800)]);
    expect(night.hours.map(({ below90Seconds }) => below90Seconds)).toEqual([0, 3595, 0]);
    expect(night.hours.map(({ usableSeconds }) => usableSeconds)).toEqual([3600, 3600, 1800]);
    expect(night.hours[0]).toMatchObject({ meanSpo2: 95, lowestSpo2: 95 });
  });
});

describe('what is left out', () => {
  test('0, nothing, 127 and 49 are no saturation; 50 and 100 are', () => {
    const night = figures([...flat(96, 100), 0, Number.NaN, 127, 49, ...flat(96, 100), 100]);
    expect(night.usableSeconds).toBe(201);
    expect(night.leftOut).toMatchObject({ noValueSeconds: 2, outOfRangeSeconds: 2, fastFallSeconds: 0 });
    expect(figures([...ramp(98, 50, 60), 50]).lowestSpo2).toBe(50);
  });

  test('a fall of 4 points in a second is kept; one of 5 is left out until the value is back', () => {
    expect(figures([...flat(96, 60), ...flat(92, 20), ...flat(96, 60)]).leftOut.fastFallSeconds).toBe(0);
    const night = figures([...flat(96, 60), ...flat(91, 20), ...flat(96, 60)]);
    expect(night.leftOut.fastFallSeconds).toBe(20);
    expect(night.lowestSpo2).toBe(96);
    expect(night.drops3).toBe(0);
  });

  test('a low stretch after a fast fall that lasts longer than a minute is never left out', () => {
    expect(figures([...flat(96, 60), ...flat(80, 60), ...flat(96, 60)]).leftOut.fastFallSeconds).toBe(60);
    const night = figures([...flat(96, 60), ...flat(80, 61), ...flat(96, 60)]);
    expect(night.leftOut.fastFallSeconds).toBe(0);
    expect(night.atOrBelow88Seconds).toBe(61);
  });

  test('a fast rise is kept: waking up looks like that', () => {
    const night = figures([...ramp(96, 80, 30), ...flat(97, 30)]);
    expect(night.usableSeconds).toBe(60);
  });

  test('the last values before the probe falls off are left out with it', () => {
    const night = figures([...flat(96, 60), 85, 84, 83, ...flat(0, 120), ...flat(95, 60)]);
    expect(night.lowestSpo2).toBe(95);
    expect(night.leftOut).toMatchObject({ fastFallSeconds: 3, noValueSeconds: 120 });
  });

  test('two points down at once, stored four times a second, are not eight points a second', () => {
    const times = Array.from({ length: 480 }, (_, at) => at / 4);
    const night = figures(
      times.map((second) => (second < 60 ? 96 : 94)),
      times,
    );
    expect(night.leftOut.fastFallSeconds).toBe(0);
  });

  test('a night with no usable value says so instead of giving figures', () => {
    const found = summarise(of(flat(0, 3600)));
    expect(found).toMatchObject({ ok: false });
    if (!found.ok) expect(found.message).toContain('There is no usable saturation');
    expect(summarise(of([])).ok).toBe(false);
  });

  test('a short trace and a trace with much left out carry a caution', () => {
    expect(figures(flat(95, 3600)).cautions.join(' ')).toContain('Less than 4 hours');
    expect(figures([...flat(95, 5 * 3600), ...flat(0, 2 * 3600)]).cautions.join(' ')).toContain('More than a fifth');
    expect(figures(flat(95, 8 * 3600)).cautions).toEqual([]);
  });
});

/** Down from 96, a stay, up again; from the last 96 to the first value back at 95 or above. */
const dip = (depth: number, down: number, stay: number, up: number): Night => [
  ...flat(96, 60),
  ...ramp(96, 96 - depth, down),
  ...flat(96 - depth, stay),
  ...ramp(96 - depth, 96, up),
];
const times = (count: number, night: Night): Night => Array(count).fill(night).flat();

describe('drops', () => {
  test('sixty dips of 5 points in a night of three hours are 20 an hour', () => {
    // One dip: 60 + 20 + 10 + 10 s of slope, then 80 s at 96: 180 s, so 20 in an hour.
    const night = figures(times(60, [...dip(5, 20, 10, 10), ...flat(96, 80)]));
    expect(night.drops3).toBe(60);
    expect(night.drops4).toBe(60);
    expect(night.usableSeconds).toBe(10_800);
    expect(night.drops3PerHour).toBeCloseTo(20, 12);
    expect(night.hours.map(({ drops3 }) => drops3)).toEqual([20, 20, 20]);
  });

  test.each([
    [2, 0, 0],
    [3, 1, 0],
    [4, 1, 1],
    [12, 1, 1],
  ])('one dip of %i points is %i drop of 3 and %i of 4', (depth, three, four) => {
    const night = figures([...dip(depth, 20, 10, 10), ...flat(96, 60)]);
    expect([night.drops3, night.drops4]).toEqual([three, four]);
  });

  /** Falls 3 points in 3 s, stays, and is back at 95 at once: `lasts` seconds from the last 96 to the first 95. */
  const lasting = (lasts: number): Night => [...flat(96, 100), 95, 94, ...flat(93, lasts - 3), ...flat(95, 100)];

  test.each([
    [9, 0],
    [10, 1],
    [90, 1],
    [91, 0],
  ])('a dip of 3 points that lasts %i seconds counts %i times', (lasts, count) => {
    expect(figures(lasting(lasts)).drops3).toBe(count);
  });

  test('a slow slide of ten points in an hour is no drop, and shows in the time below 90', () => {
    const night = figures(ramp(95, 85, 3600));
    expect(night.drops3).toBe(0);
    expect(night.below90Seconds).toBeGreaterThan(1500);
  });

  test('a saw that never comes back to its first height counts each tooth from its own peak', () => {
    // 96 down to 88, up to 93, down to 85: the second tooth falls 8 from 93.
    const night = figures([
      ...flat(96, 60),
      ...ramp(96, 88, 16),
      ...ramp(88, 93, 5),
      ...ramp(93, 85, 16),
      ...ramp(85, 96, 11),
      ...flat(96, 60),
    ]);
    expect(night.drops3).toBe(2);
  });

  test('a dip in which the signal is lost for more than ten seconds does not count', () => {
    const half = [...flat(96, 60), ...ramp(96, 90, 18)];
    expect(figures([...half, ...flat(Number.NaN, 8), ...ramp(90, 96, 12), ...flat(96, 30)]).drops3).toBe(1);
    expect(figures([...half, ...flat(Number.NaN, 12), ...ramp(90, 96, 12), ...flat(96, 30)]).drops3).toBe(0);
  });
});

describe('what holds for any night', () => {
  const nights = fc.array(
    fc.oneof({ weight: 20, arbitrary: fc.integer({ min: 70, max: 100 }) }, fc.constantFrom(0, 127, Number.NaN, 49)),
    { minLength: 2, maxLength: 400 },
  );

  test('parts of the night add up to the night, and shares lie between none and all', () => {
    fc.assert(
      fc.property(nights, (values) => {
        const found = summarise(of(values));
        if (!found.ok) return;
        const { summary: night } = found;
        const { noValueSeconds, outOfRangeSeconds, fastFallSeconds, gapSeconds } = night.leftOut;
        expect(night.usableSeconds + noValueSeconds + outOfRangeSeconds + fastFallSeconds + gapSeconds).toBeCloseTo(
          night.recordedSeconds,
          6,
        );
        expect(night.atOrBelow88Seconds).toBeLessThanOrEqual(night.below90Seconds);
        expect(night.longestAtOrBelow88Seconds).toBeLessThanOrEqual(night.atOrBelow88Seconds + 1e-9);
        expect(night.meanSpo2).toBeGreaterThanOrEqual(night.lowestSpo2 - 1e-9);
        for (const value of Object.values(night))
          if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  test('usable rows are those and only those between 50 and 100', () => {
    fc.assert(
      fc.property(nights, (values) => {
        const found = summarise(of(values));
        if (!found.ok) return;
        for (const [at, kind] of found.summary.rows.entries())
          if (kind === row.usable) expect(values[at]).toBeGreaterThanOrEqual(50);
      }),
    );
  });
});

describe('figures on their way out', () => {
  test('a run of 4 minutes 59 seconds does not become 5 minutes on the visit sheet', () => {
    const night = figures([...flat(92, 100), ...flat(88, 299), ...flat(92, 100)]);
    const reading = readingsOf(night, 'air')['nocturnal-consecutive-minutes-spo2-at-or-below-88'];
    expect(reading?.value).toBeLessThan(5);
    expect(reading).toMatchObject({ unit: 'min', gas: 'air', flags: ['short-recording'] });
  });

  test('what was breathed stays unknown when nobody said it', () => {
    for (const reading of Object.values(readingsOf(figures(flat(95, 8 * 3600)), undefined)))
      expect(reading).not.toHaveProperty('gas');
  });

  test('each figure has its rule, and each rule its source', () => {
    for (const rule of Object.values(rules)) {
      expect(rule.rule.length).toBeGreaterThan(20);
      expect(rule.source).not.toBe('');
    }
  });

  test('no rule names a pattern or a disease', () => {
    expect(JSON.stringify(rules)).not.toMatch(/apn|hypop|hypovent|obstruct|saw-?tooth|sleep disorder|normal|severe/i);
  });

  test('the drawn trace keeps the lowest value of each column and marks what was left out', () => {
    const night = [...flat(96, 300), ...ramp(96, 84, 12), ...ramp(84, 96, 12), ...flat(0, 276)];
    const recording = of(night);
    const found = summarise(recording);
    if (!found.ok) throw new Error(found.message);
    const trace = drawable(recording, found.summary.rows, 10);
    expect(Math.min(...[...trace.lowest].filter((value) => !Number.isNaN(value)))).toBe(84);
    expect(trace.leftOut[0]).toBe(0);
    expect(trace.leftOut[9]).toBe(1);
    expect(trace.lowest[9]).toBeNaN();
  });
});
