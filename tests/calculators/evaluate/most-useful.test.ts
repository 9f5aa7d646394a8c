/** What is most useful to measure or ask next. */
import { describe, expect, test } from 'vitest';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { workedOutFrom, worthMeasuring } from '../../../calculators/evaluate/most-useful.ts';
import { readEvidence } from '../../read-content.ts';

const evidence = readEvidence();
const { measures } = evidence;
const visit = (given: Partial<Visit>): Visit => ({ readings: {}, signs: {}, ...given });
const useful = (given: Partial<Visit>) => worthMeasuring(evaluate(visit(given), evidence), visit(given), measures);
const ids = (given: Partial<Visit>) => useful(given).map(({ measure }) => measure);
const people = [
  { disease: 'als', ageYears: 61, sex: 'female' },
  { disease: 'dmd', ageYears: 19, sex: 'male' },
  { disease: 'sma', ageYears: 9 },
  { disease: 'gbs', ageYears: 44 },
  { disease: 'mg', ageYears: 50 },
  { disease: 'fshd', ageYears: 50 },
  {},
] as const;
const order = ['emergency', 'same-day', 'within-1-week', 'routine'];

test('urgency goes first, then the number of findings', () => {
  for (const who of people) {
    const found = useful(who);
    expect(found.length).toBeGreaterThan(3);
    const places = found.map(({ urgency, count }) => order.indexOf(urgency) * 1000 - count);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  }
});

test('nobody is sent to measure what is worked out from other readings', () => {
  for (const who of people)
    for (const id of ids(who)) {
      const measure = measures[id];
      expect([id, workedOutFrom[id]]).toEqual([id, undefined]);
      expect([id, measure?.kind === 'number' && measure.readFrom?.rule === 'greatest']).toEqual([id, false]);
    }
  expect(ids({ disease: 'gbs', ageYears: 44, readings: { 'vc-litres': { value: 2, unit: 'L' } } })).toContain('weight');
});

test('whatever the sheet works out is among what nobody is sent to measure, or can be typed by itself', () => {
  const litres = { value: 2, unit: 'L' } as const;
  const kilograms = { value: 70, unit: 'kg' } as const;
  const whole = derive(
    visit({
      ageYears: 50,
      sex: 'male',
      heightCm: 175,
      readings: {
        'vc-litres': litres,
        'vc-litres-supine': litres,
        weight: kilograms,
        'usual-weight': { ...kilograms, value: 80 },
      },
    }),
    { set: 'gli-2022-global' },
  );
  const worked = Object.entries(whole.readings).flatMap(([id, { from }]) => (from ? [id] : []));
  expect(worked.filter((id) => !workedOutFrom[id]).sort()).toEqual(['fvc-percent', 'fvc-supine-percent']);
});

describe('what a sign of today forbids', () => {
  const weak = { 'bulbar-dysfunction': 'present', 'severe-bulbar-impairment': 'present' } as const;
  test('no mouth pressure is asked for where lips cannot seal; a sniff still is', () => {
    expect(ids({ disease: 'als', ageYears: 61 })).toEqual(expect.arrayContaining(['mip', 'snip']));
    const asked = ids({ disease: 'als', ageYears: 61, signs: weak });
    expect(asked).not.toContain('mip');
    expect(asked).not.toContain('mep');
    expect(asked).toContain('snip');
  });
});

test('what was not done today, or cannot be asked on this sheet, is not asked for again', () => {
  const who = { disease: 'als', ageYears: 61 } as const;
  expect(ids({ ...who, notDone: { snip: 'nose blocked' } })).not.toContain('snip');
  const only = worthMeasuring(evaluate(visit(who), evidence), visit(who), measures, (id) => id === 'spo2');
  expect(only.filter(({ measure }) => measures[measure]?.kind === 'number').map(({ measure }) => measure)).toEqual([
    'spo2',
  ]);
});

test('a payer asks for nothing, and does not add to what decides', () => {
  for (const who of people) {
    const findings = evaluate(visit(who), evidence);
    const need = findings.filter(({ criterion }) => criterion.use !== 'coverage');
    expect(worthMeasuring(findings, visit(who), measures)).toEqual(worthMeasuring(need, visit(who), measures));
  }
  const payer = evaluate(visit({ disease: 'als', ageYears: 61 }), evidence).filter(
    ({ criterion }) => criterion.use === 'coverage',
  );
  expect(payer.length).toBeGreaterThan(0);
  expect(worthMeasuring(payer, visit({}), measures)).toEqual([]);
});
