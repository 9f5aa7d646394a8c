/**
 * Limits on whom and when a row holds, as data, and what an urgent row asks for first. Each sentence that is made of them
 * has its polarity, and each page that an act leads to is there.
 */
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Condition } from '../../calculators/domain/criterion.ts';
import type { Visit } from '../../calculators/domain/visit.ts';
import { evaluate } from '../../calculators/evaluate/evaluate.ts';
import { isUrgent, needsAttention } from '../../calculators/evaluate/group.ts';
import { alsoWords } from '../../calculators/evaluate/say.ts';
import { readEvidence } from '../read-content.ts';

const evidence = readEvidence();
const { criteria, measures } = evidence;
const conditions = criteria.flatMap((row) => [
  { row, condition: row as unknown as Condition },
  ...(row.alternative ? [{ row, condition: row.alternative }] : []),
  ...row.alsoRequires.flatMap((part) =>
    'anyOf' in part
      ? part.anyOf.map((measure) => ({ row, condition: { measure, comparator: 'present' } as Condition }))
      : [{ row, condition: part }],
  ),
]);

describe('what an urgent row asks for first', () => {
  const urgent = criteria.filter(isUrgent);
  test('every emergency and same-day row has an act, and no other row has', () => {
    expect(urgent.length).toBeGreaterThan(20);
    expect(urgent.filter(({ act }) => act === undefined).map(({ id }) => id)).toEqual([]);
    expect(criteria.filter((row) => row.act !== undefined && !isUrgent(row)).map(({ id }) => id)).toEqual([]);
  });
  test('an act is an imperative of at most 12 words that calls someone, ventilates or follows the plan', () => {
    const wrong = urgent.filter(
      ({ act = '' }) => act.split(/\s+/).length > 12 || !/^(Call|Ventilate by hand|Follow|Ask|Tell)\b/.test(act),
    );
    expect(wrong.map(({ id, act }) => `${id}: ${act}`)).toEqual([]);
  });
  test('an act orders no setting, no dose and no refusal', () => {
    expect(
      urgent.filter(({ act = '' }) => /\d|refuse|do not|never|increase|litres?\b/i.test(act)).map(({ id }) => id),
    ).toEqual([]);
  });
  test('the act of an emergency calls now, and of a same-day row today', () => {
    const wrong = urgent.filter(
      ({ urgency, act = '' }) => !(urgency === 'emergency' ? /\bnow\b/ : /\btoday\b/).test(act),
    );
    expect(wrong.map(({ id, act }) => `${id}: ${act}`)).toEqual([]);
  });
  test('the page that an act leads to exists', () => {
    const missing = urgent.filter(
      ({ urgentPage = '' }) => !existsSync(`content/handbook${urgentPage.replace(/\/$/, '')}.mdx`),
    );
    expect(missing.map(({ id, urgentPage }) => `${id}: ${urgentPage}`)).toEqual([]);
  });
});

describe('limits in words', () => {
  test('a part that counts while nobody has answered reads as an exception', () => {
    const wrong = conditions.filter(({ condition }) => condition.unanswered && !/^unless /.test(condition.note ?? ''));
    expect(conditions.filter(({ condition }) => condition.unanswered).length).toBeGreaterThan(10);
    expect(wrong.map(({ row, condition }) => `${row.id}: ${condition.measure}`)).toEqual([]);
  });
  test('every sign that a row asks for has its clause for yes and for no', () => {
    const silent = conditions.filter(({ condition: { measure } }) => {
      const found = measures[measure];
      return found?.kind === 'sign' && found.when === undefined;
    });
    expect([...new Set(silent.map(({ condition }) => condition.measure))]).toEqual([]);
  });
  test('a sign that should be absent never reads as if it should be there', () => {
    for (const { row, condition } of conditions.filter(({ condition }) => condition.comparator === 'absent')) {
      if (row.measure === condition.measure) continue;
      const words = alsoWords(row, measures).join('; ');
      const found = measures[condition.measure];
      const clause = found?.kind === 'sign' ? found.when?.absent : undefined;
      expect([row.id, words]).toEqual([
        row.id,
        expect.stringContaining(condition.note && condition.unanswered ? condition.note : (clause ?? 'no clause')),
      ]);
    }
  });
  test('the reason why a row is not shown in a disease is a sentence', () => {
    const reasons = criteria.flatMap(({ notFor }) => notFor?.because ?? []);
    expect(reasons.length).toBeGreaterThan(4);
    expect(reasons.filter((because) => !/^[A-Z].*\.$/s.test(because))).toEqual([]);
  });
});

describe('a schedule or a limit asks for attention only when it is about this person', () => {
  const asks = (id: string, given: Partial<Visit>) => {
    const visit: Visit = { readings: {}, signs: {}, ...given };
    const finding = evaluate(visit, evidence).find(({ criterion }) => criterion.id === id);
    return finding && needsAttention(finding);
  };
  const suction = (sign: 'present' | 'absent' | undefined, value: number): Partial<Visit> => ({
    disease: 'als',
    ageYears: 60,
    readings: { 'suction-pressure': { value, unit: 'mm[Hg]' } },
    signs: sign === undefined ? {} : { 'suction-through-artificial-airway': sign },
  });
  const row = 'aarc2022-suction-pressure-adult';
  test('suction through a tube at the bound does, below it not', () => {
    expect(asks(row, suction('present', 200))).toBe(true);
    expect(asks(row, suction('present', 199))).toBe(false);
  });
  test('the bound of a tube says nothing about suction of the mouth', () => {
    expect(asks(row, suction('absent', 150))).toBe(false);
    expect(asks(row, suction('absent', 250))).toBe(false);
  });
  test('while nobody has said which, a value at the bound is pointed out', () => {
    expect(asks(row, suction(undefined, 200))).toBe(true);
  });
  test.each([
    ['dmd2018-fvc-yearly-while-ambulatory', { 'non-ambulant': 'present' }, { 'non-ambulant': 'absent' }],
    ['dmd2018-tests-twice-yearly-non-ambulatory', { 'non-ambulant': 'absent' }, { 'non-ambulant': 'present' }],
  ] as const)('%s is for one stage only', (id, other, own) => {
    const given = { disease: 'dmd', ageYears: 12, readings: { 'interval-months': { value: 13, unit: 'mo' } } } as const;
    expect([asks(id, { ...given, signs: other }), asks(id, { ...given, signs: own })]).toEqual([false, true]);
  });
});
