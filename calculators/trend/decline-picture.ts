/**
 * What the decline chart draws: the readings, the line through them, the band in which a single further
 * reading would fall, and the days on which the threshold is reached. The same calculations as the answer, from
 * `line.ts`.
 *
 * Two readings give a line and no band: they say nothing about their own scatter. Nor is there a band where no repeatability
 * is published; where it is, the band is never narrower.
 */
import { type DeclineTest, lineOf } from './decline-line.ts';
import { type DatedValue, halfWidthOn, type Line, valueOn } from './line.ts';

export interface DeclinePicture {
  readings: DatedValue[];
  /** value of the line at evenly spaced days; low and high are absent where the line has no interval */
  path: { day: number; value: number; low?: number; high?: number }[];
  threshold?: number;
  /** days on the scale of the readings, where a date is given */
  earliest?: number;
  crossing?: number;
  lastDay: number;
  /** the range of the two axes */
  days: [number, number];
  values: [number, number];
}

const steps = 24;

/**
 * @param dates  days after the last reading, as the answer gives them: none where it gives no date
 * @returns undefined where there is no line
 */
export function pictureOf(
  test: DeclineTest,
  readings: readonly DatedValue[],
  threshold: number | undefined,
  dates: { earliest?: number | undefined; crossing?: number | undefined },
): DeclinePicture | undefined {
  const line = lineOf(test, readings);
  if (!line) return undefined;
  const { firstDay, lastDay } = line;
  const earliest = dates.earliest === undefined ? undefined : lastDay + dates.earliest;
  const crossing = dates.crossing === undefined ? undefined : lastDay + dates.crossing;
  // Three months on, as in the table of next readings, or as far as the threshold.
  const end = Math.max(lastDay + 91, earliest ?? 0, crossing ?? 0);
  const path = Array.from({ length: steps + 1 }, (_, at) => pointOn(line, firstDay + ((end - firstDay) * at) / steps));
  const drawn = [
    ...readings.map(({ value }) => value),
    ...path.flatMap(({ value, low, high }) => [value, low ?? value, high ?? value]),
    ...(threshold === undefined ? [] : [threshold]),
  ];
  return {
    readings: [...readings].sort((a, b) => a.day - b.day),
    path,
    ...(threshold === undefined ? {} : { threshold }),
    ...(earliest === undefined ? {} : { earliest }),
    ...(crossing === undefined ? {} : { crossing }),
    lastDay,
    days: [firstDay, end],
    values: [Math.max(0, Math.min(...drawn)), Math.max(...drawn)],
  };
}

function pointOn(line: Line, day: number) {
  const value = Math.max(0, valueOn(line, day));
  const half = halfWidthOn(line, day);
  return half === undefined
    ? { day, value }
    : { day, value, low: Math.max(0, valueOn(line, day) - half), high: Math.max(0, valueOn(line, day) + half) };
}
