import { adulthood } from '../domain/age-and-sex.ts';
import type { Criterion } from '../domain/criterion.ts';
import { isAcute } from '../domain/diseases.ts';
import type { Measure } from '../domain/measure.ts';
import type { Person } from '../domain/person.ts';

/** Out: must not be shown at all. Unknown: a fact about the person is missing that decides it. */
export type Scope = 'in' | 'out' | { missing: ('disease' | 'age' | 'sex')[] };

/** The fields of a criterion that say to whom it applies. */
export type Scoped = Pick<
  Criterion,
  'disease' | 'population' | 'sex' | 'minAgeYears' | 'maxAgeYears' | 'notFor' | 'acute' | 'urgency'
>;

/**
 * Whether a criterion may be shown for a person (rules 3 and 4 of the evaluation rules).
 *
 * - A criterion that names a disease is never shown for another disease.
 * - In an acute disease only its own criteria, and the urgent or acute ones of any disease, are shown.
 * - Adult criteria are hidden for children and the other way round; cough-flow criteria are hidden under 12.
 * - A missing fact neither applies a criterion nor hides it: the answer is then 'cannot tell'.
 */
export function scopeOf(criterion: Scoped, person: Person, measure: Measure | undefined): Scope {
  const missing: ('disease' | 'age' | 'sex')[] = [];
  const checks = [byDisease(criterion, person, measure), byAge(criterion, person, measure), bySex(criterion, person)];
  for (const check of checks) {
    if (check === 'out') return 'out';
    if (check !== 'in') missing.push(check);
  }
  return missing.length === 0 ? 'in' : { missing };
}

function byDisease(criterion: Scoped, { disease }: Person, measure: Measure | undefined): 'in' | 'out' | 'disease' {
  const hidden = measure?.kind === 'number' ? measure.notFor?.diseases : undefined;
  if (disease !== undefined && (hidden?.includes(disease) || criterion.notFor?.diseases.includes(disease)))
    return 'out';
  const urgent = criterion.acute === true || criterion.urgency === 'emergency' || criterion.urgency === 'same-day';
  if (criterion.disease !== 'any') {
    if (disease === undefined) return 'disease';
    return criterion.disease === disease ? 'in' : 'out';
  }
  if (urgent) return 'in';
  if (disease === undefined) return 'disease';
  return isAcute(disease) ? 'out' : 'in';
}

function byAge(criterion: Scoped, { ageYears }: Person, measure: Measure | undefined): 'in' | 'out' | 'age' {
  const lowest = Math.max(
    criterion.population === 'adult' ? adulthood : 0,
    criterion.minAgeYears ?? 0,
    (measure?.kind === 'number' ? measure.minAgeYears : undefined) ?? 0,
  );
  // A maximum of 17 means through the seventeenth year, up to the eighteenth birthday.
  const below = Math.min(
    criterion.population === 'child' ? adulthood : Number.POSITIVE_INFINITY,
    (criterion.maxAgeYears ?? Number.POSITIVE_INFINITY) + 1,
  );
  if (lowest === 0 && below === Number.POSITIVE_INFINITY) return 'in';
  if (ageYears === undefined) return 'age';
  return ageYears >= lowest && ageYears < below ? 'in' : 'out';
}

function bySex(criterion: Scoped, { sex }: Person): 'in' | 'out' | 'sex' {
  if (criterion.sex === undefined) return 'in';
  if (sex === undefined) return 'sex';
  return criterion.sex === sex ? 'in' : 'out';
}
