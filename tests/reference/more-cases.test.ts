/**
 * More invented people, through the same adapter as the open cases. Each group of expectations says why, in the source's
 * sense; the flags and the order of alarms are held as well.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { urgentFindings } from '../../calculators/evaluate/group.ts';
import { readCriteria, readDecisions, readMeasures } from '../read-content.ts';
import { type CaseResult, caseNames, evaluateCase, findingsOf } from './case-adapter.ts';

const groups = ['met', 'not_met', 'unknown', 'out_of_scope', 'show_first', 'flagged'] as const;
type Group = (typeof groups)[number];

interface Case {
  case: number;
  title: string;
  story: string;
  inputs: Record<string, unknown>;
  expected: Partial<Record<Group, string[]>>;
  because: Partial<Record<Group, string>>;
}

const cases: Case[] = parse(readFileSync('tests/reference/more-cases.yaml', 'utf8'));
const decisions = readDecisions();
const standing = new Map(readCriteria().map((criterion) => [criterion.id, criterion.standing]));
const results: [Group, CaseResult][] = [
  ['met', 'met'],
  ['not_met', 'not-met'],
  ['unknown', 'unknown'],
  ['out_of_scope', 'out-of-scope'],
];

describe.each(cases)('$title', ({ inputs, expected }) => {
  const found = evaluateCase(inputs);
  const rows = results.flatMap(([group, result]) =>
    (expected[group] ?? []).map((id) => [id, result, standing.get(id) ?? 'no such row'] as const),
  );
  test.each(rows)('%s is %s (%s)', (id, result) => {
    expect(found[id]).toBe(result);
  });

  test('urgent findings are shown first, emergencies before same-day calls', () => {
    const raised = urgentFindings(findingsOf(inputs), decisions).map(({ criterion }) => criterion);
    expect(raised.map(({ id }) => id)).toEqual(expect.arrayContaining(expected.show_first ?? []));
    const urgencies = raised.map(({ urgency }) => urgency);
    expect(urgencies).toEqual([...urgencies].sort());
    // An emergency is never folded away because its source was not opened.
    expect(raised.filter(({ standing, urgency }) => standing === 'from-memory' && urgency !== 'emergency')).toEqual([]);
  });

  test('a flagged reading flags every finding that rests on it', () => {
    const flagged = findingsOf(inputs).filter(({ flags }) => flags.length > 0);
    expect(flagged.map(({ criterion }) => criterion.id)).toEqual(expect.arrayContaining(expected.flagged ?? []));
    if (!Object.keys(inputs).some((key) => key.endsWith('-quality'))) expect(flagged).toEqual([]);
  });
});

describe('the cases themselves', () => {
  test('there are at least 34, each with its own number', () => {
    expect(cases.length).toBeGreaterThanOrEqual(34);
    expect(new Set(cases.map((one) => one.case)).size).toBe(cases.length);
  });

  test('every group of expectations says why', () => {
    const silent = cases.flatMap(({ title, expected, because }) =>
      groups
        .filter((group) => Boolean(expected[group]) !== Boolean(because[group]))
        .map((group) => `${title}: ${group}`),
    );
    expect(silent).toEqual([]);
  });

  test('every input is a word of the cases or of our own measures, so that none is silently dropped', () => {
    const measures = readMeasures();
    const known = new Set([...caseNames, ...Object.keys(measures), 'disease', 'age_years', 'sex', 'on-room-air']);
    const unknown = cases.flatMap(({ title, inputs }) =>
      Object.keys(inputs)
        .filter((key) => !known.has(key) && !key.endsWith('-quality'))
        .map((key) => `${title}: ${key}`),
    );
    expect(unknown).toEqual([]);
  });
});
