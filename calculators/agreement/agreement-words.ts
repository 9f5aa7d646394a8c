/** A clinic's criteria in words: the rule, for whom, by whom, and how it departs from what is published. */

import type { Criterion } from '../domain/criterion.ts';
import type { Departure, LocalRow } from '../domain/local-row.ts';
import type { Evidence } from '../evaluate/evaluate.ts';
import { comparison, figure, withUnit } from '../evaluate/say.ts';
import { units } from '../quantity.ts';
import { standingWords } from '../standing.ts';
import type { Affected } from './agreed-evidence.ts';
import type { AgreedCriterion } from './agreement.ts';
import { basisOf, isAsPublished, publishedSpan } from './local-criteria.ts';

/** Printed beside the criterion wherever it is shown. */
export const departureWords: Record<Departure, string> = {
  'less-cautious': 'Less cautious than every published criterion for the same measure',
  'more-cautious': 'Outside the range of the published criteria, on the more cautious side',
  outside: 'Outside the range of the published criteria',
  alone: 'There is no published criterion to compare it with',
  replaced: 'Its source has been replaced by a newer edition',
  'other-conditions': 'Its requirements differ from those of the published criterion it names',
};

/** 'published: 50 to 80 %' */
export function spanWords(criterion: AgreedCriterion, evidence: Evidence): string {
  const span = publishedSpan(criterion, evidence);
  const measure = evidence.measures[criterion.measure];
  if (span === undefined || measure?.kind !== 'number') return 'no criterion is published for the same measure';
  const rounded = (value: number) => figure(Number(value.toPrecision(6)));
  const low = rounded(span.low);
  const ends = span.low === span.high ? low : `${low} to ${rounded(span.high)}`;
  return `published: ${withUnit(ends, measure.unit)}`;
}

/** Where a criterion comes from: adopted as published, changed, or the clinic's own. */
export function originWords(
  criterion: AgreedCriterion,
  evidence: Evidence,
  sourceName: (id: string) => string,
): string {
  const basis = basisOf(criterion, evidence);
  if (criterion.basis === undefined) return 'The clinic\u2019s own criterion';
  if (basis === undefined)
    return `Taken from a published criterion that is no longer in the handbook (${criterion.basis})`;
  const who = `${sourceName(basis.source)}, ${basis.locator}`;
  const standing = criterion.read ? readWords(criterion) : standingWords[basis.standing];
  if (isAsPublished(criterion, evidence)) return `Kept as published: ${who}; ${standing}`;
  return `Changed from ${who}, which says ${comparison(basis, evidence.measures[basis.measure])}; ${standing}`;
}

export const readWords = ({ read }: Pick<AgreedCriterion, 'read'>): string =>
  read === undefined ? '' : `read at its source by ${read.role}, ${read.date}, ${read.locator}`;

/**
 * 'Agreed by Tern Valley Neuromuscular Clinic, 2026-11-25', with its departure; or how well a published criterion is
 * known.
 */
export function standingLine({ local, standing, checked }: Criterion): string {
  if (local === undefined) return `${standingWords[standing]}${checked ? `, ${checked}` : ''}`;
  const read = readWords(local).replace(/^r/, 'R');
  return [agreedBy(local), local.departs && departureWords[local.departs], read].filter(Boolean).join('. ');
}

export const agreedBy = ({ clinic, agreed, draft }: Pick<LocalRow, 'clinic' | 'agreed' | 'draft'>): string =>
  draft ? `DRAFT of ${clinic}, ${agreed}, not agreed` : `Agreed by ${clinic}, ${agreed}`;

export const affectedWords: Record<Affected['why'], string> = {
  'basis-gone': 'The published criterion it was taken from is no longer in the handbook',
  'basis-changed': 'The published criterion it was taken from has changed',
  'beside-changed': 'The published criteria for the same measure have changed',
};

const symbols = { '<': '<', '<=': '\u2264', '>': '>', '>=': '\u2265', present: '', absent: '' } as const;
/** Short, for the gauge: '< 55', with the unit only where it is not the gauge's own */
export const notchWords = ({ comparator, value, unit }: AgreedCriterion, gaugeUnit: string): string =>
  value === undefined || unit === undefined
    ? ''
    : `${symbols[comparator]}\u00a0${unit === gaugeUnit ? figure(value) : `${figure(value)}\u00a0${units[unit].symbol}`}`;
