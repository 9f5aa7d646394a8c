/**
 * Whether the published criteria are still those that an agreement was made on.
 *
 * A check value finds a change that nobody intended. It is short and simple to compute, so that whoever writes a file can
 * put any value in it. What tells one text of an agreement from another is its digest: digest.ts.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { AgreedCriterion, Agreement } from './agreement.ts';
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

/** The agreement with the published criteria of today recorded under it. */
export const onEvidence = (agreement: Agreement, published: Published, date: string): Agreement => ({
  ...agreement,
  evidence: { date, digest: evidenceCheck(rowsUnder(agreement, published)) },
  marks: agreement.marks.map((criterion) => ({ ...criterion, beside: besideCheck(rowsBeside(criterion, published)) })),
});

export interface Affected {
  criterion: AgreedCriterion;
  /** the published criterion it was taken from is gone or says something else now; or only others beside it changed */
  why: 'basis-gone' | 'basis-changed' | 'beside-changed';
  /** the published criteria beside it as they are now */
  now: Criterion[];
}

/**
 * Criteria for the team to look at again, since what is published beside them has changed. One that records no digest
 * is left out: nobody can know.
 */
export function changedEvidence(agreement: Agreement, published: Published): Affected[] {
  return agreement.marks.flatMap((criterion) => {
    const now = rowsBeside(criterion, published);
    const why = changeUnder(criterion, now, published);
    return why === undefined ? [] : [{ criterion, why, now }];
  });
}

function changeUnder(
  criterion: AgreedCriterion,
  now: readonly Criterion[],
  published: Published,
): Affected['why'] | undefined {
  if (criterion.basis !== undefined && basisOf(criterion, published) === undefined) return 'basis-gone';
  if (!besideChanged(criterion, now)) return undefined;
  return criterion.basis !== undefined && criterion.reason === undefined && !isAsPublished(criterion, published)
    ? 'basis-changed'
    : 'beside-changed';
}

/** Known to have changed: false when the criterion does not say what stood beside it. */
export const besideChanged = ({ beside }: AgreedCriterion, now: readonly Criterion[]): boolean =>
  beside !== undefined && beside !== besideCheck(now);
