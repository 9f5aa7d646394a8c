/** The evidence as the pages use it: read once through the content gate, with its cross references resolved. */
import { getCollection } from 'astro:content';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { Decision, Decisions } from '../../calculators/domain/decision.ts';
import type { Fact } from '../../calculators/domain/fact.ts';
import type { Measure, Measures } from '../../calculators/domain/measure.ts';
import type { Source } from '../../calculators/domain/source.ts';
import type { VisitSheetContent } from '../../calculators/domain/visit-sheet.ts';
import type { Evidence } from '../../calculators/evaluate/evaluate.ts';
import { calculators } from '../../calculators/index.ts';
import type { Term } from '../../calculators/learning/glossary.ts';
import type { Calculations, CalculationWords } from '../../calculators/query/calculation-words.ts';
import { overdue } from './checks-due.ts';

type Named<T> = Record<string, T>;

const read = async <T>(
  name: 'calculations' | 'measures' | 'decisions' | 'sources' | 'facts' | 'glossary',
): Promise<Named<T>> => Object.fromEntries((await getCollection(name)).map((entry) => [entry.id, entry.data as T]));

/** As it is written: a collection comes in the order of its ids. */
const readInOrder = async <T>(name: 'measures'): Promise<Named<T>> => {
  const [written] = await getCollection('order');
  const all = await read<T>(name);
  return Object.fromEntries((written?.data[name] ?? []).map((id) => [id, need(all, id, `${name}.yaml`)]));
};

export const criteria: Criterion[] = (await getCollection('criteria')).map((entry) => entry.data as Criterion);
export const measures: Measures = await readInOrder<Measure>('measures');
export const decisions: Decisions = await read<Decision>('decisions');
export const sources = await read<Source>('sources');
export const facts = await read<Fact>('facts');
/** The words by which a typed line asks for a calculation, by the calculator's id. */
export const calculations: Calculations = await read<CalculationWords>('calculations');
export const glossary = await read<Term>('glossary');

/** What the visit sheet asks of whom. */
export const visitSheet = need(
  Object.fromEntries((await getCollection('sheet')).map((entry) => [entry.id, entry.data as VisitSheetContent])),
  'visit-sheet',
  'visit-sheet.yaml',
);

for (const { id, source, measure } of criteria) {
  if (!sources[source])
    throw new Error(`content/criteria/${source}.yaml, ${id}.source: no source "${source}" in content/sources.yaml`);
  if (!measures[measure])
    throw new Error(`content/criteria/${source}.yaml, ${id}.measure: no measure "${measure}" in content/measures.yaml`);
}

for (const [id, { numbers, choices, follows }] of Object.entries(calculations)) {
  const fields = calculators[id]?.fields;
  if (!fields) throw new Error(`content/calculations.yaml: no calculator "${id}" in calculators/register.ts`);
  for (const name of [...Object.keys(numbers), ...Object.keys(choices)])
    if (!fields[name]) throw new Error(`content/calculations.yaml, ${id}: the calculator has no field "${name}"`);
  for (const name of [...Object.values(numbers).flatMap(({ reading = [] }) => reading), ...(follows?.readings ?? [])])
    if (!measures[name])
      throw new Error(`content/calculations.yaml, ${id}: no measure "${name}" in content/measures.yaml`);
}

const decisionBySupport = new Map(
  Object.entries(decisions).flatMap(([id, decision]) => decision.supports.map((support) => [support, id] as const)),
);

/** What the criteria of a support are for, in two to four words. */
export const purposes: Record<string, string> = Object.assign(
  {},
  ...Object.values(decisions).map((decision) => decision.purposes),
);

export const evidence: Evidence = { criteria, measures, decisionOf: (support) => decisionBySupport.get(support) };

/** The newest check among the criteria. */
export const evidenceDate: string =
  criteria
    .map((row) => row.checked ?? '')
    .sort()
    .at(-1) ?? '';

export const decisionOf = (criterion: Criterion): string => {
  const found = decisionBySupport.get(criterion.support);
  if (found === undefined)
    throw new Error(`content/decisions.yaml: no decision lists the support "${criterion.support}" of ${criterion.id}`);
  return found;
};

export function need<T>(from: Named<T>, id: string, file: string): T {
  const found = Object.hasOwn(from, id) ? from[id] : undefined;
  if (found === undefined) throw new Error(`No "${id}" in content/${file}`);
  return found;
}

for (const row of criteria.filter(overdue))
  console.warn(`content/criteria/${row.source}.yaml, ${row.id}: last checked ${row.checked}, due to be read again`);
