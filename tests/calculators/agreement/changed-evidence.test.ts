/** Changed evidence stays on a criterion until someone has looked again; a signed agreement is never refused for it. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  changedEvidence,
  lookedAgain,
  onEvidence,
  withoutWords,
  withWords,
} from '../../../calculators/agreement/agreed-evidence.ts';
import { Agreement, agreementText } from '../../../calculators/agreement/agreement.ts';
import { compareAgreements, isSame } from '../../../calculators/agreement/compare-agreements.ts';
import { agreementLine } from '../../../calculators/agreement/digest.ts';
import { asCriteria, type Published } from '../../../calculators/agreement/local-criteria.ts';
import { revisionOf } from '../../../calculators/agreement/meeting.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { cautionsOf, statusSentence, versionWords } from '../../../calculators/agreement/status.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { digestOf } from '../../../src/agreement/digest.ts';
import { agreement, anyAgreement, ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const basis = 'aan-als-fvc-lt-50';
const agreed = onEvidence(
  agreement({ marks: [publishedCriterion(basis), ownCriterion(), publishedCriterion('aan-als-snp-lt-40')] }),
  published,
  '2026-11-25',
);
const withRows = (change: (rows: readonly Criterion[]) => Criterion[]): Published => ({
  ...published,
  criteria: change(published.criteria),
});
const changed = withRows((rows) => rows.map((row) => (row.id === basis ? { ...row, value: 55 } : row)));
const retired = withRows((rows) => rows.filter(({ id }) => id !== basis));
const ids = (whole: Agreement, known: Published) => changedEvidence(whole, known).map(({ criterion }) => criterion.id);

describe('evidence that changed', () => {
  test('is still on each criterion after the agreement was revised, dated today and recorded again', () => {
    const revised = onEvidence(revisionOf(agreed, '2027-11-25', '2028-11-25'), changed, '2027-11-25');
    expect(ids(revised, changed)).toEqual(['aan-als-fvc-lt-50-kept', 'own']);
  });

  test('leaves a criterion when someone has looked at that one again, and no other', () => {
    const marks = agreed.marks.map((one) => (one.id === 'own' ? lookedAgain(one, changed, '2027-11-25') : one));
    expect(ids({ ...agreed, marks }, changed)).toEqual(['aan-als-fvc-lt-50-kept']);
    expect(marks[1]).toMatchObject({ id: 'own', value: 65, looked: '2027-11-25' });
  });

  test('is listed before and after, by its id', () => {
    expect(changedEvidence(agreed, changed)[0]?.rows).toEqual([
      {
        id: basis,
        before: expect.stringMatching(/^FVC below 50\u00a0% predicted; ALS\/MND; adults/),
        after: expect.stringMatching(/^FVC below 55\u00a0% predicted; ALS\/MND; adults/),
      },
    ]);
    expect(changedEvidence(agreed, retired)[0]?.rows).toEqual([
      { id: basis, before: expect.stringContaining('below 50') },
    ]);
  });

  test('a row that is not yet checked says so, before or after', () => {
    const unread = withRows((rows) =>
      rows.map((row) => (row.id === basis ? { ...row, standing: 'from-memory' as const } : row)),
    );
    expect(changedEvidence(agreed, unread)[0]?.rows?.[0]?.after).toContain('; not yet checked');
  });

  test('nothing changed: nothing is listed, whatever a clinic has agreed on; looked at again: nothing is listed', () => {
    fc.assert(
      fc.property(anyAgreement, (whole) => {
        const recorded = onEvidence(whole, published, whole.evidence.date);
        expect(changedEvidence(recorded, published)).toEqual([]);
        const marks = recorded.marks.map((one) => lookedAgain(one, changed, '2027-01-01'));
        expect(changedEvidence({ ...recorded, marks }, changed)).toEqual([]);
        expect(Agreement.safeParse({ ...recorded, marks }).success).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a published criterion that was retired', () => {
  const text = agreementText(agreed);

  test('is a warning that names it, and the criterion is used as it was agreed', () => {
    const read = readAgreement(text, retired);
    expect(read.ok && read.warnings).toEqual([
      'The published evidence for 2 of its criteria has changed since the meeting. The team should review it.',
      `The published criterion "${basis}", which "aan-als-fvc-lt-50-kept" was taken from, is no longer in the handbook. It is used as it was agreed.`,
    ]);
    expect(asCriteria(agreed, retired)).toHaveLength(3);
  });

  test('never refuses what was signed, even where no evidence was recorded', () => {
    const marks = agreed.marks.map(({ beside: _b, was: _w, ...criterion }) => criterion);
    expect(readAgreement(agreementText({ ...agreed, marks }), retired).ok).toBe(false);
    const signed = { status: 'signed' as const, signed: { on: '2026-12-01', by: ['Physician'] } };
    expect(readAgreement(agreementText({ ...agreed, ...signed, marks }), retired).ok).toBe(true);
  });

  test('once the team has looked again, it is not listed any more', () => {
    const marks = agreed.marks.map((one) => lookedAgain(one, retired, '2027-11-25'));
    expect(ids({ ...agreed, marks }, retired)).toEqual([]);
  });

  test.each<[string, Partial<Criterion>]>([
    ['moved to another decision', { support: 'referral' }],
    ['for other people now', { population: 'child' }],
    ['found to be unread', { standing: 'from-memory' }],
    ['turned round', { comparator: '>' }],
  ])('nor is an agreement refused for one that was %s', (_, more) => {
    const known = withRows((rows) => rows.map((row) => (row.id === basis ? { ...row, ...more } : row)));
    const read = readAgreement(text, known);
    expect(read.ok ? [] : read.problems).toEqual([]);
  });
});

describe('the digest', () => {
  test('is the same while a draft is agreed and signed, and with or without the words of the record', async () => {
    const digest = await digestOf(agreed);
    const signed = { status: 'signed' as const, signed: { on: '2026-12-01', by: ['Physician'] } };
    expect(await digestOf({ ...agreed, status: 'draft' })).toBe(digest);
    expect(await digestOf({ ...agreed, ...signed })).toBe(digest);
    expect(await digestOf(withoutWords(agreed))).toBe(digest);
    expect(await digestOf({ ...agreed, revision: 2 })).not.toBe(digest);
    expect(await digestOf({ ...agreed, minutes: { present: ['Nurse'] } })).not.toBe(digest);
    const marks = agreed.marks.map((one) => lookedAgain(one, changed, '2027-11-25'));
    expect(await digestOf({ ...agreed, marks })).not.toBe(digest);
  });

  test('a phone that got no words writes them anew where the evidence is the same, and nothing where it is not', () => {
    fc.assert(
      fc.property(anyAgreement, (whole) => {
        const recorded = onEvidence(whole, published, whole.evidence.date);
        expect(withWords(withoutWords(recorded), published)).toEqual(recorded);
      }),
      { numRuns: 60 },
    );
    expect(withWords(withoutWords(agreed), changed).marks[0]?.was).toBeUndefined();
  });
});

describe('two agreements whose thresholds say the same', () => {
  test('on other evidence: named, and not called a change', () => {
    const marks = agreed.marks.map((one) => (one.id === 'own' ? lookedAgain(one, changed, '2027-11-25') : one));
    const difference = compareAgreements(agreed, { ...agreed, marks });
    expect(isSame(difference)).toBe(true);
    expect(difference.recorded.map(({ to }) => to?.id)).toEqual(['own']);
  });

  test('with other minutes, another number or another status, they are not the same text', () => {
    for (const more of [{ minutes: { present: ['Nurse'] } }, { revision: 2 }, { status: 'draft' as const }])
      expect(isSame(compareAgreements(agreed, { ...agreed, ...more }))).toBe(false);
  });
});

describe('how far it has got', () => {
  test.each([
    [{}, 'agreed 2026-11-25', 'Agreed on 2026-11-25. The file does not say whether the agreement was signed.'],
    [{ status: 'draft' as const, revision: 2 }, 'revision 2, DRAFT of 2026-11-25', 'DRAFT: not agreed.'],
    [{ status: 'agreed' as const }, 'agreed 2026-11-25', 'Agreed in the meeting of 2026-11-25; not signed.'],
    [
      { status: 'signed' as const, signed: { on: '2026-12-01', by: ['Physician', 'Nurse'] } },
      'agreed 2026-11-25, signed 2026-12-01',
      'Signed on 2026-12-01 by: Physician, Nurse.',
    ],
  ])('%j', (more, version, sentence) => {
    const whole = agreement(more);
    expect(versionWords(whole)).toBe(version);
    expect(statusSentence(whole)).toBe(sentence);
    expect(agreementLine(whole, undefined, { version: '1', built: '2026-12-02' })).toContain(version);
  });

  test('what a reader has to know: a draft, an overdue review, changed evidence; nothing else', () => {
    const whole = agreement();
    expect(cautionsOf(whole, 0, '2026-12-01')).toEqual([]);
    expect(cautionsOf(whole, undefined, '2027-11-25')).toEqual([]);
    expect(cautionsOf({ ...whole, status: 'draft' }, 2, '2027-11-26')).toEqual([
      'It is a DRAFT: not agreed.',
      'Its review was due 2027-11-25.',
      'The published evidence behind 2 of its criteria has changed.',
    ]);
  });

  test('a draft says so on each of its criteria', () => {
    expect(asCriteria(agreement({ status: 'draft' }), published).every(({ local }) => local?.draft)).toBe(true);
    expect(asCriteria(agreement(), published).some(({ local }) => local?.draft)).toBe(false);
  });
});
