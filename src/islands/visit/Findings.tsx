import type { Decisions } from '../../../calculators/domain/decision.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import { type Visit, wishWords } from '../../../calculators/domain/visit.ts';
import { actOf, byAct, declinedLines, urgencyTitles } from '../../../calculators/evaluate/act.ts';
import { disagreements } from '../../../calculators/evaluate/disagree.ts';
import type { Evidence, Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords } from '../../../calculators/evaluate/explain.ts';
import {
  byDecision,
  type Category,
  type DecisionFindings,
  needsAttention,
  toTestAgain,
  undecidedUrgent,
  urgentFindings,
  withinAWeek,
} from '../../../calculators/evaluate/group.ts';
import { withImplied } from '../../../calculators/evaluate/implied.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { type Useful, worthMeasuring } from '../../../calculators/evaluate/most-useful.ts';
import { outsideUsual, outsideWords } from '../../../calculators/evaluate/outside-usual.ts';
import { signOf } from '../../../calculators/evaluate/readings.ts';
import { signClause } from '../../../calculators/evaluate/say.ts';
import { standingWords } from '../../../calculators/standing.ts';
import { resultWords } from '../../components/result-shapes.ts';
import { goTo } from './go-to.ts';
import { type FindingsProps, StatementList } from './StatementList.tsx';

interface Props extends FindingsProps {
  visit: Visit;
}

const categoryTitles: Record<Exclude<Category, 'acting'>, string> = {
  study: 'Study figures',
  unchecked: 'Not yet checked: read the source before relying on it',
  replaced: 'Replaced editions',
};

/** What comes first, by urgency, each with its act as the headline and the findings under it; and what disagrees or stands alone. */
export function Urgent(props: Props) {
  const { visit, findings, decisions, evidence, sources } = props;
  const urgent = urgentFindings(findings, decisions);
  const soon = withinAWeek(findings, decisions);
  const undecided = undecidedUrgent(findings).length;
  const again = toTestAgain(findings).map((id) => evidence.measures[id]?.short ?? id);
  const limits = (visit.wishes ?? []).filter((wish) => wish !== 'everything' && wish !== 'not-discussed');
  const unusual = outsideUsual(visit, findings, evidence);
  return (
    <>
      {urgent.length === 0 && undecided > 0 && (
        <p class="care">
          Not an all-clear: {undecided} urgent {undecided === 1 ? 'criterion' : 'criteria'} could not be decided from
          what you entered.
        </p>
      )}
      {again.length > 0 && (
        <p class="care">
          Test again: {again.join('; ')}. The reading was flagged, so it cannot rule out an urgent criterion.
        </p>
      )}
      {urgent.length > 0 && limits.length > 0 && (
        <p class="care">
          <strong>Wishes as they stand: {limits.map((wish) => wishWords[wish].toLowerCase()).join('; ')}.</strong>{' '}
          Follow the person's own plan and call the team named in it. A wish can change, so ask again if they can
          answer. Treat distress, whatever the wishes are.
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
          {...props}
        />
      ))}
      {soon.length > 0 && (
        <section class="care soon" aria-labelledby="soon-title">
          <h3 id="soon-title">{urgencyTitles['within-1-week']}</h3>
          <Review some={soon} {...props} />
          <StatementList actions some={soon} {...props} />
        </section>
      )}
      <Disagree visit={visit} decisions={decisions} measures={evidence.measures} />
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

function Acts({ urgency, some, ...props }: { urgency: 'emergency' | 'same-day'; some: Finding[] } & Props) {
  if (some.length === 0) return null;
  return (
    <section class="alarm" aria-labelledby={`${urgency}-title`}>
      <h3 id={`${urgency}-title`}>{urgencyTitles[urgency]}</h3>
      {byAct(some, props.visit.wishes).map(({ act, findings }) => {
        const page = findings.find(({ criterion }) => criterion.urgentPage)?.criterion.urgentPage;
        return (
          <div key={act} class="act">
            <p class="act-title">
              <strong>{act}</strong> {page && <a href={props.base + page.slice(1)}>What to do, step by step</a>}
            </p>
            <StatementList actions some={findings} {...props} />
          </div>
        );
      })}
    </section>
  );
}

interface DisagreeProps {
  visit: Visit;
  decisions: Decisions;
  measures: Measures;
}

/** What cannot be true together, in one list, with a tap to each field. */
function Disagree({ visit, decisions, measures }: DisagreeProps) {
  const all = disagreements(visit, measures, decisions);
  const name = (id: string) =>
    id === 'wishes' ? 'wishes' : (decisions[id.replace('support:', '')]?.status?.label ?? measures[id]?.short);
  if (all.length === 0) return null;
  return (
    <section class="care" aria-labelledby="disagree-title">
      <h3 id="disagree-title">Answers and readings that disagree</h3>
      <ul>
        {all.map(({ id, words, fields }) => (
          <li key={id}>
            {words}{' '}
            {fields.flatMap((field) =>
              name(field) ? (
                <button key={field} type="button" class="to-field" onClick={() => goTo(field, measures)}>
                  Go to {name(field)}
                </button>
              ) : (
                []
              ),
            )}
          </li>
        ))}
      </ul>
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
    (finding) =>
      `${actOf(finding, wishes)} ${explain(finding, evidence.measures)}${finding.criterion.standing === 'from-memory' && !finding.criterion.local ? ` (${standingWords['from-memory']})` : ''}`,
  );

/** Decisions with something to act on; what is most useful next; then all criteria, folded, with their counts. */
export function Findings({ isAsked, ...props }: Props & { isAsked: (id: string) => boolean }) {
  const { visit, findings, evidence, decisions } = props;
  const above = new Set([...urgentFindings(findings, decisions), ...withinAWeek(findings, decisions)]);
  const groups = byDecision(findings, decisions).map((group) => ({
    ...group,
    toAct: decisions[group.decision]?.coverage
      ? []
      : group.categories.acting.filter((finding) => needsAttention(finding) && !above.has(finding)),
  }));
  return (
    <>
      {groups
        .filter(({ toAct }) => toAct.length > 0)
        .map(({ decision, toAct }) => (
          <section key={decision} class="decision">
            <h3>
              {decisions[decision]?.title ?? decision}{' '}
              <span class="small">
                met {toAct.length}: {purposesOf(toAct, decisions)}
              </span>
            </h3>
            <Review some={toAct} {...props} />
            <StatementList some={toAct} {...props} />
          </section>
        ))}
      <Next useful={worthMeasuring(findings, visit, evidence.measures, isAsked)} measures={evidence.measures} />
      {groups.length > 0 && <h3>All criteria, by decision</h3>}
      {groups.map((group) => (
        <DecisionFold key={group.decision} group={group} told={new Set([...above, ...group.toAct])} {...props} />
      ))}
    </>
  );
}

/** What these are for, each purpose once: 'start night NIV, refer' */
const purposesOf = (some: readonly Finding[], decisions: Decisions): string =>
  [
    ...new Set(some.flatMap(({ criterion, decision }) => decisions[decision ?? '']?.purposes[criterion.support] ?? [])),
  ].join(', ');

/** A support that is there, ordered or declined changes the question; said once for its decision, with what would answer it. */
function Review({ some, visit, decisions, evidence: { measures } }: { some: readonly Finding[] } & Props) {
  const withSupport = new Map(
    some.flatMap(({ decision, support }) => (decision && support ? [[decision, support]] : [])),
  );
  const known = withImplied(visit, measures).visit;
  return (
    <>
      {[...withSupport].map(([decision, support]) => {
        if (support === 'none') return null;
        const { notEnough, status } = decisions[decision ?? ''] ?? {};
        const signs = (notEnough?.signs ?? []).filter((id) => signOf(id, known, measures) === 'present');
        return (
          <p key={decision} class="review">
            <strong>
              {status?.label ?? decision}: {supportWords[support]}
            </strong>{' '}
            {support === 'in-place' && notEnough && (
              <>
                {notEnough.words}
                {signs.length > 0 && (
                  <>
                    {' '}
                    <strong>Today: {signs.map((id) => signClause(id, 'present', measures)).join('; ')}.</strong>
                  </>
                )}
              </>
            )}
          </p>
        );
      })}
    </>
  );
}

const isSign = (measure: Measures[string] | undefined): boolean => measure?.kind === 'sign';

const factLabels: Record<string, string> = { age: 'The age', sex: 'The sex', disease: 'The disease' };

function Next({ useful, measures }: { useful: readonly Useful[]; measures: Measures }) {
  if (useful.length === 0) return null;
  // Emergency signs that nobody answered are one thing to do: look.
  const looks = useful.filter(
    ({ measure, urgency }) => measures[measure]?.part === 'look' && isSign(measures[measure]) && urgency !== 'routine',
  );
  const [firstLook] = looks;
  const others = firstLook && looks.length > 1 ? useful.filter((one) => !looks.includes(one)) : useful;
  return (
    <section class="next">
      <h3>Most useful to measure or ask next</h3>
      <ol>
        {firstLook && looks.length > 1 && (
          <li>
            <button type="button" class="to-field" onClick={() => goTo(firstLook.measure, measures)}>
              The signs under “Look first” that have no answer ({looks.length})
            </button>{' '}
            <span class="small">could show: {urgencyTitles[firstLook.urgency].toLowerCase()}</span>
          </li>
        )}
        {others.slice(0, 8).map(({ measure, urgency, count }) => (
          <li key={measure}>
            <button type="button" class="to-field" onClick={() => goTo(measure, measures)}>
              {measures[measure]?.label ?? factLabels[measure] ?? measure}
            </button>{' '}
            <span class="small">
              {urgency === 'routine' ? '' : `could show: ${urgencyTitles[urgency].toLowerCase()}; `}helps to decide{' '}
              {count}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}

type Group = DecisionFindings & { toAct: Finding[] };

/** Counts of everything in the group: nothing that is met stands under a heading that does not say so. */
function countWords({ categories }: DecisionFindings, told: ReadonlySet<Finding>): string {
  const met = (category: Category) =>
    categories[category].filter((finding) => needsAttention(finding) && !told.has(finding)).length;
  const above = Object.values(categories)
    .flat()
    .filter((finding) => told.has(finding)).length;
  const acting = categories.acting.filter((finding) => !needsAttention(finding));
  const count = (result: Truth) => acting.filter((finding) => finding.result === result).length;
  return [
    above > 0 && `${above} shown above`,
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

/** @param told  findings that stand above already: they are counted, and not printed again */
function DecisionFold({ group, told, ...props }: { group: Group; told: ReadonlySet<Finding> } & Props) {
  const { categories, decision } = group;
  const { title = decision, coverage } = props.decisions[decision] ?? {};
  const fold = (name: string, some: readonly Finding[], klass = '') => {
    const met = some.filter(needsAttention).length;
    return (
      some.length > 0 && (
        <details key={name} class={klass}>
          <summary>
            {name} ({some.length}
            {met > 0 && `, ${met} met`})
          </summary>
          <StatementList some={some} {...props} />
        </details>
      )
    );
  };
  const open = (some: readonly Finding[]) => some.filter((finding) => !told.has(finding));
  const rest = categories.acting.filter((finding) => !needsAttention(finding));
  const met = open(categories.acting).filter(needsAttention);
  return (
    <details class={`decision all${coverage ? ' coverage' : ''}`}>
      <summary>
        {title} <span class="small">{countWords(group, told)}</span>
      </summary>
      {coverage && (
        <p class="care">Payer rules are not clinical need, and meeting one does not mean that the person qualifies.</p>
      )}
      {met.length > 0 && <StatementList some={met} {...props} />}
      {fold(
        resultWords['cannot-tell'],
        rest.filter(({ result }) => result === 'cannot-tell'),
      )}
      {fold(
        resultWords['not-met'],
        rest.filter(({ result }) => result !== 'cannot-tell'),
      )}
      {fold(categoryTitles.study, open(categories.study))}
      {fold(categoryTitles.unchecked, open(categories.unchecked), 'unread')}
      {fold(categoryTitles.replaced, categories.replaced)}
    </details>
  );
}
