/**
 * Whether the published marks are still those that an agreement was made on.
 *
 * A check value finds a change that nobody intended. It is short and simple to compute, so that whoever writes a file can
 * put any value in it. What tells one text of an agreement from another is its digest: digest.ts.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { AgreedMark, Agreement } from './agreement.ts';
import { basisOf, isKept, type Published, rowsBeside, ruleOf, stable } from './local-marks.ts';

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

/** What a published mark says: its rule, whether it still holds and whether its number was read. Wording may change without a word. */
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

/** The same for the same published marks, in whatever order they come. */
export const evidenceCheck = (rows: readonly Criterion[]): string =>
  checkValue(stable([...rows].sort((a, b) => (a.id < b.id ? -1 : 1)).map(meaning)));

/** Shorter, since every mark carries one in a link: one chance in many thousand millions that a change goes unseen. */
const besideCheck = (rows: readonly Criterion[]): string => evidenceCheck(rows).slice(-7);

/** All published marks beside any of the agreement's, each once. */
const rowsUnder = (agreement: Agreement, published: Published): Criterion[] => [
  ...new Set(agreement.marks.flatMap((mark) => rowsBeside(mark, published))),
];

/** The agreement with the published marks of today recorded under it. */
export const onEvidence = (agreement: Agreement, published: Published, date: string): Agreement => ({
  ...agreement,
  evidence: { date, digest: evidenceCheck(rowsUnder(agreement, published)) },
  marks: agreement.marks.map((mark) => ({ ...mark, beside: besideCheck(rowsBeside(mark, published)) })),
});

export interface Affected {
  mark: AgreedMark;
  /** the published mark it was taken from is gone, or says something else now; or only its neighbours changed */
  why: 'basis-gone' | 'basis-changed' | 'beside-changed';
  /** the published marks beside it as they are now */
  now: Criterion[];
}

/** Marks for the team to look at again, since what is published beside them has changed. A mark that records nothing cannot be told. */
export function changedEvidence(agreement: Agreement, published: Published): Affected[] {
  return agreement.marks.flatMap((mark) => {
    const now = rowsBeside(mark, published);
    const why = changeUnder(mark, now, published);
    return why === undefined ? [] : [{ mark, why, now }];
  });
}

function changeUnder(mark: AgreedMark, now: readonly Criterion[], published: Published): Affected['why'] | undefined {
  if (mark.basis !== undefined && basisOf(mark, published) === undefined) return 'basis-gone';
  if (!besideChanged(mark, now)) return undefined;
  return mark.basis !== undefined && mark.reason === undefined && !isKept(mark, published)
    ? 'basis-changed'
    : 'beside-changed';
}

/** Known to have changed: false when the mark does not say what stood beside it. */
export const besideChanged = ({ beside }: AgreedMark, now: readonly Criterion[]): boolean =>
  beside !== undefined && beside !== besideCheck(now);
