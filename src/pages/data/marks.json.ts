/** The marks without their prose: what it takes to hold a typed reading against them at once. Small, and kept offline like the rest. */
import type { Criterion } from '../../../calculators/criteria/criterion.ts';
import { isEvaluated } from '../../../calculators/criteria/criterion.ts';
import type { Measures } from '../../../calculators/criteria/measure.ts';
import { criteria, decisions, measures, sources } from '../../evidence.ts';
import type { EvidenceData } from '../../islands/visit/evidence-data.ts';

const short = ({
  read: _read,
  settle: _settle,
  strength: _strength,
  context: _context,
  action: _action,
  checked: _checked,
  ...row
}: Criterion): Criterion => ({ ...row, read: '', strength: '', context: '', action: '' }) as Criterion;

const named: Measures = Object.fromEntries(
  Object.entries(measures).map(([id, measure]) => {
    const { how: _how, loinc: _loinc, ...rest } = measure;
    return [id, rest.kind === 'sign' ? { ...rest, question: '', items: [], synonyms: [] } : rest];
  }),
);

export const GET = () => {
  const data: EvidenceData = {
    criteria: criteria.filter((row) => isEvaluated(row) && row.value !== undefined).map(short),
    measures: named,
    decisions: Object.fromEntries(
      Object.entries(decisions).map(([id, decision]) => [
        id,
        { ...decision, arrange: [], question: '', answer: undefined, judgement: {} },
      ]),
    ),
    sources: Object.fromEntries(Object.entries(sources).map(([id, source]) => [id, source.short])),
    date:
      criteria
        .map((row) => row.checked ?? '')
        .sort()
        .at(-1) ?? '',
  };
  return new Response(JSON.stringify(data));
};
