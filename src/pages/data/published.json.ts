/** What it takes to set, read and compare a clinic's marks: every published mark that a reading can meet, with what a team weighs it by. */

import type { Criterion } from '../../../calculators/criteria/criterion.ts';
import { type Group, groupNames } from '../../../calculators/spirometry/reference-set.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import type { PublishedData } from '../../agreement/published.ts';
import { criteria, decisions, measures, sources } from '../../evidence.ts';

// Rows that only inform stay: a gauge draws some of them, and the digest of what was agreed on passes over them.
const short = ({ read: _read, settle: _settle, strength: _strength, ...row }: Criterion): Criterion =>
  ({ ...row, read: '', strength: '' }) as Criterion;

export const GET = () => {
  const data: PublishedData = {
    criteria: criteria.map(short),
    measures,
    decisions,
    sources: Object.fromEntries(Object.entries(sources).map(([id, source]) => [id, source.short])),
    date:
      criteria
        .map((row) => row.checked ?? '')
        .sort()
        .at(-1) ?? '',
    sets: Object.values(forcedSets).map(({ id, name, groups }) => ({
      id,
      name,
      groups: groups.map((group: Group) => ({ id: group, name: groupNames[group] })),
    })),
  };
  return new Response(JSON.stringify(data));
};
