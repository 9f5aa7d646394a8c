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
  /** of those, the ones that record other evidence under them */
  recorded: Change<AgreedCriterion>[];
  minutesDiffer: boolean;
}

const headerFields = [
  'clinic',
  'jurisdiction',
  'revision',
  'status',
  'signed',
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
    if (typeof value === 'object')
      return Array.isArray(value) ? value.join(', ') : `${value.on}, ${value.by.join(', ')}`;
    return value === undefined ? undefined : String(value);
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
    same: marks.same.map(({ to }) => to),
    recorded: marks.same.filter((both) => both.from.beside !== both.to.beside),
    minutesDiffer: stable(from?.minutes ?? {}) !== stable(to?.minutes ?? {}),
  };
}

/** Whether the two say the same. The evidence recorded under them can differ all the same. */
export const isSame = ({ header, phones, waits, marks, minutesDiffer }: AgreementDifference): boolean =>
  header.length + phones.length + waits.length + marks.length === 0 && !minutesDiffer;

/** Criteria that answer the same question for the same people. */
const whatIsDecided = ({ decision, measure, disease, population, sex, comparator }: AgreedCriterion): string =>
  [decision, measure, disease, population, sex ?? '', comparator.charAt(0)].join('|');

/** What a criterion says. Its id and the evidence recorded under it are records, not decisions. */
const withoutRecord = ({
  id: _id,
  beside: _beside,
  was: _was,
  looked: _looked,
  ...criterion
}: AgreedCriterion): Omit<AgreedCriterion, 'id' | 'beside' | 'was' | 'looked'> => criterion;

/** Same content first, then same question in order; what is left over was added or taken away. */
function pair<T>(
  from: readonly T[],
  to: readonly T[],
  question: (one: T) => string,
  content: (one: T) => string,
): { changed: Change<T>[]; same: { from: T; to: T }[] } {
  const left = [...from];
  const take = (match: (one: T) => boolean): T | undefined => {
    const place = left.findIndex(match);
    return place < 0 ? undefined : left.splice(place, 1)[0];
  };
  const same: { from: T; to: T }[] = [];
  const others: T[] = [];
  for (const one of to) {
    const equal = take((other) => content(other) === content(one));
    if (equal === undefined) others.push(one);
    else same.push({ from: equal, to: one });
  }
  const changed: Change<T>[] = others.map((one) => ({
    from: take((other) => question(other) === question(one)),
    to: one,
  }));
  return { changed: [...changed, ...left.map((one) => ({ from: one }))], same };
}
