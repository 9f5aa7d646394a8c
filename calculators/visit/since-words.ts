/** What changed since earlier visits, in sentences: the same on the sheet, in the note and for a screen reader. */
import { dateOf, dayCount } from '../calendar.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Measures, NumberMeasure } from '../domain/measure.ts';
import { comparison, figure, withUnit } from '../evaluate/say.ts';
import { upperFirst } from './sentences.ts';
import type { Trend } from './since.ts';

/** One digit more than the measure is shown with: a rate a month is smaller than a reading. */
export const told = (value: number, measure: NumberMeasure): string =>
  withUnit(figure(Number(value.toFixed(measure.decimals + 1))), measure.unit);

/** A difference between two percentages is told in points: '6 %' could be 6 of 80 or 6 in a hundred of 80. */
function difference(value: number, measure: NumberMeasure): string {
  const digits = figure(Number(value.toFixed(measure.decimals + 1)));
  return measure.unit === '%' ? `${digits} ${digits === '1' ? 'point' : 'points'}` : withUnit(digits, measure.unit);
}

/** How a date is written for this reader; in files and without a reader it is as it is kept. */
export type Say = (iso: string) => string;
const asKept: Say = (iso) => iso;

/** '74 % predicted after 80 % predicted on 2026-08-20 (61 days): 6 points lower' */
export function changeWords({ change, points }: Trend, measure: NumberMeasure, say = asKept): string | undefined {
  const later = points.find(({ date }) => date === change?.to);
  const earlier = points.find(({ date }) => date === change?.from);
  if (!change || !later || !earlier) return undefined;
  const rounded = Number(change.value.toFixed(measure.decimals + 1));
  const way =
    rounded === 0 ? 'no change' : `${difference(Math.abs(rounded), measure)} ${rounded < 0 ? 'lower' : 'higher'}`;
  const of = measure.of ? ` ${measure.of}` : '';
  return `${told(later.value, measure)}${of} after ${told(earlier.value, measure)}${of} on ${say(change.from)} (${change.days} ${change.days === 1 ? 'day' : 'days'}): ${way}`;
}

/** Whether two tests can differ so by chance; and where that is not known, that it is not. */
export function chanceWords({ change }: Trend): string {
  if (!change) return '';
  const { repeatability } = change;
  if (!repeatability.known) return 'how far two tests differ by chance is not known for this measure';
  return repeatability.beyond
    ? 'more than two tests usually differ by chance'
    : 'two tests can differ by this much by chance, so it neither shows a change nor rules one out';
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
  return `The interval reflects how much the test varies when repeated: two tests can differ by ${difference(chance.difference, measure)} by chance${source}`;
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
export const aheadWords = ({ words, earliest, line, latest }: Ahead, say = asKept): string =>
  `Could be ${words} from ${say(earliest)} (on the line itself ${say(line)}${latest ? `, at the latest ${say(latest)}` : ''})`;

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
export function leadWords({ begin }: Ahead, weeks: number, today: string, say = asKept): string | undefined {
  if (begin === undefined) return undefined;
  const wait = `${figure(weeks)} ${weeks === 1 ? 'week' : 'weeks'}`;
  return begin < today
    ? `${wait} before that was ${say(begin)}: a wait of ${wait} is already too long`
    : `${wait} before that is ${say(begin)}`;
}

/** What is known of a change: beyond what repeating a test makes, within it, or nobody has published how much that is. */
export function kindOfChange({ change }: Trend): 'beyond' | 'within' | 'not-known' | 'same' {
  if (change !== undefined && Math.abs(change.value) < 1e-9) return 'same';
  if (change === undefined || !change.repeatability.known) return 'not-known';
  return change.repeatability.beyond ? 'beyond' : 'within';
}

/**
 * Each measurement once: of a vital capacity, its per cent predicted and its mL/kg, the one that criteria look ahead to, else
 * the one that was measured. The better of two tests is told under the test that it is.
 */
export function eachOnce(trends: readonly Trend[]): Trend[] {
  const ids = new Set(trends.map(({ measure }) => measure));
  const best = new Map<string, Trend>();
  for (const trend of trends) {
    const last = trend.points.at(-1);
    const from = [...(last?.reading.from ?? []), ...(last ? [last.test] : [])].find((id) => ids.has(id));
    const base = from ?? trend.measure;
    const other = best.get(base);
    const weight = (one: Trend) => one.crossings.length + (one.measure === base ? 0.5 : 0);
    if (other === undefined || weight(trend) > weight(other)) best.set(base, trend);
  }
  return trends.filter((trend) => [...best.values()].includes(trend));
}

/** What the line of a note needs beside the trends. */
export interface SinceContext {
  criteria: readonly Criterion[];
  measures: Measures;
  sourceName: (id: string) => string;
  /** of the visit */
  today: string;
  /** what it takes to have a support in place, where the reader said so */
  weeks?: number | undefined;
  say?: Say | undefined;
  /** the day of the visit before, which needs no saying in each line */
  before?: string | undefined;
}

const nameWith = (measure: NumberMeasure): string => measure.named ?? measure.short;

/** 'FVC 62 % predicted after 71 % predicted on 2026-08-24 (91 days): 9 points lower, more than chance usually makes' */
export function changeSentence(trend: Trend, measure: NumberMeasure, say?: Say): string | undefined {
  const change = changeWords(trend, measure, say);
  return change === undefined ? undefined : `${upperFirst(nameWith(measure))} ${change}; ${chanceWords(trend)}`;
}

/** 'FVC 62 % predicted, was 71 %: 9 points lower' */
function shortChange(
  { change, points }: Trend,
  measure: NumberMeasure,
  { before, say = asKept }: SinceContext,
): string {
  const at = (day: string | undefined) => points.find(({ date }) => date === day)?.value ?? Number.NaN;
  const rounded = Number((change?.value ?? 0).toFixed(measure.decimals + 1));
  const way =
    rounded === 0 ? 'no change' : `${difference(Math.abs(rounded), measure)} ${rounded < 0 ? 'lower' : 'higher'}`;
  const on = change === undefined || change.from === before ? '' : ` on ${say(change.from)}`;
  const of = measure.of ? ` ${measure.of}` : '';
  const isFlagged = points.some(
    ({ date, reading }) => (date === change?.from || date === change?.to) && (reading.flags ?? []).length > 0,
  );
  const flagged = isFlagged ? ' (a flagged test is among them)' : '';
  if (change?.value === 0) return `${nameWith(measure)} ${told(at(change.to), measure)}${of}${on}${flagged}`;
  return `${nameWith(measure)} ${told(at(change?.to), measure)}${of}, was ${told(at(change?.from), measure)}${on}: ${way}${flagged}`;
}

/**
 * What changed, for the note: a line for each change beyond chance, with the nearest day on which a threshold could be
 * reached; the others together, since a change that may be chance is neither a change nor none. Payer rules are no reason.
 */
export function sinceLines(trends: readonly Trend[], context: SinceContext): string[] {
  const { measures, sourceName, today, weeks, say = asKept } = context;
  const criteria = context.criteria.filter(({ use }) => use !== 'coverage');
  const changed = eachOnce(trends).flatMap((trend) => {
    const measure = measures[trend.measure];
    return measure?.kind === 'number' && trend.change
      ? [{ trend, measure, words: shortChange(trend, measure, context) }]
      : [];
  });
  const together = (title: string, kind: ReturnType<typeof kindOfChange>) => {
    const some = changed.filter(({ trend }) => kindOfChange(trend) === kind);
    return some.length > 0 ? [`${title}: ${some.map(({ words }) => words).join('; ')}`] : [];
  };
  return [
    ...changed
      .filter(({ trend }) => kindOfChange(trend) === 'beyond')
      .map(({ trend, words }) => {
        const [next] = ahead(trend, criteria, measures, weeks);
        return [
          `${words}, ${chanceWords(trend)}`,
          next && `could be ${next.words} from ${say(next.earliest)} [${markSources(next, sourceName)}]`,
          next && weeks !== undefined && leadWords(next, weeks, today, say),
        ]
          .filter(Boolean)
          .join('; ');
      }),
    ...together('Changed; how far two such tests differ by chance is not known', 'not-known'),
    ...together('Changed by no more than two tests can differ by chance', 'within'),
    ...together('The same reading as then', 'same'),
  ];
}

/** Rates, intervals, dates and why there are none: for a note with statistics. */
export function rateLines(trends: readonly Trend[], context: SinceContext): string[] {
  const { criteria, measures, sourceName, today, weeks, say } = context;
  return eachOnce(trends).flatMap((trend) => {
    const measure = measures[trend.measure];
    if (measure?.kind !== 'number') return [];
    const rate = rateWords(trend, measure);
    // Of one or two readings nobody expects a date; from three on its absence has a reason.
    const undated = (trend.perMonth?.readings ?? 0) > 2 ? undatedWords(trend, criteria, measures) : [];
    const lines = [
      ...(rate ? [rate] : []),
      ...ahead(trend, criteria, measures, weeks).map((one) =>
        [
          `${aheadWords(one, say)} [${markSources(one, sourceName)}]`,
          weeks === undefined ? undefined : leadWords(one, weeks, today, say),
        ]
          .filter(Boolean)
          .join('; '),
      ),
      ...undated,
    ];
    return lines.length > 0 ? [`${nameWith(measure)}: ${lines.join('. ')}`] : [];
  });
}
