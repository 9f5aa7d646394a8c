/**
 * A straight line through dated readings, and when it reaches a mark.
 *
 * These are the sums behind the decline page, kept apart so that the visit sheet can use them too.
 * `step` is how a calculator records its working; leave it out elsewhere.
 */
import { formula, type Step } from '../calculator.ts';
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
  /** typical distance of a reading from the line; absent with two readings, which lie on it by force */
  scatter?: number;
  /** t times scatter: the 95 per cent interval is this times a distance term; absent with two readings */
  reach?: number;
}

export const daysInMonth = 30.4375;

const days = { unit: 'day', range: [0, 1500] } as const;
const slopeSymbol = { means: 'change a day', unit: 'day^-1', range: [-0.5, -0.01] } as const;
const meanDaySymbol = { means: 'mean of the days', ...days } as const;
const meanValueSymbol = { means: 'mean of the readings', unit: '', range: [60, 120] } as const;
const markSymbol = { means: 'mark', unit: '', range: [10, 40] } as const;
const countSymbol = { means: 'number of readings', unit: '', range: [3, 20] } as const;
const daySpreadSymbol = {
  means: 'sum of squared distances of the days from their mean',
  unit: 'day^2',
  range: [1000, 1e6],
} as const;
const reachSymbol = { means: 't times scatter', unit: '', range: [0.1, 15] } as const;

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

export const reachOf = formula({
  result: 'reach',
  unit: '',
  text: 't * scatter',
  symbols: {
    t: { means: 'Student\u2019s t for 95 %', unit: '', range: [1.96, 12.71] },
    scatter: { means: 'typical distance of a reading from the line', unit: '', range: [0, 20] },
  },
  run: ({ t, scatter }) => t * scatter,
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

export const lineReaches = formula({
  result: 'day',
  unit: 'day',
  text: 'meanDay + (mark - meanValue) / slope',
  symbols: { meanDay: meanDaySymbol, mark: markSymbol, meanValue: meanValueSymbol, slope: slopeSymbol },
  run: ({ meanDay, mark, meanValue, slope }) => meanDay + (mark - meanValue) / slope,
});

/**
 * Where the lower edge of the interval meets the mark: the smaller root of
 * (line - mark)^2 = halfWidth^2, in the form that stays exact when the slope is hardly known.
 */
export const edgeReaches = formula({
  result: 'day',
  unit: 'day',
  text: 'meanDay + ((meanValue - mark)^2 - reach^2 * (1 + 1 / count)) / (sqrt(reach^2 * (slope^2 * (1 + 1 / count) + (meanValue - mark)^2 / spreadOfDays) - reach^4 * (1 + 1 / count) / spreadOfDays) - slope * (meanValue - mark))',
  symbols: {
    meanDay: meanDaySymbol,
    meanValue: meanValueSymbol,
    mark: markSymbol,
    reach: reachSymbol,
    count: countSymbol,
    slope: slopeSymbol,
    spreadOfDays: daySpreadSymbol,
  },
  run: ({ meanDay, meanValue, mark, reach, count, slope, spreadOfDays }) => {
    const above = meanValue - mark;
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
 * @returns the line, or undefined when there is none (fewer than two days)
 */
export function fitLine(readings: readonly DatedValue[], step: Step = plainly): Line | undefined {
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
  if (count === 2) return line;
  const squares = sum(readings.map(({ day, value }) => (value - valueOn(line, day)) ** 2));
  const scatter = step(scatterAbout, { squares, count });
  return { ...line, scatter, reach: step(reachOf, { t: t975(count - 2), scatter }) };
}

/** Value of the line on a day. */
export const valueOn = ({ meanDay, meanValue, slope }: Line, day: number): number =>
  meanValue + slope * (day - meanDay);

/**
 * Half-width of the 95 per cent prediction interval: where a single further reading on that day would
 * fall, if the line holds. It widens with distance from the readings.
 *
 * @returns undefined with two readings, which say nothing about their own scatter
 */
export function halfWidthOn(line: Line, day: number, step: Step = plainly): number | undefined {
  const { reach, count, meanDay, spreadOfDays } = line;
  if (reach === undefined) return undefined;
  return step(halfWidth, { reach, count, day, meanDay, spreadOfDays });
}

export interface Reaches {
  /** day on which the line itself is at the mark */
  line: number;
  /** first day, not before the last reading, on which the lower edge of the interval is at the mark: plan by this one */
  earliest: number;
}

/**
 * When a falling line reaches a mark below it.
 *
 * @returns days on the scale of the readings; undefined when there is nothing to say: two readings, a line
 *          that does not fall, or a line already at or below the mark on the day of the last reading
 */
export function reaches(line: Line, mark: number, step: Step = plainly): Reaches | undefined {
  const { reach, count, lastDay, meanDay, meanValue, slope, spreadOfDays } = line;
  if (reach === undefined || slope >= 0 || valueOn(line, lastDay) <= mark) return undefined;
  const onLine = step(lineReaches, { meanDay, mark, meanValue, slope });
  const edgeToday = valueOn(line, lastDay) - (halfWidthOn(line, lastDay) ?? 0);
  const earliest =
    edgeToday <= mark ? lastDay : step(edgeReaches, { meanDay, meanValue, mark, reach, count, slope, spreadOfDays });
  return { line: onLine, earliest: Math.min(earliest, onLine) };
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, number) => total + number, 0);
