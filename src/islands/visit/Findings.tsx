import { standingLine } from '../../../calculators/criteria/agreement-words.ts';
import type { Decisions } from '../../../calculators/criteria/decision.ts';
import type { Evidence, Finding } from '../../../calculators/criteria/evaluate.ts';
import { explain, supportWords } from '../../../calculators/criteria/explain.ts';
import {
  alarms,
  byDecision,
  type DecisionFindings,
  type Shelf,
  untoldAlarms,
  wouldSettle,
} from '../../../calculators/criteria/group.ts';
import type { Local } from '../../../calculators/criteria/local-marks.ts';
import type { Truth } from '../../../calculators/criteria/logic.ts';
import { comparison } from '../../../calculators/criteria/say.ts';
import { type Wish, wishWords } from '../../../calculators/criteria/visit.ts';

interface Props {
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sources: Record<string, string>;
  base: string;
}

const resultWords: Record<Truth, string> = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' };

const shelfTitles: Record<Exclude<Shelf, 'acted'>, string> = {
  background: 'Background: study figures, cautions, schedules',
  unchecked: 'Unchecked: read the source before relying on it',
  replaced: 'Replaced editions',
};

/** A shape and a word for each result, never colour alone: a full staff, an empty ring, a broken square. */
export function ResultMark({ result }: { result: Truth }) {
  return (
    <span class={`result-mark ${result}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {result === 'met' && <path d="M3 1.5h10v8L8 14.5 3 9.5z" fill="currentColor" />}
        {result === 'not-met' && <circle cx="8" cy="8" r="5.5" fill="none" stroke="currentColor" stroke-width="2" />}
        {result === 'cannot-tell' && (
          <rect
            x="2.5"
            y="2.5"
            width="11"
            height="11"
            fill="none"
            stroke="currentColor"
            stroke-width="2"
            stroke-dasharray="3.2 2.2"
          />
        )}
      </svg>
      {resultWords[result]}
    </span>
  );
}

const reasonOf = ({ mark }: Local): string => (mark.reason ? `The clinic\u2019s reason: ${mark.reason}` : '');

function FindingItem({
  finding,
  evidence,
  sources,
  base,
}: { finding: Finding } & Omit<Props, 'findings' | 'decisions'>) {
  const { criterion, result } = finding;
  return (
    <li class={`finding ${result}`}>
      <p class="said">
        <ResultMark result={result} /> {explain(finding, evidence.measures)}
      </p>
      <p class="small">
        {criterion.local ? (
          <a href={`${base}agree/`}>{standingLine(criterion)}</a>
        ) : (
          <a href={`${base}sources/${criterion.source}/#${criterion.id}`}>
            {sources[criterion.source] ?? criterion.source}
          </a>
        )}
        : {evidence.measures[criterion.measure]?.short} {comparison(criterion, evidence.measures[criterion.measure])}.
        {!criterion.local && ` ${criterion.locator}; ${standingLine(criterion)}.`}
      </p>
      {result === 'met' && (
        <p class="small">
          {criterion.local ? reasonOf(criterion.local) : criterion.action}{' '}
          {finding.support && finding.support !== 'none' && <strong>{supportWords[finding.support]}</strong>}
        </p>
      )}
    </li>
  );
}

export function Alarms({ wishes, ...props }: Props & { wishes: readonly Wish[] }) {
  const urgent = alarms(props.findings);
  const untold = untoldAlarms(props.findings).length;
  if (urgent.length === 0)
    return untold === 0 ? null : (
      <p class="care">
        No urgent mark is met by what was entered, and {untold} cannot be told yet. That is not an all-clear.
      </p>
    );
  const limits = wishes.filter((wish) => wish !== 'everything' && wish !== 'not-discussed');
  return (
    <section class="alarm" aria-labelledby="alarms-title">
      <h3 id="alarms-title">Urgent marks met</h3>
      {limits.length > 0 && (
        <p>
          <strong>Wishes as they stand: {limits.map((wish) => wishWords[wish].toLowerCase()).join('; ')}.</strong>{' '}
          Follow the person's own plan and call the team named in it. A wish can change: ask again, if they can answer.
          Distress is treated whatever the wish.
        </p>
      )}
      <ul class="findings">
        {urgent.map((finding) => (
          <FindingItem key={finding.criterion.id} finding={finding} {...props} />
        ))}
      </ul>
    </section>
  );
}

/** Decisions with a mark met come first and open; what would tell more follows; the rest is folded, with its counts. */
export function Findings(props: Props) {
  const { findings, evidence, decisions } = props;
  const groups = byDecision(findings, decisions, evidence.decisionOf);
  const hasMet = ({ shelves }: DecisionFindings) => shelves.acted.some((finding) => finding.result === 'met');
  const next = wouldSettle(findings).slice(0, 8);
  return (
    <>
      {groups.filter(hasMet).map((group) => (
        <section key={group.decision} class="decision">
          <h3>{decisions[group.decision]?.title ?? group.decision}</h3>
          <p class="small">{countWords(group)}</p>
          <DecisionShelves group={group} {...props} />
        </section>
      ))}
      {next.length > 0 && (
        <section class="next">
          <h3>What would tell more</h3>
          <ol>
            {next.map(({ measure, count }) => (
              <li key={measure}>
                {evidence.measures[measure]?.label ?? `The person's ${measure}`}{' '}
                <span class="small">settles up to {count}</span>
              </li>
            ))}
          </ol>
        </section>
      )}
      {groups
        .filter((group) => !hasMet(group))
        .map((group) => (
          <details key={group.decision} class="decision">
            <summary>
              {decisions[group.decision]?.title ?? group.decision} <span class="small">{countWords(group)}</span>
            </summary>
            <DecisionShelves group={group} {...props} />
          </details>
        ))}
    </>
  );
}

const countWords = ({ shelves }: DecisionFindings): string => {
  const count = (result: Truth) => shelves.acted.filter((finding) => finding.result === result).length;
  return `met ${count('met')}, cannot tell ${count('cannot-tell')}, not met ${count('not-met')}`;
};

function DecisionShelves({ group, ...props }: { group: DecisionFindings } & Props) {
  const { shelves, decision } = group;
  const list = (some: Finding[]) => (
    <ul class="findings">
      {some.map((finding) => (
        <FindingItem key={finding.criterion.id} finding={finding} {...props} />
      ))}
    </ul>
  );
  const fold = (title: string, some: Finding[], name = '') =>
    some.length > 0 && (
      <details key={title} class={name}>
        <summary>
          {title} ({some.length})
        </summary>
        {list(some)}
      </details>
    );
  const acted = (result: Truth) => shelves.acted.filter((finding) => finding.result === result);
  return (
    <>
      {props.decisions[decision]?.coverage && (
        <p class="care">Payer rules: not clinical need, and never a statement that the person qualifies.</p>
      )}
      {list(acted('met'))}
      {fold(resultWords['cannot-tell'], acted('cannot-tell'))}
      {fold(resultWords['not-met'], acted('not-met'))}
      {fold(shelfTitles.background, shelves.background)}
      {fold(shelfTitles.unchecked, shelves.unchecked, 'unread')}
      {fold(shelfTitles.replaced, shelves.replaced)}
    </>
  );
}
