import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { changedEvidence, evidenceCheck, onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import { agreementText } from '../../../calculators/agreement/agreement.ts';
import { compareAgreements, isSame } from '../../../calculators/agreement/compare-agreements.ts';
import type { Published } from '../../../calculators/agreement/local-criteria.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { row } from '../evaluate/setup.ts';
import { agreement, anyAgreement, ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const agreed = onEvidence(
  agreement({
    marks: [publishedCriterion('aan-als-fvc-lt-50'), ownCriterion(), publishedCriterion('aan-als-snp-lt-40')],
  }),
  published,
  '2026-11-25',
);
const withRows = (change: (rows: readonly Criterion[]) => Criterion[]): Published => ({
  ...published,
  criteria: change(published.criteria),
});
const withRow = (id: string, more: Partial<Criterion>): Published =>
  withRows((rows) => rows.map((one) => (one.id === id ? { ...one, ...more } : one)));
const affected = (known: Published) =>
  changedEvidence(agreed, known).map(({ criterion, why }) => `${criterion.id}: ${why}`);

describe('when the evidence changes under an agreement', () => {
  test('nothing is listed while it is the same, in whatever order it comes', () => {
    expect(affected(published)).toEqual([]);
    expect(affected(withRows((rows) => [...rows].reverse()))).toEqual([]);
  });

  test('a new wording, locator or check date is no change of what a criterion says', () => {
    expect(
      affected(
        withRow('aan-als-fvc-lt-50', {
          context: 'said otherwise',
          locator: 'page 2',
          checked: '2027-01-01',
          read: 'again',
        }),
      ),
    ).toEqual([]);
  });

  test('a number that changed is listed for the criterion taken from it, and for its neighbours on that measure only', () => {
    expect(affected(withRow('aan-als-fvc-lt-50', { value: 55 }))).toEqual([
      'aan-als-fvc-lt-50-kept: basis-changed',
      'own: beside-changed',
    ]);
  });

  test.each<[string, Partial<Criterion>]>([
    ['another comparator', { comparator: '<=' }],
    ['a further condition', { alsoRequires: [{ measure: 'orthopnoea', comparator: 'present' }] }],
    ['another population', { population: 'any' }],
    ['an edition that was replaced', { status: { supersededBy: 'AAN 2030' } }],
    ['a number that turned out to be unread', { standing: 'from-memory' }],
  ])('%s is a change', (_, more) => {
    expect(affected(withRow('aan-als-fvc-lt-50', more))).toHaveLength(2);
  });

  test('a criterion whose published one is gone is listed as such', () => {
    expect(affected(withRows((rows) => rows.filter(({ id }) => id !== 'aan-als-fvc-lt-50')))).toEqual([
      'aan-als-fvc-lt-50-kept: basis-gone',
      'own: beside-changed',
    ]);
  });

  test('a new published criterion on the same measure and decision is a change; one on another is none', () => {
    const added = (more: Partial<Criterion>) =>
      withRows((rows) => [...rows, { ...row('aan-als-fvc-lt-50'), id: 'new-2027', ...more }]);
    expect(affected(added({ value: 60 }))).toHaveLength(2);
    expect(affected(added({ measure: 'mip', value: 60, unit: 'cm[H2O]' }))).toEqual([]);
    expect(affected(added({ disease: 'dmd' }))).toEqual([]);
    expect(affected(added({ support: 'oral-suction' }))).toEqual([]);
  });

  test('a criterion that records nothing is not listed: it cannot be told, and the reader is told so', () => {
    const unrecorded = agreement();
    expect(changedEvidence(unrecorded, withRow('aan-als-fvc-lt-50', { value: 55 }))).toEqual([]);
    const read = readAgreement(agreementText(unrecorded), published);
    expect(read.ok && read.warnings).toEqual([
      'The agreement does not record which published criteria were used for the comparison, so this page cannot tell whether the evidence has changed.',
    ]);
  });

  test('a kept criterion whose published one changed still opens, with the warning, and acts as it was agreed', () => {
    const read = readAgreement(agreementText(agreed), withRow('aan-als-fvc-lt-50', { value: 55 }));
    expect(read.ok && read.warnings).toEqual([
      'The published evidence for 2 of its criteria has changed since the meeting. The team should review it.',
    ]);
  });

  test('the check value of the published criteria is short, plain and the same wherever it is made', () => {
    expect(agreed.evidence.digest).toMatch(/^[0-9a-z]{5,13}$/);
    expect(evidenceCheck(published.criteria)).toBe(evidenceCheck([...published.criteria].reverse()));
    expect(evidenceCheck(published.criteria)).not.toBe(evidenceCheck(published.criteria.slice(1)));
  });
});

describe('two agreements compared', () => {
  const before = agreement();

  test('one with itself says the same, whatever it holds', () => {
    fc.assert(fc.property(anyAgreement, (whole) => isSame(compareAgreements(whole, structuredClone(whole)))));
  });

  test('a changed phone number is one change, from and to', () => {
    const after = agreement({ phones: [{ label: 'Ventilation service', number: '01632 960 199' }] });
    expect(compareAgreements(before, after).phones).toEqual([
      {
        from: { label: 'Ventilation service', number: '01632 960 101' },
        to: { label: 'Ventilation service', number: '01632 960 199' },
      },
    ]);
  });

  test('what is said at its head: each field that differs, from what to what; a list as words', () => {
    const before = agreement({ agreedBy: ['Physician'] });
    const after = agreement({
      agreedBy: ['Physician', 'Nurse'],
      review: '2027-01-25',
      referenceSet: 'gli-2022-global',
    });
    expect(compareAgreements(before, after).header).toEqual([
      { field: 'review', from: '2027-11-25', to: '2027-01-25' },
      { field: 'agreedBy', from: 'Physician', to: 'Physician, Nurse' },
      { field: 'referenceSet', from: undefined, to: 'gli-2022-global' },
    ]);
    expect(compareAgreements(undefined, before).header.map(({ field, from }) => [field, from])).toContainEqual([
      'clinic',
      undefined,
    ]);
  });

  test('a criterion with another value is changed, one more is new, one less is taken away, the rest is the same', () => {
    const after = agreement({ marks: [ownCriterion({ value: 60 }), publishedCriterion('aan-als-snp-lt-40')] });
    const { marks, same } = compareAgreements(before, after);
    expect(marks.map(({ from, to }) => [from?.value, to?.value])).toEqual([
      [50, 60],
      [undefined, 40],
      [65, undefined],
    ]);
    expect(same).toEqual([]);
    expect(compareAgreements(before, agreement({ marks: [ownCriterion({ id: 'renamed' })] })).same).toHaveLength(1);
  });

  test('against nothing, everything is new; and to nothing, everything is taken away', () => {
    const fresh = compareAgreements(undefined, before);
    expect(
      [...fresh.phones, ...fresh.waits, ...fresh.marks, ...fresh.header].every(
        ({ from, to }) => from === undefined && to !== undefined,
      ),
    ).toBe(true);
    const gone = compareAgreements(before, undefined);
    expect(
      [...gone.phones, ...gone.waits, ...gone.marks, ...gone.header].every(
        ({ from, to }) => from !== undefined && to === undefined,
      ),
    ).toBe(true);
  });

  test('nothing is lost: every criterion of both stands among the same or the changes', () => {
    fc.assert(
      fc.property(anyAgreement, anyAgreement, (from, to) => {
        const { marks, same } = compareAgreements(from, to);
        expect(same.length + marks.filter((change) => change.from).length).toBe(from.marks.length);
        expect(same.length + marks.filter((change) => change.to).length).toBe(to.marks.length);
      }),
      { numRuns: 100 },
    );
  });
});
