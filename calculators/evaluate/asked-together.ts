/** Which questions a single tap may answer with 'no': those where 'no' is the healthy answer and hides no emergency. */
import type { Criterion } from '../domain/criterion.ts';
import type { Measures, VisitPart } from '../domain/measure.ts';
import { isUrgent } from './group.ts';

/** Emergency signs, wishes, supports and the payer's record are answered one by one. */
const oneByOne: readonly VisitPart[] = ['look', 'wishes', 'support', 'record'];

/** @returns the ids of signs that 'All the others were asked about, and the answer was no' may set */
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
  const add = (id: string, listed: boolean) => {
    const measure = measures[id];
    if (measure?.kind !== 'sign' || found.has(id)) return;
    found.add(id);
    // One of several that are needed together is no emergency by itself.
    const parts = listed ? measure.items.map((item) => item.id) : (measure.anyOf ?? []);
    for (const part of parts) add(part, listed);
  };
  // While the disease is not known the rows of every disease are here: of one that names a disease only the parts that its
  // question lists count, so that a first visit stays short. All of them count once it is known whose visit it is.
  const unknown = new Set(criteria.flatMap(({ disease }) => (disease === 'any' ? [] : [disease]))).size > 1;
  for (const criterion of criteria)
    if (isUrgent(criterion)) add(criterion.measure, unknown && criterion.disease !== 'any');
  return found;
}
