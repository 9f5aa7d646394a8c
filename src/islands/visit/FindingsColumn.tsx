import { categoryOf, needsAttention } from '../../../calculators/evaluate/group.ts';
import { placeOf } from '../../../calculators/evaluate/short-visit.ts';
import { Card } from './Card.tsx';
import type { Entries } from './entries.ts';
import type { SheetData } from './evidence-data.ts';
import { Findings, Urgent, urgentLines } from './Findings.tsx';
import { Keeping } from './Keeping.tsx';
import { Note } from './Note.tsx';
import { noteInput } from './note-input.ts';
import { PlanPart } from './PlanPart.tsx';
import { SinceLast } from './SinceLast.tsx';
import type { SheetState } from './sheet-state.ts';
import type { Summary } from './summary.ts';
import type { Results } from './use-results.ts';

interface Props {
  data: SheetData;
  sheet: SheetState;
  results: Results;
  summary: Summary;
  /** the summary for a screen reader, once it has settled */
  spoken: string;
  base: string;
  onChange: (changes: Partial<Entries>) => void;
}

/** Beside the form: what was found, what changed, and what is made from it. */
export function FindingsColumn(props: Props) {
  const { data, sheet, results, summary, spoken, base, onChange } = props;
  const { visit, findings, evidence, comparison, uncompared, ahead, asked } = results;
  const shared = { visit, findings, evidence, decisions: data.decisions, sources: data.sources, base };
  const isAsked = (id: string) => placeOf(id, asked) !== undefined;
  return (
    <section class="found" aria-labelledby="findings-title">
      <h2 id="findings-title">Findings</h2>
      <p class="hidden" role="status">
        {spoken}
      </p>
      {summary.shown && (
        <p class="small">
          {summary.found}. {summary.met > 0 && `${summary.met} met, `}
          {summary.decided - summary.met} not met and {summary.of - summary.decided} not decided yet, which is not the
          same as normal: {summary.of} criteria for this person.
        </p>
      )}
      <Urgent {...shared} />
      {sheet.person.disease === undefined && (
        <p class="care">No disease is given, so criteria that name a disease stay 'cannot tell'.</p>
      )}
      <Findings isAsked={isAsked} {...shared} />
      {uncompared && (
        <p class="care" role="alert">
          {uncompared} Reload the page when you are online; what you typed is kept.
        </p>
      )}
      {comparison && (
        <SinceLast
          trends={comparison.trends}
          entries={sheet.entries}
          data={data}
          marks={ahead}
          words={comparison.words}
          onChange={onChange}
        />
      )}
      <PlanAndPapers {...props} />
    </section>
  );
}

/** What is written from the findings: the plan, the emergency card, the note, and the file of visits. */
function PlanAndPapers({ data, sheet, results, onChange }: Props) {
  const { person, entries, earlier } = sheet;
  const { visit, findings, evidence, before } = results;
  const { decisions, measures } = data;
  const toActOn = findings.filter((finding) => needsAttention(finding) && categoryOf(finding.criterion) === 'acting');
  return (
    <>
      <PlanPart
        entries={entries}
        decisions={decisions}
        suggested={[...new Set(toActOn.flatMap((finding) => finding.decision ?? []))]}
        onChange={onChange}
      />
      <Card
        visit={visit}
        entries={entries}
        measures={measures}
        decisions={decisions}
        before={before}
        urgent={urgentLines(findings, decisions, evidence, entries.wishes)}
        onChange={onChange}
      />
      <Note input={noteInput(data, results, entries)} entries={entries} onChange={onChange} />
      <Keeping person={person} entries={entries} earlier={earlier} data={data} />
    </>
  );
}
