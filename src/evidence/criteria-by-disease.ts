/**
 * How many criteria there are for each disease and decision, counted from the data: the table on the evidence page.
 * Pure, so that a test can count once more by its own way.
 */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { type Disease, diseases } from '../../calculators/domain/diseases.ts';
import type { Evidence } from '../../calculators/domain/evidence.ts';

/** 'any': the criterion names no disease. */
export type Named = Exclude<Disease, 'other-chronic'> | 'any';

export interface DiseaseCount {
  disease: Named;
  /** by the id of the decision; every decision has an entry */
  counts: Record<string, number>;
  all: number;
  /** decisions without a criterion that names this disease */
  without: string[];
}

const namedBy = ({ disease }: Criterion): Named => (disease === 'other-chronic' ? 'any' : disease);

/** @param decisionIds in the order of the columns */
export function countByDisease(
  criteria: readonly Criterion[],
  decisionOf: Evidence['decisionOf'],
  decisionIds: readonly string[],
): DiseaseCount[] {
  const named: Named[] = [...diseases.filter((disease) => disease !== 'other-chronic'), 'any'];
  return named.map((disease) => {
    const rows = criteria.filter((row) => namedBy(row) === disease);
    const counts = Object.fromEntries(
      decisionIds.map((id) => [id, rows.filter((row) => decisionOf(row.support) === id).length]),
    );
    return { disease, counts, all: rows.length, without: decisionIds.filter((id) => counts[id] === 0) };
  });
}
