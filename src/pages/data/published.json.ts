/**
 * What it takes to set, read and compare a clinic's criteria: every published one that a reading can meet, with what a
 * team weighs it by.
 */

import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measure, Measures } from '../../../calculators/domain/measure.ts';
import { type Group, groupNames } from '../../../calculators/spirometry/reference-set.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import type { PublishedData } from '../../agreement/published.ts';
import { criteria, decisions, measures, sources, visitSheet } from '../../evidence/evidence.ts';

// Rows that only inform stay: a gauge draws some of them, and the check value of what was agreed on leaves them out.
const short = ({ read: _read, settle: _settle, strength: _strength, ...row }: Criterion): Criterion =>
  ({ ...row, read: '', strength: '' }) as Criterion;

// The fields of a measure needed to set, print and draw its criteria; how to take it is on its own page.
const named: Measures = Object.fromEntries(
  Object.entries(measures).map(([id, measure]) => {
    const { how: _how, loinc: _loinc, page: _page, ...rest } = measure;
    return [
      id,
      (rest.kind === 'sign'
        ? { ...rest, question: '', items: [], synonyms: [] }
        : { ...rest, synonyms: [] }) as Measure,
    ];
  }),
);

export const GET = () => {
  const data: PublishedData = {
    criteria: criteria.map(short),
    measures: named,
    decisions: Object.fromEntries(
      Object.entries(decisions).map(([id, decision]) => [
        id,
        { ...decision, arrange: [], answer: undefined, judgement: {} },
      ]),
    ),
    sources: Object.fromEntries(Object.entries(sources).map(([id, source]) => [id, source.short])),
    date:
      criteria
        .map((row) => row.checked ?? '')
        .sort()
        .at(-1) ?? '',
    usual: [...new Set(visitSheet.short.flatMap(({ ask }) => ask))],
    sets: Object.values(forcedSets).map(({ id, name, groups }) => ({
      id,
      name,
      groups: groups.map((group: Group) => ({ id: group, name: groupNames[group] })),
    })),
  };
  return new Response(JSON.stringify(data));
};
