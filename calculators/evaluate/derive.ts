/** What follows from the readings of a visit, with per cent of predicted by a named reference set. */

import type { Visit } from '../domain/visit.ts';
import { type Expected, percentPredictedOf } from '../spirometry/expected.ts';
import type { Group } from '../spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../spirometry/reference-sets.ts';
import { follow, type PercentOf } from './follow.ts';

export interface PredictionChoice {
  set: ForcedSet;
  group?: Group | undefined;
}

/** What a prediction needs and does not have, or why the set does not apply: a message for the reader. */
export function predictedFvc(
  visit: Visit,
  { set, group }: PredictionChoice,
): { ok: true; expected: Expected } | { ok: false; message: string } {
  const { sex, ageYears, heightCm } = visit;
  const missing = [
    sex === undefined && 'sex',
    ageYears === undefined && 'age',
    heightCm === undefined && 'height',
  ].filter(Boolean);
  if (sex === undefined || ageYears === undefined || heightCm === undefined)
    return { ok: false, message: `Per cent predicted needs ${missing.join(', ')}` };
  const expected = forcedSets[set].expected('FVC', { sex, age: ageYears, height: heightCm, group });
  if ('problems' in expected) return { ok: false, message: expected.problems[0]?.message ?? '' };
  return { ok: true, expected };
}

export const percentBy =
  (choice: PredictionChoice): PercentOf =>
  (visit) => {
    const predicted = predictedFvc(visit, choice);
    return (litres) =>
      predicted.ok && litres !== undefined ? percentPredictedOf(predicted.expected, litres) : undefined;
  };

/** @returns the visit with what follows from its readings added */
export const derive = (visit: Visit, choice: PredictionChoice): Visit => follow(visit, percentBy(choice));
