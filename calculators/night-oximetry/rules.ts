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
  'After Jung 2018 (IEEE Trans Biomed Eng 65:706), as described in the methods of Levy 2021 (npj Digit Med 4:1), without their limits on single steps';

const drop = (depth: 3 | 4): Rule => ({
  title: `Drops of ${depth} % or more in an hour`,
  rule: `A drop begins at the last moment of the highest usable value of the ${limits.longestDrop} seconds before, and falls by ${depth} points or more. It ends when the value is back to ${limits.back} point below that highest value, or has risen by ${depth} points from its lowest. It counts when it lasts from ${limits.shortestDrop} to ${limits.longestDrop} seconds from start to end and the signal is not lost in it. Slower falls do not count; they show in the time below 90 and at or below 88. The number is divided by the usable hours, because nobody measured the hours asleep. Counts for each hour of sleep are higher.`,
  source: `${jung}. Rules differ a lot between reports and give very different counts for the same night (Sleep Med 2022;100:479, abstract)`,
  standing: 'checked-in-summary',
});

export const rules = {
  usable: {
    title: 'Usable time',
    rule: `A value counts until the next one. After a gap in the rows it counts for the usual step only. These are left out: rows without a value; values below ${limits.lowest} or above ${limits.highest}; and a fall of more than ${limits.fall} points within a second, until the value is back to within ${limits.fall} points of where it fell from or the signal is lost. If such a fall lasts longer than ${limits.longestFall} seconds, its values are kept.`,
    source: 'The numbers are this handbook\u2019s choice',
    standing: 'common-practice',
  },
  mean: {
    title: 'Mean SpO2',
    rule: 'Mean of the usable values, each weighted by the time it counts for.',
    source: 'Definition',
    standing: 'common-practice',
  },
  lowest: {
    title: 'Lowest SpO2',
    rule: 'The lowest usable value, however short.',
    source: 'Definition',
    standing: 'common-practice',
  },
  below90: {
    title: 'Time below 90 %',
    rule: 'Usable time with a value below 90; 90 itself is not below 90. The share is of the usable time.',
    source: 'Definition',
    standing: 'common-practice',
  },
  atOrBelow88: {
    title: 'Time at or below 88 %',
    rule: 'Total usable time at 88 % or less. The share is of the usable time.',
    source: 'Definition',
    standing: 'common-practice',
  },
  longestAtOrBelow88: {
    title: 'Longest run at or below 88 %',
    rule: `Usable time from the first value of 88 or less to the first above 88. A gap of up to ${limits.lost} seconds does not end a run and is not counted in it; a longer one ends it.`,
    source: 'Definition; the gap is this handbook\u2019s choice',
    standing: 'common-practice',
  },
  drops3: drop(3),
  drops4: drop(4),
} as const satisfies Record<string, Rule>;

export type RuleName = keyof typeof rules;
