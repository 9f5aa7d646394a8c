/** What a visit says of one measure: the reading itself or the one it is taken from, the sign itself or what makes it up. */

import type { Measures } from '../domain/measure.ts';
import type { Reading, Sign, Visit } from '../domain/visit.ts';
import { convert, convertible } from '../quantity.ts';
import { all, any, type Truth } from './logic.ts';

/** The reading itself, or the one it is taken from: the larger of sniff and mouth pressure, an arterial value where any method counts. */
export function readingOf(id: string, visit: Visit, measures: Measures): Reading | undefined {
  const own = visit.readings[id];
  if (own !== undefined) return own;
  const measure = measures[id];
  if (id === 'age-years') return visit.ageYears === undefined ? undefined : { value: visit.ageYears, unit: 'a' };
  if (measure?.kind !== 'number' || !measure.readFrom) return undefined;
  const found = measure.readFrom.measures.flatMap((from) => visit.readings[from] ?? []);
  if (measure.readFrom.rule === 'first') return found[0];
  const size = (reading: Reading) =>
    convertible(reading.unit, measure.unit)
      ? Math.abs(convert(reading.value, reading.unit, measure.unit))
      : Number.NEGATIVE_INFINITY;
  return found.reduce<Reading | undefined>(
    (best, next) => (best === undefined || size(next) > size(best) ? next : best),
    undefined,
  );
}

/** The sign as answered, or as it follows from the signs it is made of. */
export function signOf(id: string, visit: Visit, measures: Measures): Sign | undefined {
  const own = visit.signs[id];
  if (own !== undefined) return own;
  const measure = measures[id];
  if (measure?.kind !== 'sign') return undefined;
  const ofSign = (part: string): Truth => {
    const sign = signOf(part, visit, measures);
    return sign === undefined ? 'cannot-tell' : sign === 'present' ? 'met' : 'not-met';
  };
  const combined = measure.anyOf
    ? any(measure.anyOf.map(ofSign))
    : measure.allOf
      ? all(measure.allOf.map(ofSign))
      : 'cannot-tell';
  return combined === 'cannot-tell' ? undefined : combined === 'met' ? 'present' : 'absent';
}
