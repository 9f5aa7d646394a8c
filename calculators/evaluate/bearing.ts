/** The thresholds of other decisions that a decision page has to name. */
import type { Criterion } from '../domain/criterion.ts';
import type { Decision, Decisions } from '../domain/decision.ts';
import type { Disease } from '../domain/person.ts';
import { criteriaFor } from './criteria-for.ts';
import type { Evidence } from './evaluate.ts';
import { categoryOf } from './group.ts';

const others = (decisions: Decisions, id: string, disease: Disease | undefined, evidence: Evidence): Criterion[] =>
  Object.keys(decisions)
    .filter((other) => other !== id)
    .flatMap((other) => criteriaFor({ disease }, evidence, { decision: other }))
    // A disease's own first, as in the list of the decision itself.
    .sort((a, b) => Number(a.disease === 'any') - Number(b.disease === 'any'));

/** Criteria of another decision that open this one, once a disease says whose they are. */
export const opening = (
  decisions: Decisions,
  id: string,
  disease: Disease | undefined,
  evidence: Evidence,
): Criterion[] =>
  disease === undefined
    ? []
    : others(decisions, id, disease, evidence).filter(
        (row) => openedBy(decisions[id], row) && row.use === 'decision' && categoryOf(row) === 'acting',
      );

const openedBy = (decision: Decision | undefined, { support }: Criterion): boolean =>
  decision?.openedBy.includes(support) === true;

/** Criteria that belong to another decision and bear on this one. */
export const bearing = (
  decisions: Decisions,
  id: string,
  disease: Disease | undefined,
  evidence: Evidence,
): Criterion[] =>
  others(decisions, id, disease, evidence).filter((row) => decisions[id]?.bearing.includes(row.id) === true);
