/** When a part of the sheet is done, and the line that stands for it. */
import { describe, expect, test } from 'vitest';
import { type Entries, noEntries, toVisit } from '../../src/islands/visit/entries.ts';
import { entriesOf, keepVisit } from '../../src/islands/visit/kept.ts';
import { isAnswered, isDone, summaryOfPart } from '../../src/islands/visit/part-state.ts';
import { readDecisions, readMeasures } from '../read-content.ts';

const measures = readMeasures();
const decisions = readDecisions();
const entries = (given: Partial<Entries>): Entries => ({ ...noEntries(), date: '2026-11-29', ...given });
const part = (short: string[], ticks: string[] = []) => ({ short, ticks, rest: [] });
const spo2 = (text: string, gas?: 'air') => ({
  readings: { spo2: { text, unit: '%' as const, ...(gas ? { gas } : {}) } },
});

describe('a part is done', () => {
  test('when each of its fields has an answer, and not before', () => {
    const asked = part(['respiratory-infection', 'support:night-ventilation']);
    expect(isDone(asked, entries({ signs: { 'respiratory-infection': 'absent' } }), measures)).toBe(false);
    const all = { signs: { 'respiratory-infection': 'absent' }, supports: { 'night-ventilation': 'none' } } as const;
    expect(isDone(asked, entries(all), measures)).toBe(true);
  });
  test('a number without what was breathed, or beyond belief, is no answer yet; not done is one', () => {
    expect(isAnswered('spo2', entries(spo2('93')), measures)).toBe(false);
    expect(isAnswered('spo2', entries(spo2('930', 'air')), measures)).toBe(false);
    expect(isAnswered('spo2', entries(spo2('93', 'air')), measures)).toBe(true);
    expect(isAnswered('spo2', entries({ notDone: { spo2: 'declined' } }), measures)).toBe(true);
  });
  test('ticks alone leave a list open; with none of the others it is done', () => {
    const asked = part([], ['orthopnoea', 'fatigue']);
    expect(isDone(asked, entries({ signs: { orthopnoea: 'present' } }), measures)).toBe(false);
    expect(isDone(asked, entries({ signs: { orthopnoea: 'present', fatigue: 'absent' } }), measures)).toBe(true);
  });
  test('nobody has to write who answers, or a remark; wishes count', () => {
    expect(isDone(part(['answers', 'wishes']), entries({}), measures)).toBe(false);
    expect(isDone(part(['answers', 'wishes']), entries({ wishes: ['not-discussed'] }), measures)).toBe(true);
    expect(isDone(part(['remark']), entries({}), measures)).toBe(true);
  });
});

describe('the line of a closed part', () => {
  test('has readings with what was breathed, what is there, supports and a count of noes', () => {
    const given = entries({
      ...spo2('95', 'air'),
      signs: { orthopnoea: 'present', fatigue: 'absent', nightmares: 'absent' },
      supports: { 'night-ventilation': 'in-place' },
      supportTimes: { 'night-ventilation': { hours: '9' } },
      notDone: { snip: 'nose blocked' },
    });
    const ids = ['spo2', 'orthopnoea', 'fatigue', 'nightmares', 'support:night-ventilation', 'snip'];
    expect(summaryOfPart(ids, given, measures, decisions)).toBe(
      'SpO2 95 % on room air; orthopnoea; Night NIV: in place, 9 h; SNIP not done. 2 answered no',
    );
    expect(summaryOfPart(ids, entries({}), measures, decisions)).toBe('');
  });
});

describe('what no criterion is about', () => {
  const typed = entries({ choices: { 'ventilator-mode': 'volume-assured' }, remark: 'New mask since May.' });
  test('is kept in a file and comes back as it was', () => {
    const back = entriesOf(keepVisit({}, typed));
    expect([back.choices, back.remark, back.readings]).toEqual([typed.choices, typed.remark, {}]);
  });
  test('is part of the visit, and no reading', () => {
    const visit = toVisit({}, typed, measures);
    expect([visit.choices, visit.remark, visit.readings]).toEqual([typed.choices, typed.remark, {}]);
  });
  test('a count on one breath is a number, and no choice', () => {
    const counted = entries({ readings: { 'single-breath-count': { text: '12', unit: '{count}' } } });
    expect(entriesOf(keepVisit({}, counted)).readings).toEqual(counted.readings);
  });
});
