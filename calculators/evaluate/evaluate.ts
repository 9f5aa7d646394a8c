/**
 * Compares one visit with every published criterion.
 *
 * Three results: met, not met, cannot tell. A reading that is missing, unusable or taken under other conditions than
 * the criterion's gives 'cannot tell', never 'not met'; only when another part is known false is the whole known false.
 * A reading that was flagged shows only what its error cannot have made (doubt.ts).
 * Nothing is averaged, nothing is chosen: findings of different sources are listed side by side.
 *
 * @source  this project's own evaluation rules 1 to 14, written 2026-11-25 from the published criteria
 */

import { meets } from '../domain/comparator.ts';
import type { Condition, Criterion, Requirement } from '../domain/criterion.ts';
import type { Evidence } from '../domain/evidence.ts';
import type { ImpliedBy, Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading, SupportStatus, Visit } from '../domain/visit.ts';
import { compare, convert, convertible, type UnitCode } from '../quantity.ts';
import { inScopeFor } from './criteria-for.ts';
import { doubtsIn } from './doubt.ts';
import { type Implied, withImplied } from './implied.ts';
import { all, any, type Truth } from './logic.ts';
import { readingOf, signOf } from './readings.ts';

export type { Evidence } from '../domain/evidence.ts';

/** Why the result of a comparison is 'cannot tell'. */
export type Obstacle =
  | { kind: 'not-measured'; because?: string | undefined }
  | { kind: 'not-asked' }
  | { kind: 'gas'; gas: 'oxygen' | 'ventilation' | undefined }
  | { kind: 'posture'; posture: 'upright' | 'supine' }
  | { kind: 'method'; method: string }
  | { kind: 'unit'; unit: UnitCode }
  | { kind: 'at-threshold' }
  | { kind: 'flagged' }
  | { kind: 'age'; from: number };

/** One comparison, with what it was made on. */
export interface Part {
  measure: string;
  role: 'main' | 'alternative' | 'also' | 'any-of';
  condition: Condition;
  truth: Truth;
  reading?: Reading | undefined;
  /** for a sign that is one of several: those that are there */
  items?: readonly string[] | undefined;
  /** for a sign that follows from a reading: the measure of that reading */
  impliedBy?: string | undefined;
  /** and the rule that the reading meets */
  impliedRule?: ImpliedBy | undefined;
  /** an exception that nobody was asked about: it counts as met, and the sentence says 'unless' */
  assumed?: true | undefined;
  obstacle?: Obstacle | undefined;
}

export interface Finding {
  criterion: Criterion;
  result: Truth;
  parts: Part[];
  /**
   * what a visit could still measure, ask or note (`age`, `sex`, `disease`) to decide it; empty unless the result is
   * 'cannot tell'
   */
  missing: string[];
  /** quality flags of the readings it rests on, by measure */
  flags: { measure: string; flag: string }[];
  /** the decision this criterion belongs to */
  decision: string | undefined;
  /** what the person has already for that decision */
  support?: SupportStatus | undefined;
}

/** @returns a finding for every criterion that may be shown for this person; rows that only inform have none */
export function evaluate(typed: Visit, evidence: Evidence): Finding[] {
  const findings: Finding[] = [];
  const { visit, implied } = withImplied(typed, evidence.measures);
  for (const { criterion, scope } of inScopeFor(visit, evidence, { evaluated: true })) {
    const finding = evaluateOne(criterion, { visit, implied, measures: evidence.measures }, evidence.decisionOf);
    findings.push(
      scope === 'in'
        ? finding
        : { ...finding, result: 'cannot-tell', missing: [...new Set([...scope.missing, ...finding.missing])] },
    );
  }
  return findings;
}

/** One visit with what follows from it. */
interface Known {
  visit: Visit;
  implied: ReadonlyMap<string, Implied>;
  measures: Measures;
}

function evaluateOne(criterion: Criterion, known: Known, decisionOf: Evidence['decisionOf']): Finding {
  const { visit } = known;
  const main = evaluateCondition(mainCondition(criterion), 'main', criterion, known);
  const either = [main];
  if (criterion.alternative)
    either.push(fromAge(evaluateCondition(criterion.alternative, 'alternative', criterion, known), visit));
  const also = criterion.alsoRequires.map((requirement) => evaluateRequirement(requirement, criterion, known));
  const result = all([any(either.map(truthOf)), ...also.map(truthOf)]);
  const parts = also.length === 0 ? either : either.concat(...also.map((requirement) => requirement.parts));
  const decision = decisionOf(criterion.support);
  return {
    criterion,
    result,
    parts,
    missing: result === 'cannot-tell' ? missingIn(parts) : [],
    flags: parts.flatMap(flagsOf),
    decision,
    support: decision === undefined ? undefined : visit.supports?.[decision],
  };
}

const truthOf = ({ truth }: { truth: Truth }): Truth => truth;
const noFlags: Finding['flags'] = [];
const flagsOf = ({ measure, impliedBy, reading }: Part): Finding['flags'] =>
  reading?.flags ? reading.flags.map((flag) => ({ measure: impliedBy ?? measure, flag })) : noFlags;

function missingIn(parts: readonly Part[]): string[] {
  const names = new Set<string>();
  for (const { measure, truth, obstacle, reading } of parts) {
    if (truth !== 'cannot-tell') continue;
    const ofAge = obstacle?.kind === 'age';
    if (ofAge || measure === 'age-years') names.add('age');
    if (measure !== 'age-years' && !(ofAge && reading)) names.add(measure);
  }
  return [...names];
}

function mainCondition({ measure, comparator, value, unit }: Criterion): Condition {
  return {
    measure,
    comparator: comparator as Condition['comparator'],
    value: typeof value === 'number' ? value : undefined,
    unit,
  };
}

function evaluateRequirement(
  requirement: Requirement,
  criterion: Criterion,
  known: Known,
): { truth: Truth; parts: Part[] } {
  if ('anyOf' in requirement) {
    const parts = requirement.anyOf.map((measure) =>
      evaluateCondition({ measure, comparator: 'present' }, 'any-of', criterion, known),
    );
    return { truth: any(parts.map((part) => part.truth)), parts };
  }
  const part = fromAge(evaluateCondition(requirement, 'also', criterion, known), known.visit);
  const assumed = part.truth === 'cannot-tell' && requirement.unanswered !== undefined;
  const counted: Part = assumed ? { ...part, truth: requirement.unanswered ?? part.truth, assumed } : part;
  return { truth: counted.truth, parts: [counted] };
}

function evaluateCondition(
  condition: Condition,
  role: Part['role'],
  criterion: Criterion,
  { visit, implied, measures }: Known,
): Part {
  const { measure: id } = condition;
  const partWith = (truth: Truth, reading?: Reading, obstacle?: Obstacle): Part => ({
    measure: id,
    role,
    condition,
    truth,
    reading,
    obstacle,
  });
  if (condition.comparator === 'present' || condition.comparator === 'absent') {
    const sign = signOf(id, visit, measures);
    if (sign === undefined) return partWith('cannot-tell', undefined, { kind: 'not-asked' });
    const answered = partWith(sign === condition.comparator ? 'met' : 'not-met');
    const from = impliedFor(id, sign, visit, implied, measures);
    const items = sign === 'present' ? presentItems(id, visit, measures) : [];
    return {
      ...answered,
      ...(items.length > 0 ? { items } : {}),
      ...(from
        ? { reading: from.reading, impliedBy: from.from, ...(from.rule ? { impliedRule: from.rule } : {}) }
        : {}),
    };
  }
  const measure = measures[id];
  const reading = readingOf(id, visit, measures);
  if (reading === undefined || measure?.kind !== 'number')
    return partWith('cannot-tell', undefined, { kind: 'not-measured', because: visit.notDone?.[id] });
  const unit = condition.unit ?? measure.unit;
  const obstacle = obstacleOf(reading, measure, criterion, role, unit);
  if (obstacle) return partWith('cannot-tell', reading, obstacle);
  const order = orderOf(reading, condition, measure, unit);
  if (order === 0 && role === 'main' && criterion.atThreshold === 'cannot-tell')
    return partWith('cannot-tell', reading, { kind: 'at-threshold' });
  const truth = meets(order, condition.comparator) ? 'met' : 'not-met';
  // An all-clear that the flagged error could have made is none.
  return truth === calmResult(criterion, role) &&
    doubtsIn(truth, condition.comparator, reading, measure, measures).length > 0
    ? partWith('cannot-tell', reading, { kind: 'flagged' })
    : partWith(truth, reading);
}

/** The answer that asks for nothing: of a schedule to keep or a limit not to pass it is 'met'. */
const calmResult = ({ attentionWhen }: Criterion, role: Part['role']): Truth =>
  attentionWhen === 'not-met' && role !== 'also' ? 'met' : 'not-met';

/** Of a sign that is any of several: which are there, down to the single ones. */
function presentItems(id: string, visit: Visit, measures: Measures): string[] {
  const measure = measures[id];
  if (measure?.kind !== 'sign' || !measure.anyOf || visit.signs[id] !== undefined) return [];
  return measure.anyOf.flatMap((part) => {
    if (signOf(part, visit, measures) !== 'present') return [];
    const inner = presentItems(part, visit, measures);
    return inner.length > 0 ? inner : [part];
  });
}

/** The reading behind an answer, its own or that of a part which decides it. */
function impliedFor(
  id: string,
  answer: 'present' | 'absent',
  visit: Visit,
  implied: Known['implied'],
  measures: Measures,
): Implied | undefined {
  if (implied.size === 0) return undefined;
  const own = implied.get(id);
  if (own?.answer === answer) return own;
  const measure = measures[id];
  if (visit.signs[id] !== undefined || measure?.kind !== 'sign') return undefined;
  for (const part of [...(measure.anyOf ?? []), ...(measure.allOf ?? [])]) {
    const from = impliedFor(part, answer, visit, implied, measures);
    if (from) return from;
  }
  return undefined;
}

/** A part that counts from an age on is false below it; with the age unknown only a part that is false anyway is known. */
function fromAge(part: Part, { ageYears }: Visit): Part {
  const from = part.condition.minAgeYears;
  if (from === undefined) return part;
  if (ageYears === undefined)
    return part.truth === 'not-met' ? part : { ...part, truth: 'cannot-tell', obstacle: { kind: 'age', from } };
  return ageYears < from ? { ...part, truth: 'not-met', reading: undefined, obstacle: undefined } : part;
}

function orderOf(reading: Reading, condition: Condition, measure: NumberMeasure, unit: UnitCode): number {
  const typed = measure.magnitude ? Math.abs(reading.value) : reading.value;
  // A value computed from others is as inexact as one converted: 4.1 x 60 must equal 246.
  const converted = reading.unit !== unit || reading.from !== undefined;
  return compare(convert(typed, reading.unit, unit), condition.value ?? Number.NaN, converted);
}

/** Why a reading cannot be compared with this threshold; most often it was taken on oxygen or lying down. */
function obstacleOf(
  reading: Reading,
  measure: NumberMeasure,
  criterion: Criterion,
  role: Part['role'],
  unit: UnitCode,
): Obstacle | undefined {
  if (!Number.isFinite(reading.value)) return { kind: 'not-measured' };
  if (!convertible(reading.unit, unit)) return { kind: 'unit', unit: reading.unit };
  if (measure.roomAir && !(criterion.anyGas && role === 'main') && reading.gas !== 'air')
    return { kind: 'gas', gas: reading.gas };
  const posture = role === 'main' ? (criterion.posture ?? measure.posture) : measure.posture;
  if (posture !== undefined && posture !== 'any' && reading.posture !== undefined && reading.posture !== posture)
    return { kind: 'posture', posture: reading.posture };
  if (measure.methods && reading.method !== undefined && !measure.methods.includes(reading.method))
    return { kind: 'method', method: reading.method };
  return undefined;
}
