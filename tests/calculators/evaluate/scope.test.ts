import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { diseases, isAcute, type Person } from '../../../calculators/domain/person.ts';
import { scopeOf } from '../../../calculators/evaluate/scope.ts';
import { criteria, madeUp, measures, row } from './setup.ts';

const scope = (id: string, person: Person) => scopeOf(row(id), person, measures[row(id).measure]);
const man = { disease: 'als', ageYears: 60, sex: 'male' } as const satisfies Person;

describe('disease', () => {
  test('a named disease\u2019s criterion is shown for it and for no other', () => {
    for (const disease of diseases)
      expect(scope('nice-mnd-fvc-lt-50', { ...man, disease })).toBe(disease === 'als' ? 'in' : 'out');
  });

  test('a chronic start criterion of any disease is shown in every chronic disease and in no acute one', () => {
    for (const disease of diseases)
      expect(scope('chest-nmd-snip-weaker-than-40', { ...man, disease })).toBe(isAcute(disease) ? 'out' : 'in');
    expect(diseases.filter(isAcute)).toEqual(['gbs', 'mg', 'sci-acute']);
  });

  test('an emergency, same-day or acute criterion of any disease is shown in all of them, and when the disease is not known', () => {
    for (const disease of [undefined, ...diseases])
      for (const id of [
        'fallback-choking-or-airway-blocked',
        'fallback-spo2-lt-90-any-gas',
        'btsics-nmd-mie-sputum-retention',
      ])
        expect(scope(id, { ...man, disease })).toBe('in');
  });

  test('a payer rule is not shown in an acute disease', () => {
    for (const { id } of criteria.filter(({ use }) => use === 'coverage'))
      expect(scope(id, { ...man, disease: 'gbs' })).toBe('out');
  });

  test('the fall on lying flat is hidden in cord injury, acute and chronic', () => {
    expect(scope('evidence-vc-fall-supine-gt-25-diaphragm', { ...man, disease: 'sci' })).toBe('out');
    expect(scope('evidence-vc-fall-supine-gt-25-diaphragm', { ...man, disease: 'sci-acute' })).toBe('out');
    expect(scope('evidence-vc-fall-supine-gt-25-diaphragm', { ...man, disease: 'pompe' })).toBe('in');
  });

  test('chronic cord injury takes the criteria of any chronic disease, not those of acute injury', () => {
    expect(scope('chest-nmd-snip-weaker-than-40', { ...man, disease: 'sci' })).toBe('in');
    expect(scope('sci-vc-lt-15-ml-kg', { ...man, disease: 'sci' })).toBe('out');
    expect(scope('sci-vc-lt-15-ml-kg', { ...man, disease: 'sci-acute' })).toBe('in');
  });

  test('a start row on vital capacity is hidden in cord injury, where a low value is usual for life', () => {
    for (const id of [
      'chest-nmd-fvc-lt-50',
      'chest-nmd-fvc-lt-80-with-symptoms',
      'onmap2021-home-ventilator-vc-lt-30',
    ]) {
      expect([id, scope(id, { ...man, disease: 'sci' })]).toEqual([id, 'out']);
      expect([id, scope(id, { ...man, disease: 'post-polio' })]).toEqual([id, 'in']);
    }
  });

  test('rows that speak for a trial of NIV are hidden in Guillain-Barré syndrome and myasthenia, the emergency is not', () => {
    for (const disease of ['gbs', 'mg'] as const) {
      expect(scope('btsics-nmd-hypercapnia-unwell-niv-now', { ...man, disease })).toBe('out');
      expect(scope('btsics-nmd-vc-lt-1-l-rr-gt-20', { ...man, disease })).toBe('out');
      expect(scope('fallback-co2-raised-and-unwell', { ...man, disease })).toBe('in');
      expect(scope(`fallback-${disease}-vc-lt-1-l-rr-gt-20`, { ...man, disease })).toBe('in');
    }
  });

  test('stacking with a bag and manual assist need a child who can cooperate: from 6 years', () => {
    for (const id of ['chest-nmd-reduced-volume-or-cough-lvr', 'chest-nmd-cough-reduced-manual-assist']) {
      expect([id, scope(id, { ...man, ageYears: 5.9, disease: 'sma' })]).toEqual([id, 'out']);
      expect([id, scope(id, { ...man, ageYears: 6, disease: 'sma' })]).toEqual([id, 'in']);
    }
  });
});

describe('age', () => {
  test.each([
    ['an adult criterion', 'nice-mnd-fvc-lt-50', 'als', 17.999, 18],
    ['a cough flow', 'dmd2018-cough-pcf-lt-270', 'dmd', 11.999, 12],
    ['a criterion from 12 of any cough flow', 'aarc-nmd-pcf-lt-270-cough-assist', 'sma', 11.999, 12],
  ] as const)('%s begins at its birthday', (_, id, disease, before, from) => {
    expect(scope(id, { ...man, disease, ageYears: before })).toBe('out');
    expect(scope(id, { ...man, disease, ageYears: from })).toBe('in');
  });

  test.each([
    ['a child criterion', 'bts-child-vc-lt-60-annual-sleep-assessment', 'sma', 17.999, 18],
    ['an infant criterion', 'sma2018-symptomatic-infant-niv', 'sma', 1.999, 2],
  ] as const)('%s ends at its birthday', (_, id, disease, last, out) => {
    expect(scope(id, { ...man, disease, ageYears: last })).toBe('in');
    expect(scope(id, { ...man, disease, ageYears: out })).toBe('out');
  });

  test('a criterion for any age needs none', () => {
    expect(scope('fallback-choking-or-airway-blocked', {})).toBe('in');
    expect(scope('dmd2018-niv-fvc-lt-50', { disease: 'dmd' })).toBe('in');
  });

  test('every limit of every criterion is kept, to the day', () => {
    const day = 1 / 365.25;
    const edges: [Partial<Criterion>, number, 'in' | 'out'][] = [
      [{ minAgeYears: 16 }, 16 - day, 'out'],
      [{ minAgeYears: 16 }, 16, 'in'],
      [{ maxAgeYears: 15 }, 16 - day, 'in'],
      [{ maxAgeYears: 15 }, 16, 'out'],
      [{ population: 'child', maxAgeYears: 17 }, 18 - day, 'in'],
      [{ population: 'child' }, 18, 'out'],
      [{ population: 'adult', minAgeYears: 12 }, 17, 'out'],
      [{ minAgeYears: 0 }, 0, 'in'],
    ];
    for (const [limits, ageYears, expected] of edges) {
      const criterion = madeUp({ measure: 'fvc-percent', comparator: '<', ...limits });
      expect(scopeOf(criterion, { ...man, ageYears }, measures['fvc-percent'])).toBe(expected);
    }
  });
});

describe('sex', () => {
  test('65 is for men and 55 for women', () => {
    expect(scope('nice-mnd-snip-or-mip-lt-65-men-with-symptoms', man)).toBe('in');
    expect(scope('nice-mnd-snip-or-mip-lt-55-women-with-symptoms', man)).toBe('out');
    expect(scope('nice-mnd-snip-or-mip-lt-55-women-with-symptoms', { ...man, sex: 'female' })).toBe('in');
  });
});

describe('what is missing', () => {
  test('is named, and only what the criterion needs', () => {
    expect(scope('nice-mnd-fvc-lt-50', {})).toEqual({ missing: ['disease', 'age'] });
    expect(scope('nice-mnd-fvc-lt-50', { disease: 'als' })).toEqual({ missing: ['age'] });
    expect(scope('nice-mnd-snip-or-mip-lt-65-men-with-symptoms', { disease: 'als', ageYears: 60 })).toEqual({
      missing: ['sex'],
    });
    expect(scope('chest-nmd-fvc-lt-50', { ageYears: 60 })).toEqual({ missing: ['disease'] });
  });

  test('one known fact that rules a criterion out is enough', () => {
    expect(scope('nice-mnd-fvc-lt-50', { disease: 'dmd' })).toBe('out');
    expect(scope('nice-mnd-fvc-lt-50', { ageYears: 10 })).toBe('out');
    expect(scope('nice-mnd-snip-or-mip-lt-65-men-with-symptoms', { sex: 'female' })).toBe('out');
  });

  test('never lets a criterion in that the fact would hide, nor hides one that it would let in', () => {
    const anyPerson = fc.record({
      disease: fc.constantFrom(...diseases),
      ageYears: fc.oneof(fc.integer({ min: 0, max: 95 }), fc.constantFrom(1.9, 2, 11.9, 12, 17.9, 18)),
      sex: fc.constantFrom('female' as const, 'male' as const),
    });
    fc.assert(
      fc.property(
        anyPerson,
        fc.constantFrom(...criteria),
        fc.subarray(['disease', 'ageYears', 'sex'] as const),
        (person, criterion, hidden) => {
          const measure = measures[criterion.measure];
          const known = scopeOf(criterion, person, measure);
          const less = scopeOf(
            criterion,
            { ...person, ...Object.fromEntries(hidden.map((fact) => [fact, undefined])) },
            measure,
          );
          expect(['in', 'out']).toContain(known);
          // An alarm is shown while nobody knows the disease, although a row of its own takes its place in some.
          const alarm = criterion.acute || criterion.urgency === 'emergency' || criterion.urgency === 'same-day';
          const asked = alarm && hidden.includes('disease') ? { ...criterion, notFor: undefined } : criterion;
          if (less === 'in' || less === 'out') expect(less).toBe(scopeOf(asked, person, measure));
          else expect(less.missing.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 3000 },
    );
  });
});
