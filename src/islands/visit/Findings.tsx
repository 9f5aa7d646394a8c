import { standingLine } from '../../../calculators/agreement/agreement-words.ts';
import type { Decisions } from '../../../calculators/domain/decision.ts';
import type { LocalRow } from '../../../calculators/domain/local-row.ts';
import { type Visit, wishWords } from '../../../calculators/domain/visit.ts';
import { actOf, byAct, declinedLines, urgencyTitles } from '../../../calculators/evaluate/act.ts';
import { contradictionWords } from '../../../calculators/evaluate/contradiction-words.ts';
import type { Evidence, Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords } from '../../../calculators/evaluate/explain.ts';
import {
  byDecision,
  type Category,
  type DecisionFindings,
  mostUseful,
  needsAttention,
  undecidedUrgent,
  urgentFindings,
  withinAWeek,
} from '../../../calculators/evaluate/group.ts';
import { contradictions } from '../../../calculators/evaluate/implied.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { outsideUsual, outsideWords } from '../../../calculators/evaluate/outside-usual.ts';
import { alsoWords, comparison, nameWithValue } from '../../../calculators/evaluate/say.ts';
import { standingWords } from '../../../calculators/standing.ts';

interface Props {
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sources: Record<string, string>;
  base: string;
}

const resultWords: Record<Truth, string> = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' };

/** A schedule that is due or a limit that was left is no 'met'; one that is not about this person is simply not met. */
function resultWord(finding: Finding): string {
  const { criterion, result } = finding;
  if (criterion.attentionWhen === undefined || result === 'cannot-tell') return resultWords[result];
  if (result === criterion.attentionWhen && !needsAttention(finding)) return resultWords[result];
  const [held, left] = criterion.use === 'schedule' ? ['Not due', 'Due'] : ['Within', 'Outside'];
  return (result === 'met' ? held : left) ?? '';
}

/** The result stands right before the sentence: 'Cannot tell' is not said twice. */
const afterMark = (sentence: string): string => {
  const words = sentence.replace(/^Cannot tell: /, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
};

const categoryTitles: Record<Exclude<Category, 'acting'>, string> = {
  study: 'Study figures',
  unchecked: 'Not yet checked: read the source before relying on it',
  replaced: 'Replaced editions',
};

/** A shape and a word for each result, never colour alone: a full staff, an empty ring, a broken square. */
export function ResultMark({ result, word = resultWords[result] }: { result: Truth; word?: string }) {
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
      {word}
    </span>
  );
}

const reasonOf = ({ reason }: LocalRow): string => (reason ? `The clinic\u2019s reason: ${reason}` : '');

function FindingItem({
  finding,
  evidence,
  sources,
  base,
}: { finding: Finding } & Omit<Props, 'findings' | 'decisions'>) {
  const { criterion } = finding;
  const asks = needsAttention(finding);
  const shown: Truth = asks ? 'met' : finding.result === 'cannot-tell' ? 'cannot-tell' : 'not-met';
  const measure = evidence.measures[criterion.measure];
  const rule = [
    `${nameWithValue(measure, criterion.measure)} ${comparison(criterion, measure)}`,
    ...alsoWords(criterion, evidence.measures),
  ].join(', ');
  return (
    <li class={`finding ${shown}`}>
      <p class="said">
        <ResultMark result={shown} word={resultWord(finding)} /> {afterMark(explain(finding, evidence.measures))}
      </p>
      <p class="small">
        {criterion.local ? (
          <a href={`${base}agree/`}>{standingLine(criterion)}</a>
        ) : (
          <a href={`${base}sources/${criterion.source}/#${criterion.id}`}>
            {sources[criterion.source] ?? criterion.source}
          </a>
        )}
        : {rule}.
        {!criterion.local &&
          criterion.source !== 'trade-practice' &&
          ` ${criterion.locator}; ${standingLine(criterion)}.`}
      </p>
      {asks && (
        <p class="small">
          {criterion.local ? reasonOf(criterion.local) : criterion.action.replace(/^Common practice: /, '')}{' '}
          {criterion.context && <span>Meant for: {criterion.context}. </span>}
          {finding.support && finding.support !== 'none' && <strong>{supportWords[finding.support]}</strong>}
        </p>
      )}
    </li>
  );
}

/** What comes first, by urgency, each with its act as the headline and the findings under it; and what disagrees or stands alone. */
export function Urgent({ visit, ...props }: Props & { visit: Visit }) {
  const { findings, decisions, evidence, sources } = props;
  const urgent = urgentFindings(findings, decisions);
  const soon = withinAWeek(findings, decisions);
  const undecided = undecidedUrgent(findings).length;
  const limits = (visit.wishes ?? []).filter((wish) => wish !== 'everything' && wish !== 'not-discussed');
  const disagree = contradictions(visit, evidence.measures);
  const unusual = outsideUsual(visit, findings, evidence);
  return (
    <>
      {urgent.length === 0 && undecided > 0 && (
        <p class="care">
          Not an all-clear: {undecided} urgent {undecided === 1 ? 'criterion' : 'criteria'} cannot be told from what was
          entered.
        </p>
      )}
      {urgent.length > 0 && limits.length > 0 && (
        <p class="care">
          <strong>Wishes as they stand: {limits.map((wish) => wishWords[wish].toLowerCase()).join('; ')}.</strong>{' '}
          Follow the person's own plan and call the team named in it. A wish can change: ask again, if they can answer.
          Distress is treated whatever the wish.
        </p>
      )}
      {urgent.length + soon.length > 0 &&
        declinedLines(visit, decisions).map((line) => (
          <p key={line} class="care">
            {line}
          </p>
        ))}
      {(['emergency', 'same-day'] as const).map((urgency) => (
        <Acts
          key={urgency}
          urgency={urgency}
          some={urgent.filter(({ criterion }) => criterion.urgency === urgency)}
          wishes={visit.wishes ?? []}
          {...props}
        />
      ))}
      {soon.length > 0 && (
        <section class="care soon" aria-labelledby="soon-title">
          <h3 id="soon-title">{urgencyTitles['within-1-week']}</h3>
          <ul class="findings">
            {soon.map((finding) => (
              <FindingItem key={finding.criterion.id} finding={finding} {...props} />
            ))}
          </ul>
        </section>
      )}
      {disagree.length > 0 && (
        <section class="care" aria-labelledby="disagree-title">
          <h3 id="disagree-title">Answers and readings that disagree</h3>
          <ul>
            {disagree.map((one) => (
              <li key={one.sign}>{contradictionWords(one, evidence.measures, decisions)}</li>
            ))}
          </ul>
        </section>
      )}
      {unusual.length > 0 && (
        <section class="care" aria-labelledby="unusual-title">
          <h3 id="unusual-title">Outside the usual range</h3>
          <ul>
            {unusual.map((one) => (
              <li key={one.measure}>{outsideWords(one, evidence, (id) => sources[id] ?? id, standingWords)}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Acts({
  urgency,
  some,
  wishes,
  ...props
}: { urgency: 'emergency' | 'same-day'; some: Finding[]; wishes: NonNullable<Visit['wishes']> } & Props) {
  if (some.length === 0) return null;
  return (
    <section class="alarm" aria-labelledby={`${urgency}-title`}>
      <h3 id={`${urgency}-title`}>{urgencyTitles[urgency]}</h3>
      {byAct(some, wishes).map(({ act, findings }) => {
        const page = findings.find(({ criterion }) => criterion.urgentPage)?.criterion.urgentPage;
        return (
          <div key={act} class="act">
            <p class="act-title">
              <strong>{act}</strong> {page && <a href={props.base + page.slice(1)}>What to do, step by step</a>}
            </p>
            <ul class="findings">
              {findings.map((finding) => (
                <FindingItem key={finding.criterion.id} finding={finding} {...props} />
              ))}
            </ul>
          </div>
        );
      })}
    </section>
  );
}

/** What the emergency card carries of today: the acts and what they rest on. */
export const urgentLines = (
  findings: readonly Finding[],
  decisions: Decisions,
  evidence: Evidence,
  wishes: Visit['wishes'],
): string[] =>
  urgentFindings(findings, decisions).map(
    (finding) => `${actOf(finding, wishes)} ${explain(finding, evidence.measures)}`,
  );

/** Decisions with something to act on come first and open; what is most useful next follows; the rest is folded, with its counts. */
export function Findings(props: Props) {
  const { findings, evidence, decisions } = props;
  const groups = byDecision(findings, decisions);
  const acts = ({ categories }: DecisionFindings) => categories.acting.some(needsAttention);
  const next = mostUseful(findings).slice(0, 8);
  return (
    <>
      {groups.filter(acts).map((group) => (
        <section key={group.decision} class="decision">
          <h3>{decisions[group.decision]?.title ?? group.decision}</h3>
          <p class="small">{countWords(group)}</p>
          <DecisionCategories group={group} {...props} />
        </section>
      ))}
      {next.length > 0 && (
        <section class="next">
          <h3>Most useful to measure or ask next</h3>
          <ol>
            {next.map(({ measure, count }) => (
              <li key={measure}>
                {evidence.measures[measure]?.label ?? `The person's ${measure}`}{' '}
                <span class="small">helps to decide {count}</span>
              </li>
            ))}
          </ol>
        </section>
      )}
      {groups
        .filter((group) => !acts(group))
        .map((group) => (
          <details key={group.decision} class="decision">
            <summary>
              {decisions[group.decision]?.title ?? group.decision} <span class="small">{countWords(group)}</span>
            </summary>
            <DecisionCategories group={group} {...props} />
          </details>
        ))}
    </>
  );
}

/** Counts of everything in the group: nothing that is met stands under a heading that does not say so. */
function countWords({ categories }: DecisionFindings): string {
  const met = (category: Category) => categories[category].filter(needsAttention).length;
  const acting = categories.acting.filter((finding) => !needsAttention(finding));
  const count = (result: Truth) => acting.filter((finding) => finding.result === result).length;
  return [
    met('acting') > 0 && `met ${met('acting')}`,
    met('study') > 0 && `study figures met ${met('study')}`,
    met('unchecked') > 0 && `not yet checked, met ${met('unchecked')}`,
    met('replaced') > 0 && `replaced editions met ${met('replaced')}`,
    count('cannot-tell') > 0 && `cannot tell ${count('cannot-tell')}`,
    acting.length > count('cannot-tell') && `not met ${acting.length - count('cannot-tell')}`,
  ]
    .filter(Boolean)
    .join(', ');
}

function DecisionCategories({ group, ...props }: { group: DecisionFindings } & Props) {
  const { categories, decision } = group;
  const list = (some: Finding[]) => (
    <ul class="findings">
      {some.map((finding) => (
        <FindingItem key={finding.criterion.id} finding={finding} {...props} />
      ))}
    </ul>
  );
  const fold = (title: string, some: Finding[], name = '') => {
    const met = some.filter(needsAttention).length;
    return (
      some.length > 0 && (
        <details key={title} class={name}>
          <summary>
            {title} ({some.length}
            {met > 0 && `, ${met} met`})
          </summary>
          {list(some)}
        </details>
      )
    );
  };
  const rest = categories.acting.filter((finding) => !needsAttention(finding));
  return (
    <>
      {props.decisions[decision]?.coverage && (
        <p class="care">Payer rules: not clinical need, and never a statement that the person qualifies.</p>
      )}
      {list(categories.acting.filter(needsAttention))}
      {fold(
        resultWords['cannot-tell'],
        rest.filter(({ result }) => result === 'cannot-tell'),
      )}
      {fold(
        resultWords['not-met'],
        rest.filter(({ result }) => result !== 'cannot-tell'),
      )}
      {fold(categoryTitles.study, categories.study)}
      {fold(categoryTitles.unchecked, categories.unchecked, 'unread')}
      {fold(categoryTitles.replaced, categories.replaced)}
    </>
  );
}
