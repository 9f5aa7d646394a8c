/**
 * Readings worked out from others: per cent predicted from litres, the fall on lying flat, volume per kilogram. Each
 * says what it came from and carries the quality flags of what it came from. A reading typed by hand is never replaced.
 * The reference sets stay outside: a page that has no litres need not load them.
 */

import type { Reading, Visit } from '../domain/visit.ts';
import { convert } from '../quantity.ts';

/** Litres of a person as per cent of predicted; nothing where the set says nothing about that person. */
export type PercentOf = (visit: Visit) => (litres: number | undefined) => number | undefined;

export const noPercent: PercentOf = () => () => undefined;

/** Litres, and everything that a prediction asks for. */
export const asksForPercent = ({ readings, sex, ageYears, heightCm }: Visit): boolean =>
  (readings['vc-litres'] ?? readings['vc-litres-supine']) !== undefined &&
  sex !== undefined &&
  ageYears !== undefined &&
  heightCm !== undefined;

/** @returns the visit with what follows from its readings added */
export function follow(visit: Visit, percentOf: PercentOf): Visit {
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
  const percent = percentOf(visit);
  add('fvc-percent', '%', ['vc-litres'], percent);
  add('fvc-supine-percent', '%', ['vc-litres-supine'], percent);
  // Litres first. Per cent of one predicted value falls by the same share; one worked out here may be of another value than one typed.
  const worked = (id: string): boolean => visit.readings[id]?.from !== undefined;
  for (const [sitting, lying] of [
    ['vc-litres', 'vc-litres-supine'],
    ['fvc-percent', 'fvc-supine-percent'],
  ] as const)
    if (
      visit.readings[sitting]?.posture !== 'supine' &&
      visit.readings[lying]?.posture !== 'upright' &&
      !worked(sitting) &&
      !worked(lying)
    )
      add(
        'fvc-drop-supine-percent',
        '%',
        [sitting, lying],
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
  convert(reading.value, reading.unit, /weight/.test(measure) ? 'kg' : /percent/.test(measure) ? '%' : 'L');
