/** What a row, a question and a number have to say before anything relies on them. */
import { describe, expect, test } from 'vitest';
import { Criterion } from '../../../calculators/domain/criterion.ts';
import { Measure } from '../../../calculators/domain/measure.ts';
import { z } from '../../../calculators/domain/schema.ts';

const row = {
  id: 'made-up-als-snip-lt-40',
  support: 'referral',
  disease: 'als',
  population: 'adult',
  measure: 'snip',
  comparator: '<',
  value: 40,
  unit: 'cm[H2O]',
  urgency: 'routine',
  use: 'decision',
  context: 'a test',
  action: 'a test',
  strength: 'a test',
  source: 'made-up',
  locator: 'nowhere',
  status: 'current',
  standing: 'common-practice',
  read: 'nothing',
};
const fits = (more: object): boolean => z.safeParse(Criterion, { ...row, ...more }).success;

describe('a criterion', () => {
  test('fits as it stands', () => expect(fits({})).toBe(true));
  test.each([
    ['a disease that is none', { disease: 'flu' }],
    ['a unit that is none', { unit: 'cmH2O' }],
    ['an urgency that is none', { urgency: 'soon' }],
    ['attention when it is met, which is what it means anyway', { attentionWhen: 'met' }],
    ['a requirement without a measure', { alsoRequires: [{ comparator: 'present' }] }],
    [
      'an exception that counts as not met',
      { alsoRequires: [{ measure: 'x', comparator: 'absent', unanswered: 'not-met' }] },
    ],
  ])('%s is refused', (_, more) => expect(fits(more)).toBe(false));
});

describe('a question', () => {
  const question = { kind: 'sign', label: 'A', short: 'a', part: 'look', question: 'A?', abnormal: 'yes' };
  test('says which answer is abnormal', () => {
    expect(z.safeParse(Measure, question).success).toBe(true);
    const { abnormal: _abnormal, ...silent } = question;
    expect(z.safeParse(Measure, silent).success).toBe(false);
  });
  test('is answered by a reading only with a source and how it is known', () => {
    const rule = { measure: 'paco2', comparator: '>', value: 6, unit: 'kPa' };
    expect(z.safeParse(Measure, { ...question, impliedBy: [rule] }).success).toBe(false);
    const known = { ...rule, source: 'nice-ng42', locator: 'blood gas', standing: 'checked' };
    expect(z.safeParse(Measure, { ...question, impliedBy: [known] }).success).toBe(true);
  });
});
