/** Numbers and names brought together, each number with what was said about it. */
import type { Measures } from '../domain/measure.ts';
import type { Ambiguous, AskedPerson, AskedReading, Hint } from './asked.ts';
import type { Conditions, PosturePlace, Said } from './conditions.ts';
import type { Found } from './found.ts';
import { lyingDown, meanings } from './meaning.ts';
import type { Name } from './names.ts';
import type { Typed } from './numbers.ts';
import type { Gas } from './supports.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

export interface Pair {
  name: Name;
  quantities: Typed[];
  /** the numbers stand before the name: '38 sniff' */
  reversed: boolean;
}

/**
 * '80kg' with no name is a weight: nothing else here is weighed. Several in a row are one weight over time, and only the first
 * number after a usual weight is that.
 */
export function withWeights(names: readonly Name[], { quantities, text }: Found, words: Vocabulary): Name[] {
  const all = [...names];
  for (const { unit, at, typed } of quantities) {
    if (unit !== 'kg' && unit !== '[lb_av]') continue;
    const last = all.findLast((name) => name.at < at);
    const usual = last?.measures.includes('usual-weight') === true;
    const first = !quantities.some((one) => last !== undefined && one.at > last.at && one.at < at);
    // 'no weight loss, 61 kg'
    const denied = last !== undefined && negates(words).test(text.slice(0, last.at));
    const lost = last?.measures.includes('weight-loss-percent') && !denied && !text.slice(last.end, at).includes(';');
    if (last?.measures.includes('weight') || lost || (usual && first)) continue;
    all.push({ at: at - 1, end: at - 1, typed, measures: ['weight'] });
    all.sort((one, other) => one.at - other.at);
  }
  return all;
}

const negates = madeOnce(({ negation, filled }) => new RegExp(`(?<![a-z])(?:${filled(negation.before)}) $`));

/** '88 % on air' and '1 l o2 96 %' with no name are a saturation: nothing else in per cent stands beside what was breathed. */
export function withSaturations(names: readonly Name[], { quantities, supports, text }: Found): Name[] {
  const gases = supports.filter(({ what, negated }) => !negated && (what.kind === 'air' || what.kind === 'oxygen'));
  const blank = (from: number, to: number) => from <= to && /^ ?$/.test(text.slice(from, to));
  const named = quantities
    .filter(({ unit, value }) => unit === '%' && value >= 50 && value <= 100)
    .filter(({ at, end }) => gases.some((gas) => blank(end, gas.at) || blank(gas.end, at)))
    .filter(({ at }) => !names.some((name) => name.end <= at && !text.slice(name.end, at).includes(';')))
    .map(({ at, typed }) => ({ at: at - 1, end: at - 1, typed, measures: ['spo2'], as: 'a saturation' }));
  return named.length === 0 ? [...names] : [...names, ...named].sort((a, b) => a.at - b.at);
}

/** 'on bilevel, 8 h a night' with no name are the hours on it. */
export function withHours(names: readonly Name[], { quantities, supports, text }: Found, words: Vocabulary): Name[] {
  const on = supports.filter(
    ({ what, negated }) =>
      !negated && what.kind === 'support' && what.status === 'in-place' && what.words.decision === 'night-ventilation',
  );
  const { beside, daily } = hours(words);
  const named = quantities
    .filter(
      ({ unit, at, end }) =>
        unit === 'h' &&
        on.some(
          (support) =>
            support.end <= at &&
            (beside.test(text.slice(support.end, at)) || daily.test(text.slice(end)) || alone(text, at, end)),
        ),
    )
    .filter(
      ({ at, end }) =>
        // 'sats 90 on niv, 6 h a night': said to be a day's hours, whatever name stands before.
        daily.test(text.slice(end)) || !names.some((name) => name.end <= at && !text.slice(name.end, at).includes(';')),
    )
    .filter(({ at }) => names.findLast((name) => name.end <= at)?.measures.includes('niv-hours') !== true)
    .map(({ at, typed }) => ({ at: at - 1, end: at - 1, typed, measures: ['niv-hours'] }));
  return named.length !== 1 ? [...names] : [...names, ...named].sort((a, b) => a.at - b.at);
}

/** Nothing else is in its clause. */
const alone = (text: string, at: number, end: number): boolean =>
  /(?:^|;) *$/.test(text.slice(0, at)) && /^ *(?:;|$)/.test(text.slice(end));

const hours = madeOnce(({ manner, filled }) => ({
  beside: new RegExp(`^[ ;]*(?:(?:${manner.about})[ ;]*)*$`),
  daily: new RegExp(`^ ?(?:${filled(manner.daily)})(?![a-z])`),
}));

/**
 * Litres without any name are a vital capacity in two cases: two of them, sitting and lying; and one of someone whose height is
 * told, with a question for the per cent.
 */
export function withVolumes(
  names: readonly Name[],
  { quantities, conditions, height, text }: Found,
  words: Vocabulary,
) {
  const [first, second, ...more] = quantities.filter(({ unit }) => unit === 'L' || unit === 'mL');
  if (names.length > 0) return [...names];
  if (first === undefined || more.length > 0) return [];
  const postures = new Set(conditions.postures.map(({ posture }) => posture));
  const asks = height !== undefined && percentAsked(words).test(text);
  if (second === undefined ? !asks : postures.size < 2) return [];
  const at = first.at - 1;
  return [{ at, end: at, typed: first.typed, measures: ['vc-litres'], as: 'vital capacity' }];
}

/** 'supine 44' with no name: a vital capacity or a saturation. The reader is asked to say which. */
export function unnamedInPosture({ names, quantities, conditions, text }: Found): Hint[] {
  const after = ({ at }: Typed) => conditions.postures.some(({ end }) => end <= at && /^ ?$/.test(text.slice(end, at)));
  const before = ({ end }: Typed) =>
    conditions.postures.some(({ at }) => end <= at && /^ ?$/.test(text.slice(end, at)));
  const bare = quantities.filter(({ unit }) => unit === undefined || unit === '%');
  // 'from 74 to 55 lying down'
  const told = bare.find(after) ?? (bare.length > 1 ? bare.find(before) : undefined);
  if (names.length > 0 || told === undefined) return [];
  return [
    {
      kind: 'hint',
      say: `\u201c${told.typed}\u201d has no name. Type what was measured, such as \u201cfvc 70 sitting 48 lying\u201d`,
    },
  ];
}

const percentAsked = madeOnce(({ manner, phrase }) => phrase(manner.percentAsked));

/**
 * Each name with the numbers after it, or with those before it where the line begins with a number and ends with a name. In
 * any other line a number right before a name that has none after it is that name's: 'fvc 33, 74 min under 88'.
 */
export function pairUp(
  names: readonly Name[],
  quantities: readonly Typed[],
  text: string,
  postures: Conditions['postures'] = [],
): Pair[] {
  const [firstName] = names;
  const lastName = names.at(-1);
  const [first] = quantities;
  if (!firstName || !lastName || !first) return [];
  const reversed = first.at < firstName.at && !quantities.some(({ at }) => at > lastName.at);
  if (!reversed) return pairForward(names, quantities, text, postures);
  return names.flatMap((name, index) => {
    const from = names[index - 1]?.at ?? -1;
    const own = quantities.filter(({ at }) => at > from && at < name.at);
    return own.length > 0 ? [{ name, quantities: own, reversed }] : [];
  });
}

function pairForward(
  names: readonly Name[],
  quantities: readonly Typed[],
  text: string,
  postures: Conditions['postures'],
): Pair[] {
  const led = inPostures(names, quantities, text, postures);
  const before = new Map<Name, Typed>();
  const isFree = (one: Typed) => ![...before.values()].includes(one) && !led?.quantities.includes(one);
  const after = (index: number): Typed[] => {
    const to = names[index + 1]?.at ?? Number.POSITIVE_INFINITY;
    const from = names[index]?.at ?? 0;
    return quantities.filter((one) => one.at > from && one.at < to && isFree(one));
  };
  // From the end of the line: what the next name takes is no longer free.
  for (const [index, name] of [...names.entries()].reverse()) {
    const [next] = after(index);
    const found = quantities.find((one) => standsBefore(one, name, text));
    // '14 % t90, dmd 19': with a unit, and with none after it before the clause ends.
    const own =
      next === undefined || (found?.unit !== undefined && text.slice(name.end, next.at).includes(';'))
        ? found
        : undefined;
    const last = names[index - 1];
    // 'fvc 48 snip': the number is the one that the name before it waits for.
    const waits =
      own &&
      last &&
      last.end <= own.at &&
      !text.slice(last.end, own.at).includes(';') &&
      !quantities.some((one) => one.at >= last.end && one.end <= own.at && one !== own);
    if (own && !waits) before.set(name, own);
  }
  return names.flatMap((name, index) => {
    if (led?.name === name) return [led];
    const own = before.get(name);
    const some = own ? [own] : after(index);
    return some.length > 0 ? [{ name, quantities: some, reversed: own !== undefined }] : [];
  });
}

/** 'mip 55, upright 71, supine 50, fvc': a vital capacity with no number after it, and two postures with theirs before it. */
function inPostures(
  names: readonly Name[],
  quantities: readonly Typed[],
  text: string,
  postures: Conditions['postures'],
): Pair | undefined {
  const index = names.findIndex(({ measures }) => measures.some((id) => lyingDown[id] !== undefined));
  const name = names[index];
  const next = names[index + 1]?.at ?? Number.POSITIVE_INFINITY;
  if (name === undefined || quantities.some(({ at }) => at > name.at && at < next)) return undefined;
  const from = names[index - 1]?.end ?? 0;
  const beside = ({ at }: Typed) =>
    postures.some((one) => /^ ?$/.test(text.slice(one.end, Math.max(at, one.end))) && one.end <= at);
  const own = quantities.filter((one) => one.at > from && one.end <= name.at && beside(one));
  return own.length === 2 ? { name, quantities: own, reversed: true } : undefined;
}

/** 'pcf 180, 200, 210, best 210': the efforts before the best one are not its readings. */
export function bestOf(pairs: readonly Pair[], text: string, words: Vocabulary): void {
  for (const pair of pairs) {
    const best = pair.quantities.filter(({ at }) => bestBefore(words).test(text.slice(0, at)));
    if (best.length === 1 && pair.quantities.length > 1) pair.quantities = best;
  }
}

const bestBefore = madeOnce(({ manner, filled }) => new RegExp(`(?<![a-z])(?:${filled(manner.best)}) $`));

const standsBefore = ({ end }: Typed, { at }: Name, text: string): boolean =>
  end <= at && /^ ?$/.test(text.slice(end, at));

export interface Breathing {
  /** `undefined`: off the ventilator, and nothing said about oxygen */
  breathed: readonly { at: number; gas: Gas | undefined; starts?: boolean }[];
  /** saturations and gases: what is breathed says something about these */
  numbers: readonly Typed[];
  /** where nothing says what was breathed and oxygen was denied */
  otherwise: Gas | undefined;
  otherwiseAssumed: string | undefined;
}

/** What was said about one number: with two postures or gases in a line each belongs to a number of its own. */
export function saidAbout(
  quantity: Typed,
  pair: Pair,
  pairs: readonly Pair[],
  { conditions, text }: { conditions: Conditions; text: string },
  breathing: Breathing,
  flags: ReadonlySet<string>,
): Said {
  const gas = gasOf(quantity, pairs, breathing, text);
  const both = inBoth(pair, posturesOf(pair, pairs, conditions, text));
  const fall = both && isFall(quantity, conditions, text);
  return {
    gas: gas ?? breathing.otherwise,
    gasAssumed: gas === undefined ? breathing.otherwiseAssumed : undefined,
    // 'upright 3.1, supine 1.9, 39 % drop'
    posture: fall ? 'supine' : postureOf(quantity, pair, pairs, conditions, text),
    method: conditions.method,
    flags,
    // Sitting and lying, both with a number: these are the values, and the fall is worked out from them.
    change:
      (both && !fall) || !tellsChange(quantity, conditions, text) || isFar(quantity, pair, pairs, conditions)
        ? undefined
        : conditions.change,
    overTime: conditions.overTime,
  };
}

/** 'sitting 62, drop 30 % lying': per cent right after the word are the fall, not the value. */
const isFall = ({ at, end, unit }: Typed, { change, changeAt, changeEnd }: Conditions, text: string): boolean =>
  change === 'fall' &&
  unit === '%' &&
  ((changeEnd <= at && /^ ?$/.test(text.slice(changeEnd, at))) ||
    (end <= changeAt && /^ ?$/.test(text.slice(end, changeAt))));

/**
 * 'pcf 220, falls': a word of change in another clause tells nothing of this number. Where a number stands right after the word
 * ('62 down 8'), it is the change and the one before it the value.
 */
function tellsChange({ at, end }: Typed, { changeAt, changeEnd }: Conditions, text: string): boolean {
  const apart = text.slice(Math.min(end, changeEnd), Math.max(at, changeAt)).includes(';');
  return !apart && !(at < changeAt && /^ -?\d/.test(text.slice(changeEnd)));
}

/** 'fvc 55, nif 33, dropping': with the number of another name between, the word is none of the first. */
function isFar({ at, end }: Typed, pair: Pair, pairs: readonly Pair[], { changeAt, changeEnd }: Conditions): boolean {
  const from = Math.min(end, changeEnd);
  const to = Math.max(at, changeAt);
  return pairs.some((other) => other !== pair && other.quantities.some((one) => one.at >= from && one.end <= to));
}

function gasOf(quantity: Typed, pairs: readonly Pair[], breathing: Breathing, text: string): Gas | undefined {
  const inClause = (one: { at: number; end: number }, at: number) =>
    !text.slice(Math.min(one.end, at), Math.max(one.at, at)).includes(';');
  // 'sats 97 on air, t90 12 %': said in a clause with a saturation or a gas, it is of that one alone.
  const said = breathing.breathed.filter(({ at, starts }) => {
    const own = breathing.numbers.filter((one) => inClause(one, at));
    return (!starts || at < quantity.at) && (own.length === 0 || own.includes(quantity));
  });
  const here = said.filter(({ at }) => inClause(quantity, at));
  const breathed = here.length > 0 ? here : said;
  const gases = new Set(breathed.map(({ gas }) => gas));
  // On a ventilator with oxygen let in, it is the ventilator that counts; only two numbers can have two gases.
  const numbers = pairs.flatMap(({ quantities }) => quantities);
  if (gases.size <= 1 || numbers.length === 1)
    return gases.has('ventilation')
      ? 'ventilation'
      : gases.has('oxygen')
        ? 'oxygen'
        : breathed.find(({ gas: one }) => one !== undefined)?.gas;
  const next = Math.min(...numbers.map(({ at }) => at).filter((at) => at > quantity.at), Number.POSITIVE_INFINITY);
  const after = breathed.filter(({ at }) => at > quantity.at && at < next);
  const before = breathed.findLast(({ at }) => at < quantity.at);
  // 'sats 93 on niv with 1 l, co2 55': what one clause says is said together.
  const together = breathed.filter(
    ({ at }) => before && at <= before.at && !text.slice(at, before.at).includes(';') && at < quantity.at,
  );
  const own = after.length > 0 ? after : together;
  return (
    own.find(({ gas }) => gas === 'ventilation') ??
    own.find(({ gas }) => gas !== undefined) ??
    own[0] ??
    breathed[0]
  )?.gas;
}

/** The pair that a word of the line belongs to: the last one that begins before it, else the first. */
function ownerOf({ at, end }: PosturePlace, pairs: readonly Pair[], text: string): Pair | undefined {
  const starts = pairs.map(({ name, quantities }) => Math.min(name.at, quantities[0]?.at ?? name.at));
  // 'lying vc 1.3, sitting vc 2.0': in front of its name, after the end of a clause.
  const next = starts.findIndex((start) => start >= end && /^ *$/.test(text.slice(end, start)));
  const last = pairs[next - 1];
  const leads = last?.name.measures.some((id) => Object.values(lyingDown).includes(id));
  if (last && (leads || text.slice(starts[next - 1], at).includes(';'))) return pairs[next];
  return pairs[
    Math.max(
      0,
      starts.findLastIndex((start) => start <= at),
    )
  ];
}

const inBoth = ({ quantities }: Pair, postures: Conditions['postures']): boolean =>
  quantities.length > 1 && new Set(postures.map(({ posture }) => posture)).size > 1;

/** The postures told of a pair. */
export const posturesOf = (
  pair: Pair,
  pairs: readonly Pair[],
  { postures }: Conditions,
  text: string,
): Conditions['postures'] => postures.filter((one) => pairs.length === 1 || ownerOf(one, pairs, text) === pair);

function postureOf(
  quantity: Typed,
  pair: Pair,
  pairs: readonly Pair[],
  conditions: Conditions,
  text: string,
): Said['posture'] {
  const all = posturesOf(pair, pairs, conditions, text);
  // 'fvc 60 sitting, could not do it lying': the one number was taken in the posture beside it.
  const here = all.filter(
    ({ at, end }) => !text.slice(Math.min(end, quantity.end), Math.max(at, quantity.at)).includes(';'),
  );
  const own = pair.quantities.length === 1 && here.length > 0 ? here : all;
  if (own.length > 1 && pair.quantities.length === 1) return nearest(quantity, own);
  const told = own.find(({ posture }) => posture === 'supine') ?? own[0];
  if (told === undefined) return undefined;
  if (own.length > 1 && pair.quantities.length > 1) return ownPosture(quantity, pair, own);
  // 'fvc 48 supine 35': the posture is that of the number after it.
  const lying = pair.quantities.find(({ at }) => at > told.at) ?? pair.quantities.at(-1);
  return told.posture === 'supine' && quantity !== lying ? undefined : told.posture;
}

/** 'seated 60, supine not done': of several postures the one beside the number, and of two the one before it. */
function nearest({ at, end }: Typed, postures: Conditions['postures']): Said['posture'] {
  const gap = (one: PosturePlace) => (one.end <= at ? at - one.end : one.at - end + 0.5);
  return [...postures].sort((a, b) => gap(a) - gap(b))[0]?.posture;
}

/** 'sit 68 lie 44' or '68 sitting 44 lying': all postures stand on one side, that on which they are nearer to the numbers. */
function ownPosture(quantity: Typed, { quantities }: Pair, postures: Conditions['postures']): Said['posture'] {
  const before = besideAll(quantities, (one, at) =>
    postures.findLast((place) => place.at >= (quantities[at - 1]?.end ?? 0) && place.end <= one.at),
  );
  const after = besideAll(quantities, (one, at) =>
    postures.find((place) => place.at >= one.end && place.at < (quantities[at + 1]?.at ?? Number.POSITIVE_INFINITY)),
  );
  const leads = before.missing !== after.missing ? before.missing < after.missing : before.gaps <= after.gaps;
  return (leads ? before : after).places[quantities.indexOf(quantity)]?.posture;
}

/** The posture of each number on one side, how many have none, and how far all are from their numbers. */
function besideAll(
  quantities: readonly Typed[],
  beside: (one: Typed, index: number) => Conditions['postures'][number] | undefined,
) {
  const places = quantities.map(beside);
  const gaps = quantities.reduce((sum, { at, end }, index) => {
    const place = places[index];
    return place === undefined ? sum : sum + (place.end <= at ? at - place.end : place.at - end);
  }, 0);
  return { places, gaps, missing: places.filter((place) => place === undefined).length };
}

export interface PairRead {
  readings: AskedReading[];
  ask: Ambiguous | undefined;
  /** numbers that are nothing under this name */
  unused: Typed[];
}

export function readPair(
  pair: Pair,
  saidOf: (quantity: Typed) => Said,
  person: AskedPerson,
  measures: Measures,
): PairRead {
  const { name } = pair;
  const byNumber = pair.quantities.map((quantity) => ({
    quantity,
    options: meanings(name.measures, quantity, saidOf(quantity), person, measures),
  }));
  const unused = byNumber.filter(({ options }) => options.length === 0).map(({ quantity }) => quantity);
  const fitting = byNumber.flatMap(({ options }) => (options.length > 0 ? [options] : []));
  const note = name.as === undefined ? [] : [`\u201c${name.typed}\u201d read as ${name.as}`];
  const noted = fitting.map((options) => options.map((one) => ({ ...one, assumed: [...note, ...one.assumed] })));
  // '2.1 l 48 %': one blow in two units is two readings; 'fvc 48 52' is one reading or the other.
  const decided = noted.flatMap((options) => (options.length === 1 ? options : []));
  const kinds = new Set(
    decided.map(({ measure, reading }) => `${measure} ${reading.gas ?? ''} ${reading.flags ?? ''}`),
  );
  if (decided.length === noted.length && kinds.size === noted.length)
    return { readings: decided, ask: undefined, unused };
  return { readings: [], ask: noted.length > 0 ? { kind: 'ask', options: noted.flat() } : undefined, unused };
}
