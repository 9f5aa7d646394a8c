/**
 * Whether the published criteria are still those that an agreement was made on.
 *
 * A digest says 'the same' or 'not the same', and nothing else. It is no signature: anybody can write a file with any
 * digest in it. What makes an agreement the clinic's own is the signed paper and the people who hand it on.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { AgreedCriterion, Agreement } from './agreement.ts';
import { basisOf, isAsPublished, type Published, rowsBeside, ruleOf, stable } from './local-criteria.ts';

/** A short, stable name for a text: two 32-bit mixings, 53 bits of them, in letters and digits. */
export function digestText(text: string): string {
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
export const digestOf = (rows: readonly Criterion[]): string =>
  digestText(stable([...rows].sort((a, b) => (a.id < b.id ? -1 : 1)).map(meaning)));

/**
 * Shorter, since every criterion carries one in a link: the chance that a change goes unseen is one in many thousand
 * millions.
 */
const besideDigest = (rows: readonly Criterion[]): string => digestOf(rows).slice(-7);

export const agreementDigest = (agreement: Agreement): string => digestText(stable(agreement));

/** All published criteria beside any of the agreement's, each once. */
const rowsUnder = (agreement: Agreement, published: Published): Criterion[] => [
  ...new Set(agreement.marks.flatMap((criterion) => rowsBeside(criterion, published))),
];

/** The agreement with the published criteria of today recorded under it. */
export const onEvidence = (agreement: Agreement, published: Published, date: string): Agreement => ({
  ...agreement,
  evidence: { date, digest: digestOf(rowsUnder(agreement, published)) },
  marks: agreement.marks.map((criterion) => ({ ...criterion, beside: besideDigest(rowsBeside(criterion, published)) })),
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

/** Known to have changed: false when no digest of the criteria beside it was recorded. */
export const besideChanged = ({ beside }: AgreedCriterion, now: readonly Criterion[]): boolean =>
  beside !== undefined && beside !== besideDigest(now);
