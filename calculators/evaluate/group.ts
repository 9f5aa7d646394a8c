/** Findings in the order they are read: by urgency, then decision by decision, then payer rules apart from need. */
import type { Criterion } from '../domain/criterion.ts';
import type { Decisions } from '../domain/decision.ts';
import type { Finding } from './evaluate.ts';

/**
 * acting: a rule, caution or schedule that counts. study: a study's figure. unchecked: from memory. replaced: an old
 * edition. The last three are shown folded and apart, and never lead.
 */
export type Category = 'acting' | 'study' | 'unchecked' | 'replaced';

export interface DecisionFindings {
  decision: string;
  categories: Record<Category, Finding[]>;
}

export const categoryOf = ({ standing, status, use, local }: Criterion): Category => {
  // The clinic that agreed on a threshold has answered for its source: it acts under that agreement.
  if (local !== undefined) return 'acting';
  if (standing === 'from-memory') return 'unchecked';
  if (status !== 'current') return 'replaced';
  return use === 'evidence' ? 'study' : 'acting';
};

/**
 * Whether a finding is one to act on. Most are when met; a schedule to keep or a limit to stay within is when it is
 * not, unless it is known not to be about this person: a limit for suction through a tube says nothing about suction of
 * the mouth.
 */
export const needsAttention = ({ criterion, result, parts }: Finding): boolean =>
  result === (criterion.attentionWhen ?? 'met') &&
  (criterion.attentionWhen === undefined || !parts.some(({ role, truth }) => role === 'also' && truth === 'not-met'));

const urgencyOrder = { emergency: 0, 'same-day': 1, 'within-1-week': 2, routine: 3 } as const;

export const isUrgent = ({ urgency }: Criterion): boolean => urgency === 'emergency' || urgency === 'same-day';

/**
 * Neither a number from memory nor a replaced edition leads a page; but an emergency is never folded away because its source
 * was not opened: it leads, and says that it is not yet checked.
 */
const mayLead = (criterion: Criterion): boolean => {
  const category = categoryOf(criterion);
  return category === 'unchecked' ? criterion.urgency === 'emergency' : category !== 'replaced';
};

export type Urgency = keyof typeof urgencyOrder;

/** Made once: `localeCompare` makes one for each pair. */
const inEnglish = new Intl.Collator('en');

/** The one order of findings everywhere: emergency, same day, within a week, routine; within that by decision, the clinic's own first. */
export const byUrgency =
  (decisions: Decisions) =>
  (a: Finding, b: Finding): number =>
    urgencyOrder[a.criterion.urgency] - urgencyOrder[b.criterion.urgency] ||
    placeOf(a.decision, decisions) - placeOf(b.decision, decisions) ||
    Number(b.criterion.local !== undefined) - Number(a.criterion.local !== undefined) ||
    Number(categoryOf(a.criterion) === 'study') - Number(categoryOf(b.criterion) === 'study') ||
    inEnglish.compare(a.criterion.source, b.criterion.source);

const placeOf = (decision: string | undefined, decisions: Decisions): number => {
  const found = decision === undefined ? undefined : decisions[decision];
  return (found?.coverage ? 1000 : 0) + (found?.order ?? 999);
};

/** Emergency and same-day findings to act on that may lead: they are shown before anything else, with their act. */
export const urgentFindings = (findings: readonly Finding[], decisions: Decisions): Finding[] =>
  findings
    .filter((finding) => needsAttention(finding) && isUrgent(finding.criterion) && mayLead(finding.criterion))
    .sort(byUrgency(decisions));

/** The findings of the next step down: to be seen within a week. */
export const withinAWeek = (findings: readonly Finding[], decisions: Decisions): Finding[] =>
  findings
    .filter(
      (finding) =>
        needsAttention(finding) && finding.criterion.urgency === 'within-1-week' && mayLead(finding.criterion),
    )
    .sort(byUrgency(decisions));

/** Urgent criteria that what was entered cannot tell: while there are any, 'none met' is no all-clear. */
export const undecidedUrgent = (findings: readonly Finding[]): Finding[] =>
  findings.filter((finding) => isOpen(finding) && isUrgent(finding.criterion) && mayLead(finding.criterion));

/**
 * Measures with a flagged reading that cannot rule an urgent criterion out: to be tested again, also where something else is
 * urgent already. The reading itself is there, so that nothing else would ask for it.
 */
export const toTestAgain = (findings: readonly Finding[]): string[] => [
  ...new Set(
    undecidedUrgent(findings).flatMap(({ parts }) =>
      parts.filter(({ obstacle }) => obstacle?.kind === 'flagged').map(({ measure }) => measure),
    ),
  ),
];

/** Could still be told; not a criterion whose reading is never asked for. */
export const isOpen = ({ criterion, result }: Finding): boolean =>
  result === 'cannot-tell' && criterion.onlyIfRead !== true;

export interface Tally {
  /** criteria to act on */
  met: number;
  /** study figures, criteria not yet checked and replaced editions that are met: counted, so that no heading hides them */
  folded: number;
  /** decided either way, of all that act; payer rules, which are not need, are left out */
  decided: number;
  of: number;
}

/** How far the visit has come. */
export function tally(findings: readonly Finding[]): Tally {
  const need = findings.filter(
    (finding) => finding.criterion.use !== 'coverage' && (finding.result !== 'cannot-tell' || isOpen(finding)),
  );
  // An urgent study figure leads with the emergencies: it is not folded away.
  const shown = ({ criterion }: Finding) =>
    categoryOf(criterion) === 'acting' || (isUrgent(criterion) && mayLead(criterion));
  const attention = need.filter(needsAttention);
  const met = attention.filter(shown).length;
  return {
    met,
    folded: attention.length - met,
    decided: need.filter(shown).filter(({ result }) => result !== 'cannot-tell').length,
    of: need.filter(shown).length,
  };
}

/**
 * '3 criteria met'; never a nought over something that is met, and never 'nothing' over a reading outside its usual range.
 *
 * @param unusual  how many readings are outside their usual range and in no finding
 */
export function tallyWords(counted: Tally, unusual = 0): string {
  const outside = `${unusual} ${unusual === 1 ? 'reading' : 'readings'} outside the usual range`;
  if (unusual === 0) return metWords(counted);
  return counted.met + counted.folded === 0 ? outside : `${metWords(counted)}; ${outside}`;
}

function metWords({ met, folded }: Tally): string {
  const count = (many: number) => `${many} ${many === 1 ? 'criterion' : 'criteria'}`;
  const aside =
    folded === 0
      ? ''
      : `${folded} more ${folded === 1 ? 'is' : 'are'} met among study figures and criteria not yet checked`;
  if (met > 0) return `${count(met)} met${aside === '' ? '' : `; ${aside}`}`;
  return aside === ''
    ? 'Nothing to act on in what you entered'
    : `${count(folded)} met, among study figures and criteria not yet checked`;
}

export function byDecision(findings: readonly Finding[], decisions: Decisions): DecisionFindings[] {
  const groups = new Map<string, DecisionFindings>();
  for (const finding of findings) {
    const decision = finding.decision ?? 'other';
    const group = groups.get(decision) ?? {
      decision,
      categories: { acting: [], study: [], unchecked: [], replaced: [] },
    };
    group.categories[categoryOf(finding.criterion)].push(finding);
    groups.set(decision, group);
  }
  const place = (finding: Finding) => (needsAttention(finding) ? 0 : finding.result === 'cannot-tell' ? 1 : 2);
  for (const group of groups.values())
    for (const some of Object.values(group.categories))
      some.sort((a: Finding, b: Finding) => place(a) - place(b) || byUrgency(decisions)(a, b));
  return [...groups.values()].sort((a, b) => placeOf(a.decision, decisions) - placeOf(b.decision, decisions));
}
