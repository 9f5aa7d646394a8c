/** Which pages a decision has: one for it, and one for each disease with criteria or a judgement of its own. */
import { getCollection } from 'astro:content';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { type Disease, diseases } from '../../calculators/domain/person.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { decisions, evidence } from '../evidence/evidence.ts';

export const criteriaOf = (decision: string, disease?: Disease): Criterion[] =>
  criteriaFor({ disease }, evidence, { decision });

/**
 * Diseases with criteria or a judgement of their own for a decision; and 'other-chronic' for the criteria that name
 * none.
 */
export function diseasesOf(decision: string): Disease[] {
  return diseases.filter((disease) => {
    const rows = criteriaOf(decision, disease);
    return (
      decisions[decision]?.judgement[disease] !== undefined ||
      rows.some((row) => (disease === 'other-chronic' ? row.disease === 'any' && !row.acute : row.disease === disease))
    );
  });
}

export const decisionAddress = (decision: string, disease?: Disease): string =>
  `/decisions/${decision}/${disease === undefined ? '' : `${disease}/`}`;

const handbook = await getCollection('handbook');

/** Handbook pages written for a decision, those about the disease first. */
export const writtenFor = (decision: string, disease?: Disease) =>
  handbook
    .filter(
      (page) =>
        page.data.decision === decision &&
        (disease === undefined || page.data.disease === undefined || page.data.disease === disease),
    )
    .sort(
      (a, b) => Number(b.data.disease === disease) - Number(a.data.disease === disease) || a.data.order - b.data.order,
    );

export const allDecisions = Object.entries(decisions).sort(([, a], [, b]) => a.order - b.order);
