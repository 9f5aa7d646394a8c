import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import type { NoteInput } from '../../../calculators/visit/note.ts';
import type { SinceContext } from '../../../calculators/visit/since-words.ts';
import { sayDate } from '../../browser/say-date.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData, SheetData } from './evidence-data.ts';
import { leadWeeks } from './SinceLast.tsx';
import type { Results } from './use-results.ts';

/** @param say  how dates are written: as this reader writes them, unless a test needs one way */
export const noteInput = (data: SheetData, results: Results, entries: Entries, say = sayDate): NoteInput => ({
  visit: results.visit,
  findings: results.findings,
  evidence: results.evidence,
  decisions: data.decisions,
  sourceName: (id) => data.sources[id] ?? id,
  date: entries.date,
  evidenceDate: data.date,
  sayDate: say,
  answers: entries.answers,
  chosen: chosenLines(data, entries),
  supportTimes: entries.supportTimes,
  plan: entries.plan,
  asked: entries.asked,
  askedOf: entries.askedOf,
  askedBy: entries.askedBy,
  contacts: entries.card.contacts,
  ...compared(data, results, entries, say),
});

/** 'Mode as ordered: Volume-assured pressure support' */
const chosenLines = ({ sheet }: SheetData, { choices }: Entries): string[] =>
  Object.entries(choices).flatMap(([id, value]) => {
    const choice = sheet.choices[id];
    const option = choice?.options[value];
    return choice && option ? [`${choice.label}: ${option.label}`] : [];
  });

/** What changed since the visit before; or that nobody looked, where the part that compares did not load. */
function compared(
  data: EvidenceData,
  { comparison, uncompared, ahead, evidence }: Results,
  entries: Entries,
  say: typeof sayDate,
): Pick<NoteInput, 'previous' | 'since' | 'statistics'> {
  if (comparison === undefined) return uncompared ? { since: [uncompared] } : {};
  const { words, trends, previous } = comparison;
  const context: SinceContext = {
    criteria: ahead,
    measures: data.measures,
    sourceName: (id) => data.sources[id] ?? id,
    today: entries.date,
    weeks: leadWeeks(entries),
    say,
    before: previous?.date,
  };
  return {
    previous: previous && { date: previous.date, visit: previous.visit, findings: evaluate(previous.visit, evidence) },
    since: words.sinceLines(trends, context),
    statistics: words.rateLines(trends, context),
  };
}
