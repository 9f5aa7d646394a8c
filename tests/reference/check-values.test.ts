/**
 * Every row of the check file, one test a row, against our own functions.
 *
 * Rows are grouped by how well the expected value is known. A row that rests on memory proves the arithmetic and
 * not the medicine; a row counts as memory when any part of what it rests on does.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { answeredQuantities, evaluateQuantity } from './quantity-adapter.ts';

interface CheckRow {
  id: string;
  quantity: string;
  inputs: string;
  expected: string;
  unit: string;
  tolerance: string;
  source: string;
  how_known: string;
}

/** Fields with commas are quoted, and a quote inside them is doubled (RFC 4180). No field here spans lines. */
function cells(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^",]*))/g)].map(([, quoted, plain]) =>
    quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'),
  );
}

const [header = '', ...lines] = readFileSync('tests/reference/check-values.csv', 'utf8').trim().split(/\r?\n/);
const names = cells(header);
const rows = lines.map(
  (line) => Object.fromEntries(cells(line).map((cell, i) => [names[i] ?? `extra ${i}`, cell])) as unknown as CheckRow,
);

const standings = {
  'verified at a source': ({ how_known }: CheckRow) =>
    how_known.startsWith('verified') && !how_known.includes('memory'),
  'partly or wholly from memory: proves the arithmetic only': ({ how_known }: CheckRow) => how_known.includes('memory'),
  'arithmetic, a definition or a single source': ({ how_known }: CheckRow) =>
    !how_known.startsWith('verified') && !how_known.includes('memory'),
};

describe.each(Object.entries(standings))('check values, %s', (_, belongs) => {
  test.each(rows.filter(belongs).map((row) => [`${row.id} ${row.quantity} ${row.inputs}`, row] as const))(
    '%s',
    (_, row) => {
      const value = evaluateQuantity(row.quantity, JSON.parse(row.inputs));
      if (row.expected === 'reject') {
        expect(value).toBe('reject');
        return;
      }
      if (value === 'reject') throw new Error(`refused; ${row.expected} ${row.unit} expected`);
      const tolerance = Number(row.tolerance);
      expect(tolerance).toBeGreaterThan(0);
      expect(
        Math.abs(value - Number(row.expected)),
        `${value} against ${row.expected} ${row.unit}`,
      ).toBeLessThanOrEqual(tolerance);
    },
  );
});

describe('the check file as a whole', () => {
  test('each row is read whole: eight cells, an expected value or a refusal, inputs that are an object', () => {
    expect(rows.length).toBeGreaterThan(200);
    for (const row of rows) {
      expect(Object.keys(row), row.id).toEqual(names);
      expect(row.expected === 'reject' || Number.isFinite(Number(row.expected || 'nothing')), row.id).toBe(true);
      expect(typeof JSON.parse(row.inputs), row.id).toBe('object');
    }
  });

  test('each row belongs to exactly one standing', () => {
    for (const row of rows) expect(Object.values(standings).filter((belongs) => belongs(row)).length, row.id).toBe(1);
  });

  test('every quantity in it is answered', () => {
    const unanswered = [...new Set(rows.map(({ quantity }) => quantity))].filter(
      (quantity) => !answeredQuantities.includes(quantity),
    );
    if (unanswered.length > 0) console.log(`Not answered: ${unanswered.join(', ')}`);
    expect(unanswered).toEqual([]);
  });
});
