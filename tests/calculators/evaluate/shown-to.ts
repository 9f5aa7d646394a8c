/**
 * Which criteria the evaluator shows to anybody with a disease, whatever their age and sex: found by evaluating empty
 * visits, so that a page's list can be compared with what the visit sheet would do and not with a filter.
 */
import { isEvaluated } from '../../../calculators/domain/comparator.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Evidence } from '../../../calculators/domain/evidence.ts';
import type { Disease } from '../../../calculators/domain/person.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';

/** One age on either side of every limit that a criterion or a measure names. */
function agesOf({ criteria, measures }: Evidence): number[] {
  const limits = [
    18,
    ...criteria.flatMap(({ minAgeYears, maxAgeYears }) => [minAgeYears ?? 0, (maxAgeYears ?? 0) + 1]),
    ...Object.values(measures).map((measure) => (measure.kind === 'number' ? (measure.minAgeYears ?? 0) : 0)),
  ];
  return [...new Set(limits.flatMap((age) => [Math.max(0, age - 0.01), age]))];
}

/** The evaluator passes over a row that only informs; asked about as a sign, it has the same scope. */
const asEvaluated = (row: Criterion): Criterion => (isEvaluated(row) ? row : { ...row, comparator: 'present' });

export function shownTo(disease: Disease, evidence: Evidence): Set<string> {
  const asked = { ...evidence, criteria: evidence.criteria.map(asEvaluated) };
  const shown = agesOf(evidence).flatMap((ageYears) =>
    (['female', 'male'] as const).flatMap((sex) =>
      evaluate({ disease, ageYears, sex, readings: {}, signs: {} }, asked).map(({ criterion }) => criterion.id),
    ),
  );
  return new Set(shown);
}
