/** From what was said to an answer: a visit, or one reading by itself. */

import { isAcute } from '../domain/diseases.ts';
import type { Measures } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { convert } from '../quantity.ts';
import {
  type Ambiguous,
  type AskedReading,
  type AskedVisit,
  type AsleepTold,
  type Danger,
  type Hint,
  lengthNotAge,
  type Other,
} from './asked.ts';
import { nothingSaid } from './conditions.ts';
import type { Found } from './found.ts';
import { meanings } from './meaning.ts';
import type { OverTime } from './over-time.ts';
import type { PersonSaid } from './person.ts';
import type { SignsSaid } from './signs.ts';
import type { SupportsSaid } from './supports.ts';
import type { FoundTopic } from './topics.ts';
import { readingName, understoodWords } from './understood.ts';
import type { Vocabulary } from './vocabulary.ts';

export interface Read {
  found: Found;
  who: PersonSaid;
  signs: SignsSaid;
  supports: SupportsSaid;
  parts: AskedReading[];
  asks: Ambiguous[];
  hints: Hint[];
  /** numbers in a unit that no criterion of their test has */
  uncompared: number;
  told: OverTime;
  asleep: AsleepTold[];
  topics: FoundTopic[];
  /** whether the line has the word of a question */
  question: boolean;
  asked: string[];
  /** words and numbers that had no part, in the order of the line */
  unused: string[];
  /** slips of the finger that were read as a name */
  slips: string[];
}

/** Numbers that no criterion is about, and that are an answer by themselves. */
const tellsAlone: ReadonlySet<string> = new Set(['pH', 'PaO2', 'FEV1']);

/** Whether a line says more than one reading: what makes it a visit. */
export function isVisit(read: Read): boolean {
  const { found, who, signs, supports, parts, asks, hints, told, asleep, topics, question } = read;
  const numbers = parts.length + asks.length;
  const signWords = found.signs.filter((sign) => !signs.onlyFlags.includes(sign) && !signs.strange.includes(sign));
  const tells =
    signWords.some(({ what }) => !what.besides) ||
    supports.tells ||
    signs.noted.length + supports.noted.length > 0 ||
    signs.dangers.length > 0 ||
    found.wishes.length > 0 ||
    found.others.some(({ label }) => tellsAlone.has(label));
  const besides =
    signWords.some(({ what }) => what.besides) ||
    Object.keys(supports.supports).length > 0 ||
    parts.some(({ measure, reading }) => measure === 'niv-hours' && reading.value > 0);
  const { disease, ageYears, heightCm } = who.person;
  const personAlone =
    numbers + hints.length === 0 && supports.oxygen === undefined && (ageYears !== undefined || heightCm !== undefined);
  const oxygenToo = supports.oxygen !== undefined && disease !== undefined;
  return (
    tells ||
    numbers > 1 ||
    (disease !== undefined && isAcute(disease)) ||
    (besides && (numbers > 0 || disease !== undefined)) ||
    (found.others.length > 0 && (numbers + topics.length > 0 || disease !== undefined)) ||
    oxygenToo ||
    // 'als snip 45 %': what cannot be compared is told beside the disease.
    (read.uncompared > 0 && disease !== undefined) ||
    personAlone ||
    told.series.length + told.falls.length + asleep.length > 0 ||
    found.duration !== undefined ||
    // In a question every further word is looked up: whether there is one must not change how the rest is read.
    (numbers > 0 && (question || topics.length + hints.length > 0))
  );
}

export function visitFrom(read: Read, measures: Measures, words: Vocabulary, childHint: Hint): AskedVisit {
  const { found, who, signs, supports, asks, hints, unused, slips } = read;
  const oxygen = oxygenSaid(read, measures);
  const parts = [...read.parts, ...oxygen.parts];
  const person = signs.assumesChild ? { ...who.person, child: true as const } : who.person;
  const { readings, left } = oneOfEach(parts);
  const ownAssumed = (part: AskedReading): string[] =>
    part.assumed.map((one) => (parts.length > 1 ? `${measures[part.measure]?.short}: ${one}` : one));
  const visit = {
    person,
    readings: { ...readings, ...read.told.readings },
    signs: { ...signs.signs, ...oxygen.signs },
    supports: { ...supports.supports, ...nivInPlace(readings, signs, supports) },
    wishes: found.wishes,
    parts,
    asks,
    hints: person.child && person.ageYears === undefined ? [...hints, childHint] : hints,
    others: found.others,
    forSheet: forSheet(found.others, measures, words),
    dangers: [...signs.dangers, ...acidosis(found.others)],
    because: { ...supports.because, ...signs.because, ...oxygen.because },
    assumed: [
      ...new Set([
        ...slips,
        ...who.assumed,
        ...(found.duration && /^\d/.test(found.duration.typed) ? [lengthNotAge(found.duration)] : []),
        ...read.told.assumed,
        ...(signs.assumesChild ? ['a child'] : []),
        ...signs.assumed,
        ...found.assumed,
        ...oxygen.assumed,
        ...parts.flatMap(ownAssumed),
        ...left.map(({ part, used }) => `${readingName(part, measures)} is not used, ${usedWords(part, used)}`),
      ]),
    ],
    notUnderstood: unused,
    ...overTimeOf(read),
  };
  return {
    kind: 'visit',
    ...visit,
    understood: understoodWords(visit, [...signs.noted, ...supports.noted], measures, words),
  };
}

/** Room air first, then what was taken off the ventilator; of the same gas the one with fewer faults of the test. */
const rank = ({ reading: { gas, flags = [] } }: AskedReading): number =>
  (gas === 'air' ? 0 : gas === 'ventilation' ? 2 : 1) * 100 + flags.length;

/** Numbers that no criterion compares and that the visit sheet has a field for: a pH, a pulse. */
function forSheet(others: readonly Other[], measures: Measures, words: Vocabulary): Record<string, Reading> {
  const filled: Record<string, Reading> = {};
  for (const { label, value } of others) {
    const id = words.others.find((one) => one.label === label)?.measure;
    const measure = id === undefined ? undefined : measures[id];
    if (id === undefined || measure?.kind !== 'number' || value === undefined || id in filled) continue;
    const unit = [measure.unit, ...measure.accepts].find((code) => {
      const own = convert(value, code, measure.unit);
      return own >= measure.hard[0] && own <= measure.hard[1];
    });
    if (unit !== undefined) filled[id] = { value, unit };
  }
  return filled;
}

/** What is there only where the line says it. */
function overTimeOf({ told, asleep, found, topics, asked }: Read): Partial<AskedVisit> {
  const { duration } = found;
  return {
    ...(told.series.length > 0 ? { series: told.series } : {}),
    ...(told.falls.length > 0 ? { falls: told.falls } : {}),
    ...(asleep.length > 0 ? { asleep } : {}),
    ...(duration ? { duration: { months: duration.months, typed: duration.typed } } : {}),
    ...(topics.length > 0 ? { topics: topics.map(({ at: _, end: __, ...topic }) => topic) } : {}),
    ...(asked.length > 0 ? { asked } : {}),
  };
}

/** One reading a measure: of two, the one on room air, then the one off the ventilator, else the first. */
function oneOfEach(parts: readonly AskedReading[]): {
  readings: Record<string, Reading>;
  left: { part: AskedReading; used: AskedReading }[];
} {
  const readings: Record<string, Reading> = {};
  const left: AskedReading[] = [];
  const kept = new Map<string, AskedReading>();
  for (const part of parts) {
    const before = kept.get(part.measure);
    if (before !== undefined && rank(part) >= rank(before)) left.push(part);
    else {
      if (before) left.push(before);
      kept.set(part.measure, part);
      readings[part.measure] = part.reading;
    }
  }
  return {
    readings,
    left: left.map((part) => ({ part, used: kept.get(part.measure) ?? part })),
  };
}

const usedWords = (part: AskedReading, { reading: { gas, flags = [] } }: AskedReading): string =>
  gas === part.reading.gas && flags.length < (part.reading.flags?.length ?? 0)
    ? 'the one without a fault of the test is'
    : gas === 'air'
      ? 'the one on room air is'
      : gas === undefined
        ? `the one off ${part.reading.gas === 'oxygen' ? 'oxygen' : 'the ventilator'} is`
        : 'the first one is';

/** Hours on a ventilator, or a sign that comes with one, say that it is used. */
const nivInPlace = (
  readings: Record<string, Reading>,
  signs: SignsSaid,
  { supports }: SupportsSaid,
): Record<string, 'in-place'> =>
  ((readings['niv-hours']?.value ?? 0) > 0 || signs.uses.has('night-ventilation')) &&
  supports['night-ventilation'] === undefined
    ? { 'night-ventilation': 'in-place' }
    : {};

/** Oxygen in use: its flow as a reading, and a sign where nothing says that a ventilator goes with it. */
function oxygenSaid(
  { supports, who, found }: Read,
  measures: Measures,
): Pick<AskedVisit, 'parts' | 'signs' | 'because' | 'assumed'> {
  const none = { parts: [], signs: {}, because: {}, assumed: [] };
  const { oxygen, litresPerMinute, breathed } = supports;
  if (!oxygen) return none;
  const flow =
    litresPerMinute === undefined
      ? []
      : meanings(
          ['oxygen-flow'],
          { at: 0, end: 0, typed: String(litresPerMinute), value: litresPerMinute, unit: 'L/min' },
          nothingSaid,
          who.person,
          measures,
        );
  const ventilated =
    breathed.some(({ gas }) => gas === 'ventilation') ||
    supports.supports['night-ventilation'] === 'in-place' ||
    supports.supports['daytime-ventilation'] === 'in-place' ||
    found.names.some(({ measures: ids }) => ids.includes('niv-hours'));
  if (ventilated) return { ...none, parts: flow };
  const id = oxygen.night ? 'nocturnal-oxygen-without-niv' : 'supplemental-oxygen-without-ventilation';
  const denied = Object.keys(supports.supports).some((decision) => decision.endsWith('-ventilation'));
  return {
    parts: flow,
    signs: { [id]: 'present' },
    because: { [id]: oxygen.typed },
    assumed: denied ? [] : ['no ventilation with the oxygen, as none is named'],
  };
}

export const singleFrom = ({ who, found, unused, slips }: Read, part: AskedReading): AskedReading => ({
  ...part,
  assumed: [...slips, ...who.assumed, ...found.assumed, ...part.assumed],
  unused,
});

/** A pH below 7.35 is an emergency by itself in weak breathing muscles, whatever the carbon dioxide: common practice. */
const acidosis = (others: readonly Other[]): Danger[] =>
  others.flatMap(({ label, typed }) =>
    label === 'pH' && Number(typed.replace(',', '.')) < 7.35
      ? [{ page: '/urgent/drowsy-or-grey/', typed: `pH ${typed}` }]
      : [],
  );
