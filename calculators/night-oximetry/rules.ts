/**
 * The rule behind each figure of a night's summary, written before the code that follows it and printed beside the
 * figure. Published arithmetic and common practice only: no rule names a pattern, and none concludes anything.
 */
import type { Standing } from '../standing.ts';

export interface Rule {
  /** of the figure */
  title: string;
  rule: string;
  source: string;
  standing: Standing;
}

/** numbers that the rules name; the code uses these and no others */
export const limits = {
  /** usable range of a saturation, per cent */
  lowest: 50,
  highest: 100,
  /** a fall faster than this is taken as lost contact, points a second */
  fall: 4,
  /** seconds; a low stretch after such a fall that lasts longer than this counts as real */
  longestFall: 60,
  /** without a usable value for longer than this the signal is lost, seconds */
  lost: 10,
  below: 90,
  atOrBelow: 88,
  /** a drop: from its peak to its recovery, seconds */
  shortestDrop: 10,
  longestDrop: 90,
  /** a drop has ended when the value is back to within this of the peak, points */
  back: 1,
  /** hours of usable trace below which counts for an hour say little */
  fewHours: 4,
} as const;

const jung =
  'This rule for drops follows Jung 2018 (IEEE Trans Biomed Eng 65:706), as described in the methods of Levy 2021 (npj Digit Med 4:1), but without their limits on single steps';

const drop = (depth: 3 | 4): Rule => ({
  title: `Drops of ${depth} % or more in an hour`,
  rule: `A drop is a fall of ${depth} points or more from the highest usable value in the previous ${limits.longestDrop} seconds. A drop starts at the last time that the highest value before the fall was recorded. A drop ends when the saturation is back to ${limits.back} point below that highest value, or has risen by ${depth} points from the lowest value. A drop counts if it lasts from ${limits.shortestDrop} to ${limits.longestDrop} seconds and the signal is not lost during it. Slower falls do not count as drops; they appear in the times below 90 % and at or below 88 %. The number of drops is divided by the usable hours, because the hours asleep were not measured. If the number of drops were divided by the hours asleep, the result would be higher than the one shown.`,
  source: `${jung}. Rules differ a lot between reports and give very different counts for the same night (Sleep Med 2022;100:479, abstract)`,
  standing: 'checked-in-summary',
});

export const rules = {
  usable: {
    title: 'Usable time',
    rule: `Each saturation value counts for the time until the next value. The last value before a gap in the rows counts only for the usual time between two rows, not for the whole gap. The page leaves out rows without a value, and values below ${limits.lowest} or above ${limits.highest}. The page also leaves out any fall of more than ${limits.fall} points within a second, and the values that follow it. Values are counted again once the saturation is back to within ${limits.fall} points of its level before the fall, or once the signal has been lost for more than ${limits.lost} seconds. If the saturation has not come back within ${limits.longestFall} seconds of the start of the fall, the page counts all the values that it left out because of that fall.`,
    source: 'The numbers are this handbook\u2019s choice',
    standing: 'common-practice',
  },
  mean: {
    title: 'Mean SpO2',
    rule: 'The mean SpO2 is the mean of the usable values, each weighted by the time for which it counts.',
    source: 'Definition',
    standing: 'common-practice',
  },
  lowest: {
    title: 'Lowest SpO2',
    rule: 'The lowest SpO2 is the lowest usable value, however briefly it lasted.',
    source: 'Definition',
    standing: 'common-practice',
  },
  below90: {
    title: 'Time below 90 %',
    rule: 'Time below 90 % is the part of the usable time in which saturation is below 90 %; a value of exactly 90 does not count. The percentage of time below 90 % is calculated from the usable time.',
    source: 'Definition',
    standing: 'common-practice',
  },
  atOrBelow88: {
    title: 'Time at or below 88 %',
    rule: 'Time at or below 88 % is the total usable time with a saturation of 88 % or less. The percentage of time at or below 88 % is calculated from the usable time.',
    source: 'Definition',
    standing: 'common-practice',
  },
  longestAtOrBelow88: {
    title: 'Longest run at or below 88 %',
    rule: `The longest run at or below 88 % counts usable time only, from the first value of 88 or less to the first value above 88. A gap of up to ${limits.lost} seconds does not end the run, but the gap is not counted; a longer gap ends the run.`,
    source: 'Definition; the gap is this handbook\u2019s choice',
    standing: 'common-practice',
  },
  drops3: drop(3),
  drops4: drop(4),
} as const satisfies Record<string, Rule>;

export type RuleName = keyof typeof rules;
