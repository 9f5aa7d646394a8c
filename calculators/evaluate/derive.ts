/**
 * Readings worked out from others: per cent predicted from litres, the fall on lying flat, volume per kilogram. Each
 * says what it came from and carries the quality flags of what it came from. A reading typed by hand is never replaced.
 */

import type { Reading, Visit } from '../domain/visit.ts';
import { convert } from '../quantity.ts';
import { type Expected, percentPredictedOf } from '../spirometry/expected.ts';
import type { Group } from '../spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../spirometry/reference-sets.ts';

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

/** @returns the visit with what follows from its readings added */
export function derive(visit: Visit, choice: PredictionChoice): Visit {
  const readings: Record<string, Reading> = { ...visit.readings };
  const add = (
    measure: string,
    unit: Reading['unit'],
    from: string[],
    value: (...litres: number[]) => number | undefined,
  ) => {
    const sources = from.map((id) => visit.readings[id]);
    if (readings[measure] !== undefined || sources.some((reading) => reading === undefined)) return;
    const found = sources as Reading[];
    const computed = value(...found.map((reading, place) => inBase(reading, from[place] ?? '')));
    if (computed === undefined || !Number.isFinite(computed)) return;
    const flags = [...new Set(found.flatMap((reading) => reading.flags ?? []))];
    readings[measure] = {
      value: computed,
      unit,
      from,
      ...(flags.length > 0 ? { flags } : {}),
      posture: found.find(({ posture }) => posture !== undefined)?.posture ?? postureOf[measure],
    };
  };
  const predicted = predictedFvc(visit, choice);
  const percent = (litres: number | undefined) =>
    predicted.ok && litres !== undefined ? percentPredictedOf(predicted.expected, litres) : undefined;
  add('fvc-percent', '%', ['vc-litres'], percent);
  add('fvc-supine-percent', '%', ['vc-litres-supine'], percent);
  const turned =
    visit.readings['vc-litres']?.posture === 'supine' || visit.readings['vc-litres-supine']?.posture === 'upright';
  if (!turned)
    add(
      'fvc-drop-supine-percent',
      '%',
      ['vc-litres', 'vc-litres-supine'],
      (upright = Number.NaN, supine = Number.NaN) => ((upright - supine) / upright) * 100,
    );
  add(
    'vc-per-kilogram',
    'mL/kg',
    ['vc-litres', 'weight'],
    (litres = Number.NaN, kilograms = Number.NaN) => (litres * 1000) / kilograms,
  );
  add(
    'weight-loss-percent',
    '%',
    ['usual-weight', 'weight'],
    (usual = Number.NaN, now = Number.NaN) => ((usual - now) / usual) * 100,
  );
  return { ...visit, readings };
}

const postureOf: Record<string, Reading['posture']> = { 'fvc-percent': 'upright', 'fvc-supine-percent': 'supine' };

const inBase = (reading: Reading, measure: string): number =>
  convert(reading.value, reading.unit, /weight/.test(measure) ? 'kg' : 'L');
