/**
 * What a typed line asks: 'sniff 38', 'fvc 48', 'sats 91 on air', 'co2 6.8 kpa als'. Words are matched against the
 * measures' own labels and synonyms; a unit is taken as typed, or guessed only where no other would be plausible.
 */
import { convert, type UnitCode, units } from '../quantity.ts';
import type { Measures, NumberMeasure } from './measure.ts';
import type { Disease, Person } from './person.ts';
import type { Reading } from './visit.ts';

export interface AskedReading {
  kind: 'reading';
  measure: string;
  reading: Reading;
  person: Person;
  /** what was taken for granted, in words */
  assumed: string[];
}

/** The number fits more than one unit or measure: the reader chooses. */
export interface Ambiguous {
  kind: 'ask';
  options: AskedReading[];
}

export type Query = AskedReading | Ambiguous | undefined;

const diseaseWords: Record<string, Disease> = {
  als: 'als',
  mnd: 'als',
  'motor neurone': 'als',
  'motor neuron': 'als',
  duchenne: 'dmd',
  dmd: 'dmd',
  sma: 'sma',
  'spinal muscular atrophy': 'sma',
  dm1: 'dm1',
  'myotonic dystrophy': 'dm1',
  myotonic: 'dm1',
  pompe: 'pompe',
  polio: 'post-polio',
  'post-polio': 'post-polio',
  fshd: 'fshd',
  lgmd: 'lgmd',
  'limb girdle': 'lgmd',
  gbs: 'gbs',
  guillain: 'gbs',
  myasthenia: 'mg',
  sci: 'sci',
  'cord injury': 'sci',
};

const gasWords: [RegExp, NonNullable<Reading['gas']>][] = [
  [/\b(?:on |in )?(?:room )?air\b|\bra\b/, 'air'],
  [/\bon (?:\d+ ?l(?:\/min)? )?(?:o2|oxygen)\b|\bon o2\b/, 'oxygen'],
  [/\bon (?:niv|ventilat\w*|vent|bilevel|mask ventilation)\b/, 'ventilation'],
];

interface Term {
  words: string;
  measure: string;
}

/** Every way of naming a measured number, longest first so that 'supine FVC' is found before 'FVC'. */
export function termsOf(measures: Measures): Term[] {
  const terms = Object.entries(measures).flatMap(([id, measure]) =>
    // The better of two is read from the two; it is never what was typed.
    measure.kind === 'number' && measure.readFrom?.rule !== 'greatest'
      ? [...new Set([measure.short, measure.label, ...measure.synonyms].map(plain))].map((words) => ({
          words,
          measure: id,
        }))
      : [],
  );
  return terms.filter(({ words }) => words.length > 1).sort((a, b) => b.words.length - a.words.length);
}

export function readQuery(line: string, measures: Measures, terms: readonly Term[]): Query {
  let rest = plain(line);
  const person: Person = {};
  const take = (pattern: RegExp): RegExpExecArray | null => {
    const found = pattern.exec(rest);
    if (found)
      rest = `${rest.slice(0, found.index)} ${rest.slice(found.index + found[0].length)}`.replace(/ +/g, ' ').trim();
    return found;
  };
  const age = take(/\b(?:aged? )?(\d{1,3}) ?(?:years?(?: old)?|yrs?|yo|y)\b|\baged? (\d{1,3})\b/);
  if (age) person.ageYears = Number(age[1] ?? age[2]);
  else if (take(/\badult\b/)) person.ageYears = undefined;
  const disease = Object.keys(diseaseWords).find((words) => new RegExp(`\\b${words}\\b`).test(rest));
  if (disease) {
    person.disease = diseaseWords[disease];
    take(new RegExp(`\\b${disease}\\b`));
  }
  if (take(/\b(?:woman|female|girl|lady)\b/)) person.sex = 'female';
  else if (take(/\b(?:man|male|boy)\b/)) person.sex = 'male';
  const gas = gasWords.find(([pattern]) => take(pattern))?.[1];
  const supine = /\b(?:supine|lying|flat)\b/.test(rest);
  // Not the 2 of CO2 nor the 3 of HCO3.
  const number = take(/(?<![a-z\d.])[-\u2212]?\d+(?:[.,]\d+)?/);
  if (!number) return undefined;
  const value = Math.abs(Number(number[0].replace(',', '.').replace('\u2212', '-')));
  const unit = takeUnit(take);
  const named = measuresNamed(rest, terms);
  if (named.length === 0) return undefined;
  const wanted = supine ? preferSupine(named, measures) : named;
  const options = withSiblings(wanted, measures).flatMap((id) =>
    readingsOf(id, measures[id] as NumberMeasure, value, unit, gas, person),
  );
  if (options.length === 0) return undefined;
  // A whole number that is possible in the usual unit is asked about, however unlikely: a sniff of 4 can be 4 kPa, or
  // 4 cmH2O in somebody very weak. A figure after the point settles it (1.9 is litres, not per cent).
  const likely = options.filter((option) => option.plausible);
  const possible =
    Number.isInteger(value) || likely.length === 0
      ? options.filter(
          (option) =>
            !option.plausible && option.usual && likely.every((other) => related(other.measure, option.measure)),
        )
      : [];
  const chosen = [...likely, ...possible].map(({ plausible: _, usual: __, ...option }) => option);
  const [only] = chosen;
  if (!only) return undefined;
  return chosen.length === 1 ? only : { kind: 'ask', options: chosen };
}

/** Letters, digits and the few signs that units and hyphens need. */
function plain(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/co\u2082/g, 'co2')
    .replace(/[^a-z0-9.,/%\u2212+-]+/g, ' ')
    .trim();
}

function takeUnit(take: (pattern: RegExp) => RegExpExecArray | null): UnitCode | undefined {
  const spelled: [RegExp, UnitCode][] = [
    [/\bl ?\/ ?s(?:ec)?\b|\blps\b/, 'L/s'],
    [/\bl ?\/ ?m(?:in)?\b|\blpm\b/, 'L/min'],
    [/\bcm ?h2o\b/, 'cm[H2O]'],
    [/\bmm ?hg\b|\btorr\b/, 'mm[Hg]'],
    [/\bkpa\b/, 'kPa'],
    [/\bml ?\/ ?kg\b/, 'mL/kg'],
    [/\bmmol(?: ?\/ ?l)?\b/, 'mmol/L'],
    [/%|\bper ?cent\b|\bpercent\b/, '%'],
    [/\blit(?:re|er)s?\b|(?<=^| )l\b/, 'L'],
    [/\bml\b/, 'mL'],
    [/\bkg\b/, 'kg'],
    [/\blbs?\b/, '[lb_av]'],
    [/\bh(?:ours?)?\b/, 'h'],
    [/\bmin(?:utes?)?\b/, 'min'],
  ];
  return spelled.find(([pattern]) => take(pattern))?.[1];
}

/** Measures whose name is in the line; else those one slip of a finger away. */
function measuresNamed(rest: string, terms: readonly Term[]): string[] {
  const padded = ` ${rest} `;
  const exact = terms.filter(({ words }) => padded.includes(` ${words} `));
  const longest = exact[0]?.words.length ?? 0;
  if (longest > 0)
    return [...new Set(exact.filter(({ words }) => words.length === longest).map(({ measure }) => measure))];
  const typed = rest.split(' ').filter((word) => word.length >= 4 && /^[a-z]+$/.test(word));
  const near = terms.filter(
    ({ words }) => !words.includes(' ') && words.length >= 4 && typed.some((word) => oneSlip(word, words)),
  );
  const most = near[0]?.words.length ?? 0;
  return [...new Set(near.filter(({ words }) => words.length === most).map(({ measure }) => measure))];
}

function preferSupine(named: string[], measures: Measures): string[] {
  const lying: Record<string, string> = { 'fvc-percent': 'fvc-supine-percent', 'vc-litres': 'vc-litres-supine' };
  return [...new Set(named.map((id) => lying[id] ?? id))].filter((id) => measures[id]);
}

interface Fitted extends AskedReading {
  plausible: boolean;
  /** in the measure's own unit, or in the one typed */
  usual: boolean;
}

/** Litres, per cent and volume per kilogram go by one name at the bedside: the number and its unit say which, where they can. */
const siblings: readonly (readonly string[])[] = [
  ['fvc-percent', 'vc-litres', 'vc-per-kilogram'],
  ['fvc-supine-percent', 'vc-litres-supine'],
];

const related = (a: string, b: string): boolean =>
  a === b || siblings.some((group) => group.includes(a) && group.includes(b));

const withSiblings = (named: readonly string[], measures: Measures): string[] =>
  [...new Set(named.flatMap((id) => [id, ...(siblings.find((group) => group.includes(id)) ?? [])]))].filter(
    (id) => measures[id]?.kind === 'number',
  );

function readingsOf(
  id: string,
  measure: NumberMeasure,
  value: number,
  typed: UnitCode | undefined,
  gas: Reading['gas'],
  person: Person,
): Fitted[] {
  // Volume per kilogram is nobody's first meaning of 'VC': it is taken only when its unit was typed.
  if (measure.unit === 'mL/kg' && typed !== 'mL/kg') return [];
  const accepts = [measure.unit, ...measure.accepts];
  const asked = typed === undefined ? accepts : [typed];
  return asked.flatMap((unit) => {
    if (units[unit].dimension !== units[measure.unit].dimension) return [];
    const held = convert(value, unit, measure.unit);
    if (held < measure.hard[0] || held > measure.hard[1]) return [];
    const plausible = held >= measure.plausible[0] && held <= measure.plausible[1];
    // Another unit than the usual one is taken only when it was typed, or when the usual one makes no sense.
    const usual = unit === measure.unit;
    if (typed === undefined && !usual && fits(value, measure.unit, measure)) return [];
    const assumed: string[] = [];
    if (typed === undefined && (accepts.length > 1 || measure.of))
      assumed.push(`${units[unit].symbol || 'no unit'}${measure.of ? ` ${measure.of}` : ''}`);
    if (measure.posture === 'upright') assumed.push('upright');
    if (measure.methods) assumed.push(`${measure.methods.join(' or ')} gas, awake`);
    if (measure.roomAir && gas === undefined) assumed.push('nothing about what was breathed');
    const reading: Reading = { value, unit, ...(gas ? { gas } : {}) };
    return [
      {
        kind: 'reading',
        measure: id,
        reading,
        person,
        assumed,
        plausible,
        usual: usual || typed !== undefined,
      } satisfies Fitted,
    ];
  });
}

const fits = (value: number, unit: UnitCode, measure: NumberMeasure): boolean => {
  const held = convert(value, unit, measure.unit);
  return held >= measure.plausible[0] && held <= measure.plausible[1];
};

/** One letter missing, added, changed or swapped with its neighbour. */
function oneSlip(typed: string, meant: string): boolean {
  if (Math.abs(typed.length - meant.length) > 1) return false;
  let at = 0;
  while (at < Math.min(typed.length, meant.length) && typed[at] === meant[at]) at += 1;
  const [a, b] = [typed.slice(at), meant.slice(at)];
  return (
    a.slice(1) === b ||
    a === b.slice(1) ||
    a.slice(1) === b.slice(1) ||
    (a[0] === b[1] && a[1] === b[0] && a.slice(2) === b.slice(2))
  );
}
