import { expect, test } from 'vitest';
import { pictureOf } from '../../../calculators/trend/decline-picture.ts';
import declineRate from '../../../calculators/trend/decline-rate.ts';
import { ask } from '../ask.ts';

const { answer } = ask(declineRate);
const readings = [
  { day: 0, value: 80 },
  { day: 60, value: 75 },
  { day: 120, value: 69 },
  { day: 180, value: 62 },
];

test('where the drawn band meets the threshold is the earliest day that the answer gives', () => {
  const { results } = answer({
    test: 'vc-percent',
    sameMethod: 'yes',
    readings: readings.map(({ day, value }) => ({ time: day, value })),
    threshold: 50,
  });
  const earliest = results.earliest?.value ?? Number.NaN;
  const crossing = results.crossing?.value ?? Number.NaN;
  const picture = pictureOf('vc-percent', readings, 50, { earliest, crossing });
  expect(picture?.earliest).toBeCloseTo(180 + earliest, 9);
  expect(picture?.crossing).toBeCloseTo(180 + crossing, 9);
  // The drawing ends where the line is at the threshold, and there the band is already below it.
  const end = picture?.path.at(-1);
  expect(end?.day).toBeCloseTo(180 + crossing, 9);
  expect(end?.value).toBeCloseTo(50, 9);
  expect(end?.low).toBeLessThan(50);
  const before = pictureOf('vc-percent', readings, 50, { earliest: Math.max(earliest, 91) });
  expect(before?.path.find(({ day }) => day >= 180 + earliest)?.low).toBeLessThanOrEqual(50 + 1e-9);
});

test('two readings have a line through both and no band', () => {
  const picture = pictureOf('vc-percent', readings.slice(0, 2), 50, {});
  // By hand: 5 points in 60 days, so 80 - 151 / 12 at 91 days after the second
  expect(picture?.path[0]).toEqual({ day: 0, value: 80 });
  expect(picture?.path.at(-1)?.day).toBe(151);
  expect(picture?.path.at(-1)?.value).toBeCloseTo(80 - 151 / 12, 9);
  expect(picture?.earliest).toBeUndefined();
  expect(picture?.path.every((point) => !('low' in point))).toBe(true);
});

test('nothing is drawn below zero, and everything drawn is on the scale', () => {
  const picture = pictureOf(
    'vc-percent',
    [
      { day: 0, value: 30 },
      { day: 40, value: 15 },
      { day: 80, value: 3 },
    ],
    undefined,
    {},
  );
  for (const { value, low, high } of picture?.path ?? [])
    for (const one of [value, low ?? value, high ?? value]) {
      expect(one).toBeGreaterThanOrEqual(picture?.values[0] ?? Number.NaN);
      expect(one).toBeLessThanOrEqual(picture?.values[1] ?? Number.NaN);
    }
  expect(picture?.values[0]).toBe(0);
});

test('readings in any order are drawn in the order of their days; one day alone has no picture', () => {
  expect(pictureOf('vc-percent', [...readings].reverse(), undefined, {})?.readings).toEqual(readings);
  expect(pictureOf('vc-percent', readings.slice(0, 1), undefined, {})).toBeUndefined();
});

test('readings exactly on a line have a band as wide as repeating the test makes it', () => {
  const aligned = [0, 60, 120].map((day) => ({ day, value: 80 - day / 10 }));
  // 11 % of the mean of 74 over the square root of 2; on the middle day times sqrt(1 + 1 / 3)
  const half = ((0.11 * 74) / Math.SQRT2) * Math.sqrt(4 / 3);
  const path = pictureOf('vc-percent', aligned, undefined, {})?.path ?? [];
  for (const { value, low = value, high = value } of path) {
    expect(high - value).toBeGreaterThanOrEqual(half - 1e-9);
    expect(value - low).toBeGreaterThanOrEqual(half - 1e-9);
  }
});

test('a test of which no repeatability is published has a line and no band', () => {
  const flows = [0, 60, 120].map((day) => ({ day, value: 300 - day / 3 }));
  const picture = pictureOf('cough-flow', flows, 270, {});
  expect(picture?.path.every((point) => !('low' in point))).toBe(true);
});
