/** What cannot be true together is said in one list, each with the fields to look at. */
import { describe, expect, test } from 'vitest';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { disagreements } from '../../../calculators/evaluate/disagree.ts';
import { readDecisions, readMeasures } from '../../read-content.ts';

const measures = readMeasures();
const decisions = readDecisions();
const said = (given: Partial<Visit>) =>
  disagreements({ readings: {}, signs: {}, ...given }, measures, decisions).map(({ words, fields }) => ({
    words: words.replaceAll('\u00a0', ' '),
    fields,
  }));
const hours = (value: number) => ({ 'niv-hours': { value, unit: 'h/d' } }) as const;

describe('ventilation', () => {
  test('none, but 14 hours a day', () => {
    expect(said({ supports: { 'night-ventilation': 'none' }, readings: hours(14) })).toEqual([
      { words: 'Night NIV: none, but 14 h/day on the ventilator.', fields: ['support:night-ventilation', 'niv-hours'] },
    ]);
  });
  test('none, but a saturation taken on it', () => {
    const [one] = said({
      supports: { 'night-ventilation': 'none', 'daytime-ventilation': 'declined' },
      readings: { spo2: { value: 95, unit: '%', gas: 'ventilation' } },
    });
    expect(one?.words).toBe('Night NIV: none; Daytime ventilation: declined, but 95 % was taken on a ventilator.');
    expect(one?.fields).toEqual(['support:night-ventilation', 'support:daytime-ventilation', 'spo2']);
  });
  test('in place with hours, or never asked about, disagrees with nothing', () => {
    expect(said({ supports: { 'night-ventilation': 'in-place' }, readings: hours(14) })).toEqual([]);
    expect(said({ readings: hours(14) })).toEqual([]);
    expect(said({ supports: { 'night-ventilation': 'none' }, readings: hours(0) })).toEqual([]);
  });
});

describe('wishes', () => {
  test('no ventilation, but it is in place', () => {
    const [one] = said({ wishes: ['no-ventilation'], supports: { 'night-ventilation': 'in-place' } });
    expect(one?.words).toMatch(/^Does not want ventilation, but Night NIV is in place\. Ask again/);
    expect(one?.fields).toEqual(['wishes', 'support:night-ventilation']);
  });
  test('everything and comfort only; not talked about and something', () => {
    expect(said({ wishes: ['everything', 'comfort-only'] }).map(({ words }) => words)).toEqual([
      'Wishes: both \u201cWants all support that can help\u201d and \u201cWants comfort only\u201d.',
    ]);
    expect(said({ wishes: ['not-discussed', 'no-hospital'] }).length).toBe(1);
    expect(said({ wishes: ['no-hospital', 'no-invasive-ventilation'] })).toEqual([]);
  });
});

describe('readings', () => {
  test('room air beside oxygen that runs', () => {
    const spo2 = { value: 96, unit: '%', gas: 'air' } as const;
    const flow = { 'oxygen-flow': { value: 2, unit: 'L/min' } } as const;
    expect(said({ readings: { spo2, ...flow } })[0]?.fields).toEqual(['spo2', 'oxygen-flow']);
    expect(said({ readings: { spo2: { ...spo2, gas: 'oxygen' }, ...flow } })).toEqual([]);
  });
  test('a lowest above its mean, in the same or in another unit; equal is no contradiction', () => {
    const night = (lowest: number, mean: number) => ({
      'nocturnal-spo2-lowest': { value: lowest, unit: '%' as const },
      'nocturnal-spo2-mean': { value: mean, unit: '%' as const },
    });
    expect(said({ readings: night(95, 92) })[0]?.words).toBe(
      'Lowest SpO2 asleep 95 % is more than mean SpO2 asleep 92 %.',
    );
    expect(said({ readings: night(92, 92) })).toEqual([]);
    const minutes = { 'nocturnal-minutes-spo2-at-or-below-88': { value: 400, unit: 'min' as const } };
    expect(said({ readings: { ...minutes, 'recording-hours': { value: 6, unit: 'h' } } }).length).toBe(1);
    expect(said({ readings: { ...minutes, 'recording-hours': { value: 7, unit: 'h' } } })).toEqual([]);
  });
  test('an answer against a reading stands in the same list, with both fields', () => {
    const [one] = said({
      readings: { paco2: { value: 9.3, unit: 'kPa', method: 'arterial' } },
      signs: { hypercapnia: 'absent' },
    });
    expect(one?.words).toContain('Answered: CO2 is not raised.');
    expect(one?.fields).toEqual(['hypercapnia', 'paco2']);
  });
});
