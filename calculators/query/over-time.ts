/**
 * Values of one measure over time ('fvc 60 57 55 over 6 months'), and a fall told without its values ('down 12 points in 3
 * months'). The last value is the reading now. A fall in SNIP or MIP in 3 months is worked out where the line says how long.
 */
import type { Measures } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { convert, type UnitCode, units } from '../quantity.ts';
import type { FallTold, Hint, SeriesTold } from './asked.ts';
import { type Conditions, nothingSaid } from './conditions.ts';
import type { Found } from './found.ts';
import { isChange, meanings, siblingsOf, valueWhileChanging } from './meaning.ts';
import type { Name } from './names.ts';
import type { Typed } from './numbers.ts';
import { type Pair, posturesOf } from './pair.ts';
import type { Taken } from './text.ts';
import type { TimeMark } from './times.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

export interface OverTime {
  series: SeriesTold[];
  falls: FallTold[];
  /** worked out from them, by measure */
  readings: Record<string, Reading>;
  assumed: string[];
  hints: Hint[];
  /** numbers and words of the line that had a part in it */
  used: Taken[];
}

/** Takes the earlier values of a series, and the number of a fall, out of their pairs. */
export function overTime(
  found: Found,
  pairs: readonly Pair[],
  acute: boolean,
  measures: Measures,
  words: Vocabulary,
): OverTime {
  const said: OverTime = { series: [], falls: [], readings: {}, assumed: [], hints: [], used: [] };
  for (const [index, pair] of pairs.entries()) {
    const marks = marksOf(found, pairs, index);
    const postures = posturesOf(pair, pairs, found.conditions, found.text);
    const by = postures.length > 0 ? undefined : fallOf(pair, found, words);
    const whole = { ...pair, quantities: pair.quantities.filter((one) => one !== by) };
    if (postures.length < 2) {
      // 'fvc 54 to 47 over 6 months, supine 31': the value in the other posture is none of the series.
      const apart = whole.quantities.filter(
        (one) => standsApart(one, whole, postures, found) || isAge(one, whole, found) || isTime(one, whole),
      );
      const series = { ...whole, quantities: whole.quantities.filter((one) => !apart.includes(one)) };
      addSeries(said, found, series, marks, acute, measures, words);
      pair.quantities = [...series.quantities, ...apart, ...(by ? [by] : [])];
    }
    if (!acute) addFall(said, found, pair, marks, measures, words);
    // 'fvc 70, down 8 since march': beside a value the fall is none, and without a length of time it is not used.
    if (by && pair.quantities.length > 1) pair.quantities = pair.quantities.filter((one) => one !== by);
  }
  if (!acute) addPoints(said, found, pairs, measures);
  return said;
}

/** 'niv was 4 h now 9 h, dmd 20': right after the disease, with none of the others in its clause. */
const isAge = (one: Typed, { quantities }: Pair, { about, text }: Found): boolean =>
  quantities.length > 1 &&
  one.unit === undefined &&
  about.some(
    ({ at, end, what }) =>
      what.kind === 'disease' &&
      end <= one.at &&
      /^ ?$/.test(text.slice(end, one.at)) &&
      !quantities.some((other) => other.end <= at && !text.slice(other.end, at).includes(';')),
  );

/** 'vc 3.0 to 1.4 in 6 hours' */
const isTime = ({ unit }: Typed, { name }: Pair): boolean => unit === 'h' && !name.measures.includes('niv-hours');

/** Beside the one posture, in a clause with no other number of the pair. */
function standsApart(
  one: Typed,
  { quantities }: Pair,
  postures: Conditions['postures'],
  { text, before }: Found,
): boolean {
  const [posture] = postures;
  if (posture === undefined || quantities.length + before.length < 3) return false;
  const beside = (from: number, to: number) => from <= to && /^[ |]*$/.test(text.slice(from, to));
  const alone = quantities.every(
    (other) => other === one || text.slice(Math.min(other.end, one.end), Math.max(other.at, one.at)).includes(';'),
  );
  return alone && (beside(posture.end, one.at) || beside(one.end, posture.at));
}

/** The number of a fall: right after its word. */
function fallOf({ quantities }: Pair, { conditions, text }: Found, words: Vocabulary): Typed | undefined {
  const { change, changeEnd } = conditions;
  // 'trending down 70 64 58'
  if (change !== 'fall' || quantities.length > 2) return undefined;
  return quantities.find(({ at }) => at >= changeEnd && fallBy(words).test(text.slice(changeEnd, at)));
}

const startOf = ({ name, quantities }: Pair): number => Math.min(name.at, ...quantities.map(({ at }) => at));

/** What is said about time between a pair's start and the next one's. */
function marksOf({ times, signs, about, text }: Found, pairs: readonly Pair[], index: number): TimeMark[] {
  const own = pairs[index];
  const next = pairs[index + 1];
  const from = index === 0 || own === undefined ? 0 : startOf(own);
  const to = next === undefined ? Number.POSITIVE_INFINITY : startOf(next);
  const start = own === undefined ? 0 : startOf(own);
  // 'sleeps in a chair 3 weeks, sniff 30': a time in the clause of a sign before the name is the sign's.
  const ofSign = (mark: TimeMark) =>
    mark.end <= start &&
    signs.some((sign) => !text.slice(Math.min(sign.end, mark.end), Math.max(sign.at, mark.at)).includes(';'));
  // 'als dx last year, fvc 50 was 64': in a clause of its own with the disease it is how long the disease has been there.
  const ofDisease = (mark: TimeMark) =>
    mark.end <= start &&
    text.slice(mark.end, start).includes(';') &&
    about.some(({ end, what }) => what.kind === 'disease' && end <= mark.at && !text.slice(end, mark.at).includes(';'));
  return times.filter((mark) => mark.at >= from && mark.at < to && !ofSign(mark) && !ofDisease(mark));
}

// ---- values over time --------------------------------------------------------------------------------------------------------

interface Point {
  quantity: Typed;
  /** in months; 0 is now */
  time?: number | undefined;
  month?: number | undefined;
  earlier?: boolean;
}

function addSeries(
  said: OverTime,
  found: Found,
  pair: Pair,
  marks: readonly TimeMark[],
  acute: boolean,
  measures: Measures,
  words: Vocabulary,
): void {
  const before = found.before.filter(({ at }) => at >= startOf(pair));
  const spans = marks.filter(({ kind }) => kind === 'span');
  const from = (spans.length > 0 || acute) && pair.quantities.length === 1 ? before : [];
  const quantities = [...from, ...withoutRepeat(pair.quantities, marks)];
  if (quantities.length < 2 || isUnclear(quantities, marks, found.text)) return;
  const points = withCurrent(
    quantities.map((quantity, index) => pointOf(quantity, quantities, index, marks, found.text)),
    marks,
    found.text,
  );
  const explicit = marks.some(({ months }) => months !== undefined);
  const toldInOrder = goesOneWay(quantities, found.conditions.change);
  const fell = acute && (from.length > 0 || fallsTo(quantities, found, words));
  if (!explicit && !toldInOrder && !fell && !tellsOrder(quantities, marks, found)) return;
  if (points.every(({ time, month }) => time === undefined && month === undefined) && explicit && spans.length === 0)
    return;
  const ordered = inOrder(points);
  const kind = oneKind(pair.name, ordered, measures);
  if (kind === undefined || (!explicit && !tellsToday(kind.measure, ordered, marks))) return;
  const last = ordered.at(-1);
  const overMonths = spans[0]?.months ?? monthsBetween(ordered);
  const values = ordered.map(({ quantity }) => Math.abs(quantity.value));
  said.series.push({ ...kind, values, ...(overMonths === undefined ? {} : { overMonths }) });
  said.used.push(
    ...pair.quantities,
    ...quantities,
    ...marks.filter((mark) => mark.kind !== 'span' || mark === spans[0]),
  );
  // 'vc was 3 l now 2': one unit for all of them.
  if (last && last.quantity.unit === undefined) last.quantity.unit = unitToTell(ordered, kind);
  pair.quantities = last ? [last.quantity] : [];
  addWorkedOut(said, kind, (values[0] ?? 0) - (values.at(-1) ?? 0), overMonths, values[0], acute, measures);
}

/**
 * Of a value that changes by the hour only where the line says which is today's. A saturation that was lower before is asked
 * about: 'was' can be some minutes ago.
 */
function tellsToday(measure: string, points: readonly Point[], marks: readonly TimeMark[]): boolean {
  if (!valueWhileChanging.has(measure)) return true;
  const values = points.map(({ quantity }) => quantity.value);
  const lowest = Math.min(...values) === values.at(-1);
  return (
    marks.some(({ kind }) => kind === 'earlier') ||
    (marks.some(({ kind }) => kind === 'was' || kind === 'now') && (measure !== 'spo2' || lowest))
  );
}

/** 'fvc now 52, 6 months ago 60': the value beside 'now' is the one of today, and all others are from before. */
function withCurrent(points: readonly Point[], marks: readonly TimeMark[], text: string): Point[] {
  const blank = (from: number, to: number) => from <= to && /^[ ;]*$/.test(text.slice(from, to));
  // 'fvc 49 (was 61) today': the word for the earlier value stands closer than the one for today.
  const isBefore = ({ at }: Taken) => marks.some(({ kind, end }) => kind === 'was' && blank(end, at));
  const beside = points.filter(
    ({ quantity }) =>
      !isBefore(quantity) &&
      marks.some(({ kind, at, end }) => kind === 'now' && (blank(end, quantity.at) || blank(quantity.end, at))),
  );
  // 'pcf 60 now 52' has it beside both.
  const [current, ...more] = beside.length > 1 ? beside.filter(({ earlier }) => !earlier) : beside;
  if (current === undefined || more.length > 0) return [...points];
  const agos = marks.filter(({ kind, months }) => kind === 'ago' && months !== undefined);
  const only = agos.length === 1 && points.length === 2 ? agos[0]?.months : undefined;
  return points.map((one) =>
    one === current
      ? { quantity: one.quantity, earlier: false }
      : { ...one, earlier: true, time: only === undefined ? one.time : -only },
  );
}

/** 'fvc 50 last time 60': of which of the two the words are said decides which is the value now. */
function isUnclear(quantities: readonly Typed[], marks: readonly TimeMark[], text: string): boolean {
  if (quantities.length > 2 || marks.some(({ kind }) => kind === 'now' || kind === 'was')) return false;
  const [first, second] = quantities;
  return marks.some(
    ({ kind, at, end }) =>
      (kind === 'earlier' || kind === 'ago') &&
      first &&
      second &&
      !/[^ ]/.test(text.slice(first.end, at) + text.slice(end, second.at)),
  );
}

/** 'fvc 55 trend 70 62 55': the value in front is the last of them. */
function withoutRepeat([first, ...rest]: readonly Typed[], marks: readonly TimeMark[]): Typed[] {
  const [second] = rest;
  const repeats =
    rest.length > 1 &&
    first?.value === rest.at(-1)?.value &&
    marks.some(({ kind, at }) => kind === 'trend' && first !== undefined && second && at > first.at && at < second.at);
  return first === undefined || repeats ? rest : [first, ...rest];
}

/** 'going down 2.4 2.0 1.7' */
function goesOneWay(quantities: readonly Typed[], change: 'fall' | 'rise' | undefined): boolean {
  const sign = change === 'fall' ? -1 : 1;
  return (
    change !== undefined &&
    quantities.length > 2 &&
    quantities.every(({ value }, index) => index === 0 || (value - (quantities[index - 1]?.value ?? 0)) * sign > 0)
  );
}

/** 'was 55 now 40', '50 then 42': the order is told without a length of time. */
function tellsOrder(quantities: readonly Typed[], marks: readonly TimeMark[], found: Found): boolean {
  const { text } = found;
  const [first] = quantities;
  const last = quantities.at(-1);
  const rightBefore = ({ end }: Taken, { at }: Taken) => end <= at && /^[ ;]*$/.test(text.slice(end, at));
  return marks.some(
    (mark) =>
      (mark.kind === 'then' && first !== undefined && last !== undefined && mark.at > first.at && mark.at < last.at) ||
      mark.kind === 'earlier' ||
      (mark.kind === 'trend' && quantities.length > 2) ||
      (mark.kind === 'was' && quantities.some((one) => rightBefore(mark, one))) ||
      (mark.kind === 'now' && last !== undefined && tellsNow(mark, last, quantities, found)),
  );
}

/** 'now 52', '60, 52 now'. Of 'fvc 48 supine 35 today' both are of today, and in 'fvc 44 dmd 13 now' one is an age. */
function tellsNow(
  mark: TimeMark,
  last: Typed,
  quantities: readonly Typed[],
  { text, conditions, about }: Found,
): boolean {
  const from = quantities.at(-2)?.end ?? 0;
  const apart = [...conditions.postures, ...about].some(({ at, end }) => at >= from && end <= last.at);
  const blank = (at: number, end: number) => at <= end && /^ *$/.test(text.slice(at, end));
  return blank(mark.end, last.at) || (!apart && /^[ ;]*$/.test(text.slice(last.end, mark.at)) && last.end <= mark.at);
}

const fallTo = madeOnce(({ manner, filled }) => new RegExp(`^ ?(?:${filled(manner.fallTo)}) ?$`));

/** 'vc 3.0 to 1.4': where hours count, a second value that is lower came after the first. A range goes up. */
function fallsTo(quantities: readonly Typed[], { text, conditions }: Found, words: Vocabulary): boolean {
  const [first, second, ...more] = quantities;
  return (
    first !== undefined &&
    second !== undefined &&
    more.length + conditions.postures.length === 0 &&
    Math.abs(second.value) < Math.abs(first.value) &&
    fallTo(words).test(text.slice(first.end, second.at))
  );
}

/** The marks beside one value: after it, up to the next value or the end of its clause; 'was' and 'now' also before it. */
function pointOf(
  quantity: Typed,
  all: readonly Typed[],
  index: number,
  marks: readonly TimeMark[],
  text: string,
): Point {
  const next = all[index + 1]?.at ?? Number.POSITIVE_INFINITY;
  const last = all[index - 1]?.end ?? 0;
  const stops = index < all.length - 1 ? text.indexOf(' ; ', quantity.end) : -1;
  // '1.9 was 2.8': the word belongs to the number after it.
  const leadsNext = ({ kind, end }: TimeMark) =>
    kind === 'was' && next < text.length && /^[ ;]*$/.test(text.slice(end, next));
  const after = marks.filter(
    (mark) => mark.at >= quantity.end && mark.at < next && (stops < 0 || mark.at < stops) && !leadsNext(mark),
  );
  const leads = marks.filter(
    ({ at, end, kind }) =>
      at >= last && end <= quantity.at && (kind === 'was' || (text.slice(last, at).includes(';') && kind !== 'then')),
  );
  const own = [...after, ...leads];
  const of = (kind: TimeMark['kind']) => own.find((mark) => mark.kind === kind);
  const ago = of('ago');
  const later = of('later');
  return {
    quantity,
    time: ago?.months === undefined ? later?.months : -ago.months,
    month: of('month')?.months,
    earlier: ago !== undefined || of('was') !== undefined || of('earlier') !== undefined,
  };
}

/** As typed, except that what is said to be earlier comes first. */
const inOrder = (points: readonly Point[]): Point[] => {
  const now = points.some(({ month, time, earlier }) => month === undefined && time === undefined && !earlier);
  // 'fvc 50, 60 in march': the one without a month is the value now.
  const isEarlier = ({ earlier, month }: Point): boolean => earlier === true || (now && month !== undefined);
  const before = points.filter(isEarlier);
  if (before.length === points.length) return [...points];
  return [...before.sort((a, b) => (a.time ?? 0) - (b.time ?? 0)), ...points.filter((point) => !isEarlier(point))];
};

function monthsBetween(points: readonly Point[]): number | undefined {
  const [first] = points;
  const last = points.at(-1);
  if (first?.month !== undefined && last?.month !== undefined) return (last.month - first.month + 12) % 12 || 12;
  if (first?.earlier && first.time !== undefined) return -first.time;
  const steps = points.slice(1).map(({ time }) => time);
  return steps.every((time) => time !== undefined)
    ? steps.reduce<number>((sum, time) => sum + (time ?? 0), 0)
    : undefined;
}

/** The unit of the last value, where another one told it, or where all of them are too small to be per cent. */
const unitToTell = (points: readonly Point[], { unit }: { unit: UnitCode }): UnitCode | undefined =>
  points.some(({ quantity }) => quantity.unit !== undefined) || (unit === 'L' && areLitres(points)) ? unit : undefined;

const mostLitres = 8;
/** 'vc from 3 to 2': nobody's vital capacity is 3 per cent. */
const areLitres = (points: readonly Point[]): boolean =>
  points.every(({ quantity }) => quantity.unit === undefined && quantity.value < mostLitres);

/** The one measure and unit that every value can be. */
function oneKind(
  name: Name,
  points: readonly Point[],
  measures: Measures,
): { measure: string; unit: UnitCode } | undefined {
  const shared = points.map(({ quantity }) => quantity.unit).find((unit) => unit !== undefined);
  const kinds = points.map(({ quantity }) =>
    meanings(name.measures, { ...quantity, unit: quantity.unit ?? shared }, nothingSaid, {}, measures).map(
      ({ measure, reading }) => `${measure} ${reading.unit}`,
    ),
  );
  const shareds = (kinds[0] ?? []).filter((kind) => kinds.every((some) => some.includes(kind)));
  const litres = shareds.filter((kind) => kind === 'vc-litres L');
  const common = areLitres(points) && litres.length > 0 ? litres : shareds;
  const [measure, unit] = common.length === 1 ? (common[0] ?? '').split(' ') : [];
  return measure === undefined || unit === undefined ? undefined : { measure, unit: unit as UnitCode };
}

// ---- a fall without its values -------------------------------------------------------------------------------------------------

/** 'sniff down 15 in 2 months': only with a length of time, and only the number right after the word. */
const fallBy = madeOnce(({ manner }) => new RegExp(`^(?:[ ;|]|(?:${manner.fallBy})(?![a-z]))*$`));

function addFall(
  said: OverTime,
  found: Found,
  pair: Pair,
  marks: readonly TimeMark[],
  measures: Measures,
  words: Vocabulary,
): void {
  const { change, postures } = found.conditions;
  const span = marks.find(({ months, kind }) => months !== undefined && (kind === 'span' || kind === 'ago'));
  if (change !== 'fall' || span === undefined || postures.length > 0) return;
  const by = fallOf(pair, found, words);
  if (by === undefined || pair.name.measures.some((id) => valueWhileChanging.has(id) || isChange(id))) return;
  const kind = kindOfFall(pair.name, by.unit, measures);
  if (kind === undefined) return;
  said.falls.push({ ...kind, by: Math.abs(by.value), overMonths: span.months });
  said.used.push(by, span, pair.name, ...found.times.filter((mark) => mark.kind === 'earlier'));
  pair.quantities = pair.quantities.filter((one) => one !== by);
  tellFall(said, kind, Math.abs(by.value), span.months, measures);
}

/** 'dropped 12 points': of the name before it, or of the only one. */
function addPoints(said: OverTime, found: Found, pairs: readonly Pair[], measures: Measures): void {
  const names = [...found.names, ...pairs.map(({ name }) => name)];
  for (const point of found.points) {
    const name = names.filter(({ at }) => at < point.at).sort((a, b) => b.at - a.at)[0] ?? names[0];
    const by = Number(/\d+(?:[.,]\d+)?/.exec(point.typed)?.[0].replace(',', '.'));
    const span = found.times.find(({ months, kind }) => months !== undefined && (kind === 'span' || kind === 'ago'));
    const kind = name && kindOfFall(name, '%', measures);
    said.falls.push({
      ...(kind?.unit === '%' && measures[kind.measure]?.kind === 'number' ? { measure: kind.measure } : {}),
      unit: 'points',
      by,
      ...(span?.months === undefined ? {} : { overMonths: span.months }),
    });
    said.used.push(point, ...(span ? [span] : []), ...(name ? [name] : []));
    if (kind === undefined)
      said.hints.push({ kind: 'hint', say: 'Say what fell, such as \u201cfvc down 10 points in 3 months\u201d' });
    else tellFall(said, kind, by, span?.months, measures);
  }
}

function kindOfFall(
  name: Name,
  unit: UnitCode | undefined,
  measures: Measures,
): { measure: string; unit: UnitCode } | undefined {
  const own = name.measures.flatMap((id) => [id, ...siblingsOf(id)]);
  const numbers = own.flatMap((id) => {
    const measure = measures[id];
    return measure?.kind === 'number' ? [{ measure: id, unit: measure.unit }] : [];
  });
  const fits = numbers.find((one) => unit !== undefined && units[one.unit].dimension === units[unit].dimension);
  const [first] = numbers;
  if (fits !== undefined) return { measure: fits.measure, unit: unit ?? fits.unit };
  // Per cent of a measure that is none itself: '20 % of SNIP'. No other unit is one of its own: 'snip down 2 l'.
  return first && (unit === undefined || unit === '%')
    ? { measure: first.measure, unit: unit ?? first.unit }
    : undefined;
}

function tellFall(
  said: OverTime,
  kind: { measure: string; unit: UnitCode },
  by: number,
  overMonths: number | undefined,
  measures: Measures,
): void {
  const measure = measures[kind.measure];
  const relative = kind.unit === '%' && measure?.kind === 'number' && measure.unit !== '%';
  if (!pressures.includes(kind.measure))
    said.hints.push({
      kind: 'hint',
      say: `No criterion in this handbook sets a number for a fall in ${measure?.short ?? kind.measure} over time. There is one for SNIP and MIP, for a fall in 3 months`,
      ...(measure?.page ? { page: measure.page } : {}),
    });
  else if (relative) putPer3(said, 'snip-relative-fall-per-3-months', by, '%/(3.mo)', overMonths, kind.measure);
  else putPer3(said, 'snip-or-mip-fall-per-3-months', inCm(by, kind.unit), 'cm[H2O]/(3.mo)', overMonths, kind.measure);
}

// ---- worked out ----------------------------------------------------------------------------------------------------------------

const pressures = ['snip', 'mip'];
const inCm = (value: number, unit: UnitCode): number => convert(value, unit, 'cm[H2O]');

function addWorkedOut(
  said: OverTime,
  { measure, unit }: { measure: string; unit: UnitCode },
  fall: number,
  overMonths: number | undefined,
  first: number | undefined,
  acute: boolean,
  measures: Measures,
): void {
  if (
    acute &&
    fall > 0 &&
    first &&
    measures['vc-or-mip-or-mep-fall-from-baseline-percent'] &&
    fromFirst.includes(measure)
  ) {
    const value = (fall / first) * 100;
    said.readings['vc-or-mip-or-mep-fall-from-baseline-percent'] = { value, unit: '%', from: [measure] };
    said.assumed.push('the first value typed is the first test');
  }
  if (!pressures.includes(measure) || overMonths === undefined || fall <= 0) return;
  putPer3(said, 'snip-or-mip-fall-per-3-months', inCm(fall, unit), 'cm[H2O]/(3.mo)', overMonths, measure);
  if (measure === 'snip' && first)
    putPer3(said, 'snip-relative-fall-per-3-months', (fall / first) * 100, '%/(3.mo)', overMonths, measure);
}

const fromFirst = ['vc-litres', 'fvc-percent', 'mip', 'mep'];

function putPer3(
  said: OverTime,
  id: string,
  by: number,
  unit: UnitCode,
  overMonths: number | undefined,
  from: string,
): void {
  if (overMonths === undefined) {
    said.hints.push({
      kind: 'hint',
      say: 'Falls are compared as a fall in 3 months. Say how many months the fall took',
    });
    return;
  }
  if (overMonths < 1) {
    said.hints.push({ kind: 'hint', say: 'A fall in 3 months needs two tests at least a month apart' });
    return;
  }
  const value = (by / overMonths) * 3;
  said.readings[id] = { value, unit, from: [from] };
  const symbol = units[unit].symbol.replace(/ ?(?:\/|per|in 3).*$/, '');
  said.assumed.push(
    `a fall of ${tidy(by)} ${symbol} over ${tidy(overMonths)} months is ${tidy(value)} ${symbol} in 3 months`,
  );
}

const tidy = (value: number): string => String(Number(value.toFixed(1)));
