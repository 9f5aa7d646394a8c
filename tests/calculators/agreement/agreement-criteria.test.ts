import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { AgreedCriterion, Agreement } from '../../../calculators/agreement/agreement.ts';
import { originWords, standingLine } from '../../../calculators/agreement/agreement-words.ts';
import { criterionWords } from '../../../calculators/agreement/criterion-words.ts';
import { asCriteria, departureOf, keep, withLocal } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import {
  byDecision,
  categoryOf,
  isUrgent,
  needsAttention,
  urgentFindings,
} from '../../../calculators/evaluate/group.ts';
import { noteText } from '../../../calculators/visit/note.ts';
import { samples } from '../../samples.ts';
import { anyVisit, decisions, reading, row, visit } from '../evaluate/setup.ts';
import { agreement, anyAgreement, keepable, ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const findings = (marks: AgreedCriterion[], seen: Visit) =>
  evaluate(seen, withLocal(published, agreement({ marks }))).filter(({ criterion }) => criterion.local);
const result = (criterion: AgreedCriterion, seen: Visit): string =>
  findings([criterion], seen)[0]?.result ?? 'out-of-scope';
const vitalCapacity = (value: number, more: Partial<Visit> = {}): Visit =>
  visit({ readings: { 'fvc-percent': reading(value, '%') }, ...more });

describe('a clinic\u2019s own criterion at a visit', () => {
  test.each([
    [64.9, 'met'],
    [65, 'not-met'],
    [65.1, 'not-met'],
  ])('a vital capacity of %s against below 65 is %s', (value, expected) => {
    expect(result(ownCriterion(), vitalCapacity(value))).toBe(expected);
  });

  test('65 itself meets at or below 65', () => {
    expect(result(ownCriterion({ comparator: '<=' }), vitalCapacity(65))).toBe('met');
  });

  test('without the reading it cannot be told', () => {
    expect(result(ownCriterion(), visit())).toBe('cannot-tell');
  });

  test('a criterion for ALS is not lent to Duchenne, and one for adults is not shown for a child', () => {
    expect(result(ownCriterion(), vitalCapacity(40, { disease: 'dmd' }))).toBe('out-of-scope');
    expect(result(ownCriterion(), vitalCapacity(40, { ageYears: 12 }))).toBe('out-of-scope');
  });

  test('a saturation taken on oxygen cannot tell anything about a room-air criterion of the clinic either', () => {
    const criterion = ownCriterion({ decision: 'watching-closer', measure: 'spo2', comparator: '<=', value: 93 });
    const taken = (gas: 'air' | 'oxygen') => visit({ readings: { spo2: reading(90, '%', { gas }) } });
    expect(result(criterion, taken('air'))).toBe('met');
    expect(result(criterion, taken('oxygen'))).toBe('cannot-tell');
  });

  test('carbon dioxide in kilopascals is compared with a threshold in millimetres of mercury', () => {
    const criterion = ownCriterion({ measure: 'paco2', comparator: '>=', value: 45, unit: 'mm[Hg]' });
    // 45 mmHg is 5.9995 kPa: 6 is above, 5.99 below
    expect(
      result(criterion, visit({ readings: { paco2: reading(6, 'kPa', { method: 'arterial', gas: 'air' }) } })),
    ).toBe('met');
    expect(
      result(criterion, visit({ readings: { paco2: reading(5.99, 'kPa', { method: 'arterial', gas: 'air' }) } })),
    ).toBe('not-met');
  });

  test('one on urgent help leads with the urgent findings', () => {
    const criterion = ownCriterion({
      decision: 'urgent-help',
      disease: 'any',
      population: 'any',
      measure: 'spo2',
      value: 92,
      unit: '%',
    });
    const seen = visit({ readings: { spo2: reading(91, '%', { gas: 'air' }) } });
    expect(urgentFindings(findings([criterion], seen), decisions)).toHaveLength(1);
  });
});

describe('a published criterion that was kept', () => {
  test('asks for all that the published one asks, and agrees with it at every visit', () => {
    fc.assert(
      fc.property(fc.constantFrom(...keepable), anyVisit, (from, seen) => {
        const criterion = keep(from, published.decisionOf(from.support) ?? '', 'kept');
        const both = evaluate(seen, {
          ...published,
          criteria: [...asCriteria(agreement({ marks: [criterion] }), published), from],
        });
        expect(both.length === 0 || both.length === 2).toBe(true);
        expect(both[0]?.result).toBe(both[1]?.result);
        const [asPublished, own] = both;
        if (asPublished && own) {
          expect(needsAttention(asPublished)).toBe(needsAttention(own));
          expect(isUrgent(asPublished.criterion)).toBe(isUrgent(own.criterion));
        }
      }),
      samples(600, 3000),
    );
  });

  test('keeps for whom it is not, what asks for attention, its urgency, its act and its page', () => {
    for (const from of keepable) {
      const criterion = keep(from, published.decisionOf(from.support) ?? '', 'kept');
      const [local] = asCriteria(agreement({ marks: [criterion] }), published);
      const of = ({
        notFor,
        attentionWhen,
        urgency,
        act,
        urgentPage,
        minAgeYears,
        maxAgeYears,
      }: Partial<Criterion>) => ({
        notFor,
        attentionWhen,
        urgency,
        act,
        urgentPage,
        minAgeYears,
        maxAgeYears,
      });
      expect([from.id, of(local ?? {})]).toEqual([from.id, of(from)]);
    }
  });

  test('a kept schedule asks for attention when it is overdue, not when it was kept', () => {
    const criterion = publishedCriterion('chest-nmd-pft-at-least-every-6-months');
    const asks = (months: number) =>
      findings([criterion], visit({ readings: { 'interval-months': reading(months, 'mo') } })).map(needsAttention);
    expect(asks(5)).toEqual([false]);
    expect(asks(8)).toEqual([true]);
  });

  test('with another value keeps its other conditions', () => {
    const criterion = publishedCriterion('nice-mnd-fvc-lt-80-with-symptoms', { value: 75, reason: 'Long waits' });
    const symptoms = { 'symptoms-or-signs-of-respiratory-impairment': 'present' as const };
    expect(result(criterion, vitalCapacity(74))).toBe('cannot-tell');
    expect(result(criterion, vitalCapacity(74, { signs: symptoms }))).toBe('met');
    expect(result(criterion, vitalCapacity(76, { signs: symptoms }))).toBe('not-met');
    expect(criterionWords(criterion, published.measures)).toBe(
      'FVC below 75\u00a0% predicted, only if there are symptoms or signs of respiratory impairment',
    );
  });

  test('means the same when the handbook\u2019s own row changes afterwards', () => {
    const criterion = publishedCriterion('aan-als-fvc-lt-50');
    const changed = {
      ...published,
      criteria: published.criteria.map((one) =>
        one.id === 'aan-als-fvc-lt-50'
          ? { ...one, value: 20, alsoRequires: [{ measure: 'orthopnoea', comparator: 'present' as const }] }
          : one,
      ),
    };
    const [local] = asCriteria(agreement({ marks: [criterion] }), changed);
    expect(local).toMatchObject({ value: 50, alsoRequires: [] });
  });
});

describe('the clinic\u2019s criteria beside the published ones', () => {
  test('every published finding is there, unchanged, whatever a clinic has agreed on', () => {
    fc.assert(
      fc.property(anyAgreement, anyVisit, (whole, seen) => {
        const alone = evaluate(seen, published);
        const beside = evaluate(seen, withLocal(published, whole));
        expect(beside.filter(({ criterion }) => !criterion.local)).toEqual(alone);
        for (const { criterion } of beside) if (criterion.local) expect(criterion.id).toMatch(/^local:/);
      }),
      { numRuns: 100 },
    );
  });

  test('they stand first among their equals and are never a category of their own', () => {
    const seen = vitalCapacity(40);
    const group = byDecision(evaluate(seen, withLocal(published, agreement())), decisions).find(
      ({ decision }) => decision === 'night-ventilation',
    );
    const met = group?.categories.acting.filter(({ result }) => result === 'met') ?? [];
    expect(met.slice(0, 2).map(({ criterion }) => criterion.id)).toEqual(['local:aan-als-fvc-lt-50-kept', 'local:own']);
    expect(met.slice(2).every(({ criterion }) => criterion.local === undefined)).toBe(true);
  });

  test('an unchecked number that the team has read acts under its agreement, and says who read it', () => {
    const criterion = publishedCriterion('ca-als-fvc-upright-lt-65', {
      read: { role: 'Physician', date: '2026-11-20', locator: 'table 2' },
    });
    const [local] = asCriteria(agreement({ marks: [criterion] }), published);
    expect(local && categoryOf(local)).toBe('acting');
    expect(local && standingLine(local)).toBe(
      'Agreed by Tern Valley, 2026-11-25. Read at its source by Physician, 2026-11-20, table 2',
    );
    expect(categoryOf(row('ca-als-fvc-upright-lt-65'))).toBe('unchecked');
  });

  test('a single reading is compared with them too', () => {
    const person = { disease: 'als', ageYears: 60, signs: {} } as const;
    const findings = evaluate(
      { ...person, readings: { 'fvc-percent': reading(60, '%') } },
      withLocal(published, agreement()),
    );
    const resultOf = (id: string) => findings.find(({ criterion }) => criterion.id === id)?.result;
    expect(resultOf('local:own')).toBe('met');
    expect(resultOf('local:aan-als-fvc-lt-50-kept')).toBe('not-met');
  });

  test('the note says whose criteria they are, apart from the published ones', () => {
    const seen = vitalCapacity(40);
    const known = withLocal(
      published,
      agreement({ marks: [publishedCriterion('aan-als-fvc-lt-50'), ownCriterion({ value: 45 })] }),
    );
    const note = noteText({
      visit: seen,
      findings: evaluate(seen, known),
      evidence: known,
      decisions,
      sourceName: (id) => id,
      date: '2026-11-25',
      evidenceDate: '2026-11-25',
    }).replaceAll('\u00a0', ' ');
    const [, local = '', after = ''] =
      /^- Night ventilation, criteria of Tern Valley: (.*)\n([\s\S]*)/m.exec(note) ?? [];
    expect(local).toBe(
      'FVC 40 % predicted is below 50 % predicted [agreed by Tern Valley, 2026-11-25], and below 45 % predicted [agreed by Tern Valley, 2026-11-25. Less cautious than every published criterion for the same measure]',
    );
    expect(after).toMatch(/^- Night ventilation: FVC 40 % predicted is below 50 % predicted \[/);
    expect(after).not.toContain('agreed by');
    expect(after).toContain('and with the criteria that Tern Valley agreed on 2026-11-25. They are not a decision');
  });

  test('a measure that this handbook does not have gives no row, and breaks nothing', () => {
    const marks = [ownCriterion({ measure: 'grip' }), ownCriterion({ decision: 'constructor' }), ownCriterion()];
    expect(asCriteria({ ...agreement(), marks } as Agreement, published).map(({ id }) => id)).toEqual(['local:own']);
  });
});

describe('how a criterion of the clinic departs from what is published', () => {
  // Night ventilation in ALS, vital capacity: published, checked and in force are below 50 (AAN 2009, CHEST 2023) and
  // below 80 with symptoms (CHEST 2023).
  test.each<[string, AgreedCriterion, string | undefined]>([
    ['between the published ones', ownCriterion({ value: 65 }), undefined],
    ['equal to one of them', ownCriterion({ value: 50 }), undefined],
    ['below all of them: fewer people are found', ownCriterion({ value: 49 }), 'less-cautious'],
    ['above all of them: more people are found', ownCriterion({ value: 85 }), 'more-cautious'],
    [
      'at or below the highest: one reading more than below it',
      ownCriterion({ value: 80, comparator: '<=' }),
      'more-cautious',
    ],
    ['on the side where nothing is published', ownCriterion({ value: 50, comparator: '>' }), 'alone'],
    [
      'on a measure without a published criterion for this decision',
      ownCriterion({ measure: 'respiratory-rate', comparator: '>', value: 25, unit: '/min' }),
      'alone',
    ],
    ['kept', publishedCriterion('aan-als-fvc-lt-50'), undefined],
    ['kept for fewer people', publishedCriterion('chest-nmd-fvc-lt-50', { disease: 'sma' }), undefined],
    // Apnoea index in Duchenne: at or above 5 is from memory, above 10 is of a replaced edition. Neither counts.
    [
      'where only an unchecked and a replaced number are published',
      ownCriterion({ measure: 'ahi', disease: 'dmd', population: 'any', comparator: '>=', value: 5, unit: '/h' }),
      'alone',
    ],
    [
      'kept, with a condition more',
      publishedCriterion('aan-als-fvc-lt-50', {
        rule: { support: 'bilevel-niv-start', alsoRequires: [{ measure: 'orthopnoea', comparator: 'present' }] },
      }),
      'other-conditions',
    ],
    ['kept from a replaced edition', publishedCriterion('eur2002-als-fvc-le-80-and-night-desaturation'), 'replaced'],
    // Dependency: above 18 h a day is checked and in force; above 16 is from memory and replaced, and does not count.
    [
      'for a criterion that is met above: a lower number finds more people',
      ownCriterion({ decision: 'dependency', measure: 'niv-hours', comparator: '>', value: 14, unit: 'h/d' }),
      'more-cautious',
    ],
    [
      'for a criterion that is met above: a higher number finds fewer',
      ownCriterion({ decision: 'dependency', measure: 'niv-hours', comparator: '>', value: 20, unit: 'h/d' }),
      'less-cautious',
    ],
    // A caution and a schedule do not say which way is the careful one.
    ['of a schedule', publishedCriterion('chest-nmd-pft-at-least-every-6-months', { value: 24 }), 'outside'],
  ])('%s', (_, criterion, expected) => {
    expect(departureOf(criterion, published)).toBe(expected);
  });

  test('45 mmHg told as kilopascals is the same threshold', () => {
    const criterion = publishedCriterion('aci2012-paco2-ge-45', { value: (45 * 133.322387415) / 1000, unit: 'kPa' });
    expect(departureOf(criterion, published)).toBeUndefined();
    expect(originWords(criterion, published, (id) => id)).toMatch(/^Kept as published: aci-niv-2012/);
  });

  test('no kept criterion of a current source departs', () => {
    for (const from of keepable) {
      const criterion = keep(from, published.decisionOf(from.support) ?? '', 'kept');
      expect([from.id, departureOf(criterion, published)]).toEqual([
        from.id,
        from.status === 'current' ? undefined : 'replaced',
      ]);
    }
  });

  test('of two criteria met below, the higher is never called less cautious when the lower is not', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 150 }), fc.integer({ min: 1, max: 150 }), (a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        if (departureOf(ownCriterion({ value: high }), published) === 'less-cautious')
          expect(departureOf(ownCriterion({ value: low }), published)).toBe('less-cautious');
      }),
    );
  });
});
