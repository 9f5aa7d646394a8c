/** Which fields the visit sheet asks of this person: the short visit, the rest, and what is not asked because it is settled. */
import { adulthood } from '../domain/age-and-sex.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Measures, VisitPart } from '../domain/measure.ts';
import type { Visit } from '../domain/visit.ts';
import type { ShortRule, VisitSheetContent } from '../domain/visit-sheet.ts';
import { askedTogether } from './asked-together.ts';
import { withImplied } from './implied.ts';
import { signOf } from './readings.ts';

export type SheetPart = ShortRule['part'];

/** What one part of the sheet asks. */
export interface AskedPart {
  /** in the order of the rules */
  short: string[];
  /** signs to tick in one list, with one tap for none of them */
  ticks: string[];
  /** under 'Add more', in the order of the measures */
  rest: string[];
}
export type Asked = ReadonlyMap<SheetPart, AskedPart>;

export interface AskContext {
  sheet: VisitSheetContent;
  measures: Measures;
  /** the criteria in scope for the person */
  criteria: readonly Criterion[];
}

export function askedOf(visit: Visit, context: AskContext): Asked {
  const { measures, sheet } = context;
  const known = withImplied(visit, measures).visit;
  const isOpen = openFor(visit, known, measures);
  const parts = new Map<SheetPart, AskedPart>();
  const partOf = (part: SheetPart): AskedPart => {
    const found = parts.get(part) ?? { short: [], ticks: [], rest: [] };
    parts.set(part, found);
    return found;
  };
  const taken = new Set<string>();
  const take = (id: string): boolean => {
    if (taken.has(id) || !isOpen(id)) return false;
    taken.add(id);
    return true;
  };
  for (const rule of sheet.short) {
    if (!holds(rule, known, measures)) continue;
    const listed = [...new Set(rule.tick.flatMap((id) => singles(id, measures)))];
    const together = new Set(askedTogether(listed, measures, context.criteria));
    const { short, ticks } = partOf(rule.part);
    for (const id of rule.ask) if (take(id)) short.push(id);
    // A sign that an emergency is about is never answered together with others.
    for (const id of listed) if (take(id)) (together.has(id) ? ticks : short).push(id);
  }
  for (const id of wantedBy(context)) {
    const measure = measures[id];
    if (measure && measure.kind !== 'schedule' && take(id)) partOf(measure.part).rest.push(id);
  }
  return parts;
}

/** Fields that the short visit shows, a list to tick counted as one. */
export const shortCount = (asked: Asked): number =>
  [...asked.values()].reduce((sum, { short, ticks }) => sum + short.length + (ticks.length > 0 ? 1 : 0), 0);

/** Not a question, or one that is open: a question is closed when something else answers it and nobody has. */
function openFor(visit: Visit, known: Visit, measures: Measures): (id: string) => boolean {
  return (id) => {
    const measure = measures[id];
    if (measure?.kind !== 'sign' || visit.signs[id] !== undefined) return true;
    if (known.signs[id] !== undefined) return false;
    if (visit.ageYears !== undefined && visit.ageYears < (measure.fromAgeYears ?? 0)) return false;
    return !(measure.needs && isWithout(measure.needs, visit, known));
  };
}

/** All were asked about and none is in place; hours on a ventilator, or a reading taken on it, say that there is one after all. */
const isWithout = (needs: readonly string[], { supports = {} }: Visit, known: Visit): boolean =>
  known.signs['already-on-niv'] !== 'present' &&
  needs.every((id) => supports[id] !== undefined && supports[id] !== 'in-place');

/** The signs that a sign is made of, down to those that are asked. */
export function singles(id: string, measures: Measures): string[] {
  const measure = measures[id];
  if (measure?.kind !== 'sign') return [];
  const parts = [...(measure.anyOf ?? []), ...(measure.allOf ?? [])];
  return parts.length === 0 ? [id] : parts.flatMap((part) => singles(part, measures));
}

function holds(rule: ShortRule, visit: Visit, measures: Measures): boolean {
  const { disease, ageYears = adulthood, supports = {}, readings } = visit;
  const some = (wanted: ShortRule['supports'] = {}) =>
    Object.entries(wanted).map(([id, statuses]) => statuses.some((status) => supports[id] === status));
  const answers = (wanted: ShortRule['signs'] = {}) =>
    Object.entries(wanted).map(([id, answer]) => signOf(id, visit, measures) === answer);
  return (
    (!rule.diseases || (disease !== undefined && rule.diseases.includes(disease))) &&
    !(disease !== undefined && rule.notDiseases?.includes(disease)) &&
    ageYears >= (rule.minAgeYears ?? 0) &&
    ageYears < (rule.belowAgeYears ?? Number.POSITIVE_INFINITY) &&
    some(rule.supports).every(Boolean) &&
    !some(rule.unlessSupports).some(Boolean) &&
    answers(rule.signs).every(Boolean) &&
    !answers(rule.unlessSigns).some(Boolean) &&
    (rule.readings ?? []).every((id) => readings[id] !== undefined) &&
    (!rule.onOxygen || Object.values(readings).some(({ gas }) => gas === 'oxygen'))
  );
}

/** Measures that the criteria in scope name, what those are made of, and what is asked of everybody; in the order of the measures. */
function wantedBy({ sheet, measures, criteria }: AskContext): string[] {
  const wanted = new Set(sheet.always.flatMap(({ ask }) => ask));
  const seen = new Set<string>();
  const want = (id: string) => {
    wanted.add(id);
    if (seen.has(id)) return;
    seen.add(id);
    const measure = measures[id];
    if (measure?.kind === 'sign') for (const part of [...(measure.anyOf ?? []), ...(measure.allOf ?? [])]) want(part);
    if (measure?.kind === 'number') for (const part of measure.readFrom?.measures ?? []) want(part);
  };
  for (const { measure, alternative, alsoRequires } of criteria) {
    want(measure);
    if (alternative) want(alternative.measure);
    for (const requirement of alsoRequires)
      for (const id of 'anyOf' in requirement ? requirement.anyOf : [requirement.measure]) want(id);
  }
  return Object.keys(measures).filter((id) => wanted.has(id) && isTyped(id, measures));
}

/** Nobody types what is made of others, and the age belongs to the person. */
function isTyped(id: string, measures: Measures): boolean {
  const measure = measures[id];
  if (measure === undefined || id === 'age-years') return false;
  if (measure.kind === 'sign') return measure.anyOf === undefined && measure.allOf === undefined;
  return measure.kind === 'number' && measure.readFrom?.rule !== 'greatest';
}

/** The part in which a measure is asked, and whether it is under 'Add more'. */
export function placeOf(id: string, asked: Asked): { part: SheetPart; more: boolean } | undefined {
  for (const [part, { short, ticks, rest }] of asked) {
    if (short.includes(id) || ticks.includes(id)) return { part, more: false };
    if (rest.includes(id)) return { part, more: true };
  }
  return undefined;
}

export const isVisitPart = (part: SheetPart): part is VisitPart => part !== 'remark';
