/**
 * What a typed line asks: 'sniff 38', 'fvc 48 als', 'sats 91 on air', 'co2 6.8 kpa', '4 l nasal'.
 *
 * Names are matched against the measures' own labels and synonyms. A unit is taken as typed, or guessed only where no
 * other would be plausible; otherwise the reader is asked. Whatever else the line says about the reading (posture, gas,
 * method, a leak) goes with it, what was taken for granted is listed, and words that were not used are named, so that
 * nobody believes they were.
 */
import type { RawInputs } from '../calculator.ts';
import { flowRange, type Interface, venturiFlow } from '../oxygen/interfaces.ts';
import { convert, type UnitCode, units } from '../quantity.ts';
import type { Measures, NumberMeasure } from './measure.ts';
import type { Person } from './person.ts';
import {
  changeWords,
  childWords,
  comparingWords,
  diseaseWords,
  flagWords,
  gasSaid,
  gasWords,
  interfaceNames,
  interfaceWords,
  methodWords,
  nightWords,
  passingWords,
  unitWords,
} from './query-words.ts';
import type { Reading } from './visit.ts';

export interface AskedReading {
  kind: 'reading';
  measure: string;
  reading: Reading;
  person: Person;
  /** what the line said about the reading, in words */
  told: string[];
  /** what was taken for granted, in words */
  assumed: string[];
  /** words and numbers of the line that had no part in the answer */
  unused: string[];
}

/** A sum that one of the calculators does. */
export interface AskedSum {
  kind: 'sum';
  calculator: string;
  title: string;
  inputs: RawInputs;
  person: Person;
  assumed: string[];
  unused: string[];
}

/** The line fits more than one measure, unit or device: the reader chooses. */
export interface Ambiguous {
  kind: 'ask';
  options: (AskedReading | AskedSum)[];
}

/** Several readings in one line, each answered by itself. */
export interface Several {
  kind: 'several';
  parts: (AskedReading | Ambiguous)[];
}

/** A number that cannot be held against a mark as it stands, and what to type instead. */
export interface Hint {
  kind: 'hint';
  say: string;
  page?: string;
}

/** Said among what was assumed where nobody told what was breathed. */
export const gasUnknown = 'nothing about what was breathed';

export type Query = AskedReading | AskedSum | Ambiguous | Several | Hint | undefined;

/** Ways of naming a measured number, with the measures that each can mean; the longest first. */
export type Terms = ReadonlyMap<string, readonly string[]>;

/** Longest first, so that 'supine FVC' is found before 'FVC'. */
export function termsOf(measures: Measures): Terms {
  const terms = new Map<string, string[]>();
  for (const [id, measure] of Object.entries(measures)) {
    // The better of two is read from the two; it is never what was typed. Age belongs to the person.
    if (measure.kind !== 'number' || measure.readFrom?.rule === 'greatest' || id === 'age-years') continue;
    for (const words of new Set([measure.short, measure.label, ...measure.synonyms].map(plain)))
      if (words.length > 1 && !/^\d/.test(words)) terms.set(words, [...(terms.get(words) ?? []), id]);
  }
  return new Map([...terms].sort(([a], [b]) => b.length - a.length));
}

export function readQuery(line: string, measures: Measures, terms: Terms): Query {
  if (!/\d/.test(line)) return undefined;
  let text = unglue(plain(line), terms);
  let scan = scanner(text);
  let names = takeNames(scan, terms);
  const slips: string[] = [];
  if (names.length === 0) {
    text = unslip(text, terms, slips);
    scan = scanner(text);
    names = takeNames(scan, terms);
  }
  const twoWays = /(?<![\d.,])\d{1,3},\d{3}(?![\d,.])/.exec(text);
  if (/[<>\u2264\u2265]/.test(line) || comparingWords.test(scan.rest)) return undefined;
  if (twoWays && (names.length > 0 || /\bl\b|ml/.test(text)))
    return { kind: 'hint', say: `"${twoWays[0]}" can be read two ways. Type it without the comma` };
  const about = takeWhatIsSaid(scan, text, names.length > 0);
  const oxygen = names.length === 0 ? takeInterface(scan) : undefined;
  const quantities = takeQuantities(scan);
  const spare = leftWords(scan.rest);
  if (names.length === 0) {
    const sum = oxygenSum(oxygen, quantities, about, spare, text);
    return sum !== undefined && about.child ? childHint(line) : sum;
  }
  if (quantities.length === 0) return undefined;
  const pairs = pairUp(names, quantities);
  const used = new Set(pairs.flatMap((pair) => pair.quantities));
  const orphans = quantities.filter((quantity) => !used.has(quantity));
  const unused = [...spare, ...orphans.map(({ typed }) => typed)];
  const answers = pairs.flatMap((pair) => readPair(pair, measures, about, slips, unused));
  const [first, ...more] = answers;
  if (first === undefined) return undefined;
  if (about.child && about.person.ageYears === undefined) return childHint(line);
  if (about.night) {
    const hint = nightHint(first);
    if (hint) return hint;
  }
  return more.length === 0 ? first : { kind: 'several', parts: answers };
}

/** Letters, digits and the few signs that units and hyphens need. */
function plain(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{Mn}/gu, '')
    .toLowerCase()
    .replace(/[\u2212\u2013\u2014]/g, '-')
    .replace(/%/g, ' % ')
    .replace(/[^a-z0-9.,/%+-]+/g, ' ')
    .replace(/[.,](?!\d)/g, ' ')
    .replace(/ +/g, ' ')
    .trim();
}

/** 'fvc48' and '48snip' as two words, but not 'co2', 't88' or '48kpa'. */
function unglue(text: string, known: Terms): string {
  return text
    .split(' ')
    .map((word) => {
      if (known.has(word)) return word;
      const [, before, number] = /^([a-z]{2,})(-?\d[\d.,]*)$/.exec(word) ?? [];
      if (before !== undefined && known.has(before)) return `${before} ${number}`;
      const [, figure, after] = /^(\d[\d.,]*)([a-z]{3,})$/.exec(word) ?? [];
      return after !== undefined && known.has(after) ? `${figure} ${after}` : word;
    })
    .join(' ');
}

interface Scanner {
  readonly rest: string;
  /** What the pattern finds, which then is no longer there for the next; places in the line stay the same. */
  take: (pattern: RegExp) => RegExpExecArray | null;
}

function scanner(text: string): Scanner {
  let rest = text;
  return {
    get rest() {
      return rest;
    },
    take(pattern) {
      const found = pattern.exec(rest);
      if (found) {
        const end = found.index + found[0].length;
        rest = rest.slice(0, found.index) + '|'.repeat(found[0].length) + rest.slice(end);
      }
      return found;
    },
  };
}

interface Name {
  at: number;
  measures: string[];
}

const escaped = (words: string): string => words.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
/** Names that also say something else: taken only right before their number, as 'BE 4' and 'NIV 17 hours' are. */
const guarded: Record<string, readonly [before: string, after: string]> = {
  be: ['(?<![a-z0-9])', '(?= ?[-+]?\\d)'],
  niv: ['(?<!\\b(?:on|off) )(?<![a-z0-9])', '(?= ?\\d+(?:[.,]\\d+)? ?h)'],
};

function takeNames(scan: Scanner, terms: Terms): Name[] {
  const names: Name[] = [];
  for (const [words, measures] of terms) {
    if (!scan.rest.includes(words)) continue;
    const [before, after] = guarded[words] ?? ['(?<![a-z0-9])', '(?![a-z0-9])'];
    const pattern = new RegExp(before + escaped(words) + after);
    for (let found = scan.take(pattern); found; found = scan.take(pattern))
      names.push({ at: found.index, measures: [...measures] });
  }
  names.sort((a, b) => a.at - b.at);
  return merged(names, scan.rest);
}

/** 'vital capacity (FVC)' and 'capillary gas co2' name one thing twice. */
function merged(names: readonly Name[], rest: string): Name[] {
  const kept: Name[] = [];
  for (const name of names) {
    const last = kept.at(-1);
    const between = last === undefined ? '' : rest.slice(last.at, name.at);
    const shared = last?.measures.filter((id) => name.measures.includes(id)) ?? [];
    if (last !== undefined && shared.length > 0 && !/\d/.test(between)) last.measures = shared;
    else kept.push({ ...name });
  }
  return kept;
}

/** Words that no name holds, each as the word of a name that a slip of the finger away was meant. */
function unslip(text: string, terms: Terms, slips: string[]): string {
  const names = [...terms.keys()];
  const known = [...new Set(names.flatMap((words) => words.split(' ')))].filter((word) => /^[a-z]{4,}$/.test(word));
  return text
    .split(' ')
    .map((typed) => {
      if (!/^[a-z]{4,}$/.test(typed) || known.includes(typed)) return typed;
      const most = typed.length >= 8 ? 2 : 1;
      const meant =
        names.find((words) => words.includes(' ') && words.replaceAll(' ', '') === typed) ??
        known.find((word) => withinSlips(typed, word, most));
      if (meant === undefined) return typed;
      slips.push(`\u201c${typed}\u201d read as ${meant}`);
      return meant;
    })
    .join(' ');
}

interface Said {
  person: Person;
  child: boolean;
  night: boolean;
  gas: Reading['gas'];
  posture: Reading['posture'];
  /** place of the posture in the line: with two numbers it belongs to one of them */
  postureAt: number;
  method: string | undefined;
  flags: Set<string>;
  change: 'fall' | 'rise' | undefined;
}

function takeWhatIsSaid(scan: Scanner, whole: string, isReading: boolean): Said {
  const person: Person = {};
  const gas = isReading ? gasWords.find(([pattern]) => scan.take(pattern))?.[1] : undefined;
  const months = scan.take(/\b(\d{1,2}) ?(?:months?(?: old)?|mths?)\b/);
  const years =
    scan.take(/\b(?:aged? )?(\d{1,3}) ?(?:years?(?: old)?|yrs?(?: old)?|yo|y\/o|y)\b/) ??
    scan.take(/\baged? (\d{1,3})\b/) ??
    scan.take(/(?<=\b(?:boy|girl|child|kid|teenager) )(\d|1[0-7])(?![\d.,%])\b/);
  if (years) person.ageYears = Number(years[1]);
  else if (months) person.ageYears = Number(months[1]) / 12;
  const child = childWords.test(scan.rest);
  if (scan.take(/\b(?:woman|female|girl|lady)\b/)) person.sex = 'female';
  else if (scan.take(/\b(?:man|male|boy|gentleman)\b/)) person.sex = 'male';
  // A grown-up was named: the age of a child who is still in hand must not be lent to this line.
  if (person.ageYears === undefined && !child && (person.sex !== undefined || /\badult\b/.test(scan.rest)))
    person.ageYears = undefined;
  scan.take(childWords);
  const disease = diseaseWords.find(([pattern]) => scan.take(pattern))?.[1];
  if (disease !== undefined) person.disease = disease;
  // A method can be part of the measure's own name, which is no longer in the rest.
  const method = methodWords.find(([pattern]) => pattern.test(whole));
  if (method) scan.take(method[0]);
  const flags = new Set(flagWords.flatMap(([pattern, ids]) => (scan.take(pattern) ? ids : [])));
  const night = scan.take(nightWords) !== null;
  const lying = scan.take(/\b(?:lying flat|lying down|supine|lying|flat)\b/);
  const sitting = scan.take(/\b(?:sitting|upright|seated)\b/);
  const posture = lying ? 'supine' : sitting ? 'upright' : undefined;
  const postureAt = (lying ?? sitting)?.index ?? 0;
  const change = changeWords.find(([pattern]) => scan.take(pattern))?.[1];
  return { person, child, night, gas, posture, postureAt, method: method?.[1], flags, change };
}

interface Typed {
  at: number;
  value: number;
  unit: UnitCode | undefined;
  /** as typed, for the reader */
  typed: string;
}

function takeQuantities(scan: Scanner): Typed[] {
  // Dates and blood pressures are two numbers in one, and no reading here.
  while (scan.take(/\d+\/[\d/]+/));
  const found: Typed[] = [];
  const number = /(?<![a-z\d.,])[-+]?\d+(?:[.,]\d+)?(?![\d])/;
  for (let match = scan.take(number); match; match = scan.take(number)) {
    const after = scan.rest.slice(match.index + match[0].length);
    const unit = unitWords.find(([pattern]) => pattern.test(after));
    const told = unit?.[0].exec(after)?.[0] ?? '';
    // '3rd', '2x': letters that are no unit.
    if (unit === undefined && /^[a-z]/.test(after)) continue;
    if (told !== '') scan.take(new RegExp(`(?<=^.{${match.index + match[0].length}})${escaped(told)}`));
    found.push({
      at: match.index,
      value: Number(match[0].replace(',', '.')),
      unit: unit?.[1],
      typed: (match[0] + told).trim(),
    });
  }
  found.sort((a, b) => a.at - b.at);
  return found;
}

const leftWords = (rest: string): string[] =>
  (rest.match(/[a-z][a-z0-9-]*/g) ?? []).filter((word) => word.length > 1 && !passingWords.has(word));

interface Pair {
  names: Name[];
  quantities: Typed[];
}

/** Each number with the name before it; with the name after it where the line begins with a number. */
function pairUp(names: readonly Name[], quantities: readonly Typed[]): Pair[] {
  const [name] = names;
  if (names.length === 1 && name) return [{ names: [name], quantities: [...quantities] }];
  const items = [
    ...names.map((one) => ({ name: one, at: one.at })),
    ...quantities.map((one) => ({ number: one, at: one.at })),
  ];
  items.sort((a, b) => a.at - b.at);
  const ordered = 'number' in (items[0] ?? {}) ? items.reverse() : items;
  const pairs: Pair[] = [];
  let waiting: Name[] = [];
  for (const item of ordered) {
    if ('name' in item) waiting.push(item.name);
    else if (waiting.length > 0) {
      pairs.push({ names: waiting, quantities: [item.number] });
      waiting = [];
    }
  }
  return pairs.sort((a, b) => (a.quantities[0]?.at ?? 0) - (b.quantities[0]?.at ?? 0));
}

function readPair(
  { names, quantities }: Pair,
  measures: Measures,
  said: Said,
  slips: readonly string[],
  spare: readonly string[],
): (AskedReading | Ambiguous)[] {
  const named = [...new Set(names.flatMap((name) => name.measures))];
  const lying = quantities.find(({ at }) => at > said.postureAt) ?? quantities.at(-1);
  const byNumber = quantities.map((quantity) => {
    // 'fvc 48 supine 35': the posture is that of the number after it.
    const own = said.posture === 'supine' && quantity !== lying ? { ...said, posture: undefined } : said;
    const options = measuresMeant(named, measures, own).flatMap((id) =>
      readingsOf(id, measures[id] as NumberMeasure, quantity, own),
    );
    return { quantity, options: chosenFrom(options, quantity) };
  });
  const others = byNumber.filter(({ options }) => options.length === 0).map(({ quantity }) => quantity.typed);
  const finish = ({ assumed, ...option }: AskedReading): AskedReading => ({
    ...option,
    assumed: [...slips, ...assumed],
    unused: [...others, ...spare],
  });
  const fitting = byNumber.flatMap(({ options }) => (options.length > 0 ? [options.map(finish)] : []));
  // '2.1 l 48 %': one blow in two units is two readings; 'fvc 48 52' is one reading or the other.
  const settled = fitting.flatMap((options) => (options.length === 1 ? options : []));
  const apart = new Set(settled.map(({ measure }) => measure)).size === fitting.length;
  if (settled.length === fitting.length && apart) return settled;
  return [{ kind: 'ask', options: fitting.flat() }];
}

/**
 * A whole number that is possible in the usual unit is asked about, however low: a sniff of 4 can be 4 kPa, or 4 cmH2O in
 * somebody very weak. A figure after the point settles it (1.9 is litres, not per cent).
 */
function chosenFrom(options: readonly Fitted[], { value }: Typed): AskedReading[] {
  const likely = options.filter(({ fit }) => fit === 'plausible');
  const chosen =
    likely.length === 0
      ? options.filter(({ fit, usual }) => usual || fit === 'high')
      : [
          ...likely,
          ...options.filter(
            ({ fit, usual, measure }) =>
              Number.isInteger(value) &&
              fit === 'low' &&
              usual &&
              likely.every((other) => related(other.measure, measure)),
          ),
        ];
  return chosen.map(({ fit: _, usual: __, ...option }) => option);
}

interface Fitted extends AskedReading {
  fit: 'low' | 'plausible' | 'high';
  /** in the measure's own unit, or in the one typed */
  usual: boolean;
}

/** Litres, per cent and volume per kilogram go by one name at the bedside: the number and its unit say which, where they can. */
const siblings: readonly (readonly string[])[] = [
  ['fvc-percent', 'vc-litres', 'vc-per-kilogram'],
  ['fvc-supine-percent', 'vc-litres-supine'],
  ['mip', 'mip-percent-predicted'],
];

/** Nobody's first meaning of 'VC' or 'MIP': taken only when the unit was typed. */
const onlyWithUnit = new Set(['vc-per-kilogram', 'mip-percent-predicted']);

const lyingDown: Record<string, string> = { 'fvc-percent': 'fvc-supine-percent', 'vc-litres': 'vc-litres-supine' };

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

function measuresMeant(named: readonly string[], measures: Measures, { posture, change }: Said): string[] {
  const turned =
    change === undefined ? named : named.flatMap((id) => (isChange(id) ? [id] : (changes[change][id] ?? [])));
  const lying = posture === 'supine' ? turned.map((id) => lyingDown[id] ?? id) : turned;
  const all = lying.flatMap((id) => [id, ...(siblings.find((group) => group.includes(id)) ?? [])]);
  return [...new Set(all)].filter((id) => measures[id]?.kind === 'number');
}

const isChange = (id: string): boolean => /\b(?:fall|drop|rise|loss)\b/.test(id);

function readingsOf(id: string, measure: NumberMeasure, { value, unit, typed }: Typed, said: Said): Fitted[] {
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
    const flags = measure.flags.filter((flag) => said.flags.has(flag.id)).map((flag) => flag.id);
    const reading: Reading = {
      value: signed,
      unit: code,
      ...(said.gas ? { gas: said.gas } : {}),
      ...(said.posture && measure.posture !== 'supine' ? { posture: said.posture } : {}),
      ...(said.method && measure.methods ? { method: said.method } : {}),
      ...(flags.length > 0 ? { flags } : {}),
    };
    return [
      {
        kind: 'reading',
        measure: id,
        reading,
        person: said.person,
        told,
        assumed,
        unused: [],
        fit: held < measure.plausible[0] ? 'low' : held > measure.plausible[1] ? 'high' : 'plausible',
        usual: usual || asTyped !== undefined,
      } satisfies Fitted,
    ];
  });
}

/** A unit as people say it beside this measure: hours for hours a day, litres for a flow of either kind. */
function unitOf(unit: UnitCode, measure: NumberMeasure): UnitCode | undefined {
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
  if (said.gas !== undefined) told.push(gasSaid[said.gas]);
  else if (measure.roomAir) assumed.push(gasUnknown);
  for (const flag of measure.flags)
    if (said.flags.has(flag.id)) {
      const label = flag.label.charAt(0).toLowerCase() + flag.label.slice(1);
      told.push(flag.reads === 'either' ? label : `${label}, which reads ${flag.reads}`);
    }
  return { told, assumed };
}

const isPlausible = (value: number, { plausible }: NumberMeasure): boolean =>
  value >= plausible[0] && value <= plausible[1];

const childHint = (line: string): Hint => ({
  kind: 'hint',
  say: `A child: adult marks do not hold, and children\u2019s marks go by age. Add the age, such as \u201c${line.trim()} 8 years\u201d`,
});

/** A saturation or a gas taken at night is another reading than the one awake. */
function nightHint(answer: AskedReading | Ambiguous): Hint | undefined {
  const of = answer.kind === 'reading' ? answer.measure : answer.options.find((one) => one.kind === 'reading')?.measure;
  if (of === 'spo2')
    return {
      kind: 'hint',
      say: 'A saturation at night is told by the time spent low, such as \u201ct88 12 min\u201d or \u201ct90 15 %\u201d',
      page: '/measuring/overnight-oximetry/',
    };
  if (of === 'paco2' || of === 'awake-co2-any-method')
    return {
      kind: 'hint',
      say: 'Carbon dioxide at night has marks of its own: the rise over awake, and the time spent high',
      page: '/measuring/overnight-carbon-dioxide/',
    };
  return undefined;
}

/** A device that gives oxygen; `mask` where the line says no more than that. */
function takeInterface(scan: Scanner): Interface | 'mask' | 'oxygen' | undefined {
  const device = interfaceWords.find(([pattern]) => scan.take(pattern))?.[1];
  const oxygen = scan.take(/\b(?:o2|oxygen)\b/) !== null;
  return device ?? (scan.take(/\b(?:face ?)?mask\b/) ? 'mask' : oxygen ? 'oxygen' : undefined);
}

const waysOfOxygen = Object.keys(flowRange) as (keyof typeof flowRange)[];

function oxygenSum(
  device: Interface | 'mask' | 'oxygen' | undefined,
  quantities: readonly Typed[],
  { person }: Said,
  spare: string[],
  text: string,
): AskedSum | Ambiguous | undefined {
  const isFlow = ({ unit }: Typed) => unit === undefined || unit === 'L' || unit === 'L/min' || unit === 'mL/min';
  const isPercent = ({ value, unit }: Typed) =>
    (unit === '%' || unit === undefined) && Object.hasOwn(venturiFlow, String(value));
  const percent = device === 'venturi' ? quantities.find(isPercent) : undefined;
  const flows = quantities.filter((one) => one !== percent && isFlow(one) && one.value > 0);
  const [flow] = flows;
  if (device === undefined || flows.length > 1 || (flow === undefined && percent === undefined)) return undefined;
  const vague = device === 'mask' || device === 'oxygen';
  // 'mask leak 24 l/min' is about something else.
  if (vague && (flow === undefined || spare.some((word) => word !== 'fio2' && word !== 'flow'))) return undefined;
  if (vague && flow?.unit === undefined && !/\b(?:o2|oxygen)\b/.test(text)) return undefined;
  const litres = flow === undefined ? undefined : flow.unit === 'mL/min' ? flow.value / 1000 : flow.value;
  const sum = (one: Interface, valve?: string): AskedSum => ({
    kind: 'sum',
    calculator: 'oxygen-flow-to-fio2',
    title: [interfaceNames[one], valve && `${valve} %`, litres !== undefined && `at ${litres} L/min`]
      .filter(Boolean)
      .join(' '),
    inputs: {
      interface: one,
      ...(litres === undefined ? {} : { flow: { value: litres, unit: 'L/min' } }),
      ...(valve === undefined ? {} : { percent: valve }),
      ...(person.ageYears === undefined ? {} : { age: { value: person.ageYears, unit: 'a' } }),
    },
    person,
    assumed: [
      ...(flow !== undefined && flow.unit !== 'L/min' && flow.unit !== 'mL/min' ? ['L/min'] : []),
      ...(person.ageYears === undefined ? ['an adult'] : []),
      'breathing without a ventilator',
    ],
    unused: spare,
  });
  if (device === 'venturi') {
    if (percent !== undefined) return sum('venturi', String(percent.value));
    return { kind: 'ask', options: Object.keys(venturiFlow).map((valve) => sum('venturi', valve)) };
  }
  if (!vague) return sum(device);
  const inRange = waysOfOxygen.filter(
    (one) =>
      (device === 'oxygen' || one !== 'cannula') &&
      (litres ?? 0) >= flowRange[one][0] &&
      (litres ?? 0) <= flowRange[one][1],
  );
  const [only] = inRange.map((one) => sum(one));
  if (only === undefined) return undefined;
  return inRange.length === 1 ? only : { kind: 'ask', options: inRange.map((one) => sum(one)) };
}

/** Letters missing, added, changed or swapped with their neighbour, at most so many (optimal string alignment). */
function withinSlips(typed: string, meant: string, most: number): boolean {
  if (Math.abs(typed.length - meant.length) > most) return false;
  let before: number[] = [];
  let last = Array.from({ length: meant.length + 1 }, (_, at) => at);
  for (let row = 1; row <= typed.length; row += 1) {
    const now = [row];
    for (let at = 1; at <= meant.length; at += 1) {
      const same = typed[row - 1] === meant[at - 1];
      let least = Math.min((last[at] ?? 0) + 1, (now[at - 1] ?? 0) + 1, (last[at - 1] ?? 0) + (same ? 0 : 1));
      if (row > 1 && at > 1 && typed[row - 1] === meant[at - 2] && typed[row - 2] === meant[at - 1])
        least = Math.min(least, (before[at - 2] ?? 0) + 1);
      now.push(least);
    }
    before = last;
    last = now;
  }
  return (last[meant.length] ?? most + 1) <= most;
}
