/** A value asleep is never compared as if it were awake; the criteria of the night are shown with what they need. */
import { describe, expect, test } from 'vitest';
import { percentBy } from '../../../calculators/evaluate/derive.ts';
import { answerTo } from '../../../calculators/query/answer.ts';
import { decisions, evidence } from '../evaluate/setup.ts';
import { read } from './lines.ts';

function answer(line: string) {
  const query = read(line);
  if (query?.kind !== 'visit') throw new Error(`"${line}" is read as ${JSON.stringify(query)}`);
  return { query, answer: answerTo(query, {}, evidence, decisions, percentBy({ set: 'gli-2022-global' })) };
}
const shown = (line: string): string[] => {
  const { onlyIf, folded } = answer(line).answer;
  return [
    ...onlyIf.flatMap(({ statements }) => statements.flatMap(({ findings }) => findings)),
    ...folded.unchecked,
  ].map(({ criterion }) => criterion.measure);
};

describe('carbon dioxide asleep', () => {
  test('shows the share of the night above 50 mmHg, and what is missing for it', () => {
    const { onlyIf, emergency, sameDay, met } = answer('tcco2 56 asleep dmd 19').answer;
    expect([emergency, sameDay, met].flat()).toEqual([]);
    expect(onlyIf.flatMap(({ missing }) => missing)).toContain('sleep-time-percent-co2-above-50');
  });
  test('shows the rows of the named disease too, marked as not yet checked', () => {
    const rows = answer('tcco2 52 asleep dmd 14').answer.folded.unchecked.map(({ criterion }) => criterion.id);
    expect(rows).toEqual(expect.arrayContaining(['dmd2018-sleep-co2-rise-10-for-2-percent']));
    expect(rows.some((id) => id.startsWith('dmd2018-') && /50/.test(id))).toBe(true);
  });
  test('below 50 mmHg needs the rise over awake, not the share above 50', () => {
    expect(shown('tcco2 46 asleep als')).not.toContain('sleep-time-percent-co2-above-50');
    expect(shown('tcco2 46 asleep als')).not.toContain('sleep-minutes-co2-above-55');
  });
  test('in kPa counts by the same thresholds', () => {
    const needs = (line: string) => answer(line).query.asleep?.[0]?.needs ?? [];
    expect(needs('tcco2 7.5 kpa asleep')).toContain('sleep-minutes-co2-above-55');
    expect(needs('tcco2 6.8 kpa asleep')).not.toContain('sleep-minutes-co2-above-55');
  });
});

describe('a saturation asleep', () => {
  test('is no emergency by itself, and the time spent low is asked for', () => {
    const { emergency, onlyIf } = answer('als spo2 84 asleep').answer;
    expect(emergency).toEqual([]);
    expect(onlyIf.flatMap(({ missing }) => missing)).toContain('nocturnal-time-spo2-below-90-percent');
  });
  test('of 95 asks for nothing', () => expect(shown('als spo2 95 asleep')).toEqual([]));
  test('beside one awake leaves the one awake as it is', () => {
    const { answer: one } = answer('als sats 84 awake 80 asleep on air');
    expect(one.emergency.flatMap(({ findings }) => findings).length).toBeGreaterThan(0);
  });
});
