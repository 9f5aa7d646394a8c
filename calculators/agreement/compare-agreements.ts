/** Two agreements side by side, as a reader compares two signed papers: what was added, taken away, changed, left. */
import type { AgreedCriterion, Agreement } from './agreement.ts';
import { stable } from './local-criteria.ts';

export interface Change<T> {
  /** missing: added */
  from?: T | undefined;
  /** missing: taken away */
  to?: T | undefined;
}

interface AgreementDifference {
  header: (Change<string> & { field: HeaderField })[];
  phones: Change<Agreement['phones'][number]>[];
  waits: Change<Agreement['waits'][number]>[];
  marks: Change<AgreedCriterion>[];
  /** criteria that are the same in both */
  same: AgreedCriterion[];
}

const headerFields = [
  'clinic',
  'jurisdiction',
  'agreed',
  'review',
  'agreedBy',
  'referenceSet',
  'group',
  'staleAfterMonths',
] as const;
export type HeaderField = (typeof headerFields)[number];

/** @param from  undefined: nothing was agreed before, so that everything is added */
export function compareAgreements(from: Agreement | undefined, to: Agreement | undefined): AgreementDifference {
  const textOf = (agreement: Agreement | undefined, field: HeaderField): string | undefined => {
    const value = agreement?.[field];
    return Array.isArray(value) ? value.join(', ') : value === undefined ? undefined : String(value);
  };
  const marks = pair(from?.marks ?? [], to?.marks ?? [], whatIsDecided, (criterion) =>
    stable(withoutRecord(criterion)),
  );
  return {
    header: headerFields
      .map((field) => ({ field, from: textOf(from, field), to: textOf(to, field) }))
      .filter((change) => change.from !== change.to),
    phones: pair(from?.phones ?? [], to?.phones ?? [], ({ label }) => label, stable).changed,
    waits: pair(from?.waits ?? [], to?.waits ?? [], ({ what }) => what, stable).changed,
    marks: marks.changed,
    same: marks.same,
  };
}

export const isSame = ({ header, phones, waits, marks }: AgreementDifference): boolean =>
  header.length + phones.length + waits.length + marks.length === 0;

/** Criteria that answer the same question for the same people. */
const whatIsDecided = ({ decision, measure, disease, population, sex, comparator }: AgreedCriterion): string =>
  [decision, measure, disease, population, sex ?? '', comparator.charAt(0)].join('|');

/** What a criterion says; its id and the check value beside it are records, not decisions. */
const withoutRecord = ({
  id: _id,
  beside: _beside,
  ...criterion
}: AgreedCriterion): Omit<AgreedCriterion, 'id' | 'beside'> => criterion;

/** Same content first, then same question in order; what is left over was added or taken away. */
function pair<T>(
  from: readonly T[],
  to: readonly T[],
  question: (one: T) => string,
  content: (one: T) => string,
): { changed: Change<T>[]; same: T[] } {
  const left = [...from];
  const take = (match: (one: T) => boolean): T | undefined => {
    const place = left.findIndex(match);
    return place < 0 ? undefined : left.splice(place, 1)[0];
  };
  const same: T[] = [];
  const others: T[] = [];
  for (const one of to) {
    if (take((other) => content(other) === content(one)) === undefined) others.push(one);
    else same.push(one);
  }
  const changed: Change<T>[] = others.map((one) => ({
    from: take((other) => question(other) === question(one)),
    to: one,
  }));
  return { changed: [...changed, ...left.map((one) => ({ from: one }))], same };
}
