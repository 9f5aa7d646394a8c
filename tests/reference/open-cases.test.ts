/**
 * Cases A to F, through the adapter. Their expectations were written on 2026-11-25 from the
 * sources' words. Each row carries its own standing: where a row is from memory, a pass proves the logic, not the medicine.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { readCriteria } from '../read-content.ts';
import { type CaseResult, evaluateCase } from './case-adapter.ts';

interface OpenCase {
  case: string;
  title: string;
  inputs: object;
  expected: { met?: string[]; not_met?: string[]; unknown?: string[]; out_of_scope?: string[]; show_first?: string[] };
}

const cases: OpenCase[] = parse(readFileSync('tests/reference/open-cases.yaml', 'utf8'));
const standing = new Map(readCriteria().map((criterion) => [criterion.id, criterion.standing]));
const words: [keyof OpenCase['expected'], CaseResult][] = [
  ['met', 'met'],
  ['not_met', 'not-met'],
  ['unknown', 'unknown'],
  ['out_of_scope', 'out-of-scope'],
];

describe.each(cases)('$title', ({ inputs, expected }) => {
  const results = evaluateCase(inputs);
  const rows = words.flatMap(([key, result]) =>
    (expected[key] ?? []).map((id) => [id, result, standing.get(id) ?? 'no such row'] as const),
  );
  test.each(rows)('%s is %s (%s)', (id, result) => {
    expect(results[id]).toBe(result);
  });
});

test('rows that only inform are left out of the results', () => {
  const results = evaluateCase({ disease: 'als', age_years: 60 });
  expect(results).not.toHaveProperty('nice-mnd-tests-every-2-3-months');
  expect(results).not.toHaveProperty('bts-air-travel-cabin-2438-m');
});
