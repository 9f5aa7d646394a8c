/** Findings in the order they are read: alarms, then decision by decision, then payer rules apart from need. */
import type { Criterion } from './criterion.ts';
import type { Decisions } from './decision.ts';
import type { Finding } from './evaluate.ts';

/** acted: can be met as a mark. background: study figures, cautions and schedules. unchecked: from memory. replaced: old editions. */
export type Shelf = 'acted' | 'background' | 'unchecked' | 'replaced';

export interface DecisionFindings {
  decision: string;
  shelves: Record<Shelf, Finding[]>;
}

export const shelfOf = ({ standing, status, use, local }: Criterion): Shelf => {
  // The clinic that agreed on a mark has answered for its source: it acts under that agreement.
  if (local !== undefined) return 'acted';
  if (standing === 'from-memory') return 'unchecked';
  if (status !== 'current') return 'replaced';
  return use === 'decision' || use === 'coverage' ? 'acted' : 'background';
};

const resultOrder = { met: 0, 'cannot-tell': 1, 'not-met': 2 } as const;

/** Met emergency and same-day findings that may lead: they are shown before anything else. */
export const alarms = (findings: readonly Finding[]): Finding[] =>
  findings
    .filter(({ criterion, result }) => result === 'met' && isUrgent(criterion) && mayLead(criterion))
    .sort((a, b) => Number(a.criterion.urgency !== 'emergency') - Number(b.criterion.urgency !== 'emergency'));

const isUrgent = ({ urgency }: Criterion): boolean => urgency === 'emergency' || urgency === 'same-day';

/** Neither a number from memory nor a replaced edition leads a page. */
const mayLead = (criterion: Criterion): boolean => !['unchecked', 'replaced'].includes(shelfOf(criterion));

/** Urgent marks that what was entered cannot tell: while there are any, 'none met' is no all-clear. */
export const untoldAlarms = (findings: readonly Finding[]): Finding[] =>
  findings.filter(({ criterion, result }) => result === 'cannot-tell' && isUrgent(criterion) && mayLead(criterion));

/** How far the visit has come: marks met, and how many of all that act are settled either way. Payer rules, which are not need, stand apart. */
export function tally(findings: readonly Finding[]): { met: number; settled: number; of: number } {
  const acted = findings.filter(({ criterion }) => shelfOf(criterion) === 'acted' && criterion.use !== 'coverage');
  return {
    met: acted.filter(({ result }) => result === 'met').length,
    settled: acted.filter(({ result }) => result !== 'cannot-tell').length,
    of: acted.length,
  };
}

export function byDecision(
  findings: readonly Finding[],
  decisions: Decisions,
  decisionOf: (support: Criterion['support']) => string | undefined,
): DecisionFindings[] {
  const groups = new Map<string, DecisionFindings>();
  for (const finding of findings) {
    const decision = decisionOf(finding.criterion.support) ?? 'other';
    const group = groups.get(decision) ?? {
      decision,
      shelves: { acted: [], background: [], unchecked: [], replaced: [] },
    };
    group.shelves[shelfOf(finding.criterion)].push(finding);
    groups.set(decision, group);
  }
  for (const group of groups.values())
    for (const shelf of Object.values(group.shelves))
      shelf.sort(
        (a, b) =>
          resultOrder[a.result] - resultOrder[b.result] ||
          Number(b.criterion.local !== undefined) - Number(a.criterion.local !== undefined) ||
          a.criterion.source.localeCompare(b.criterion.source, 'en'),
      );
  const place = (id: string) => (decisions[id]?.coverage ? 1000 : 0) + (decisions[id]?.order ?? 999);
  return [...groups.values()].sort((a, b) => place(a.decision) - place(b.decision));
}

/** What to measure or ask next: each missing measure with how many findings it would help to settle, most first. */
export function wouldSettle(findings: readonly Finding[]): { measure: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const { result, missing, criterion } of findings)
    if (result === 'cannot-tell' && mayLead(criterion))
      for (const measure of missing) counts.set(measure, (counts.get(measure) ?? 0) + 1);
  return [...counts]
    .map(([measure, count]) => ({ measure, count }))
    .sort((a, b) => b.count - a.count || a.measure.localeCompare(b.measure, 'en'));
}
