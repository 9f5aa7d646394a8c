/** Which pages a decision has: one for it, and one for each disease with marks or a judgement of its own. */
import { getCollection } from 'astro:content';
import type { Criterion } from '../calculators/domain/criterion.ts';
import { type Disease, diseases, isAcute } from '../calculators/domain/person.ts';
import { criteria, decisionOf, decisions } from './evidence.ts';

export const marksFor = (decision: string): Criterion[] => criteria.filter((row) => decisionOf(row) === decision);

/** Diseases with marks or a judgement of their own for a decision; and 'other-chronic' for the marks that name none. */
export function diseasesOf(decision: string): Disease[] {
  const rows = marksFor(decision);
  return diseases.filter(
    (disease) =>
      decisions[decision]?.judgement[disease] !== undefined ||
      (disease === 'other-chronic'
        ? rows.some((row) => row.disease === 'any' && !row.acute)
        : rows.some((row) => row.disease === disease)),
  );
}

export const decisionAddress = (decision: string, disease?: Disease): string =>
  `/decisions/${decision}/${disease === undefined ? '' : `${disease}/`}`;

/** Marks shown for one disease: its own and, in a slow disease, those of any. Acute diseases never show chronic marks. */
export const shownFor = (decision: string, disease: Disease): Criterion[] =>
  marksFor(decision).filter(
    (row) =>
      row.disease === disease ||
      (row.disease === 'any' &&
        (!isAcute(disease) || row.acute === true || row.urgency === 'emergency' || row.urgency === 'same-day')),
  );

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
