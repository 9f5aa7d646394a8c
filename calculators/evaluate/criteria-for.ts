/**
 * Which criteria may be shown for a person: the one answer that the evaluator, the pages, the pocket sheets, a clinic's
 * agreement and the visit sheet all ask for. Nobody else filters criteria by disease, age or sex.
 */

import { isEvaluated } from '../domain/comparator.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Evidence } from '../domain/evidence.ts';
import type { Person } from '../domain/person.ts';
import { type Scope, scopeOf } from './scope.ts';

/** What else narrows the list; none of it is about the person. */
export interface Ask {
  decision?: string | undefined;
  /** about this measure, as the main comparison or as its alternative */
  measure?: string | undefined;
  source?: string | undefined;
  /** only rows that a visit can meet; others merely inform */
  evaluated?: true;
  /**
   * only rows that apply to this person whatever is not known: none that a missing disease, age or sex could still hide
   */
  certain?: true;
}

interface InScope {
  criterion: Criterion;
  scope: Exclude<Scope, 'out'>;
}

/** @returns the criteria that may be shown, in the order of the evidence, each with what is missing to be certain of it */
export function inScopeFor(person: Person, evidence: Evidence, ask: Ask = {}): InScope[] {
  const found: InScope[] = [];
  for (const criterion of evidence.criteria) {
    if (!isAsked(criterion, evidence, ask)) continue;
    const scope = scopeOf(criterion, person, evidence.measures[criterion.measure]);
    if (scope !== 'out' && (scope === 'in' || !ask.certain)) found.push({ criterion, scope });
  }
  return found;
}

/**
 * The criteria that may be shown for this person. A fact that is known decides; one that is not known hides nothing, so
 * that `{ disease }` gives what a page about that disease prints, and `{}` gives every criterion.
 */
export const criteriaFor = (person: Person, evidence: Evidence, ask: Ask = {}): Criterion[] =>
  inScopeFor(person, evidence, ask).map(({ criterion }) => criterion);

const isAsked = (row: Criterion, { decisionOf }: Evidence, { decision, measure, source, evaluated }: Ask): boolean =>
  (!evaluated || isEvaluated(row)) &&
  (measure === undefined || row.measure === measure || row.alternative?.measure === measure) &&
  (source === undefined || row.source === source) &&
  (decision === undefined || decisionOf(row.support) === decision);
