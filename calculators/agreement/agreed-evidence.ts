/**
 * Whether the published criteria are still those that an agreement was made on.
 *
 * A check value finds a change that nobody intended. It is short and simple to compute, so that whoever writes a file can
 * put any value in it. What tells one text of an agreement from another is its digest: digest.ts.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { Measures } from '../domain/measure.ts';
import { type AgreedCriterion, type Agreement, limits } from './agreement.ts';
import { criterionWords, peopleWords } from './criterion-words.ts';
import { basisOf, isAsPublished, type Published, rowsBeside, ruleOf, stable } from './local-criteria.ts';

/** A short check value for a text, in letters and digits: two 32-bit mixings, 53 bits of them. Never shown as a proof. */
export function checkValue(text: string): string {
  let high = 0xdeadbeef;
  let low = 0x41c6ce57;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    high = Math.imul(high ^ code, 0x9e3779b1);
    low = Math.imul(low ^ code, 0x5f356495);
  }
  high = Math.imul(high ^ (high >>> 16), 0x85ebca6b) ^ Math.imul(low ^ (low >>> 13), 0xc2b2ae35);
  low = Math.imul(low ^ (low >>> 16), 0x85ebca6b) ^ Math.imul(high ^ (high >>> 13), 0xc2b2ae35);
  return (2 ** 32 * (high & 0x1fffff) + (low >>> 0)).toString(36);
}

/**
 * What a published criterion says: its rule, whether it is current and whether its number was read. Its wording may
 * change unnoticed.
 */
const meaning = (row: Criterion): unknown => [
  row.id,
  row.disease,
  row.population,
  row.measure,
  row.comparator,
  row.value,
  row.unit,
  row.sex,
  row.source,
  row.status === 'current',
  row.standing === 'from-memory',
  ruleOf(row),
];

/** The same for the same published criteria, in whatever order they come. */
export const evidenceCheck = (rows: readonly Criterion[]): string =>
  checkValue(stable([...rows].sort((a, b) => (a.id < b.id ? -1 : 1)).map(meaning)));

/** Shorter, since every criterion carries one in a link: one chance in many thousand millions that a change goes unseen. */
const besideCheck = (rows: readonly Criterion[]): string => evidenceCheck(rows).slice(-7);

/** All published criteria beside any of the agreement's, each once. */
const rowsUnder = (agreement: Agreement, published: Published): Criterion[] => [
  ...new Set(agreement.marks.flatMap((criterion) => rowsBeside(criterion, published))),
];

/** What a published criterion says, in words that are kept: 'FVC below 50 % predicted; ALS/MND; adults; not yet checked' */
export function recordedWords(row: Criterion, measures: Measures): string {
  const { measure, comparator, value, unit } = row;
  const numbered = { id: '', decision: '', measure, comparator, value, unit, rule: ruleOf(row) } as AgreedCriterion;
  return [
    criterionWords(numbered, measures),
    peopleWords({ ...row, rule: ruleOf(row) }),
    row.status === 'current' ? '' : 'replaced by a newer edition',
    row.standing === 'from-memory' ? 'not yet checked' : '',
  ]
    .filter(Boolean)
    .join('; ')
    .slice(0, limits.says);
}

/** The criterion with what is published beside it today recorded: as ids with their words, and as one check value. */
export function recordBeside(criterion: AgreedCriterion, published: Published): AgreedCriterion {
  const rows = rowsBeside(criterion, published);
  return { ...criterion, beside: besideCheck(rows), was: wordsOf(rows, published.measures) };
}

const wordsOf = (rows: readonly Criterion[], measures: Measures): Record<string, string> =>
  Object.fromEntries(rows.slice(0, limits.was).map((row) => [row.id, recordedWords(row, measures)]));

/** Someone of the team has looked at what is published beside it now, and leaves the criterion as it is. */
export const lookedAgain = (criterion: AgreedCriterion, published: Published, date: string): AgreedCriterion => ({
  ...recordBeside(criterion, published),
  looked: date,
});

/**
 * The agreement with the published criteria recorded under each of its own that has no record yet. A record that is
 * there stays as it is: that the evidence has changed is not forgotten because the text was revised.
 */
export const onEvidence = (agreement: Agreement, published: Published, date: string): Agreement => ({
  ...agreement,
  evidence: { date, digest: evidenceCheck(rowsUnder(agreement, published)) },
  marks: agreement.marks.map((criterion) =>
    criterion.beside === undefined ? recordBeside(criterion, published) : criterion,
  ),
});

/** A QR code and a long link leave the words out: the check value stays, and every phone can write them anew. */
export const withoutWords = (agreement: Agreement): Agreement => ({
  ...agreement,
  marks: agreement.marks.map(({ was: _was, ...criterion }) => criterion),
});

/** The words again, wherever the check value says that the evidence is still what it was. */
export const withWords = (agreement: Agreement, published: Published): Agreement => ({
  ...agreement,
  marks: agreement.marks.map((criterion) => {
    if (criterion.was !== undefined || criterion.beside === undefined) return criterion;
    const rows = rowsBeside(criterion, published);
    return besideChanged(criterion, rows) ? criterion : recordBeside(criterion, published);
  }),
});

export interface Affected {
  criterion: AgreedCriterion;
  /** the published criterion it was taken from is gone or says something else now; or only others beside it changed */
  why: 'basis-gone' | 'basis-changed' | 'beside-changed';
  /** the published criteria beside it as they are now */
  now: Criterion[];
  /** what changed; undefined where the agreement does not say what was published then */
  rows: RowChange[] | undefined;
}

/** One published criterion before and after: `before` missing means that it is new, `after` that it is gone. */
export interface RowChange {
  id: string;
  before?: string;
  after?: string;
}

/**
 * Criteria for the team to look at again, since what is published beside them has changed. One that records no check
 * value is left out: nobody can know.
 */
export function changedEvidence(agreement: Agreement, published: Published): Affected[] {
  return agreement.marks.flatMap((criterion) => {
    const now = rowsBeside(criterion, published);
    const why = changeUnder(criterion, now, published);
    return why === undefined ? [] : [{ criterion, why, now, rows: rowChanges(criterion, now, published.measures) }];
  });
}

function changeUnder(
  criterion: AgreedCriterion,
  now: readonly Criterion[],
  published: Published,
): Affected['why'] | undefined {
  const gone = criterion.basis !== undefined && basisOf(criterion, published) === undefined;
  // Evidence reviewed after it had gone: the team knows.
  if (gone && (criterion.looked === undefined || besideChanged(criterion, now))) return 'basis-gone';
  if (!besideChanged(criterion, now)) return undefined;
  return criterion.basis !== undefined && criterion.reason === undefined && !isAsPublished(criterion, published)
    ? 'basis-changed'
    : 'beside-changed';
}

function rowChanges({ was }: AgreedCriterion, now: readonly Criterion[], measures: Measures): RowChange[] | undefined {
  if (was === undefined) return undefined;
  const after = wordsOf(now, measures);
  return [...new Set([...Object.keys(was), ...Object.keys(after)])]
    .filter((id) => was[id] !== after[id])
    .map((id) => ({
      id,
      ...(was[id] === undefined ? {} : { before: was[id] }),
      ...(after[id] === undefined ? {} : { after: after[id] }),
    }));
}

/** Known to have changed: false when the criterion does not say what stood beside it. */
export const besideChanged = ({ beside }: AgreedCriterion, now: readonly Criterion[]): boolean =>
  beside !== undefined && beside !== besideCheck(now);
