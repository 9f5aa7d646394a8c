/**
 * A straight line through dated readings, and when it reaches a threshold.
 *
 * These are the calculations of the decline page, in a file of their own so that the visit sheet can use them too.
 * `step` is how a calculator records its working; leave it out elsewhere.
 */

import { formula, type Step } from '../calculator.ts';
import { daysInMonth } from '../quantity.ts';
import { t975 } from './student-t.ts';

/** One reading: days since any fixed day (whole or not), and its value in the unit of the test. */
export interface DatedValue {
  day: number;
  value: number;
}

export interface Line {
  count: number;
  firstDay: number;
  lastDay: number;
  meanDay: number;
  meanValue: number;
  /** sum of the squared distances of the days from their mean */
  spreadOfDays: number;
  /** change in value a day; negative when falling */
  slope: number;
  /** typical distance of a reading from the line; absent with `reach` */
  scatter?: number;
  /**
   * The 95 per cent interval is this times a distance term: t times scatter, or what the published repeatability of the test
   * gives, whichever is larger. Absent with two readings, which lie on the line by force, and where no repeatability is
   * published.
   */
  reach?: number;
}

const days = { unit: 'day', range: [0, 1500] } as const;
const slopeSymbol = { means: 'change a day', unit: 'day^-1', range: [-0.5, -0.01] } as const;
const meanDaySymbol = { means: 'mean of the days', ...days } as const;
const meanValueSymbol = { means: 'mean of the readings', unit: '', range: [60, 120] } as const;
const thresholdSymbol = { means: 'threshold', unit: '', range: [10, 40] } as const;
const countSymbol = { means: 'number of readings', unit: '', range: [3, 20] } as const;
const daySpreadSymbol = {
  means: 'sum of squared distances of the days from their mean',
  unit: 'day^2',
  range: [1000, 1e6],
} as const;
const reachSymbol = { means: 'reach of the readings about the line', unit: '', range: [0.1, 15] } as const;

export const leastSquares = formula({
  result: 'slope',
  unit: 'day^-1',
  text: 'together / spreadOfDays',
  symbols: {
    together: { means: 'sum of (day - mean day) x (reading - mean reading)', unit: 'day', range: [-1e4, 1e4] },
    spreadOfDays: daySpreadSymbol,
  },
  run: ({ together, spreadOfDays }) => together / spreadOfDays,
});

export const scatterAbout = formula({
  result: 'scatter',
  unit: '',
  text: 'sqrt(squares / (count - 2))',
  symbols: {
    squares: { means: 'sum of squared distances of the readings from the line', unit: '', range: [0, 500] },
    count: countSymbol,
  },
  run: ({ squares, count }) => Math.sqrt(squares / (count - 2)),
});

/**
 * Two tests of someone who has not changed differ by at most 1.96 x sqrt(2) standard deviations of one test, 19 times in 20.
 * That difference is what is published, so the standard deviation of one test is the difference over 1.96 x sqrt(2), and the
 * reach of one reading is 1.96 times that.
 *
 * The larger of the two counts. Readings that scatter more than repeated tests do set the width themselves, with
 * Student's t for their number; readings that happen to scatter less do not make the test better than it is known to
 * be.
 */
export const reachOf = formula({
  result: 'reach',
  unit: '',
  text: 'max(t * scatter, difference / sqrt(2))',
  symbols: {
    t: { means: 'Student\u2019s t for 95 %', unit: '', range: [1.96, 12.71] },
    scatter: { means: 'typical distance of a reading from the line', unit: '', range: [0, 20] },
    difference: { means: 'published difference between two tests by chance alone', unit: '', range: [0, 60] },
  },
  run: ({ t, scatter, difference }) => Math.max(t * scatter, difference / Math.SQRT2),
});

export const halfWidth = formula({
  result: 'halfWidth',
  unit: '',
  text: 'reach * sqrt(1 + 1 / count + (day - meanDay)^2 / spreadOfDays)',
  symbols: {
    reach: reachSymbol,
    count: countSymbol,
    day: { means: 'day asked about', ...days },
    meanDay: meanDaySymbol,
    spreadOfDays: daySpreadSymbol,
  },
  run: ({ reach, count, day, meanDay, spreadOfDays }) =>
    reach * Math.sqrt(1 + 1 / count + (day - meanDay) ** 2 / spreadOfDays),
});

export const slopeHalfWidth = formula({
  result: 'slopeHalfWidth',
  unit: 'day^-1',
  text: 'reach / sqrt(spreadOfDays)',
  symbols: { reach: reachSymbol, spreadOfDays: daySpreadSymbol },
  run: ({ reach, spreadOfDays }) => reach / Math.sqrt(spreadOfDays),
});

export const lineReaches = formula({
  result: 'day',
  unit: 'day',
  text: 'meanDay + (threshold - meanValue) / slope',
  symbols: { meanDay: meanDaySymbol, threshold: thresholdSymbol, meanValue: meanValueSymbol, slope: slopeSymbol },
  run: ({ meanDay, threshold, meanValue, slope }) => meanDay + (threshold - meanValue) / slope,
});

/**
 * Where the lower edge of the interval meets the threshold: the smaller root of
 * (line - threshold)^2 = halfWidth^2, in the form that stays exact when the slope is hardly known.
 */
export const edgeReaches = formula({
  result: 'day',
  unit: 'day',
  text: 'meanDay + ((meanValue - threshold)^2 - reach^2 * (1 + 1 / count)) / (sqrt(reach^2 * (slope^2 * (1 + 1 / count) + (meanValue - threshold)^2 / spreadOfDays) - reach^4 * (1 + 1 / count) / spreadOfDays) - slope * (meanValue - threshold))',
  symbols: {
    meanDay: meanDaySymbol,
    meanValue: meanValueSymbol,
    threshold: thresholdSymbol,
    reach: reachSymbol,
    count: countSymbol,
    slope: slopeSymbol,
    spreadOfDays: daySpreadSymbol,
  },
  run: ({ meanDay, meanValue, threshold, reach, count, slope, spreadOfDays }) => {
    const above = meanValue - threshold;
    const share = 1 + 1 / count;
    const root = reach ** 2 * (slope ** 2 * share + above ** 2 / spreadOfDays) - (reach ** 4 * share) / spreadOfDays;
    return meanDay + (above ** 2 - reach ** 2 * share) / (Math.sqrt(root) - slope * above);
  },
});

const plainly: Step = (formula, values) => formula.run(values);

/**
 * The least-squares line through readings.
 *
 *   slope = sum((day - mean day) x (value - mean value)) / sum((day - mean day)^2)
 *
 * @param readings  two or more on at least two different days, in any order, all of the same test taken the
 *                  same way: a change of posture, mask or reference shows up as a fall that never happened
 * @param chance    from the mean of the readings, how far two tests differ by chance alone, as published; undefined where
 *                  no figure is: the line then has no interval, since a few readings cannot tell their own scatter
 * @returns the line, or undefined when there is none (fewer than two days)
 */
export function fitLine(
  readings: readonly DatedValue[],
  chance: (meanValue: number) => number | undefined,
  step: Step = plainly,
): Line | undefined {
  const count = readings.length;
  const meanDay = sum(readings.map(({ day }) => day)) / count;
  const meanValue = sum(readings.map(({ value }) => value)) / count;
  const spreadOfDays = sum(readings.map(({ day }) => (day - meanDay) ** 2));
  if (count < 2 || !(spreadOfDays > 0)) return undefined;
  const together = sum(readings.map(({ day, value }) => (day - meanDay) * (value - meanValue)));
  const slope = step(leastSquares, { together, spreadOfDays });
  const line: Line = {
    count,
    firstDay: Math.min(...readings.map(({ day }) => day)),
    lastDay: Math.max(...readings.map(({ day }) => day)),
    meanDay,
    meanValue,
    spreadOfDays,
    slope,
  };
  const difference = chance(meanValue);
  if (count === 2 || difference === undefined) return line;
  const squares = sum(readings.map(({ day, value }) => (value - valueOn(line, day)) ** 2));
  const scatter = step(scatterAbout, { squares, count });
  return { ...line, scatter, reach: step(reachOf, { t: t975(count - 2), scatter, difference }) };
}

/**
 * Half-width of the 95 per cent interval of the slope.
 *
 * @returns undefined where the line has no interval
 */
export const slopeHalfWidthOf = ({ reach, spreadOfDays }: Line, step: Step = plainly): number | undefined =>
  reach === undefined ? undefined : step(slopeHalfWidth, { reach, spreadOfDays });

/** Whether the whole interval of the slope lies below zero: only then is it known that the readings fall. */
export function surelyFalls(line: Line): boolean {
  const half = slopeHalfWidthOf(line);
  return half !== undefined && line.slope + half < 0;
}

/** Value of the line on a day. */
export const valueOn = ({ meanDay, meanValue, slope }: Line, day: number): number =>
  meanValue + slope * (day - meanDay);

/**
 * Half-width of the 95 per cent prediction interval: where a single further reading on that day would
 * fall, if the line holds. It widens with distance from the readings.
 *
 * @returns undefined where the line has no interval
 */
export function halfWidthOn(line: Line, day: number, step: Step = plainly): number | undefined {
  const { reach, count, meanDay, spreadOfDays } = line;
  if (reach === undefined) return undefined;
  return step(halfWidth, { reach, count, day, meanDay, spreadOfDays });
}

export interface Reaches {
  /** day on which the line itself is at the threshold */
  line: number;
  /**
   * first day, not before the last reading, on which the lower edge of the interval is at the threshold: plan by this
   * one
   */
  earliest: number;
}

/** Our own limit: a date further off than this, by the line itself, is no date. */
export const horizonMonths = 24;

/** Why there is no date; where several hold, the first of this list. */
export type NoDate = 'line-already-there' | 'no-interval' | 'not-falling' | 'fall-not-sure' | 'too-far';

/**
 * When a falling line reaches a threshold below it, or why no date can be given.
 *
 * There is none where the readings may not be falling at all (the interval of the slope contains zero), and none where the
 * line itself needs more than two years to get there, however soon the edge of its interval does.
 *
 * @returns days on the scale of the readings
 */
export function datesFor(line: Line, threshold: number, step: Step = plainly): Reaches | NoDate {
  const { reach, count, lastDay, meanDay, meanValue, slope, spreadOfDays } = line;
  if (valueOn(line, lastDay) <= threshold) return 'line-already-there';
  if (reach === undefined) return 'no-interval';
  if (slope >= 0) return 'not-falling';
  if (!surelyFalls(line)) return 'fall-not-sure';
  if (lineReaches.run({ meanDay, threshold, meanValue, slope }) > lastDay + horizonMonths * daysInMonth)
    return 'too-far';
  const onLine = step(lineReaches, { meanDay, threshold, meanValue, slope });
  const edgeToday = valueOn(line, lastDay) - (halfWidthOn(line, lastDay) ?? 0);
  const earliest =
    edgeToday <= threshold
      ? lastDay
      : step(edgeReaches, { meanDay, meanValue, threshold, reach, count, slope, spreadOfDays });
  return { line: onLine, earliest: Math.min(earliest, onLine) };
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, number) => total + number, 0);
