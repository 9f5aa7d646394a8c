import type { NoteInput } from '../../../calculators/visit/note.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';
import { leadWeeks } from './SinceLast.tsx';
import type { Results } from './use-results.ts';

export const noteInput = (data: EvidenceData, results: Results, entries: Entries): NoteInput => ({
  visit: results.visit,
  findings: results.findings,
  evidence: results.evidence,
  decisions: data.decisions,
  sourceName: (id) => data.sources[id] ?? id,
  date: entries.date,
  evidenceDate: data.date,
  answers: entries.answers,
  supportTimes: entries.supportTimes,
  planned: entries.plan.map(({ what, owner, due, state }) =>
    [what, owner && `(${owner})`, due && `by ${due}`, `[${state}]`].filter(Boolean).join(' '),
  ),
  asked: entries.asked,
  since: sinceLines(data, results, entries),
});

function sinceLines(data: EvidenceData, { comparison, uncompared, ahead }: Results, entries: Entries): string[] {
  if (comparison)
    return comparison.words.sinceLines(
      comparison.trends,
      ahead,
      data.measures,
      (id) => data.sources[id] ?? id,
      entries.date,
      leadWeeks(entries),
    );
  return uncompared ? [uncompared] : [];
}
