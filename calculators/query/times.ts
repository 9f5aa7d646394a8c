/** When the values of a line were taken: '6 months ago', 'in june', 'then', 'over a year'. */

import { cutAll, type Scanner, type Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

export interface TimeMark extends Taken {
  /** `span` is about the whole series; `month` is a month of the year; the others are about the value beside them */
  kind: 'span' | 'ago' | 'later' | 'month' | 'now' | 'then' | 'was' | 'earlier' | 'trend';
  /** how many; of a `month` its place in the year */
  months?: number | undefined;
}

const daysInMonth = 30.4375;
const patterns = madeOnce(({ time, counts, monthNames, phrase, filled }) => {
  const count = Object.keys(counts).join('|');
  const unit = '(YEARS)|(MONTHS)|(WEEKS)|(HOURS)|DAYS';
  return {
    length: new RegExp(filled(`(\\d+(?:[.,]\\d+)?|(?:${count})(?= )) ?(?:${unit})(?![a-z])`)),
    ago: phrase(time.ago),
    later: phrase(time.later),
    since: new RegExp(filled(`^(?:${time.since})(?![a-z])`)),
    counted: phrase(
      `(?<!\\d ?(?:HOURS) )(?:(?:${time.over}) )*(?:${count}) (?:YEARS|MONTHS|WEEKS|DAYS)(?: (?:${time.ago}|${time.later}))?`,
    ),
    last: [
      { months: 12, pattern: phrase(time.lastYear) },
      { months: 1, pattern: phrase(time.lastMonth) },
    ],
    months: monthNames.map((name) => ({
      said: phrase(`(?:in|since) (?:${name})`),
      bare: phrase(`(?:(?:in|since) )?(?:${name})`),
    })),
    words: (['now', 'then', 'was', 'earlier', 'trend'] as const).map((kind) => ({ kind, pattern: phrase(time[kind]) })),
  };
});

/** 'over 6 months' is 6, '2 weeks' is 0.46. */
export function monthsIn(typed: string, words: Vocabulary): number | undefined {
  const match = patterns(words).length.exec(typed);
  if (!match) return undefined;
  const [, said = '', years, months, weeks, hours] = match;
  const value = words.counts[said] ?? Number(said.replace(',', '.'));
  if (years !== undefined) return value * 12;
  if (months !== undefined) return value;
  if (hours !== undefined) return value / 24 / daysInMonth;
  return (value * (weeks === undefined ? 1 : 7)) / daysInMonth;
}

/** Whether a length of time, right after a disease, says how long the disease has been there. */
export const saysSince = (typed: string, words: Vocabulary): boolean => patterns(words).since.test(typed);

/** @param durations  lengths of time with a number, which were taken before */
export function takeTimes(scan: Scanner, durations: readonly Taken[]): TimeMark[] {
  const { counted, last, words } = patterns(scan.words);
  const taken = (pattern: RegExp): Taken[] => cutAll(scan, pattern);
  const marks = [
    ...[...durations, ...taken(counted)].map((one) => markOf(one, scan.words)),
    ...last.flatMap(({ months: ago, pattern }) =>
      taken(pattern).map((one) => ({ ...one, kind: 'ago' as const, months: ago })),
    ),
    ...monthsOf(scan).flatMap((pattern, month) =>
      taken(pattern).map((one) => ({ ...one, kind: 'month' as const, months: month })),
    ),
    ...words.flatMap(({ kind, pattern }) => taken(pattern).map((one) => ({ ...one, kind }))),
  ];
  return marks.sort((a, b) => a.at - b.at);
}

/** 'in june'; of two months also the bare names: 'may' alone is another word. */
function monthsOf(scan: Scanner): RegExp[] {
  const { months } = patterns(scan.words);
  const named = months.filter(({ bare }) => bare.test(scan.rest)).length;
  return months.map(({ said, bare }) => (named > 1 ? bare : said));
}

function markOf(one: Taken, words: Vocabulary): TimeMark {
  const { ago, later } = patterns(words);
  const kind = ago.test(one.typed) ? 'ago' : later.test(one.typed) ? 'later' : 'span';
  return { ...one, kind, months: monthsIn(one.typed, words) };
}
