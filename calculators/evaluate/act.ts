/**
 * What an urgent finding asks for first, as its headline; a recorded wish changes its wording, never whether it is
 * shown.
 */
import type { Decisions } from '../domain/decision.ts';
import type { Visit, Wish } from '../domain/visit.ts';
import type { Finding } from './evaluate.ts';
import { supportWords } from './explain.ts';

/** Care that stays at home: the person's own plan leads, and the team named in it is called. */
export const staysAtHome = (wishes: readonly Wish[] = []): boolean =>
  wishes.some((wish) => wish === 'no-hospital' || wish === 'comfort-only');

/** @returns the headline, always with something to do first; an urgent row without an act of its own falls back on its urgency */
export function actOf({ criterion }: Finding, wishes: readonly Wish[] = []): string {
  const act =
    criterion.act ??
    (criterion.urgency === 'emergency' ? 'Call the emergency number now.' : 'Call the ventilation service today.');
  if (staysAtHome(wishes)) return 'Follow the person\u2019s own plan now; call the team named in it.';
  return wishes.includes('no-ventilation') ? `${act} Say first: does not want ventilation.` : act;
}

/** Supports that were declined or not tolerated: printed beside every urgent act, so that nobody offers them as new. */
export const declinedLines = ({ supports = {} }: Visit, decisions: Decisions): string[] =>
  Object.entries(supports).flatMap(([id, status]) =>
    status === 'declined' || status === 'not-tolerated'
      ? [`${decisions[id]?.status?.label ?? decisions[id]?.title ?? id}: ${supportWords[status]}`]
      : [],
  );

/** Findings with the same act under it, in the order they come. */
export function byAct(
  findings: readonly Finding[],
  wishes: readonly Wish[] = [],
): { act: string; findings: Finding[] }[] {
  const acts = new Map<string, Finding[]>();
  for (const finding of findings) {
    const act = actOf(finding, wishes);
    acts.set(act, [...(acts.get(act) ?? []), finding]);
  }
  return [...acts].map(([act, some]) => ({ act, findings: some }));
}

export const urgencyTitles = {
  emergency: 'Emergency',
  'same-day': 'Same day',
  'within-1-week': 'Within a week',
  routine: 'Next steps to weigh',
} as const;
