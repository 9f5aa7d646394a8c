import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import { notchWords } from '../../../calculators/agreement/agreement-words.ts';
import { peopleWords } from '../../../calculators/agreement/criterion-words.ts';
import { basisOf, isAsPublished, keep, ruleOf } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measure } from '../../../calculators/domain/measure.ts';
import { categoryOf } from '../../../calculators/evaluate/group.ts';
import { alsoWords, comparison, equality, ruleWords } from '../../../calculators/evaluate/say.ts';
import { convert } from '../../../calculators/quantity.ts';
import { standingWords } from '../../../calculators/standing.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { GaugeDrawing, gaugeOf } from '../../components/GaugeDrawing.tsx';
import { begunFor } from './begun.ts';
import { CriterionLine } from './CriterionLine.tsx';
import { OwnCriterion } from './OwnCriterion.tsx';

interface Props {
  decision: string;
  id: string;
  measure: Measure;
  rows: Criterion[];
  /** published thresholds that open the conversation, on this measure */
  opening: Criterion[];
  /** criteria agreed so far on this measure for this decision */
  agreed: AgreedCriterion[];
  disease: AgreedCriterion['disease'];
  published: PublishedHere;
  nextId: string;
  /** ids that the criteria of the agreement have */
  taken: readonly string[];
  onAdd: (criteria: AgreedCriterion[]) => void;
  onChange: (criterion: AgreedCriterion) => void;
  onTakeOut: (criterion: AgreedCriterion) => void;
}

/** One measure for one decision: the scale with every published criterion, each to keep or to change, and the clinic's own. */
export function MeasureCriteria(props: Props) {
  const { decision, id, measure, rows, agreed } = props;
  const begun = begunFor(decision).some((one) => one.measure === id);
  const [open, setOpen] = useState(begun);
  const [shown] = useState(begun);
  const title = useRef<HTMLElement>(null);
  // What had the focus is gone: it goes on from the title, which says how many are agreed now.
  const back = () => title.current?.focus({ preventScroll: true });
  return (
    <details class="measure" data-measure={id} open={shown} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary ref={title}>
        {measure.label}{' '}
        <span class="small">
          {rows.length} published{agreed.length > 0 && `, ${agreed.length} agreed`}
          {begun && ', one begun and not added'}
        </span>
      </summary>
      {agreed.length > 0 && (
        <ul class="agreed-list">
          {agreed.map((criterion) => (
            <li key={criterion.id}>
              <Agreed {...props} criterion={criterion} back={back} />
            </li>
          ))}
        </ul>
      )}
      {open && <Published {...props} back={back} />}
    </details>
  );
}

/** One agreed criterion, to change in place or to take out. */
function Agreed(props: PublishedProps & { criterion: AgreedCriterion }) {
  const { criterion, decision, id, measure, disease, published, nextId, taken, onChange, onTakeOut, back } = props;
  const [editing, setEditing] = useState(() => begunFor(decision).some((one) => one.from === criterion.id));
  const leave = () => {
    setEditing(false);
    back();
  };
  return (
    <>
      <CriterionLine criterion={criterion} published={published} />
      <div class="entry">
        <button type="button" aria-expanded={editing} onClick={() => setEditing(!editing)}>
          {criterion.reason ? 'Change' : 'Change, or give a reason'}
        </button>
        <button
          type="button"
          onClick={() => {
            onTakeOut(criterion);
            back();
          }}
        >
          Remove
        </button>
      </div>
      {editing && (
        <OwnCriterion
          name={`${criterion.id}-change`}
          decision={decision}
          measureId={id}
          measure={measure}
          basis={basisOf(criterion, published)}
          disease={disease}
          published={published}
          nextId={nextId}
          taken={taken}
          existing={criterion}
          onAdd={([changed]) => {
            if (changed) onChange(changed);
            leave();
          }}
          onLeave={leave}
        />
      )}
    </>
  );
}

interface PublishedProps extends Props {
  /** the focus, when what had it goes away */
  back: () => void;
}

function Published(props: PublishedProps) {
  const { decision, id, measure, rows, agreed, disease, published, nextId, taken, onAdd, back } = props;
  const [form, setForm] = useState<{ basis?: Criterion | undefined } | undefined>(() => {
    const begun = begunFor(decision).find(
      ({ measure: of, from }) => of === id && (from === '' || rows.some((row) => row.id === from)),
    );
    return begun && { basis: rows.find((row) => row.id === begun.from) };
  });
  const layout =
    measure.kind === 'number'
      ? gaugeOf(rows, id, measure, (source) => published.data.sources[source] ?? source)
      : undefined;
  const notches =
    measure.kind === 'number'
      ? agreed.flatMap((criterion) =>
          criterion.value !== undefined && criterion.unit !== undefined
            ? [
                {
                  value: convert(criterion.value, criterion.unit, measure.unit),
                  words: notchWords(criterion, measure.unit),
                },
              ]
            : [],
        )
      : [];
  const leave = () => {
    if (form) back();
    setForm(undefined);
  };
  const add = (criteria: AgreedCriterion[]) => {
    onAdd(criteria);
    leave();
  };
  const own = (basis: Criterion | undefined) => (
    <OwnCriterion
      key={basis?.id ?? ''}
      name={`${decision}-${id}-${basis?.id ?? 'own'}`}
      decision={decision}
      measureId={id}
      measure={measure}
      basis={basis}
      disease={disease}
      published={published}
      nextId={nextId}
      taken={taken}
      onAdd={add}
      onLeave={leave}
    />
  );
  const item = (row: Criterion) => (
    <Offered
      key={row.id}
      row={row}
      measure={measure}
      published={published}
      isAgreed={agreed.some((criterion) => criterion.basis === row.id && isAsPublished(criterion, published))}
      onKeep={() => add([keep(row, decision, nextId)])}
      onChange={() => setForm({ basis: row })}
    >
      {form?.basis?.id === row.id && own(row)}
    </Offered>
  );
  const checked = rows.filter((row) => categoryOf(row) !== 'unchecked');
  const memory = rows.filter((row) => categoryOf(row) === 'unchecked');
  return (
    <>
      {layout && measure.kind === 'number' && (
        <GaugeDrawing id={id} measure={measure} layout={layout} notches={notches} />
      )}
      {props.opening.length > 0 && (
        <p class="small">
          The conversation opens at:{' '}
          {props.opening
            .map((row) =>
              [comparison(row, measure), ...alsoWords(row, published.measures)]
                .join(', ')
                .concat(` (${published.data.sources[row.source] ?? row.source})`),
            )
            .join('; ')}
          .
        </p>
      )}
      <ul class="offered">{checked.map(item)}</ul>
      {memory.length > 0 && (
        <details class="unread">
          <summary>Not yet checked: read the source first ({memory.length})</summary>
          <ul class="offered">{memory.map(item)}</ul>
        </details>
      )}
      <button type="button" aria-expanded={form !== undefined && form.basis === undefined} onClick={() => setForm({})}>
        Set a criterion of our own
      </button>
      {form && form.basis === undefined && own(undefined)}
    </>
  );
}

interface OfferedProps {
  row: Criterion;
  measure: Measure;
  published: PublishedHere;
  /** it is in the agreement as it was published */
  isAgreed: boolean;
  onKeep: () => void;
  onChange: () => void;
  /** the form for another value, while it is open */
  children: ComponentChildren;
}

/** One published criterion, to keep as it is or to change. */
function Offered({ row, measure, published, isAgreed, onKeep, onChange, children }: OfferedProps) {
  const unchecked = row.standing === 'from-memory';
  return (
    <li>
      <b>{ruleWords(measure.short, row, measure)}</b>
      {alsoWords(row, published.measures).map((part) => (
        <span key={part} class="also">
          {part}
        </span>
      ))}
      <span class="by">
        {published.data.sources[row.source] ?? row.source}, {row.locator} · {standingWords[row.standing]}
      </span>
      <span class="by">
        {[
          peopleWords({ ...row, rule: ruleOf(row) }),
          uses[row.use],
          row.status === 'current' ? '' : 'replaced edition',
          equality(row),
        ]
          .filter(Boolean)
          .join('. ')}
        . {row.action} {row.context}.
      </span>
      <div class="entry">
        {!unchecked && (
          <button type="button" disabled={isAgreed} onClick={onKeep}>
            {isAgreed ? 'Kept' : 'Keep this'}
          </button>
        )}
        {(unchecked || measure.kind === 'number') && (
          <button type="button" onClick={onChange}>
            {unchecked ? 'We have read its source' : 'Set another value'}
          </button>
        )}
      </div>
      {children}
    </li>
  );
}

const uses: Partial<Record<Criterion['use'], string>> = {
  evidence: 'Study figure',
  schedule: 'How often to look',
  caution: 'Caution',
  setting: 'Device limit',
};
