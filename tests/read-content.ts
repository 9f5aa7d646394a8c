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
import type { Evidence } from '../calculators/evaluate/evaluate.ts';
import { Term } from '../calculators/learning/glossary.ts';

const readYaml = (file: string): unknown => parse(readFileSync(file, 'utf8'));

export const criteriaFiles = (): { source: string; file: string }[] =>
  globSync('content/criteria/*.yaml')
    .sort()
    .map((file) => ({ source: basename(file, '.yaml'), file }));

/** A row that does not fit is named, with its file: the schema alone would give its place in the list. */
export const readCriteria = (): Criterion[] =>
  criteriaFiles().flatMap(({ file }) =>
    (readYaml(file) as { id?: string }[]).map((row) => {
      const read = z.safeParse(Criterion, row);
      if (!read.success)
        throw new Error(
          `${file}, ${row.id}: ${read.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`).join('; ')}`,
        );
      return read.data;
    }),
  );
export const readMeasures = (): Measures => z.record(z.string(), Measure).parse(readYaml('content/measures.yaml'));
export const readDecisions = (): Decisions => z.record(z.string(), Decision).parse(readYaml('content/decisions.yaml'));
export const readSources = (): Record<string, Source> =>
  z.record(z.string(), Source).parse(readYaml('content/sources.yaml'));
export const readFacts = (): Record<string, Fact> => z.record(z.string(), Fact).parse(readYaml('content/facts.yaml'));
export const readDisagreements = (): Record<string, Disagreement> =>
  z.record(z.string(), Disagreement).parse(readYaml('content/disagreements.yaml'));
export const readGlossary = (): Record<string, Term> =>
  z.record(z.string(), Term).parse(readYaml('content/glossary.yaml'));

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
    [...sentence.matchAll(/\{(mark|fact):([a-z0-9-]+)\}/g)].filter((hit) => hit[1] === kind).map((hit) => hit[2] ?? '');
  return {
    marks: named('mark'),
    facts: named('fact'),
    plain: sentence.replace(/\{(mark|fact):[a-z0-9-]+\}/g, ''),
  };
}

/** Digits in a sentence other than those in the name of a measure or a gas. */
export const typedNumber = (sentence: string): boolean =>
  /\d/.test(sentence.replace(/\b(PaCO2|PCO2|CO2|SpO2|SaO2|FiO2|FEV1)\b/g, ''));
