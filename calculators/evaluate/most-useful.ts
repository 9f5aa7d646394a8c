/**
 * What to measure or ask next: first what an urgent criterion waits for, then what decides most. Nobody is sent to measure
 * what is worked out from other readings, what a sign of today forbids, what was already not done, or what only a payer asks.
 */
import type { Criterion } from '../domain/criterion.ts';
import type { Measures } from '../domain/measure.ts';
import type { Visit } from '../domain/visit.ts';
import type { Finding } from './evaluate.ts';
import { categoryOf, isOpen, type Urgency } from './group.ts';
import { withImplied } from './implied.ts';
import { readingOf, signOf } from './readings.ts';

export interface Useful {
  /** a measure, or a fact about the person: `age`, `sex`, `disease` */
  measure: string;
  /** the most urgent finding that it helps to decide */
  urgency: Urgency;
  /** findings that it helps to decide, payer rules left out */
  count: number;
}

/** Nobody measures these: each is worked out from others, some of them from an earlier visit. */
export const workedOutFrom: Readonly<Record<string, readonly string[]>> = {
  'fvc-drop-supine-percent': ['vc-litres', 'vc-litres-supine'],
  'vc-per-kilogram': ['vc-litres', 'weight'],
  'weight-loss-percent': ['usual-weight', 'weight'],
  'vc-or-mip-or-mep-fall-from-baseline-percent': ['vc-litres'],
  'snip-or-mip-fall-per-3-months': ['snip'],
  'snip-relative-fall-per-3-months': ['snip'],
};

const order: Record<Urgency, number> = { emergency: 0, 'same-day': 1, 'within-1-week': 2, routine: 3 };
const facts = new Set(['age', 'sex', 'disease']);
/** A list of many signs is named as one: its parts would fill the page. */
const fewParts = 3;

/** @param isAsked  whether the sheet asks for it of this person */
export function worthMeasuring(
  findings: readonly Finding[],
  visit: Visit,
  measures: Measures,
  isAsked: (id: string) => boolean = () => true,
): Useful[] {
  const known = withImplied(visit, measures).visit;
  const found = new Map<string, Useful>();
  for (const finding of findings) {
    const { missing, criterion } = finding;
    if (!isOpen(finding) || !asksForAct(criterion)) continue;
    const wanted = missing.flatMap((id) => askable(id, known, measures));
    for (const measure of new Set(wanted)) {
      if (!facts.has(measure) && !isWorthAsking(measure, known, measures, isAsked)) continue;
      const one = found.get(measure) ?? { measure, urgency: criterion.urgency, count: 0 };
      one.count += 1;
      if (order[criterion.urgency] < order[one.urgency]) one.urgency = criterion.urgency;
      found.set(measure, one);
    }
  }
  return [...found.values()].sort(
    (a, b) => order[a.urgency] - order[b.urgency] || b.count - a.count || a.measure.localeCompare(b.measure, 'en'),
  );
}

/** A number from memory, an old edition and a payer's rule send nobody to measure. */
const asksForAct = (criterion: Criterion): boolean =>
  !['unchecked', 'replaced'].includes(categoryOf(criterion)) && criterion.use !== 'coverage';

/** What is really taken or asked for it, as far as it is still missing. */
function askable(id: string, visit: Visit, measures: Measures): string[] {
  const measure = measures[id];
  const from = workedOutFrom[id];
  if (from) return from.filter((one) => visit.readings[one] === undefined);
  if (measure?.kind === 'number' && measure.readFrom?.rule === 'greatest')
    return [...measure.readFrom.measures].filter((one) => visit.readings[one] === undefined);
  if (measure?.kind !== 'sign') return [id];
  const parts = [...(measure.anyOf ?? []), ...(measure.allOf ?? [])];
  if (parts.length === 0) return [id];
  const open = parts.filter((part) => signOf(part, visit, measures) === undefined);
  return open.length > fewParts ? [id] : open.flatMap((part) => askable(part, visit, measures));
}

function isWorthAsking(id: string, visit: Visit, measures: Measures, isAsked: (id: string) => boolean): boolean {
  const measure = measures[id];
  if (measure === undefined || visit.notDone?.[id] !== undefined) return false;
  if (measure.kind === 'number')
    return (
      !measure.notWhen.some(({ sign }) => signOf(sign, visit, measures) === 'present') &&
      readingOf(id, visit, measures) === undefined &&
      isAsked(id)
    );
  if (measure.kind !== 'sign') return false;
  const parts = [...(measure.anyOf ?? []), ...(measure.allOf ?? [])];
  return parts.length > 0 || isAsked(id);
}
