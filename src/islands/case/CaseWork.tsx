import '../../styles/more-fields.css';
import type { Ref } from 'preact';
import { useEffect, useId, useMemo, useRef, useState } from 'preact/hooks';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { doubtsIn } from '../../../calculators/evaluate/doubt.ts';
import { evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain, explainParts, supportWords } from '../../../calculators/evaluate/explain.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { type Standing, standingAfter } from '../../../calculators/standing.ts';
import { reasonAfterMark } from '../../components/result-shapes.ts';
import { compared as keepCompared } from '../../learn/progress.ts';
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

/** What the page folds for readers without the script: with it, nothing is shown before an answer. */
const foldedOnPage = 'details[data-findings], details[data-reasons]';

/**
 * Predict, tick, compare. The findings are computed here, in the reader's browser, from the case's own readings. What was
 * ticked is explained, on the page below, and never marked right or wrong.
 */
export function CaseWork({ data, base }: { data: CaseData; base: string }) {
  const { asks, arrange, measures } = data;
  const ready = useReady();
  const [predicted, setPredicted] = useState<Record<string, Truth>>({});
  const [ticked, setTicked] = useState<ReadonlySet<number>>(new Set());
  const [compared, setCompared] = useState(false);
  const [asked, setAsked] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const title = useRef<HTMLHeadingElement>(null);
  const findings = useMemo(() => {
    const supportOf = new Map(data.criteria.map((row, place) => [row.support, asks[place]?.support]));
    return evaluate(data.visit, { criteria: data.criteria, measures, decisionOf: (support) => supportOf.get(support) });
  }, [data, asks, measures]);
  const open = asks.filter(({ id }) => predicted[id] === undefined);

  useEffect(() => {
    for (const folded of document.querySelectorAll<HTMLDetailsElement>(foldedOnPage)) folded.hidden = !compared;
    if (!compared) return;
    document.querySelector<HTMLDetailsElement>('details[data-reasons]')?.setAttribute('open', '');
    title.current?.focus();
  }, [compared]);

  const compare = () => {
    setAsked(true);
    if (open[0]) {
      form.current?.querySelector<HTMLInputElement>(`[data-ask="${open[0].id}"] input`)?.focus();
      return;
    }
    setCompared(true);
    // At once: a reader who moves on straight away has compared too.
    keepCompared(data.id, sameAs(findings, predicted), findings.length);
  };
  const again = () => {
    setPredicted({});
    setTicked(new Set());
    setAsked(false);
    setCompared(false);
  };

  return (
    <div class="casework">
      <form
        ref={form}
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          compare();
        }}
        autocomplete="off"
      >
        <fieldset disabled={!ready || compared}>
          <h2>Is each criterion met?</h2>
          <Predict
            asks={asks}
            predicted={predicted}
            onPredict={(ask, value) => setPredicted((now) => ({ ...now, [ask]: value }))}
          />
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
          <p role="status" class="open-words">
            {asked && open.length > 0
              ? `First answer every criterion: ${open.length === 1 ? 'one is' : `${open.length} are`} left. \u201cCannot tell\u201d is an answer.`
              : ''}
          </p>
          <button class="main" type="submit">
            Compare
          </button>
        </fieldset>
        {!ready && (
          <p class="small waiting">
            Comparing your answers needs JavaScript. Without JavaScript, you can still open the sections below to read
            the findings and the reasons.
          </p>
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

const sameAs = (findings: readonly Finding[], predicted: Readonly<Record<string, Truth>>): number =>
  findings.filter(({ criterion, result }) => predicted[criterion.id] === result).length;

interface PredictProps {
  asks: CaseData['asks'];
  predicted: Readonly<Record<string, Truth>>;
  onPredict: (ask: string, value: Truth) => void;
}

function Predict({ asks, predicted, onPredict }: PredictProps) {
  const id = useId();
  return (
    <>
      {asks.map((ask) => (
        <fieldset key={ask.id} class="field choice" data-ask={ask.id}>
          <legend>
            {ask.words}{' '}
            <span class="small">
              {ask.by}
              {ask.standing === 'from-memory' ? standingAfter(ask.by, ask.standing) : ''}
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
                  onChange={() => onPredict(ask.id, value)}
                />
                {label}
              </label>
            ))}
          </div>
        </fieldset>
      ))}
    </>
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
  const same = sameAs(findings, predicted);
  return (
    <section class="compared" aria-labelledby={`${id}-compared`}>
      <h2 id={`${id}-compared`} tabIndex={-1} ref={title}>
        Compared
      </h2>
      <p>
        You and the evaluator agree on {same} of {findings.length} criteria.
        {same < findings.length && ' The differences are marked.'}
      </p>
      <ul class="findings">
        {findings.map((finding) => (
          <OneCompared
            key={finding.criterion.id}
            finding={finding}
            own={predicted[finding.criterion.id]}
            ask={asks.find((one) => one.id === finding.criterion.id)}
            measures={measures}
            base={base}
          />
        ))}
      </ul>
      <p>
        {ticked.size === 0
          ? 'You ticked nothing to suggest to the team.'
          : `You would suggest to the team: ${arrange.filter((_, place) => ticked.has(place)).join('; ')}.`}{' '}
        The effect of each choice, and the reason, are explained below.
      </p>
      <button type="button" onClick={onAgain}>
        Try it again
      </button>
    </section>
  );
}

/** Why, for a rule of one part and for one of several. */
const whyWords: Record<Truth, [string, string]> = {
  met: [
    'Met: the criterion has only this part, and it is true.',
    'Met: every part of the criterion that is needed is true.',
  ],
  'not-met': [
    'Not met: the criterion has only this part, and it is known to be false.',
    'Not met: one part that is needed is known to be false, and that decides the result.',
  ],
  'cannot-tell': [
    'Cannot tell: the criterion has only this part, and it is not known.',
    'Cannot tell: one part that is needed is not known, and no other part is false.',
  ],
};
/** What a flag does to each answer: calculators/evaluate/doubt.ts has the rule. */
const flaggedWords: Record<Truth, string> = {
  met: 'The flagged error may have caused this result. The criterion stays met, so that nobody overlooks it, and the finding mentions the flag.',
  'not-met': 'The flagged error did not cause this result, because it changes the reading in the other direction.',
  'cannot-tell': 'A flagged reading cannot rule out anything that its error could hide.',
};
const flagWhy = ({ parts, result }: Finding, measures: Measures): string => {
  const flagged = parts.flatMap(({ truth, condition, reading, measure, obstacle }) => {
    const known = measures[measure];
    if (!reading?.flags?.length || known === undefined) return [];
    return [obstacle?.kind === 'flagged' || doubtsIn(truth, condition.comparator, reading, known, measures).length > 0];
  });
  if (flagged.length === 0 || (result === 'met' && !flagged.includes(true))) return '';
  return ` ${flaggedWords[result]}`;
};
const truthWords: Record<Truth, string> = { met: 'true', 'not-met': 'false', 'cannot-tell': 'not known' };
const ownWords = (own: Truth | undefined) => answers.find(([value]) => value === own)?.[1].toLowerCase() ?? 'nothing';

interface OneComparedProps {
  finding: Finding;
  own: Truth | undefined;
  ask: CaseData['asks'][number] | undefined;
  measures: Measures;
  base: string;
}

/** One criterion: what was found and why, part by part, and what the reader said of it. */
function OneCompared({ finding, own, ask, measures, base }: OneComparedProps) {
  const { criterion, result, support } = finding;
  const differs = own !== result;
  const parts = explainParts(finding, measures);
  return (
    <li class={`finding ${result}`} data-finding={criterion.id} data-differs={differs ? '' : undefined}>
      <p class="said">
        <ResultMark result={result} />
        {reasonAfterMark(explain(finding, measures, 'side'))}
      </p>
      <p class={differs ? 'own-answer differs' : 'own-answer'}>
        {differs ? <strong>Different. You said: {ownWords(own)}.</strong> : `The same as you: ${ownWords(own)}.`}
      </p>
      <p class="why">
        {whyWords[result][parts.length > 1 ? 1 : 0]}
        {flagWhy(finding, measures)}
      </p>
      {parts.length > 1 && (
        <ul class="why">
          {parts.map(({ words, truth }) => (
            <li key={words}>
              {words} <b>{truthWords[truth]}</b>
            </li>
          ))}
        </ul>
      )}
      <p class="small">
        <a href={`${base}sources/${ask?.source}/#${criterion.id}`}>{ask?.by}</a>
        {standingAfter(ask?.by, criterion.standing)}. {result === 'met' && criterion.action}{' '}
        {result === 'met' && support && support !== 'none' && <strong>{supportWords[support]}</strong>}
      </p>
    </li>
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
        Tick what you would suggest to the team.{' '}
        <span class="small">The page explains each choice afterwards, and never marks a choice right or wrong.</span>
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
