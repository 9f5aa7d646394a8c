/** What changed since earlier visits, in sentences: the same on the sheet, in the note and for a screen reader. */
import { dateOf, dayCount } from '../calendar.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Measures, NumberMeasure } from '../domain/measure.ts';
import { comparison, figure, withUnit } from '../evaluate/say.ts';
import type { Trend } from './since.ts';

/** One digit more than the measure is shown with: a rate a month is smaller than a reading. */
export const told = (value: number, measure: NumberMeasure): string =>
  withUnit(figure(Number(value.toFixed(measure.decimals + 1))), measure.unit);

/** A difference between two percentages is told in points: '6 %' could be 6 of 80 or 6 in a hundred of 80. */
function difference(value: number, measure: NumberMeasure): string {
  const digits = figure(Number(value.toFixed(measure.decimals + 1)));
  return measure.unit === '%' ? `${digits} ${digits === '1' ? 'point' : 'points'}` : withUnit(digits, measure.unit);
}

/** '74 % predicted after 80 % predicted on 2026-08-20 (61 days): 6 points lower' */
export function changeWords({ change, points }: Trend, measure: NumberMeasure): string | undefined {
  const later = points.find(({ date }) => date === change?.to);
  const earlier = points.find(({ date }) => date === change?.from);
  if (!change || !later || !earlier) return undefined;
  const rounded = Number(change.value.toFixed(measure.decimals + 1));
  const way =
    rounded === 0 ? 'no change' : `${difference(Math.abs(rounded), measure)} ${rounded < 0 ? 'lower' : 'higher'}`;
  const of = measure.of ? ` ${measure.of}` : '';
  return `${told(later.value, measure)}${of} after ${told(earlier.value, measure)}${of} on ${change.from} (${change.days} ${change.days === 1 ? 'day' : 'days'}): ${way}`;
}

/** Whether two tests can differ so by chance; and where that is not known, that it is not. */
export function chanceWords({ change }: Trend): string {
  if (!change) return '';
  const { repeatability } = change;
  if (!repeatability.known) return 'how far two tests differ by chance is not known for this measure';
  return repeatability.beyond
    ? 'more than chance usually makes between two tests'
    : 'chance alone can make as much between two tests, so it neither shows a change nor rules one out';
}

/** '-3 points a month (95 % interval -4.1 to -1.9 points), from 4 readings'; from two readings nothing is said of an interval */
export function rateWords({ perMonth }: Trend, measure: NumberMeasure): string | undefined {
  if (!perMonth) return undefined;
  const { value, low, high, readings } = perMonth;
  const between =
    low !== undefined && high !== undefined
      ? ` (95 % interval ${figure(Number(low.toFixed(measure.decimals + 1)))} to ${difference(high, measure)})`
      : readings > 2
        ? ' (no interval: how far two tests differ by chance is not published)'
        : '';
  return `${difference(value, measure)} a month${between}, from ${readings} readings`;
}

/** What the width of the interval rests on, where that is not the readings themselves; its source where that is not told yet. */
export function widthWords({ perMonth, change }: Trend, measure: NumberMeasure): string | undefined {
  const chance = perMonth?.chance;
  if (!chance) return undefined;
  const source = change?.repeatability.known ? '' : ` (${chance.found}: ${chance.source})`;
  return `The interval is as wide as repeating the test makes it: two tests can differ by ${difference(chance.difference, measure)} by chance${source}`;
}

/** One mark, or several that say the same, and the days on which the line could be there. */
export interface Ahead {
  words: string;
  earliest: string;
  line: string;
  latest?: string | undefined;
  /** the day to begin arranging, when a lead time is given */
  begin?: string | undefined;
  marks: Criterion[];
}

/**
 * Marks that could be reached, the nearest first; marks that say the same stand together.
 *
 * @param weeks  what it takes to have the support in place, where the reader said so
 */
export function ahead(trend: Trend, criteria: readonly Criterion[], measures: Measures, weeks?: number): Ahead[] {
  const found = new Map<string, Ahead>();
  for (const crossing of trend.crossings) {
    if (crossing.state !== 'dated') continue;
    const mark = criteria.find(({ id }) => id === crossing.criterion);
    if (!mark) continue;
    const words = comparison(mark, measures[mark.measure]);
    const { earliest, line, latest } = crossing;
    const standing = found.get(`${words} ${earliest}`);
    if (standing) standing.marks.push(mark);
    else
      found.set(`${words} ${earliest}`, {
        words,
        earliest,
        line,
        latest,
        ...(weeks === undefined ? {} : { begin: dateOf(dayCount(earliest) - 7 * weeks) }),
        marks: [mark],
      });
  }
  return [...found.values()].sort((a, b) => (a.earliest < b.earliest ? -1 : a.earliest > b.earliest ? 1 : 0));
}

/** 'Could be below 50 % predicted from 2027-01-13 (on the line itself 2027-02-02, at the latest 2027-03-20)' */
export const aheadWords = ({ words, earliest, line, latest }: Ahead): string =>
  `Could be ${words} from ${earliest} (on the line itself ${line}${latest ? `, at the latest ${latest}` : ''})`;

/**
 * Why thresholds have no date, each reason once: 'No date: two readings only ...', or 'No date for below 40 %: ...' where
 * others have one or another reason.
 */
export function undatedWords(trend: Trend, criteria: readonly Criterion[], measures: Measures): string[] {
  const reasons = new Map<string, Set<string>>();
  for (const crossing of trend.crossings) {
    const mark = criteria.find(({ id }) => id === crossing.criterion);
    if (crossing.state !== 'no-date' || !mark) continue;
    const found = reasons.get(crossing.why) ?? new Set();
    reasons.set(crossing.why, found.add(comparison(mark, measures[mark.measure])));
  }
  const alike = reasons.size === 1 && trend.crossings.every(({ state }) => state !== 'dated');
  return [...reasons].map(
    ([why, marks]) => `No date${alike ? '' : ` for ${[...marks].join('; ')}`}: ${why[0]?.toLowerCase()}${why.slice(1)}`,
  );
}

/** Whose marks they are, each source once; a payer's is never told as a clinical one. */
export const markSources = ({ marks }: Ahead, sourceName: (id: string) => string): string =>
  [
    ...new Set(marks.map(({ source, use }) => `${sourceName(source)}${use === 'coverage' ? ' (payer rule)' : ''}`)),
  ].join('; ');

/** 'With 6 weeks to arrange, that means beginning by 2026-12-02'; and whether that day has gone. */
export function leadWords({ begin }: Ahead, weeks: number, today: string): string | undefined {
  if (begin === undefined) return undefined;
  const wait = `${figure(weeks)} ${weeks === 1 ? 'week' : 'weeks'}`;
  return begin < today
    ? `${wait} before that was ${begin}: a wait of ${wait} already reaches past it`
    : `${wait} before that is ${begin}`;
}

/** A line a measure for the note: the change, whether it is beyond chance, the rate, and the nearest marks ahead. */
export function sinceLines(
  trends: readonly Trend[],
  criteria: readonly Criterion[],
  measures: Measures,
  sourceName: (id: string) => string,
  today: string,
  weeks?: number,
): string[] {
  return trends.flatMap((trend) => {
    const measure = measures[trend.measure];
    if (measure?.kind !== 'number') return [];
    const change = changeWords(trend, measure);
    if (change === undefined) return [];
    const rate = rateWords(trend, measure);
    const line = [`${measure.label}: ${change}`, chanceWords(trend), rate].filter(Boolean).join('; ');
    // Of one or two readings nobody expects a date; from three on its absence has a reason.
    const undated = (trend.perMonth?.readings ?? 0) > 2 ? undatedWords(trend, criteria, measures) : [];
    return [
      line,
      ...ahead(trend, criteria, measures, weeks).map((one) =>
        [
          `${aheadWords(one)} [${markSources(one, sourceName)}]`,
          weeks === undefined ? undefined : leadWords(one, weeks, today),
        ]
          .filter(Boolean)
          .join('; '),
      ),
      ...undated,
    ];
  });
}
