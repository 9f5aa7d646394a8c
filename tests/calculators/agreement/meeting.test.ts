/** What a team is asked while it decides. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { AgreedCriterion, type Agreement } from '../../../calculators/agreement/agreement.ts';
import { isAsPublished } from '../../../calculators/agreement/local-criteria.ts';
import {
  criteriaTwice,
  forDiseases,
  freeId,
  openingRows,
  phoneRemark,
  revisionOf,
  thinReason,
  twiceToAsk,
  usualFirst,
} from '../../../calculators/agreement/meeting.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { agreement, anyAgreement, ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const pairs = (marks: AgreedCriterion[]) =>
  criteriaTwice({ marks }, published).map(({ a, b, same }) => [a.id, b.id, same]);

describe('two thresholds for the same people', () => {
  const fifty = publishedCriterion('aan-als-fvc-lt-50');

  test('are named, with whether they are the same number', () => {
    expect(pairs([fifty, ownCriterion()])).toEqual([['aan-als-fvc-lt-50-kept', 'own', false]]);
    expect(pairs([fifty, ownCriterion({ value: 50 })])).toEqual([['aan-als-fvc-lt-50-kept', 'own', true]]);
  });

  test('another disease, age, sex, side, measure or purpose is another question', () => {
    expect(pairs([fifty, ownCriterion({ disease: 'dmd' })])).toEqual([]);
    expect(pairs([fifty, ownCriterion({ population: 'child' })])).toEqual([]);
    expect(pairs([ownCriterion({ sex: 'male' }), ownCriterion({ id: 'b', sex: 'female' })])).toEqual([]);
    expect(pairs([fifty, ownCriterion({ comparator: '>' })])).toEqual([]);
    expect(pairs([fifty, ownCriterion({ measure: 'mip', unit: 'cm[H2O]' })])).toEqual([]);
    expect(pairs([fifty, publishedCriterion('chest-nmd-fvc-lt-80-with-symptoms')])).toEqual([]);
  });

  test('any slow disease has people in common with one slow disease, and none with an acute one', () => {
    expect(pairs([ownCriterion({ disease: 'any' }), ownCriterion({ id: 'b' })])).toHaveLength(1);
    expect(pairs([ownCriterion({ disease: 'any' }), ownCriterion({ id: 'b', disease: 'gbs' })])).toEqual([]);
  });

  test('are not asked about again once both are meant', () => {
    const whole = agreement({ minutes: { meant: [['own', 'aan-als-fvc-lt-50-kept']] } });
    expect(criteriaTwice(whole, published)).toHaveLength(1);
    expect(twiceToAsk(whole, published)).toEqual([]);
  });

  test('whatever is agreed: each pair once, in either order of the list, and a criterion with its copy always', () => {
    fc.assert(
      fc.property(anyAgreement, ({ marks }) => {
        const found = criteriaTwice({ marks }, published);
        expect(new Set(found.map(({ a, b }) => `${a.id} ${b.id}`)).size).toBe(found.length);
        expect(criteriaTwice({ marks: [...marks].reverse() }, published)).toHaveLength(found.length);
        for (const criterion of marks.slice(0, 2))
          expect(pairs([criterion, { ...criterion, id: 'copy' }])).toEqual([[criterion.id, 'copy', true]]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a reason', () => {
  test('in a word or two is not enough where it is less cautious than everything published', () => {
    expect(thinReason(ownCriterion({ value: 30, reason: 'no' }), published)).toContain('at least 4 words');
    expect(thinReason(ownCriterion({ value: 30, reason: '. . . .' }), published)).toContain('at least 4 words');
    expect(thinReason(ownCriterion({ value: 30, reason: 'Our beds are always full' }), published)).toBeUndefined();
    expect(thinReason(ownCriterion({ value: 65, reason: 'no' }), published)).toBeUndefined();
  });

  test('may stand beside a published criterion that is kept as it is', () => {
    const criterion = publishedCriterion('aan-als-fvc-lt-50', { reason: 'We looked at the newer studies and kept it' });
    expect(isAsPublished(criterion, published)).toBe(true);
    expect(readAgreement(JSON.stringify(agreement({ marks: [criterion] })), published).ok).toBe(true);
  });
});

test.each([
  ['01632 960 101', undefined],
  ['+44 (0)1632 960101', undefined],
  ['01632 960 103 ext 2', undefined],
  ['2345', 'only 4 digits'],
  ['01632 (960 101', 'brackets do not match'],
  ['0123456789012345', 'more than 15 digits'],
  ['+0 1632 960101', 'does not start with 0'],
])('the phone number %s: %s', (number, remark) => {
  if (remark === undefined) expect(phoneRemark(number)).toBeUndefined();
  else expect(phoneRemark(number)).toContain(remark);
});

describe('one threshold for several diseases at once', () => {
  test('makes one criterion each, with an id of its own, that fits the schema', () => {
    const made = forDiseases(
      ownCriterion({ id: 'night-ventilation-1' }),
      ['als', 'dmd', 'sma'],
      ['night-ventilation-2'],
    );
    expect(made.map(({ id, disease, value }) => [id, disease, value])).toEqual([
      ['night-ventilation-1', 'als', 65],
      ['night-ventilation-3', 'dmd', 65],
      ['night-ventilation-4', 'sma', 65],
    ]);
    for (const one of made) expect(AgreedCriterion.safeParse(one).success).toBe(true);
  });

  test('an id is never given twice', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom('a-1', 'a-2', 'a-3', 'a', 'b-1')), (taken) => {
        expect(taken).not.toContain(freeId('a-1', taken));
      }),
    );
  });
});

test('a revision starts as a draft with today\u2019s date and the next number, and nobody has signed it', () => {
  const signed: Agreement = agreement({
    status: 'signed',
    signed: { on: '2026-12-01', by: ['Physician'] },
    revision: 3,
  });
  expect(revisionOf(signed, '2027-11-20', '2028-11-20')).toEqual({
    ...agreement(),
    status: 'draft',
    revision: 4,
    agreed: '2027-11-20',
    review: '2028-11-20',
  });
  expect(revisionOf(agreement(), '2027-11-20', '2028-11-20').revision).toBe(2);
});

test('thresholds that open the conversation are those of the decision, checked, and the disease\u2019s own first', () => {
  const decision = published.decisions['night-ventilation'];
  if (!decision) throw new Error('no such decision');
  const rows = openingRows(decision, published.criteria, 'als');
  expect(rows.map(({ id }) => id)).toContain('nice-mnd-fvc-lt-50');
  expect(rows.some(({ standing }) => standing === 'from-memory')).toBe(false);
  const own = rows.map(({ disease }) => disease === 'als');
  expect(own.lastIndexOf(true)).toBeLessThan(own.indexOf(false));
});

test('the usual measures come first, in the order of the sheet, and none is lost', () => {
  expect(usualFirst(['odd', 'snip', 'fvc-percent'], ['fvc-percent', 'mip', 'snip'])).toEqual({
    usual: ['fvc-percent', 'snip'],
    other: ['odd'],
  });
});
