/** Answers that follow from what was typed, and what is said where the two disagree. Expectations from the rules' sources, not from the code. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Reading, Sign, Visit } from '../../../calculators/domain/visit.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { contradictions, withImplied } from '../../../calculators/evaluate/implied.ts';
import { anyVisit, evidence, measures, reading, result, visit } from './setup.ts';

const signs = (parts: Partial<Visit>) => withImplied(visit(parts), measures).visit.signs;
const co2 = (value: number, unit: 'kPa' | 'mm[Hg]', more: Partial<Reading> = {}) => reading(value, unit, more);

describe('raised CO2 follows from any typed value above 6 kPa (NICE NG42), by any method', () => {
  test.each([
    ['arterial, kPa', { paco2: co2(9.3, 'kPa', { method: 'arterial' }) }, 'present'],
    ['capillary, mmHg', { paco2: co2(48, 'mm[Hg]', { method: 'capillary' }) }, 'present'],
    ['skin, mmHg', { 'awake-co2-any-method': co2(47, 'mm[Hg]', { method: 'transcutaneous' }) }, 'present'],
    ['end-tidal, flagged', { 'awake-co2-any-method': co2(50, 'mm[Hg]', { flags: ['leak'] }) }, 'present'],
    ['morning ear lobe', { 'morning-earlobe-pco2': co2(6.4, 'kPa') }, 'present'],
    ['arterial, exactly 6 kPa', { paco2: co2(6, 'kPa', { method: 'arterial' }) }, 'absent'],
    [
      'end-tidal, normal: it reads low with small breaths',
      { 'awake-co2-any-method': co2(38, 'mm[Hg]', { method: 'end-tidal' }) },
      undefined,
    ],
    ['arterial, normal, but flagged', { paco2: co2(40, 'mm[Hg]', { flags: ['just-off-niv'] }) }, undefined],
    ['venous', { paco2: co2(58, 'mm[Hg]', { method: 'venous' }) }, undefined],
  ] as [string, Record<string, Reading>, Sign | undefined][])('%s', (_, readings, expected) => {
    expect(signs({ readings }).hypercapnia).toBe(expected);
  });
});

describe('a weak cough follows from a cough flow below 270 L/min (AARC 2013), from 12 years', () => {
  const infection = { 'respiratory-infection': 'present' } as const;
  const row = 'fallback-chest-infection-with-weak-cough';
  test.each([
    ['adult, 120 L/min', 40, reading(120, 'L/min'), 'met'],
    ['adult, 2 L/s', 40, reading(2, 'L/s'), 'met'],
    ['14 years, 120 L/min', 14, reading(120, 'L/min'), 'met'],
    ['adult, 270 L/min', 40, reading(270, 'L/min'), 'cannot-tell'],
    ['8 years: no published flow', 8, reading(120, 'L/min'), 'cannot-tell'],
  ] as [string, number, Reading, string][])('%s', (_, ageYears, flow, expected) => {
    const seen = visit({ disease: 'fshd', ageYears, readings: { 'peak-cough-flow': flow }, signs: infection });
    expect(result(row, seen)).toBe(expected);
  });
  test('a typed flow outweighs a tapped no, and the two are named', () => {
    const seen = visit({
      disease: 'post-polio',
      readings: { 'peak-cough-flow': reading(110, 'L/min') },
      signs: { ...infection, 'weak-cough': 'absent', 'ineffective-cough': 'absent' },
    });
    expect(result(row, seen)).toBe('met');
    expect(contradictions(seen, measures)).toContainEqual(
      expect.objectContaining({ sign: 'weak-or-ineffective-cough', answered: 'absent', used: 'present' }),
    );
  });
});

describe('fast breathing follows from a counted rate, by age', () => {
  test.each([
    ['adult 24', 40, 24, 'present'],
    ['adult 20', 40, 20, undefined],
    ['8 months, 55 (WHO: 50 or more)', 8 / 12, 55, 'present'],
    ['8 months, 45', 8 / 12, 45, undefined],
    ['3 years, 42 (WHO: 40 or more)', 3, 42, 'present'],
    ['9 years, 30 (common practice: above 25)', 9, 30, 'present'],
    ['9 years, 25', 9, 25, undefined],
    ['14 years, 24 (common practice: above 20)', 14, 24, 'present'],
    ['age unknown, 24: the alarm stands', undefined, 24, 'present'],
  ] as [string, number | undefined, number, Sign | undefined][])('%s', (_, ageYears, rate, expected) => {
    expect(signs({ ageYears, readings: { 'respiratory-rate': reading(rate, '/min') } })['fast-breathing']).toBe(
      expected,
    );
  });
});

describe('ventilation and oxygen', () => {
  const spo2 = (gas: Reading['gas']) => ({ spo2: reading(96, '%', { gas }) });
  test('on NIV: from a support in place, hours or a reading on it; not on NIV: asked, and none in place', () => {
    expect(signs({ supports: { 'night-ventilation': 'in-place' } })['already-on-niv']).toBe('present');
    expect(signs({ readings: { 'niv-hours': reading(9, 'h/d') } })['already-on-niv']).toBe('present');
    expect(signs({ readings: spo2('ventilation') })['already-on-niv']).toBe('present');
    for (const status of ['none', 'ordered', 'declined', 'not-tolerated'] as const)
      expect(signs({ supports: { 'night-ventilation': status } })['already-on-niv']).toBe('absent');
    expect(signs({})['already-on-niv']).toBeUndefined();
  });
  test('a tapped no beside NIV in place is pointed out, and the record is used', () => {
    const seen = visit({ supports: { 'night-ventilation': 'in-place' }, signs: { 'already-on-niv': 'absent' } });
    expect(contradictions(seen, measures)).toEqual([
      expect.objectContaining({ sign: 'already-on-niv', answered: 'absent', used: 'present' }),
    ]);
  });
  test('oxygen alone: breathed, and asked that nothing ventilates', () => {
    const alone = (parts: Partial<Visit>) => signs(parts)['daytime-oxygen-without-ventilation'];
    expect(alone({ readings: spo2('oxygen'), supports: { 'night-ventilation': 'none' } })).toBe('present');
    expect(alone({ readings: spo2('oxygen'), supports: { 'night-ventilation': 'declined' } })).toBe('present');
    expect(alone({ readings: { 'oxygen-flow': reading(2, 'L/min') }, signs: { 'already-on-niv': 'absent' } })).toBe(
      'present',
    );
    // Unknown is not normal: no ventilation is recorded.
    expect(alone({ readings: spo2('oxygen') })).toBe('present');
    expect(alone({ readings: spo2('oxygen'), supports: { 'night-ventilation': 'in-place' } })).toBeUndefined();
    // Ventilated at night, and asked: nothing ventilates by day.
    expect(
      alone({
        readings: spo2('oxygen'),
        supports: { 'night-ventilation': 'in-place', 'daytime-ventilation': 'none' },
      }),
    ).toBe('present');
  });
});

describe('breathing tests that are abnormal', () => {
  test('answer the question whether one is, and take back "all normal"', () => {
    const seen = visit({
      readings: { 'fvc-percent': reading(46, '%') },
      signs: { 'pulmonary-function-normal': 'present', orthopnoea: 'present' },
    });
    expect(result('nice-mnd-niv-trial-offer', seen)).toBe('met');
    expect(contradictions(seen, measures)).toContainEqual(
      expect.objectContaining({ sign: 'pulmonary-function-normal', answered: 'present', used: 'absent' }),
    );
  });
  test('the sniff line is that of the sex, and of nobody where the sex is unknown', () => {
    const abnormal = (sex: 'male' | 'female' | undefined, value: number) =>
      signs({ sex, readings: { snip: reading(value, 'cm[H2O]') } })['abnormal-respiratory-function-test'];
    expect(abnormal('male', 60)).toBe('present');
    expect(abnormal('female', 60)).toBeUndefined();
    expect(abnormal(undefined, 60)).toBeUndefined();
    expect(abnormal(undefined, 39)).toBe('present');
  });
});

describe('whoever it is', () => {
  test('the more serious of an answer and a reading is used', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const used = withImplied(someone, measures).visit.signs;
        for (const { sign, answered, implied, used: chosen } of contradictions(someone, measures)) {
          const measure = measures[sign];
          if (measure?.kind !== 'sign') throw new Error(sign);
          expect(chosen).toBe(used[sign] ?? chosen);
          if (measure.abnormal !== 'neither') {
            const serious = measure.abnormal === 'yes' ? 'present' : 'absent';
            expect([answered, implied.answer]).toContain(serious);
            expect(chosen).toBe(serious);
          }
        }
      }),
      { numRuns: 200 },
    );
  });
  test('what is implied twice is what was implied once', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const once = withImplied(someone, measures).visit;
        const results = (one: Visit) => evaluate(one, evidence).map(({ result: found }) => found);
        expect(results(once)).toEqual(results(someone));
      }),
      { numRuns: 40 },
    );
  });
});
