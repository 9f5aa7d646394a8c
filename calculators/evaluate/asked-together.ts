/** Which questions a single tap may answer with 'no': those where 'no' is the healthy answer and hides no emergency. */
import type { Criterion } from '../domain/criterion.ts';
import type { Measures, VisitPart } from '../domain/measure.ts';
import { isUrgent } from './group.ts';

/** Emergency signs, wishes, supports and the payer's record are answered one by one. */
const oneByOne: readonly VisitPart[] = ['look', 'wishes', 'support', 'record'];

/** @returns the ids of signs that 'All others were asked: no' may set */
export function askedTogether(ids: readonly string[], measures: Measures, criteria: readonly Criterion[]): string[] {
  const urgent = urgentSigns(measures, criteria);
  return ids.filter((id) => {
    const measure = measures[id];
    return (
      measure?.kind === 'sign' &&
      !measure.anyOf &&
      !measure.allOf &&
      measure.abnormal === 'yes' &&
      !oneByOne.includes(measure.part) &&
      !urgent.has(id)
    );
  });
}

/** The signs that an emergency or same-day criterion is about, and those they are made of. */
function urgentSigns(measures: Measures, criteria: readonly Criterion[]): Set<string> {
  const found = new Set<string>();
  const add = (id: string) => {
    const measure = measures[id];
    if (measure?.kind !== 'sign' || found.has(id)) return;
    found.add(id);
    // One of several that are needed together is no emergency by itself.
    for (const part of measure.anyOf ?? []) add(part);
  };
  for (const criterion of criteria) if (isUrgent(criterion)) add(criterion.measure);
  return found;
}
