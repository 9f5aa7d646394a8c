/**
 * The criteria without their prose: what it takes to compare a typed reading with them at once. Small, and saved
 * offline like the rest.
 */
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { isEvaluated } from '../../../calculators/domain/criterion.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import { calculations, criteria, decisions, measures, sources } from '../../evidence/evidence.ts';
import { words } from '../../evidence/vocabulary.ts';
import type { SearchData } from '../../search/answers.ts';

const isPrinted = ({ urgency, use, standing }: Pick<Criterion, 'urgency' | 'use' | 'standing'>): boolean =>
  urgency !== 'routine' || use === 'caution' || (use === 'evidence' && standing === 'common-practice');

const short = ({
  read: _read,
  settle: _settle,
  strength: _strength,
  context: _context,
  checked: _checked,
  locator: _locator,
  action,
  ...rest
}: Criterion): Criterion => ({
  ...rest,
  read: '',
  strength: '',
  context: '',
  locator: '',
  // The answer prints what an urgent row asks for, what a caution warns of and what common practice asks for beside a study;
  // the rest is a tap away.
  action: isPrinted(rest) ? action : '',
});

const shortMeasures: Measures = Object.fromEntries(
  Object.entries(measures).map(([id, measure]) => {
    const { how: _how, loinc: _loinc, ...rest } = measure;
    return [id, rest.kind === 'sign' ? { ...rest, question: '', items: [], synonyms: [] } : rest];
  }),
);

/** Sources that an answer can name: most stand behind prose alone. */
const namedSources = new Set([
  ...criteria.map(({ source }) => source),
  ...Object.values(measures)
    .flatMap((measure) => (measure.kind === 'number' ? measure.usual : []))
    .map(({ source }) => source),
]);

export const GET = () => {
  const data: SearchData = {
    calculations,
    words,
    criteria: criteria.filter(isEvaluated).map(short),
    measures: shortMeasures,
    decisions: Object.fromEntries(
      Object.entries(decisions).map(([id, decision]) => [
        id,
        { ...decision, arrange: [], question: '', answer: undefined, judgement: {} },
      ]),
    ),
    sources: Object.fromEntries([...namedSources].map((id) => [id, sources[id]?.short ?? id])),
    date:
      criteria
        .map((row) => row.checked ?? '')
        .sort()
        .at(-1) ?? '',
  };
  return new Response(JSON.stringify(data));
};
