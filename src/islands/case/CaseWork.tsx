import '../../styles/form.css';
import type { Ref } from 'preact';
import { useEffect, useId, useMemo, useRef, useState } from 'preact/hooks';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords } from '../../../calculators/evaluate/explain.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { type Standing, standingWords } from '../../../calculators/standing.ts';
import { afterMark } from '../../components/result-shapes.ts';
import { done } from '../../learn/progress.ts';
import { useReady } from '../use-ready.ts';
import { ResultMark } from '../visit/ResultMark.tsx';

export interface CaseData {
  id: string;
  visit: Visit;
  /** the criteria asked about, and only the measures that they use */
  criteria: Criterion[];
  measures: Measures;
  asks: { id: string; by: string; source: string; words: string; standing: Standing; support: string }[];
  arrange: string[];
}

const answers: [Truth, string][] = [
  ['met', 'Met'],
  ['not-met', 'Not met'],
  ['cannot-tell', 'Cannot tell'],
];

/**
 * Predict, tick, compare. The findings are computed here, in the reader's browser, from the case's own readings. What was
 * ticked is explained, on the page below, and never marked right or wrong.
 */
export function CaseWork({ data, base }: { data: CaseData; base: string }) {
  const { asks, arrange, measures } = data;
  const id = useId();
  const ready = useReady();
  const [predicted, setPredicted] = useState<Record<string, Truth>>({});
  const [ticked, setTicked] = useState<ReadonlySet<number>>(new Set());
  const [compared, setCompared] = useState(false);
  const title = useRef<HTMLHeadingElement>(null);
  const findings = useMemo(() => {
    const supportOf = new Map(data.criteria.map((row, place) => [row.support, asks[place]?.support]));
    return evaluate(data.visit, { criteria: data.criteria, measures, decisionOf: (support) => supportOf.get(support) });
  }, [data, asks, measures]);

  useEffect(() => {
    if (!compared) return;
    document.querySelector<HTMLDetailsElement>('details[data-reasons]')?.setAttribute('open', '');
    title.current?.focus();
  }, [compared]);

  const again = () => {
    setPredicted({});
    setTicked(new Set());
    setCompared(false);
  };

  return (
    <div class="casework">
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          setCompared(true);
          // At once: a reader who moves on straight away has compared too.
          done('cases', data.id);
        }}
        autocomplete="off"
      >
        <fieldset disabled={!ready || compared}>
          <h2>What does each criterion say?</h2>
          {asks.map((ask) => (
            <fieldset key={ask.id} class="field choice" data-ask={ask.id}>
              <legend>
                {ask.words}{' '}
                <span class="small">
                  {ask.by}
                  {ask.standing === 'from-memory' ? ', not yet checked' : ''}
                </span>
              </legend>
              <div class="entry">
                {answers.map(([value, label]) => (
                  <label key={value} class="chip">
                    <input
                      type="radio"
                      name={`${id}-${ask.id}`}
                      value={value}
                      checked={predicted[ask.id] === value}
                      onChange={() => setPredicted((now) => ({ ...now, [ask.id]: value }))}
                    />
                    {label}
                  </label>
                ))}
              </div>
            </fieldset>
          ))}
          <h2>What could be arranged?</h2>
          <Arrange
            options={arrange}
            ticked={ticked}
            onTick={(place) =>
              setTicked((now) => {
                const next = new Set(now);
                if (!next.delete(place)) next.add(place);
                return next;
              })
            }
          />
          <button class="main" type="submit">
            Compare
          </button>
        </fieldset>
        {!ready && (
          <p class="small waiting">Comparing needs JavaScript. The findings and the reasons are folded below.</p>
        )}
      </form>
      {compared && (
        <Compared
          data={data}
          base={base}
          findings={findings}
          predicted={predicted}
          ticked={ticked}
          title={title}
          onAgain={again}
        />
      )}
    </div>
  );
}

interface ComparedProps {
  data: CaseData;
  base: string;
  findings: readonly Finding[];
  predicted: Readonly<Record<string, Truth>>;
  ticked: ReadonlySet<number>;
  title: Ref<HTMLHeadingElement>;
  onAgain: () => void;
}

/** What the reader predicted beside what the evaluator finds. */
function Compared({
  data: { asks, arrange, measures },
  base,
  findings,
  predicted,
  ticked,
  title,
  onAgain,
}: ComparedProps) {
  const id = useId();
  const same = findings.filter(({ criterion, result }) => predicted[criterion.id] === result).length;
  return (
    <section class="compared" aria-labelledby={`${id}-compared`}>
      <h2 id={`${id}-compared`} tabIndex={-1} ref={title}>
        Compared
      </h2>
      <p>
        You and the evaluator agree on {same} of {findings.length} criteria.
      </p>
      <ul class="findings">
        {findings.map((finding) => {
          const ask = asks.find((one) => one.id === finding.criterion.id);
          const own = answers.find(([value]) => value === predicted[finding.criterion.id])?.[1];
          return (
            <li key={finding.criterion.id} class={`finding ${finding.result}`} data-finding={finding.criterion.id}>
              <p class="said">
                <ResultMark result={finding.result} /> {afterMark(explain(finding, measures))}
              </p>
              <p class="small">
                {own === undefined ? 'You left this open.' : `You said: ${own.toLowerCase()}.`}{' '}
                <a href={`${base}sources/${ask?.source}/#${finding.criterion.id}`}>{ask?.by}</a>,{' '}
                {standingWords[finding.criterion.standing]}. {finding.result === 'met' && finding.criterion.action}{' '}
                {finding.result === 'met' && finding.support && finding.support !== 'none' && (
                  <strong>{supportWords[finding.support]}</strong>
                )}
              </p>
            </li>
          );
        })}
      </ul>
      <p>
        {ticked.size === 0
          ? 'You ticked nothing to put to the team.'
          : `You would put to the team: ${arrange.filter((_, place) => ticked.has(place)).join('; ')}.`}{' '}
        What each of them would do, and why, is opened below.
      </p>
      <button type="button" onClick={onAgain}>
        Try it again
      </button>
    </section>
  );
}

interface ArrangeProps {
  options: readonly string[];
  ticked: ReadonlySet<number>;
  onTick: (place: number) => void;
}

function Arrange({ options, ticked, onTick }: ArrangeProps) {
  return (
    <fieldset class="field choice">
      <legend>
        Tick what you would put to the team.{' '}
        <span class="small">Explained afterwards, never marked right or wrong.</span>
      </legend>
      {options.map((option, place) => (
        <label key={option} class="tick">
          <input type="checkbox" checked={ticked.has(place)} onChange={() => onTick(place)} />
          <span>{option}</span>
        </label>
      ))}
    </fieldset>
  );
}
