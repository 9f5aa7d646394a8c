/**
 * The handbook's data for people who build on it: each register as rows, with the JSON Schema that they fit. The schema is
 * made from the one that the content itself is checked with, so that the two cannot differ.
 */

import { Criterion } from '../../calculators/domain/criterion.ts';
import { Measure, type Measures } from '../../calculators/domain/measure.ts';
import { isoDate, slug, text, z } from '../../calculators/domain/schema.ts';
import { Source } from '../../calculators/domain/source.ts';
import { csv } from '../../calculators/exchange/csv.ts';
import { standings } from '../../calculators/standing.ts';

/** One number with its rule in short: what most programs need of a criterion. */
const Threshold = z.object({
  id: slug,
  decision: slug,
  support: text,
  disease: text,
  population: text,
  measure: slug,
  comparator: text,
  value: z.number(),
  unit: z.optional(text),
  /** it has further conditions: read the criterion */
  conditions: z.boolean(),
  urgency: text,
  source: slug,
  locator: text,
  standing: z.enum(standings),
  current: z.boolean(),
});

const withId = { id: slug };
export const schemas = {
  criteria: Criterion,
  measures: z.intersection(Measure, z.object(withId)),
  sources: z.extend(Source, withId),
  thresholds: Threshold,
} as const;
export type Register = keyof typeof schemas;
export const registerNames = Object.keys(schemas) as Register[];

export const licence = {
  name: 'MIT',
  note: 'The numbers are facts from the sources named beside them. The wording belongs to this project and is under its licence. When you use these data, name the version that you used. Findings come from comparing readings with published criteria. Findings are not a decision.',
};

export interface Edition {
  version: string;
  /** newest check date among the criteria */
  evidence: string;
}

/** What a file of a register holds. */
const File = z.strictObject({
  register: z.enum(registerNames),
  version: text,
  evidence: isoDate,
  licence: z.strictObject({ name: text, note: text }),
  schema: text,
  rows: z.array(z.looseObject(withId)),
});

export interface Evidence {
  criteria: readonly Criterion[];
  measures: Measures;
  sources: Record<string, unknown>;
  decisionOf: (support: Criterion['support']) => string | undefined;
}

type Row = { id: string } & Record<string, unknown>;

export function rowsOf(register: Register, { criteria, measures, sources, decisionOf }: Evidence): Row[] {
  switch (register) {
    case 'criteria':
      return [...criteria];
    case 'measures':
      return Object.entries(measures).map(([id, measure]) => ({ id, ...measure }));
    case 'sources':
      return Object.entries(sources).map(([id, source]) => ({ id, ...(source as object) }));
    case 'thresholds':
      return criteria.flatMap((row) =>
        typeof row.value !== 'number'
          ? []
          : [
              {
                id: row.id,
                decision: decisionOf(row.support) ?? row.support,
                support: row.support,
                disease: row.disease,
                population: row.population,
                measure: row.measure,
                comparator: row.comparator,
                value: row.value,
                ...(row.unit ? { unit: row.unit } : {}),
                conditions: row.alsoRequires.length > 0 || row.alternative !== undefined,
                urgency: row.urgency,
                source: row.source,
                locator: row.locator,
                standing: row.standing,
                current: row.status === 'current',
              },
            ],
      );
  }
}

export const registerJson = (register: Register, rows: readonly Row[], { version, evidence }: Edition): string =>
  `${JSON.stringify({ register, version, evidence, licence, schema: `registers.schema.json#/$defs/${register}`, rows }, null, 1)}\n`;

/** Every field of any row is a column; what is not a plain value is JSON in its cell. */
export function registerCsv(rows: readonly Row[]): string {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const cell = (value: unknown): string =>
    value === undefined ? '' : typeof value === 'object' ? JSON.stringify(value) : String(value);
  return `\ufeff${csv([columns, ...rows.map((row) => columns.map((column) => cell(row[column])))])}`;
}

/** One JSON Schema for all of them: a row of each under `$defs`, and the file itself. */
export function registersSchema({ version }: Edition): Record<string, unknown> {
  const plain = (schema: z.core.$ZodType): object => {
    const { $schema: _, ...rest } = z.toJSONSchema(schema, { target: 'draft-7', io: 'output', unrepresentable: 'any' });
    return rest;
  };
  return {
    $schema: 'http://json-schema.org/draft-07/schema#',
    $id: 'registers.schema.json',
    title: `Tidemark registers, version ${version}`,
    ...plain(File),
    $defs: Object.fromEntries(registerNames.map((name) => [name, plain(schemas[name])])),
  };
}
