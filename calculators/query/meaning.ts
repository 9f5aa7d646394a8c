/** What a number with a name can mean: which measure, in which unit. */

import type { Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { convert, type UnitCode, units } from '../quantity.ts';
import { type AskedPerson, type AskedReading, gasUnknown } from './asked.ts';
import type { Said } from './conditions.ts';
import type { Typed } from './numbers.ts';

const gasSaid: Record<NonNullable<Reading['gas']>, string> = {
  air: 'on air',
  oxygen: 'on oxygen',
  ventilation: 'on ventilation',
};

interface Fitted extends AskedReading {
  fit: 'low' | 'plausible' | 'high';
  /** in the measure's own unit, or in the one typed */
  usual: boolean;
}

/** Every reading that the number can be, under any of the names; several where only the reader can tell. */
export function meanings(
  named: readonly string[],
  quantity: Typed,
  said: Said,
  person: AskedPerson,
  measures: Measures,
): AskedReading[] {
  const fitted = (as: Said): Fitted[] =>
    measuresMeant(named, measures, as).flatMap((id) => {
      const measure = measures[id];
      return measure?.kind === 'number' ? readingsOf(id, measure, quantity, as, person) : [];
    });
  const options = fitted(said);
  if (said.change === undefined || options.some(({ fit }) => fit === 'plausible')) return chosenFrom(options, quantity);
  // 'sats dropping 84': no fall can be that large, so it is where they are now.
  const now = named.filter((id) => valueWhileChanging.has(id));
  return chosenFrom(now.length > 0 ? fitted({ ...said, change: undefined }) : options, quantity).map((option) => ({
    ...option,
    assumed: now.length > 0 ? [...option.assumed, `${quantity.typed} is the value now`] : option.assumed,
  }));
}

/** Said with a word of change, and still the value: 'sats dropping 84', 'rate up 34'. */
export const valueWhileChanging: ReadonlySet<string> = new Set([
  'spo2',
  'paco2',
  'awake-co2-any-method',
  'respiratory-rate',
  'niv-hours',
  'bicarbonate',
]);

/**
 * A whole number that is possible in the usual unit is asked about, however low: a sniff of 4 can be 4 kPa, or 4 cmH2O in
 * someone very weak. A figure after the point decides (1.9 is litres, not per cent).
 */
function chosenFrom(options: readonly Fitted[], { value, typed }: Typed): AskedReading[] {
  const likely = options.filter(({ fit }) => fit === 'plausible');
  const chosen =
    likely.length === 0
      ? options.filter(({ fit, usual }) => usual || fit === 'high')
      : [
          ...likely,
          ...options.filter(
            ({ fit, usual, measure }) =>
              Number.isInteger(value) &&
              !/\d[.,]\d/.test(typed) &&
              fit === 'low' &&
              usual &&
              likely.every((other) => related(other.measure, measure)),
          ),
        ];
  return chosen.map(({ fit: _, usual: __, ...option }) => option);
}

/** Litres, per cent and volume per kilogram go by one name at the bedside: the number and its unit say which, where they can. */
const siblings: readonly (readonly string[])[] = [
  ['fvc-percent', 'vc-litres', 'vc-per-kilogram'],
  ['fvc-supine-percent', 'vc-litres-supine'],
  ['mip', 'mip-percent-predicted'],
];

/** Nobody's first meaning of 'VC' or 'MIP': taken only when the unit was typed. */
const onlyWithUnit = new Set(['vc-per-kilogram', 'mip-percent-predicted']);

export const siblingsOf = (id: string): readonly string[] => siblings.find((group) => group.includes(id)) ?? [];

/** The measure that a vital capacity is when it was taken lying flat. */
export const lyingDown: Record<string, string> = {
  'fvc-percent': 'fvc-supine-percent',
  'vc-litres': 'vc-litres-supine',
};

/** What a fall or a rise of a measure may be. Where a change of it is not among the measures, there is no answer. */
const changes: Record<'fall' | 'rise', Record<string, readonly string[]>> = {
  fall: {
    'fvc-percent': ['fvc-drop-supine-percent', 'vc-or-mip-or-mep-fall-from-baseline-percent'],
    'vc-litres': ['fvc-drop-supine-percent', 'vc-or-mip-or-mep-fall-from-baseline-percent'],
    'fvc-supine-percent': ['fvc-drop-supine-percent'],
    snip: ['snip-or-mip-fall-per-3-months', 'snip-relative-fall-per-3-months'],
    mip: ['snip-or-mip-fall-per-3-months', 'vc-or-mip-or-mep-fall-from-baseline-percent'],
    mep: ['vc-or-mip-or-mep-fall-from-baseline-percent'],
    weight: ['weight-loss-percent'],
  },
  rise: {
    paco2: ['paco2-overnight-rise', 'tcco2-night-rise', 'tcco2-or-etco2-peak-rise'],
    'awake-co2-any-method': ['tcco2-night-rise', 'tcco2-or-etco2-peak-rise'],
  },
};

const related = (a: string, b: string): boolean =>
  a === b || siblings.some((group) => group.includes(a) && group.includes(b));

function measuresMeant(named: readonly string[], measures: Measures, { posture, change, overTime }: Said): string[] {
  const turned =
    change === undefined
      ? unchanged(named)
      : named.flatMap((id) => (isChange(id) ? [id] : (changes[change][id] ?? [])));
  const lying = posture === 'supine' ? turned.map((id) => lyingDown[id] ?? id) : turned;
  const all = lying.flatMap((id) => [id, ...siblingsOf(id)]);
  const flat = 'fvc-drop-supine-percent';
  if (change === 'fall' && posture === 'supine' && all.includes(flat)) return [flat];
  // 'fell 34 % since admission' is no fall on lying flat.
  const meant = overTime && change === 'fall' ? all.filter((id) => id !== flat) : all;
  return [...new Set(meant)].filter((id) => measures[id]?.kind === 'number');
}

/** 'etco2 38' without a word of change is the value, where the name can be one. */
const unchanged = (named: readonly string[]): readonly string[] => {
  const values = named.filter((id) => !isChange(id));
  return values.length > 0 ? values : named;
};

const changeIn = new Set(['fall', 'drop', 'rise', 'loss']);
export const isChange = (id: string): boolean => id.split('-').some((part) => changeIn.has(part));

function readingsOf(
  id: string,
  measure: NumberMeasure,
  { value, unit, typed }: Typed,
  said: Said,
  person: AskedPerson,
): Fitted[] {
  const asTyped = unit === undefined ? undefined : unitOf(unit, measure);
  if (onlyWithUnit.has(id) && asTyped === undefined) return [];
  const accepts = [measure.unit, ...measure.accepts];
  // A sign is dropped where the number has none to say: a pressure, or a dash typed before a value.
  const signed = measure.magnitude || measure.hard[0] >= 0 ? Math.abs(value) : value;
  return (asTyped === undefined ? accepts : [asTyped]).flatMap((code) => {
    if (units[code].dimension !== units[measure.unit].dimension) return [];
    const held = convert(signed, code, measure.unit);
    if (held < measure.hard[0] || held > measure.hard[1]) return [];
    const usual = code === measure.unit;
    // Another unit than the usual one is taken only when it was typed, or when the usual one makes no sense.
    if (asTyped === undefined && !usual && isPlausible(signed, measure)) return [];
    const { told, assumed } = wordsFor(measure, code, asTyped === undefined, said);
    if (asTyped !== undefined && unit !== undefined && asTyped !== unit)
      assumed.push(`${typed} taken as ${units[code].symbol}`);
    return [
      {
        kind: 'reading',
        measure: id,
        reading: takenAs(signed, code, measure, said),
        person,
        told,
        assumed,
        unused: [],
        fit: held < measure.plausible[0] ? 'low' : held > measure.plausible[1] ? 'high' : 'plausible',
        usual: usual || asTyped !== undefined,
      } satisfies Fitted,
    ];
  });
}

function takenAs(value: number, unit: UnitCode, measure: NumberMeasure, said: Said): Reading {
  const flags = measure.flags.filter(({ id }) => said.flags.has(id)).map(({ id }) => id);
  return {
    value,
    unit,
    ...(said.gas && takenOnGas(measure) ? { gas: said.gas } : {}),
    ...(said.posture && measure.posture !== 'supine' ? { posture: said.posture } : {}),
    ...(said.method && measure.methods ? { method: said.method } : {}),
    ...(flags.length > 0 ? { flags } : {}),
  };
}

/** A unit as people say it beside this measure: hours for hours a day, litres for a flow of either kind. */
function unitOf(unit: UnitCode, measure: NumberMeasure): UnitCode | undefined {
  // 'snip 44 m' is a man's: no test of breath is in metres.
  if (unit === 'm{altitude}' && units[measure.unit].dimension !== units[unit].dimension) return undefined;
  if (unit === 'h' && measure.unit === 'h/d') return 'h/d';
  if (unit === 'min' && measure.unit === '/min') return '/min';
  if (unit === '%' && measure.unit === '%/(3.mo)') return '%/(3.mo)';
  if (unit === 'cm[H2O]' && measure.unit === 'cm[H2O]/(3.mo)') return 'cm[H2O]/(3.mo)';
  if (unit === 'L' && units[measure.unit].dimension === 'flow') return undefined;
  return unit;
}

function wordsFor(
  measure: NumberMeasure,
  unit: UnitCode,
  guessed: boolean,
  said: Said,
): { told: string[]; assumed: string[] } {
  const told: string[] = [];
  const assumed: string[] = [];
  if (guessed && (measure.accepts.length > 0 || measure.of))
    assumed.push(`${units[unit].symbol || 'no unit'}${measure.of ? ` ${measure.of}` : ''}`);
  if (said.posture !== undefined) told.push(said.posture === 'supine' ? 'lying flat' : 'upright');
  else if (measure.posture === 'upright') assumed.push('upright');
  if (measure.methods && said.method !== undefined) told.push(said.method);
  else if (measure.methods) assumed.push(`${measure.methods.join(' or ')} gas, awake`);
  if (said.gas !== undefined && takenOnGas(measure))
    (said.gasAssumed === undefined ? told : assumed).push(said.gasAssumed ?? gasSaid[said.gas]);
  else if (measure.roomAir) assumed.push(gasUnknown);
  for (const flag of measure.flags)
    if (said.flags.has(flag.id)) {
      const label = flag.label.charAt(0).toLowerCase() + flag.label.slice(1);
      told.push(flag.reads === 'either' ? label : `${label}, which reads ${flag.reads}`);
    }
  return { told, assumed };
}

/** Saturation and carbon dioxide; what was breathed says nothing about a bicarbonate or a vital capacity. */
export const takenOnGas = ({ roomAir, methods }: NumberMeasure): boolean => roomAir === true || methods !== undefined;

const isPlausible = (value: number, { plausible }: NumberMeasure): boolean =>
  value >= plausible[0] && value <= plausible[1];
