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

/** The steps of an act, each with its own verb: 'Call the emergency number now', 'use their ventilator if there is one'. */
const steps = (act: string): string[] => act.replace(/[.]$/, '').split('; ');
const upperFirst = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const lowerFirst = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

const calls = /emergency number|critical care|emergency services/;
/** Tells to ventilate; a call to the ventilation service does not, and 'Ventilate by hand' (a ventilator failed) stays. */
const ventilates = (step: string): boolean => /ventilat/.test(step) && !/^(call|ventilate by hand)/i.test(step);
/** 'support ventilation and clear the airway' without its first half; a call without 'about starting NIV'. */
const withoutVentilating = (step: string): string =>
  step.replace(/^support ventilation and | about starting NIV.*$/g, '');

/**
 * @returns the headline, always with something to do first; an urgent row without an act of its own falls back on its
 *   urgency. Whoever stays at home is still helped to breathe, unless their plan says no; nobody is told to use a ventilator
 *   on a person who does not want one.
 */
export function actOf({ criterion }: Finding, wishes: readonly Wish[] = []): string {
  const act =
    criterion.act ??
    (criterion.urgency === 'emergency' ? 'Call the emergency number now.' : 'Call the ventilation service today.');
  const unwanted = wishes.includes('no-ventilation');
  const wanted = unwanted
    ? steps(act)
        .map(withoutVentilating)
        .filter((step) => !ventilates(step))
    : steps(act);
  if (staysAtHome(wishes)) {
    const help = criterion.urgency === 'emergency' ? wanted.filter((step) => !calls.test(step)) : [];
    const plan = 'Follow the person\u2019s own plan now; call the team named in it.';
    return help.length === 0 ? plan : `${plan} Unless the plan says no: ${help.map(lowerFirst).join('; ')}.`;
  }
  const told = `${upperFirst(wanted.length > 0 ? wanted.join('; ') : 'Call the emergency number now')}.`;
  return unwanted ? `${told} Say first that the person does not want ventilation.` : told;
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
  routine: 'Next steps to consider',
} as const;
