import '../../styles/more-fields.css';
import { useEffect, useState } from 'preact/hooks';
import { today } from '../../browser/today.ts';
import { useAgreement } from '../use-agreement.ts';
import { useReady, useSettled } from '../use-ready.ts';
import type { Entries } from './entries.ts';
import type { SheetData } from './evidence-data.ts';
import { FindingsColumn } from './FindingsColumn.tsx';
import { Opening } from './Opening.tsx';
import { PersonPart } from './PersonPart.tsx';
import type { SheetAction, SheetState } from './sheet-state.ts';
import { type Summary, spokenSummary, summaryOf } from './summary.ts';
import { useResults } from './use-results.ts';
import { useSheet } from './use-sheet.ts';
import { VisitParts } from './VisitParts.tsx';

const noEvidence: SheetData = {
  criteria: [],
  measures: {},
  decisions: {},
  sheet: { always: [], choices: {}, notDone: {}, short: [] },
  sources: {},
  date: '',
};

/** @returns what is printed into the page; undefined until the script runs in the reader's browser */
function useEvidenceData(): SheetData | undefined {
  const [data, setData] = useState<SheetData>();
  useEffect(() => {
    const text = document.querySelector('#evidence')?.textContent;
    if (text) setData(JSON.parse(text));
  }, []);
  return data;
}

/** One person, one visit: readings in, findings out, a note to copy. Nothing leaves the device. */
export function VisitSheet({ base }: { base: string }) {
  const ready = useReady();
  const agreement = useAgreement();
  const data = useEvidenceData();
  const { sheet, act } = useSheet(agreement);
  const results = useResults(sheet, data ?? noEvidence, agreement);
  const summary = summaryOf(results, (data ?? noEvidence).decisions, sheet.entries);
  const spoken = useSettled(spokenSummary(summary), 1200);
  const onChange = (changes: Partial<Entries>) => act({ type: 'change entries', changes });
  return (
    <div class="visit">
      <form method="dialog" onSubmit={(event) => event.preventDefault()} autocomplete="off">
        <fieldset disabled={!ready || !data}>
          {!(ready && data) && (
            <p class="care late">
              This sheet needs JavaScript, which has not loaded yet. Until JavaScript has loaded, use the criteria on
              the measuring pages.
            </p>
          )}
          <PersonPart sheet={sheet} act={act} choices={data?.sheet.choices ?? {}}>
            <EarlierVisits sheet={sheet} act={act} data={data} />
          </PersonPart>
          {data && <VisitParts {...{ data, sheet, results, base, onChange }} />}
        </fieldset>
        {summary.shown && <TallyBar summary={summary} />}
      </form>
      {data && <FindingsColumn {...{ data, sheet, results, summary, spoken, base, onChange }} />}
    </div>
  );
}

interface EarlierVisitsProps {
  sheet: SheetState;
  act: (action: SheetAction) => void;
  data: SheetData | undefined;
}

function EarlierVisits({ sheet: { person, entries, earlier }, act, data }: EarlierVisitsProps) {
  return (
    <Opening
      person={person}
      entries={entries}
      earlier={earlier}
      onOpen={(series, about) => act({ type: 'open file', series, about, today: today() })}
      onShow={(date) => act({ type: 'show visit', date })}
      onBegin={() => act({ type: 'begin visit', today: today() })}
      today={today()}
      data={data}
    />
  );
}

/** On a narrow screen the findings are far below the form: their count stays in view. */
function TallyBar({ summary: { urgent, found, decided, of } }: { summary: Summary }) {
  return (
    <p class="tally">
      <a class="button" href="#findings-title">
        {urgent === '' ? 'Findings: ' : <b class="urgent">{urgent} </b>}
        {found}, {decided} of {of} decided
      </a>
    </p>
  );
}
