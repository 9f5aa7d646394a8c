import { useMemo, useState } from 'preact/hooks';
import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/domain/diseases.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { type Draft, nextId } from './draft.ts';
import { MeasureCriteria } from './MeasureCriteria.tsx';

interface Props {
  draft: Draft;
  published: PublishedHere;
  onChange: (next: Partial<Draft>) => void;
}

/** Decision by decision and measure by measure: what is published, and what the clinic makes of it. */
export function Criteria({ draft, published, onChange }: Props) {
  const [disease, setDisease] = useState<Disease | ''>('');
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
  return (
    <>
      <ChoiceInput
        id="agree-disease"
        label="Published criteria for"
        options={diseases.map((code) => ({ value: code, label: diseaseNames[code] }))}
        value={disease}
        help="Without a choice, criteria for every disease are shown."
        onChoose={(value) => setDisease(value as Disease | '')}
      />
      {decisions.map(([id, { title, question }]) => (
        <Decision
          key={id}
          id={id}
          title={title}
          question={question}
          rows={rows.filter((row) => published.decisionOf(row.support) === id)}
          disease={disease || 'any'}
          draft={draft}
          published={published}
          onChange={onChange}
        />
      ))}
    </>
  );
}

interface DecisionProps extends Props {
  id: string;
  title: string;
  question: string;
  rows: Criterion[];
  disease: AgreedCriterion['disease'];
}

function Decision({ id, title, question, rows, disease, draft, published, onChange }: DecisionProps) {
  const [open, setOpen] = useState(false);
  const [added, setAdded] = useState<string[]>([]);
  const agreed = draft.marks.filter((criterion) => criterion.decision === id);
  const measures = [
    ...new Set([...rows.map((row) => row.measure), ...agreed.map((criterion) => criterion.measure), ...added]),
  ];
  const others = Object.entries(published.measures).filter(
    ([other, measure]) => measure.kind !== 'schedule' && !measures.includes(other),
  );
  return (
    <details
      class="part decision"
      data-decision={id}
      onToggle={(event) => event.target === event.currentTarget && setOpen(event.currentTarget.open)}
    >
      <summary>
        {title} <span class="small">{agreed.length > 0 && `${agreed.length} agreed`}</span>
      </summary>
      {open && (
        <>
          <p class="small">{question}</p>
          {measures.map((measure) => {
            const found = published.measures[measure];
            return (
              found && (
                <MeasureCriteria
                  key={measure}
                  decision={id}
                  id={measure}
                  measure={found}
                  rows={rows.filter((row) => row.measure === measure)}
                  agreed={agreed.filter((criterion) => criterion.measure === measure)}
                  disease={disease}
                  published={published}
                  nextId={nextId(draft, id)}
                  onAdd={(criterion) => onChange({ marks: [...draft.marks, criterion] })}
                  onTakeOut={(criterion) => onChange({ marks: draft.marks.filter((one) => one.id !== criterion.id) })}
                />
              )
            );
          })}
          <ChoiceInput
            id={`agree-other-${id}`}
            label="Another measure, on which nothing is published for this decision"
            options={others.map(([other, measure]) => ({ value: other, label: measure.label }))}
            value=""
            optional
            onChoose={(other) => other !== '' && setAdded([...added, other])}
          />
        </>
      )}
    </details>
  );
}
