/** The content files as the tests read them: through the same schemas as the site. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { parse } from 'yaml';
import { Criterion } from '../calculators/domain/criterion.ts';
import { Decision, type Decisions } from '../calculators/domain/decision.ts';
import { Disagreement } from '../calculators/domain/disagreement.ts';
import { Fact } from '../calculators/domain/fact.ts';
import { Measure, type Measures } from '../calculators/domain/measure.ts';
import { z } from '../calculators/domain/schema.ts';
import { Source } from '../calculators/domain/source.ts';
import { VisitSheetContent } from '../calculators/domain/visit-sheet.ts';
import type { Evidence } from '../calculators/evaluate/evaluate.ts';
import { schemaFaults } from '../calculators/exchange/schema-faults.ts';
import { Term } from '../calculators/learning/glossary.ts';
import type { WordData } from '../calculators/query/vocabulary.ts';
import type { Known } from '../calculators/query/word-files.ts';
import { headingsOf, readWords } from '../src/build/read-words.ts';

/** A row of a content file that does not fit its schema: one for each field. */
interface BadRow {
  file: string;
  /** its id, or its place where it has none */
  row: string;
  /** 'alsoRequires[0].unit'; empty where it is the row itself */
  field: string;
  reason: string;
}

interface Rows<T> {
  rows: [id: string, row: T][];
  bad: BadRow[];
}

/**
 * Reads the rows of one file. A bad row is left out and listed, so that one test names it and the others still run.
 *
 * @param text  YAML: a list of rows with an `id`, or rows by their id
 */
export function readRows<T>(file: string, text: string, schema: z.ZodMiniType<T>): Rows<T> {
  const whole = (reason: string): Rows<T> => ({ rows: [], bad: [{ file, row: 'the whole file', field: '', reason }] });
  let content: unknown;
  try {
    content = parse(text);
  } catch (error) {
    return whole(error instanceof Error ? error.message : String(error));
  }
  if (typeof content !== 'object' || content === null) return whole('expected a list of rows, or rows by their id');
  const rows: Rows<T>['rows'] = [];
  const bad: BadRow[] = [];
  for (const [key, row] of Object.entries(content)) {
    const id = Array.isArray(content) ? idOf(row, Number(key)) : key;
    const read = z.safeParse(schema, row);
    if (read.success) rows.push([id, read.data]);
    else
      for (const { path, message } of schemaFaults(read.error.issues, row, () => undefined))
        bad.push({ file, row: id, field: path, reason: message });
  }
  return { rows, bad };
}

const idOf = (row: unknown, place: number): string =>
  typeof row === 'object' && row !== null && 'id' in row && typeof row.id === 'string' ? row.id : `row ${place + 1}`;

const rowsOf = <T>(file: string, schema: z.ZodMiniType<T>): Rows<T> =>
  readRows(file, readFileSync(file, 'utf8'), schema);
const recordOf = <T>(file: string, schema: z.ZodMiniType<T>): Record<string, T> =>
  Object.fromEntries(rowsOf(file, schema).rows);

export const criteriaFiles = (): { source: string; file: string }[] =>
  globSync('content/criteria/*.yaml')
    .sort()
    .map((file) => ({ source: basename(file, '.yaml'), file }));

export const readCriteria = (): Criterion[] =>
  criteriaFiles().flatMap(({ file }) => rowsOf(file, Criterion).rows.map(([, row]) => row));
export const readMeasures = (): Measures => recordOf('content/measures.yaml', Measure);
export const readDecisions = (): Decisions => recordOf('content/decisions.yaml', Decision);
export const readSources = (): Record<string, Source> => recordOf('content/sources.yaml', Source);
export const readFacts = (): Record<string, Fact> => recordOf('content/facts.yaml', Fact);
export const readDisagreements = (): Record<string, Disagreement> =>
  recordOf('content/disagreements.yaml', Disagreement);
export const readGlossary = (): Record<string, Term> => recordOf('content/glossary.yaml', Term);

/** Every row that the readers above leave out. One test in `criteria.test.ts` expects none. */
export const badRows = (): BadRow[] => [
  ...criteriaFiles().flatMap(({ file }) => rowsOf(file, Criterion).bad),
  ...rowsOf('content/measures.yaml', Measure).bad,
  ...rowsOf('content/decisions.yaml', Decision).bad,
  ...rowsOf('content/sources.yaml', Source).bad,
  ...rowsOf('content/facts.yaml', Fact).bad,
  ...rowsOf('content/disagreements.yaml', Disagreement).bad,
  ...rowsOf('content/glossary.yaml', Term).bad,
];

export function readEvidence(): Evidence {
  const decisions = Object.entries(readDecisions());
  const bySupport = new Map(
    decisions.flatMap(([id, decision]) => decision.supports.map((support) => [support, id] as const)),
  );
  return { criteria: readCriteria(), measures: readMeasures(), decisionOf: (support) => bySupport.get(support) };
}

/** What a sentence from data names in braces, and what is left of it to read. */
export function partsOf(sentence: string): { marks: string[]; facts: string[]; plain: string } {
  const named = (kind: string) =>
    [...sentence.matchAll(/\{(criterion|fact):([a-z0-9-]+)\}/g)]
      .filter((hit) => hit[1] === kind)
      .map((hit) => hit[2] ?? '');
  return {
    marks: named('criterion'),
    facts: named('fact'),
    plain: sentence.replace(/\{(criterion|fact):[a-z0-9-]+\}/g, ''),
  };
}

/** Digits in a sentence other than those in the name of a measure or a gas. */
export const typedNumber = (sentence: string): boolean =>
  /\d/.test(sentence.replace(/\b(PaCO2|PCO2|CO2|SpO2|SaO2|FiO2|FEV1)\b/g, ''));

/** What the words of the search may name. */
export const wordsKnown = (): Known => ({
  measures: readEvidence().measures,
  decisions: new Set(Object.keys(readDecisions())),
  pages: new Map(
    globSync('content/handbook/**/*.mdx').map((file) => [
      file.replace('content/handbook', '').replace('.mdx', '/'),
      headingsOf(readFileSync(file, 'utf8')),
    ]),
  ),
});

/** The words that the search understands. */
export const readWordContent = (): WordData =>
  readWords(
    Object.fromEntries(
      globSync('content/words/*.yaml').map((file) => [basename(file, '.yaml'), readFileSync(file, 'utf8')]),
    ),
    wordsKnown(),
  );

export const readVisitSheet = (): VisitSheetContent =>
  VisitSheetContent.parse(parse(readFileSync('content/visit-sheet.yaml', 'utf8')));
