import { expect, test } from 'vitest';
import { countByDisease } from '../../src/evidence/criteria-by-disease.ts';
import { readDecisions, readEvidence } from '../read-content.ts';

const { criteria, decisionOf } = readEvidence();
const ids = Object.keys(readDecisions());
const rows = countByDisease(criteria, decisionOf, ids);
const rowOf = (disease: string) => rows.find((row) => row.disease === disease);

test('the ledger counts every criterion once: its cells add up to the data', () => {
  expect(criteria.length).toBeGreaterThan(200);
  expect(rows.reduce((sum, { all }) => sum + all, 0)).toBe(criteria.length);
  for (const { disease, counts, all } of rows)
    expect(
      Object.values(counts).reduce((sum, count) => sum + count, 0),
      disease,
    ).toBe(all);
});

test('each cell is the number of criteria that name the disease and belong to the decision, counted one by one', () => {
  const counted = new Map<string, number>();
  for (const { disease, support } of criteria) {
    const cell = `${disease === 'other-chronic' ? 'any' : disease} ${decisionOf(support)}`;
    counted.set(cell, (counted.get(cell) ?? 0) + 1);
  }
  for (const { disease, counts } of rows)
    for (const id of ids) expect(counts[id], `${disease} ${id}`).toBe(counted.get(`${disease} ${id}`) ?? 0);
  expect([...counted.keys()].filter((cell) => cell.endsWith(' undefined'))).toEqual([]);
});

test('a decision is named as empty where its cell is nothing, and nowhere else', () => {
  for (const { without, counts } of rows) expect(without).toEqual(ids.filter((id) => counts[id] === 0));
  expect(rowOf('als')?.counts['night-ventilation']).toBeGreaterThan(5);
  expect(rowOf('als')?.without).not.toContain('night-ventilation');
});

test('a row that is added is counted, in its own cell and in no other', () => {
  const first = criteria.find(({ disease }) => disease === 'als');
  if (!first) throw new Error('no criterion names ALS');
  const more = countByDisease([...criteria, { ...first, id: 'one-more', disease: 'post-polio' }], decisionOf, ids);
  const changed = more.flatMap(({ disease, counts }) =>
    ids.filter((id) => counts[id] !== rowOf(disease)?.counts[id]).map((id) => `${disease} ${id}`),
  );
  expect(changed).toEqual([`post-polio ${decisionOf(first.support)}`]);
});
