/**
 * Answers that follow from what was typed: a PaCO2 of 9.3 kPa says that CO2 is raised, whether or not anybody tapped the
 * question. The rules are data (`impliedBy` in content/measures.yaml), each with its source; only what follows from
 * supports and from what was breathed is worked out here.
 *
 * Where an answer and a reading disagree the more serious of the two is used, and `contradictions` names the pair.
 */

import { meets } from '../domain/comparator.ts';
import type { ImpliedBy, Measures, SettledBy, SignMeasure } from '../domain/measure.ts';
import type { Reading, Sign, Visit } from '../domain/visit.ts';
import { compare, convert, convertible } from '../quantity.ts';
import { readingOf, signOf } from './readings.ts';

/** An answer with what it rests on. */
export interface Implied {
  answer: Sign;
  /** the measure or the supports it follows from, by id */
  from: string;
  reading?: Reading | undefined;
  /** the rule that the reading meets */
  rule?: ImpliedBy | undefined;
}

export interface Contradiction {
  sign: string;
  answered: Sign;
  implied: Implied;
  /** the answer that the findings use */
  used: Sign;
}

/** @returns the visit with every implied answer in it, the more serious one where two disagree, and what implied them */
export function withImplied(visit: Visit, measures: Measures): { visit: Visit; implied: Map<string, Implied> } {
  const implied = impliedSigns(visit, measures);
  if (implied.size === 0) return { visit, implied };
  const signs: Record<string, Sign> = { ...visit.signs };
  for (const [id, one] of implied) {
    const answered = signOf(id, visit, measures);
    if (answered === undefined || answered === one.answer) signs[id] = one.answer;
    else if (moreSerious(id, answered, one.answer, measures) === one.answer) signs[id] = one.answer;
    else {
      signs[id] = answered;
      implied.delete(id);
    }
  }
  return { visit: { ...visit, signs }, implied };
}

/** Answers that say one thing where a reading or a support says another. */
export function contradictions(visit: Visit, measures: Measures): Contradiction[] {
  return [...impliedSigns(visit, measures)].flatMap(([sign, implied]) => {
    const answered = signOf(sign, visit, measures) ?? deniedPart(sign, implied, visit, measures);
    return answered === undefined || answered === implied.answer
      ? []
      : [{ sign, answered, implied, used: moreSerious(sign, answered, implied.answer, measures) }];
  });
}

/** A part answered 'no' beside a reading that says the whole is there: 'cough weak: no' beside a low cough flow. */
function deniedPart(id: string, { answer }: Implied, visit: Visit, measures: Measures): Sign | undefined {
  const measure = measures[id];
  if (answer !== 'present' || measure?.kind !== 'sign') return undefined;
  return measure.anyOf?.some((part) => visit.signs[part] === 'absent') ? 'absent' : undefined;
}

/** The abnormal answer; for a fact that is neither well nor ill, the one that was recorded rather than tapped. */
function moreSerious(id: string, answered: Sign, implied: Sign, measures: Measures): Sign {
  const measure = measures[id];
  if (measure?.kind !== 'sign' || measure.abnormal === 'neither') return implied;
  const serious: Sign = measure.abnormal === 'yes' ? 'present' : 'absent';
  return answered === serious ? answered : implied;
}

function impliedSigns(visit: Visit, measures: Measures): Map<string, Implied> {
  const found = new Map<string, Implied>();
  for (const [id, rules] of rulesOf(measures)) {
    const one = firstOf(rules, visit, measures);
    if (one) found.set(id, one);
  }
  const onNiv = ventilationOf(visit);
  if (onNiv) found.set('already-on-niv', onNiv);
  for (const [id, rule] of settledRules(measures)) {
    const from = found.has(id) ? undefined : settles(rule, visit);
    if (from !== undefined) found.set(id, { answer: rule.answer, from });
  }
  for (const [id, one] of oxygenAlone(visit, onNiv)) found.set(id, one);
  for (const [id, one] of wholes(visit, found, measures)) found.set(id, one);
  return found;
}

/** A whole that was answered 'no' although a reading, or another answer, says that one of its parts is there. */
function wholes(visit: Visit, found: ReadonlyMap<string, Implied>, measures: Measures): [string, Implied][] {
  const present = (id: string): Implied | undefined => {
    const one = found.get(id);
    if (one) return one.answer === 'present' ? one : undefined;
    if (visit.signs[id] === 'present') return { answer: 'present', from: id };
    return presentPart(id);
  };
  const presentPart = (id: string): Implied | undefined => {
    const measure = measures[id];
    if (measure?.kind !== 'sign') return undefined;
    for (const part of measure.anyOf ?? []) {
      const through = present(part);
      if (through) return through;
    }
    return undefined;
  };
  return Object.entries(visit.signs).flatMap(([id, answer]): [string, Implied][] => {
    const through = answer === 'absent' && !found.has(id) ? presentPart(id) : undefined;
    return through ? [[id, through]] : [];
  });
}

const settled = new WeakMap<Measures, [string, SettledBy][]>();

function settledRules(measures: Measures): [string, SettledBy][] {
  const cached = settled.get(measures);
  if (cached) return cached;
  const rules = Object.entries(measures).flatMap(([id, measure]) =>
    measure.kind === 'sign' ? measure.settledBy.map((rule): [string, SettledBy] => [id, rule]) : [],
  );
  settled.set(measures, rules);
  return rules;
}

/** @returns what the rule rests on, when all of it holds: another question or the age */
function settles(rule: SettledBy, visit: Visit): string | undefined {
  const { minAgeYears, sign, is } = rule;
  const { ageYears, signs } = visit;
  if (minAgeYears !== undefined && (ageYears === undefined || ageYears < minAgeYears)) return undefined;
  if (sign !== undefined && signs[sign] !== is) return undefined;
  return sign ?? 'age-years';
}

const known = new WeakMap<Measures, [string, ImpliedBy[]][]>();

function rulesOf(measures: Measures): [string, ImpliedBy[]][] {
  const cached = known.get(measures);
  if (cached) return cached;
  const rules = Object.entries(measures)
    .filter((entry): entry is [string, SignMeasure] => entry[1].kind === 'sign' && entry[1].impliedBy.length > 0)
    .map(([id, { abnormal, impliedBy }]): [string, ImpliedBy[]] => {
      // The abnormal answer is looked for first: one low test outweighs a normal one.
      const first = abnormal === 'no' ? 'absent' : 'present';
      return [id, [...impliedBy].sort((a, b) => Number(b.answer === first) - Number(a.answer === first))];
    });
  known.set(measures, rules);
  return rules;
}

function firstOf(rules: readonly ImpliedBy[], visit: Visit, measures: Measures): Implied | undefined {
  for (const rule of rules) {
    const reading = readingOf(rule.measure, visit, measures);
    if (reading !== undefined && holdsFor(rule, reading, visit, measures))
      return { answer: rule.answer, from: rule.measure, reading, rule };
  }
  return undefined;
}

function holdsFor(rule: ImpliedBy, reading: Reading, { ageYears, sex }: Visit, measures: Measures): boolean {
  const measure = measures[rule.measure];
  if (measure?.kind !== 'number' || !Number.isFinite(reading.value) || !convertible(reading.unit, rule.unit))
    return false;
  if (rule.sex !== undefined && sex !== rule.sex) return false;
  // With the age unknown an alarm counts and an all-clear does not.
  if (ageYears === undefined && rule.answer === 'absent' && (rule.minAgeYears ?? rule.belowAgeYears) !== undefined)
    return false;
  if (
    ageYears !== undefined &&
    (ageYears < (rule.minAgeYears ?? 0) || ageYears >= (rule.belowAgeYears ?? Number.POSITIVE_INFINITY))
  )
    return false;
  const methods = rule.methods ?? measure.methods;
  if (methods && reading.method !== undefined && !methods.includes(reading.method)) return false;
  if (measure.roomAir && reading.gas !== 'air') return false;
  // A test that may read low rules nothing out, and neither does one that was flagged.
  if (rule.clears && (reading.flags ?? []).length > 0) return false;
  const value = convert(measure.magnitude ? Math.abs(reading.value) : reading.value, reading.unit, rule.unit);
  const order = compare(value, rule.value, reading.unit !== rule.unit || reading.from !== undefined);
  return meets(order, rule.comparator);
}

const ventilations = ['night-ventilation', 'daytime-ventilation'] as const;

/**
 * On NIV: a ventilation in place, hours on it, or a reading taken on it. Not on NIV: asked, and none in place. Where the
 * supports say none and a reading says otherwise nothing follows, so that what is due without NIV is not held back.
 */
function ventilationOf({ supports = {}, readings }: Visit): Implied | undefined {
  const inPlace = ventilations.find((id) => supports[id] === 'in-place');
  if (inPlace) return { answer: 'present', from: inPlace };
  const used =
    (readings['niv-hours']?.value ?? 0) > 0 || Object.values(readings).some(({ gas }) => gas === 'ventilation');
  if (used && ventilations.some((id) => supports[id] !== undefined)) return undefined;
  const hours = readings['niv-hours'];
  if (hours && hours.value > 0) return { answer: 'present', from: 'niv-hours', reading: hours };
  const taken = byName(readings).find(([, { gas }]) => gas === 'ventilation');
  if (taken) return { answer: 'present', from: taken[0], reading: taken[1] };
  const asked = ventilations.find((id) => supports[id] !== undefined);
  return asked ? { answer: 'absent', from: asked } : undefined;
}

/** In one order, whichever was typed first. */
const byName = (readings: Visit['readings']): [string, Reading][] =>
  Object.entries(readings).sort(([a], [b]) => (a < b ? -1 : 1));

/**
 * Oxygen breathed, and no ventilation recorded: by day from a reading awake or a flow, at night from a recording. Unknown
 * counts as none until someone says otherwise; night ventilation says nothing about oxygen by day.
 */
function oxygenAlone({ readings, signs, supports = {} }: Visit, niv: Implied | undefined): [string, Implied][] {
  // What the supports say goes before a tapped answer, as it does wherever the two disagree.
  const ventilated = (niv?.answer ?? signs['already-on-niv']) === 'present';
  const byDay = supports['daytime-ventilation'];
  if (ventilated && (byDay === undefined || byDay === 'in-place')) return [];
  const onOxygen = byName(readings).filter(([, { gas }]) => gas === 'oxygen');
  const night = onOxygen.find(([id]) => id.startsWith('nocturnal-'));
  const day = onOxygen.find(([id]) => !id.startsWith('nocturnal-'));
  const flow = readings['oxygen-flow'];
  const [from, reading] = day ?? (flow && flow.value > 0 ? ['oxygen-flow', flow] : []);
  return [
    ...(from && reading
      ? [['daytime-oxygen-without-ventilation', { answer: 'present', from, reading }] as [string, Implied]]
      : []),
    ...(night && !ventilated
      ? [
          ['nocturnal-oxygen-without-niv', { answer: 'present', from: night[0], reading: night[1] }] as [
            string,
            Implied,
          ],
        ]
      : []),
  ];
}
