/** What is on the visit sheet, as typed; and the visit that it makes. */

import type { Measures, NumberMeasure } from '../../../calculators/domain/measure.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import type { Reading, Sign, SupportStatus, Visit, Wish } from '../../../calculators/domain/visit.ts';
import type { PredictionChoice } from '../../../calculators/evaluate/derive.ts';
import { outOfRange } from '../../../calculators/out-of-range.ts';
import { convert, type UnitCode, units } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import { defaultSet } from '../../../calculators/spirometry/default-set.ts';
import type { KeptPlan } from '../../../calculators/visit/series.ts';

export interface Entry {
  text: string;
  unit: UnitCode;
  gas?: Reading['gas'];
  posture?: Reading['posture'];
  method?: string | undefined;
  flags?: string[] | undefined;
}

export interface Entries {
  readings: Record<string, Entry>;
  signs: Record<string, Sign>;
  supports: Record<string, SupportStatus>;
  /** by decision, for the supports that are in place */
  supportTimes: Record<string, SupportTime>;
  /** why a measure has no reading */
  notDone: Record<string, string>;
  /** what was chosen from a list that no criterion is about */
  choices: Record<string, string>;
  wishes: Wish[];
  /** who answers and how, for someone who does not speak or is spoken for */
  answers: string;
  plan: PlanItem[];
  card: CardText;
  /** what is asked of the physician */
  asked: string;
  /** of whom it is asked, and by when (a date) */
  askedOf: string;
  askedBy: string;
  /** in the reader's own words */
  remark: string;
  prediction: PredictionChoice;
  date: string;
  /** how long it takes here to have a support in place, as typed */
  leadWeeks: string;
}

export interface SupportTime {
  /** hours in 24, as typed */
  hours?: string | undefined;
  /** the longest time off it, as told */
  timeOff?: string | undefined;
}

/** Something that will be arranged: who sees to it, by when, and how far it has come. */
export type PlanItem = KeptPlan;

/** What only the reader knows for the emergency card. */
export interface CardText {
  interface: string;
  settings: string;
  contacts: string;
}

export const noEntries = (): Entries => ({
  readings: {},
  signs: {},
  supports: {},
  supportTimes: {},
  notDone: {},
  choices: {},
  wishes: [],
  answers: '',
  plan: [],
  card: { interface: '', settings: '', contacts: '' },
  asked: '',
  askedOf: '',
  askedBy: '',
  remark: '',
  prediction: { set: defaultSet },
  date: '',
  leadWeeks: '',
});

/** Whether anything about this visit was entered; what was only carried over from the last one does not count. */
export const isTouched = (entries: Entries): boolean =>
  Object.values(entries.readings).some(({ text }) => text.trim() !== '') ||
  [entries.signs, entries.supports, entries.notDone, entries.choices, entries.wishes].some(
    (some) => Object.keys(some).length > 0,
  ) ||
  [entries.answers, entries.asked, entries.askedOf, entries.remark, ...Object.values(entries.card)].some(
    (text) => text.trim() !== '',
  );

/** With the entry set, or taken back when there is none. */
export function without<T>(from: Record<string, T>, id: string, value: T | undefined): Record<string, T> {
  const { [id]: _, ...others } = from;
  return value === undefined ? others : { ...others, [id]: value };
}

/** Supports whose hours make up the ventilator hours of a day. */
export const ventilations = ['night-ventilation', 'daytime-ventilation'] as const;

/**
 * Ventilator hours a day, added up from the supports in place. Only when it is answered for each of them whether it is
 * there, and for how long: hours by night alone would be taken for the whole day.
 */
function ventilatorHours({ supports, supportTimes }: Entries, measure: NumberMeasure): Reading | undefined {
  const inPlace = ventilations.filter((id) => supports[id] === 'in-place');
  if (inPlace.length === 0 || ventilations.some((id) => supports[id] === undefined)) return undefined;
  const hours = inPlace.map((id) => readEntry({ text: supportTimes[id]?.hours ?? '', unit: 'h/d' }, measure));
  const sum = hours.reduce((all, one) => all + (one && 'reading' in one ? one.reading.value : Number.NaN), 0);
  return sum <= 24 ? { value: sum, unit: 'h/d', from: inPlace } : undefined;
}

export type EntryProblem = { message: string } | { reading: Reading; unusual?: string };

/** An entry as a reading, or the message for its field. Refused numbers stay in the field, and out of the visit. */
export function readEntry(entry: Entry, measure: NumberMeasure): EntryProblem | undefined {
  if (entry.text.trim() === '') return undefined;
  const read = readNumber(entry.text, entry.unit, measure.label, [measure.unit, ...measure.accepts]);
  if (!read.ok) return { message: read.message };
  const { value, unit } = read.quantity;
  const typed = measure.magnitude ? Math.abs(value) : value;
  const held = convert(typed, unit, measure.unit);
  const [low, high] = measure.hard;
  if (held < low || held > high) return { message: outOfRange(measure, typed, unit) };
  const reading: Reading = { value: typed, unit };
  if (entry.gas) reading.gas = entry.gas;
  if (entry.posture) reading.posture = entry.posture;
  if (entry.method) reading.method = entry.method;
  if (entry.flags?.length) reading.flags = entry.flags;
  const unusual = held < measure.plausible[0] || held > measure.plausible[1];
  return {
    reading,
    ...(unusual
      ? { unusual: `${value} ${units[unit].symbol} is unusual: check that it was read and typed correctly` }
      : {}),
  };
}

export function toVisit(person: Person, entries: Entries, measures: Measures): Visit {
  const readings: Record<string, Reading> = {};
  for (const [id, entry] of Object.entries(entries.readings)) {
    const measure = measures[id];
    if (measure?.kind !== 'number') continue;
    const read = readEntry(entry, measure);
    if (read && 'reading' in read) readings[id] = read.reading;
  }
  const hours = measures['niv-hours'];
  if (hours?.kind === 'number' && readings['niv-hours'] === undefined) {
    const summed = ventilatorHours(entries, hours);
    if (summed) readings['niv-hours'] = summed;
  }
  return {
    ...person,
    readings,
    signs: entries.signs,
    supports: entries.supports,
    wishes: entries.wishes,
    notDone: entries.notDone,
    ...(Object.keys(entries.choices).length > 0 ? { choices: entries.choices } : {}),
    ...(entries.remark.trim() ? { remark: entries.remark.trim() } : {}),
  };
}
