/** Lists of criteria: equal statements once, with every source under them, and the closed row says for whom. */
import { describe, expect, test } from 'vitest';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import { type Disease, diseases } from '../../calculators/domain/diseases.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { type CriteriaLine, criteriaLines, highestFirst } from '../../src/components/criteria-lines.ts';
import { readDecisions, readEvidence } from '../read-content.ts';

const evidence = readEvidence();
const { criteria, measures } = evidence;
const purposes: Record<string, string> = Object.assign(
  {},
  ...Object.values(readDecisions()).map((one) => one.purposes),
);
const lists = [...Map.groupBy(criteria, ({ measure }) => measure)].map(([measure, rows]) => ({
  measure,
  rows,
  lines: criteriaLines(rows, measures, purposes),
}));
const rowsIn = ({ groups }: CriteriaLine) => groups.flatMap(({ rows }) => rows);

test('no criterion is lost and none is said twice', () => {
  for (const { rows, lines } of lists)
    expect(
      lines
        .flatMap(rowsIn)
        .map(({ id }) => id)
        .sort(),
    ).toEqual(rows.map(({ id }) => id).sort());
});

test('equal statements are one line: a rule is said again only for payers and in acute illness', () => {
  for (const { lines } of lists) {
    const keys = lines.map((line) => {
      const [first] = rowsIn(line);
      return [line.rule, ...line.also, first?.use === 'coverage' ? 'payer' : '', first?.acute ? 'acute' : ''].join('|');
    });
    expect(keys.filter((key, at) => keys.indexOf(key) !== at)).toEqual([]);
  }
  const { lines = [] } = lists.find(({ measure }) => measure === 'fvc-percent') ?? {};
  const half = lines.filter(({ rule, also }) => /^FVC below 50.%/.test(rule) && also.length === 0);
  // For slow disease, in acute illness, and for a payer.
  expect(half).toHaveLength(3);
  expect(half.flatMap(rowsIn).length).toBeGreaterThanOrEqual(7);
});

test('the closed row names the disease and the age of each criterion', () => {
  for (const { lines } of lists)
    for (const { groups } of lines)
      for (const { who, rows } of groups)
        for (const { disease, population, sex } of rows) {
          expect(who).toContain(disease === 'any' ? 'any ' : diseaseShort[disease]);
          if (population === 'child') expect(who).toContain('children');
          if (population === 'adult' && !sex) expect(who).toContain('adults');
        }
});

test('no two lines of a group look alike', () => {
  for (const { lines } of lists)
    for (const { groups } of lines) {
      const keys = groups.map(({ who, rows }) =>
        [who, ...rows.map(({ source, standing }) => source + standing)].join(),
      );
      expect(keys.filter((key, at) => keys.indexOf(key) !== at)).toEqual([]);
    }
});

test('a payer\u2019s rule and a caution never read as a reason to start', () => {
  const words = lists.flatMap(({ lines }) => lines.flatMap(({ groups }) => groups));
  const of = (use: string) => words.filter(({ rows }) => rows[0]?.use === use).map(({ who }) => who);
  expect(of('coverage').length).toBeGreaterThan(0);
  expect(of('coverage').filter((who) => !who.includes('payer rule'))).toEqual([]);
  expect(of('caution').length).toBeGreaterThan(0);
  expect(of('caution').filter((who) => !who.includes('caution'))).toEqual([]);
});

test('the highest threshold is first, whatever unit its source has', () => {
  const rows = highestFirst(criteria.filter(({ measure }) => measure === 'paco2'));
  const numbers = rows.filter(({ value }) => typeof value === 'number');
  const inKpa = numbers.map(({ value, unit }) => Number(value) * (unit === 'kPa' ? 1 : 0.133322));
  expect(inKpa.length).toBeGreaterThan(2);
  for (const [at, value] of inKpa.entries()) if (at > 0) expect(value).toBeLessThanOrEqual((inKpa[at - 1] ?? 0) + 1e-6);
});

describe('narrowed to a disease, a list holds what the evaluator shows in it', () => {
  test.each(diseases)('%s', (disease: Disease) => {
    const shown = new Set(criteriaFor({ disease }, evidence, { measure: 'fvc-percent' }).map(({ id }) => id));
    const named = criteria.filter((row) => row.measure === 'fvc-percent' && row.disease === disease && !row.sex);
    expect(named.filter(({ id, notFor }) => !notFor && !shown.has(id))).toEqual([]);
  });
});

test('a caution is about a thing and never about an instruction', () => {
  const cautions = lists
    .flatMap(({ lines }) => lines)
    .flatMap(({ groups }) => groups)
    .flatMap(({ who }) => (who.includes('caution about') ? [who] : []));
  expect(cautions.length).toBeGreaterThan(0);
  expect(
    cautions.filter((who) => /caution about (start|refer|prepare|test|call|ease|emergency|cough machine)\b/.test(who)),
  ).toEqual([]);
});
