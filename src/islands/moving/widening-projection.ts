/**
 * How far ahead a line can be trusted: the more the readings scatter and the fewer they are, the sooner the threshold
 * could be reached.
 */
import type { ResultTable } from '../../../calculators/outcome.ts';
import { daysInMonth, show } from '../../../calculators/quantity.ts';
import { lineOf } from '../../../calculators/trend/decline-line.ts';
import {
  type DatedValue,
  datesFor,
  halfWidthOn,
  horizonMonths,
  type Line,
  type NoDate,
  valueOn,
} from '../../../calculators/trend/line.ts';
import { along, defineMoving, type Plot } from './figure.ts';

/** A made-up unevenness, the same each time, so that only the sliders move the picture. */
const uneven = [0.6, -1, 0.3, 0.9, -0.7, -0.2, 1, -0.9] as const;
const first = 84;
const monthsApart = 2;
const horizon = 30;

/** The threshold that the line is drawn towards. */
export interface ThresholdData {
  value: number;
  /** as it is printed: 'below 50 % predicted' */
  words: string;
  source: string;
}

/** Readings two months apart that fall by so many points a month, give or take the unevenness. */
export const readingsFor = (count: number, fall: number, scatter: number): DatedValue[] =>
  uneven.slice(0, count).map((off, at) => ({
    day: at * monthsApart * daysInMonth,
    value: first - fall * at * monthsApart + scatter * off,
  }));

const points = (value: number): string => show(value, '%', 1);
const monthsOf = (days: number): string => show(days / daysInMonth, 'mo{span}', 1);

/** Why there is no date. Only two readings leave a vital capacity without an interval. */
const noDate: Record<NoDate, string> = {
  'no-interval': 'Two readings give a line but no range of dates, so they give no date to plan for.',
  'line-already-there': 'The threshold is already reached, so there is nothing to predict.',
  'not-falling': 'The line does not fall, so it gives no date for reaching the threshold. A fall can begin later.',
  'fall-not-sure':
    'The fall could be due to chance, because the range of the fall includes zero. So no date can be given, although the readings may be falling.',
  'too-far': `The line reaches the threshold only after more than ${horizonMonths} months. Such a time is a guess, not a date.`,
};

/** The interval around the line on a day; undefined with two readings, which leave none. */
function edgesOn(line: Line, day: number): readonly [low: number, high: number] | undefined {
  const half = halfWidthOn(line, day);
  return half === undefined ? undefined : [valueOn(line, day) - half, valueOn(line, day) + half];
}

/** @param earliest  the earliest day on which the threshold could be reached, where there is one */
function plotOf(
  readings: readonly DatedValue[],
  line: Line,
  threshold: ThresholdData,
  earliest: number | undefined,
): Plot {
  const months = along(0, horizon, 0.5);
  const band = months.flatMap((month) => {
    const edges = edgesOn(line, month * daysInMonth);
    return edges === undefined ? [] : [[month, ...edges] as const];
  });
  return {
    x: { label: 'Months after the first reading', low: 0, high: horizon, every: 3 },
    y: { label: 'vital capacity, per cent of predicted', low: 0, high: 110, every: 10 },
    lines: [
      {
        name: 'straight line through the readings',
        look: 'main',
        points: months.map((month) => [month, valueOn(line, month * daysInMonth)] as const),
      },
    ],
    ...(band.length > 0
      ? { band: { name: 'where one more reading would fall, 19 times in 20, if the line continues', points: band } }
      : {}),
    rules: [
      { across: 'y', at: threshold.value, name: `the threshold: ${threshold.words} (${threshold.source})` },
      ...(earliest === undefined
        ? []
        : [{ across: 'x' as const, at: earliest / daysInMonth, name: 'earliest month at which it could be reached' }]),
    ],
    dots: readings.map(({ day, value }) => ({ at: [day / daysInMonth, value] as const, look: 'reading' as const })),
  };
}

function rowOf(label: string, line: Line, day: number): ResultTable['rows'][number] {
  const edges = edgesOn(line, day);
  return {
    label,
    cells: [points(valueOn(line, day)), ...(edges ? edges.map(points) : ['no span from two readings', 'no span'])],
  };
}

export const wideningProjection = defineMoving({
  title: 'How a projection widens',
  about:
    'On the graph, add scatter, remove readings, or change the rate of fall. When you add scatter, the line hardly moves, but the range around the line changes. Plan for the earliest month in which the threshold could be reached, as shown by the lower edge of the range. If it is not certain that the readings are falling at all, no date for reaching the threshold can be given.',
  controls: {
    count: {
      kind: 'slide',
      label: 'Readings, two months apart',
      unit: '{count}',
      min: 2,
      max: 8,
      step: 1,
      decimals: 0,
      initial: 4,
    },
    fall: {
      kind: 'slide',
      label: 'Fall a month',
      unit: '{points}/mo',
      min: 0,
      max: 5,
      step: 0.25,
      decimals: 2,
      initial: 2,
    },
    scatter: {
      kind: 'slide',
      label: 'Scatter of the readings',
      unit: '{points}',
      min: 0,
      max: 6,
      step: 0.5,
      decimals: 1,
      initial: 1,
    },
  },
  picture: ({ count, fall, scatter }, threshold: ThresholdData) => {
    const readings = readingsFor(count, fall, scatter);
    const line = lineOf('vc-percent', readings) as Line;
    const last = line.lastDay;
    const isReached = (readings.at(-1)?.value ?? 0) <= threshold.value;
    const dates = isReached ? 'line-already-there' : datesFor(line, threshold.value);
    const found = typeof dates === 'string' ? undefined : dates;
    return {
      draws: { kind: 'plot', plot: plotOf(readings, line, threshold, found?.earliest) },
      table: {
        caption: 'Vital capacity in per cent of predicted, if the line continues',
        columns: ['When', 'Line', 'Lower edge', 'Upper edge'],
        rows: [
          rowOf('At the last reading', line, last),
          ...[3, 6, 12].map((months) => rowOf(`${months} months after it`, line, last + months * daysInMonth)),
        ],
      },
      says: found
        ? `The threshold could be reached as early as ${monthsOf(found.earliest - last)} after the last reading; the trend line itself reaches the threshold ${monthsOf(found.line - last)} after that reading.`
        : noDate[dates as NoDate],
      notes: [
        'The readings are invented. In real life the rate of decline often changes: a slow period can end, and the fall can then get faster. The range of dates is right only if the decline goes on in a straight line.',
        'Even when the readings do not scatter, the range is never narrower than the difference expected by chance alone between two tests of the same person.',
      ],
    };
  },
});
