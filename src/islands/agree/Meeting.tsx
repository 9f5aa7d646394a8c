import type { RefObject } from 'preact';
import { useMemo, useRef, useState } from 'preact/hooks';
import { recordBeside } from '../../../calculators/agreement/agreed-evidence.ts';
import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import { openingRows, usualFirst } from '../../../calculators/agreement/meeting.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Decision } from '../../../calculators/domain/decision.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/domain/diseases.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { begunFor } from './begun.ts';
import { type Draft, type MeetingPlace, nextId, readPlace, writePlace } from './draft.ts';
import { MeasureCriteria } from './MeasureCriteria.tsx';
import { OpeningList } from './OpeningList.tsx';
import { SaidLines } from './SaidLines.tsx';

interface Props {
  draft: Draft;
  published: PublishedHere;
  onChange: (next: Partial<Draft>) => void;
}

const agreedOn = (draft: Draft, decision: string): number =>
  draft.marks.filter((criterion) => criterion.decision === decision).length;

/** The meeting: one decision a screen, from the first to the last; what is published, and what the clinic makes of it. */
export function Meeting({ draft, published, onChange }: Props) {
  // Where the meeting stopped, if it stopped half-way.
  const [{ disease, decision: atDecision }, setAt] = useState(readPlace);
  const goOn = (next: Partial<MeetingPlace>) =>
    setAt((at) => {
      const to = { ...at, ...next };
      writePlace(to);
      return to;
    });
  const decisions = useMemo(
    () =>
      Object.entries(published.decisions)
        .filter(([, { coverage }]) => !coverage)
        .sort(([, a], [, b]) => a.order - b.order),
    [published],
  );
  const rows = useMemo(
    () => criteriaFor({ disease: disease || undefined }, published, { evaluated: true }),
    [published, disease],
  );
  const place = Math.max(
    0,
    decisions.findIndex(([one]) => one === atDecision),
  );
  const title = useRef<HTMLHeadingElement>(null);
  const go = (to: number) => {
    goOn({ decision: decisions[to]?.[0] ?? '' });
    // The next decision starts where a reader looks for it, and a screen reader says which it is.
    requestAnimationFrame(() => {
      title.current?.scrollIntoView();
      title.current?.focus({ preventScroll: true });
    });
  };
  const [id = '', decision] = decisions[place] ?? [];
  return (
    <>
      <ChoiceInput
        id="agree-disease"
        label="Published criteria for"
        options={diseases.map((code) => ({ value: code, label: diseaseNames[code] }))}
        value={disease}
        help="If you choose nothing, criteria for every disease are shown."
        onChoose={(value) => goOn({ disease: value as Disease | '' })}
      />
      <ChoiceInput
        id="agree-decision"
        label="Decision"
        options={decisions.map(([one, { title: name }]) => ({
          value: one,
          label: agreedOn(draft, one) === 0 ? name : `${name} (${agreedOn(draft, one)} agreed)`,
        }))}
        value={id}
        onChoose={(value) => goOn({ decision: value })}
      />
      {decision && (
        <OneDecision
          key={id}
          id={id}
          decision={decision}
          rows={rows}
          disease={disease || 'any'}
          draft={draft}
          published={published}
          onChange={onChange}
          place={place}
          most={decisions.length}
          title={title}
          onGo={go}
        />
      )}
    </>
  );
}

interface DecisionProps extends Props {
  id: string;
  decision: Decision;
  /** published criteria for everything that is decided */
  rows: Criterion[];
  disease: AgreedCriterion['disease'];
  /** its place among them all, from 0 */
  place: number;
  most: number;
  title: RefObject<HTMLHeadingElement>;
  onGo: (place: number) => void;
}

/** One decision: what opens it, what is published, what was agreed on and said, and the way to the next. */
function OneDecision(props: DecisionProps) {
  const { id, decision, rows, disease, draft, published, onChange, place, most, title, onGo } = props;
  const opening = openingRows(decision, rows, disease);
  const agreed = agreedOn(draft, id);
  return (
    <section class="decision" data-decision={id} aria-labelledby="decision-title">
      <h3 id="decision-title" ref={title} tabIndex={-1}>
        {decision.title}{' '}
        <span class="small">
          decision {place + 1} of {most}
          {agreed > 0 && `, ${agreed} agreed`}
        </span>
      </h3>
      <p class="small">{decision.question}</p>
      <Opening rows={opening} published={published} />
      <Measures
        opening={opening}
        id={id}
        rows={rows.filter((row) => published.decisionOf(row.support) === id)}
        disease={disease}
        draft={draft}
        published={published}
        onChange={onChange}
      />
      <SaidLines
        legend="Dissent"
        help="Write who would have decided differently, and how. For example: The nurse would have preferred 60. The minutes record this."
        name="dissent"
        decision={id}
        all={draft.dissent}
        onChange={(dissent) => onChange({ dissent })}
      />
      <SaidLines
        legend="Open questions"
        help="Write what nobody could answer today, and who will find out."
        name="question"
        decision={id}
        all={draft.open}
        onChange={(open) => onChange({ open })}
      />
      <nav class="entry steps" aria-label="Decisions">
        <button type="button" disabled={place === 0} onClick={() => onGo(place - 1)}>
          Back
        </button>
        <button type="button" class="main" disabled={place + 1 >= most} onClick={() => onGo(place + 1)}>
          Next decision
        </button>
      </nav>
    </section>
  );
}

/** Published thresholds that open the conversation: to have them in sight while the decision is made. */
function Opening({ rows, published }: { rows: Criterion[]; published: PublishedHere }) {
  if (rows.length === 0) return null;
  return (
    <details class="opening" open={rows.length <= 6}>
      <summary>Thresholds that open the conversation ({rows.length})</summary>
      <OpeningList rows={rows} published={published} />
    </details>
  );
}

interface MeasuresProps extends Props {
  id: string;
  rows: Criterion[];
  /** published thresholds that open the conversation about this decision */
  opening: Criterion[];
  disease: AgreedCriterion['disease'];
}

/** The measures of one decision: those that most visits have first. */
function Measures({ id, rows, opening, disease, draft, published, onChange }: MeasuresProps) {
  const [added, setAdded] = useState<string[]>(() => begunFor(id).map(({ measure }) => measure));
  const agreed = draft.marks.filter((criterion) => criterion.decision === id);
  const measures = [...new Set([...rows.map((row) => row.measure), ...agreed.map(({ measure }) => measure), ...added])];
  const { usual, other } = usualFirst(measures, published.data.usual);
  const unpublished = Object.entries(published.measures).filter(
    ([one, measure]) => measure.kind !== 'schedule' && !measures.includes(one),
  );
  const put = (marks: AgreedCriterion[]) => onChange({ marks });
  const block = (measure: string) => {
    const found = published.measures[measure];
    return (
      found && (
        <MeasureCriteria
          key={measure}
          decision={id}
          id={measure}
          measure={found}
          rows={rows.filter((row) => row.measure === measure)}
          opening={opening.filter((row) => row.measure === measure)}
          agreed={agreed.filter((criterion) => criterion.measure === measure)}
          disease={disease}
          published={published}
          nextId={nextId(draft, id)}
          taken={draft.marks.map((criterion) => criterion.id)}
          onAdd={(criteria) => put([...draft.marks, ...criteria.map((one) => recordBeside(one, published))])}
          onChange={(changed) =>
            put(
              draft.marks.map((one) =>
                one.id !== changed.id ? one : changed.beside === undefined ? recordBeside(changed, published) : changed,
              ),
            )
          }
          onTakeOut={(criterion) => put(draft.marks.filter((one) => one.id !== criterion.id))}
        />
      )
    );
  };
  return (
    <>
      {usual.map(block)}
      {other.length > 0 &&
        (usual.length === 0 ? (
          other.map(block)
        ) : (
          <details
            class="less-usual"
            open={[...agreed, ...begunFor(id)].some(({ measure }) => other.includes(measure)) || undefined}
          >
            <summary>Less usual measures ({other.length})</summary>
            {other.map(block)}
          </details>
        ))}
      <ChoiceInput
        id={`agree-other-${id}`}
        label="Another measure, without a published criterion for this decision (if wanted)"
        options={unpublished.map(([one, measure]) => ({ value: one, label: measure.label }))}
        value=""
        onChoose={(one) => one !== '' && setAdded([...added, one])}
      />
    </>
  );
}
