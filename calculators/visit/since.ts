/**
 * What has changed since the earlier visits: by how much, how fast, beyond what repetition alone would give, and when a
 * threshold could be reached.
 *
 * Only readings taken the same way are compared: same posture, method, gas, reference set and test. A change of any of
 * these starts the series anew, and says so. Two readings give a rate and no date; three or more give the earliest day
 * that the readings allow, the day of the line and, where there is one, the latest. No date is a promise, and no date at
 * all is not safety.
 *
 * No date is given where the readings may not be changing at all (the interval of the rate contains zero), where the line
 * itself needs more than two years, where nothing is published about how far two tests differ by chance, and for no
 * saturation at all. The interval is never narrower than the published repeatability. Why there is no date is always said.
 *
 * @source  the line and its prediction interval: `calculators/trend/line.ts`. Falls per 3 months: rule 8 of the evaluation
 *          rules: (earlier - later) / months between x 3, same test, same posture; less than 1 month apart cannot be told
 */

import { atLeastAMonth, dateOf, dayCount } from '../calendar.ts';
import { isChild } from '../domain/age-and-sex.ts';
import type { Criterion } from '../domain/criterion.ts';
import { isAcute } from '../domain/diseases.ts';
import type { Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading, Visit } from '../domain/visit.ts';
import { readingOf } from '../evaluate/readings.ts';
import { convert, convertible, daysInMonth } from '../quantity.ts';
import { datesFor, fitLine, horizonMonths, type Line, type NoDate, slopeHalfWidthOf } from '../trend/line.ts';
import { type Chance, chanceOf, type Repeatability, repeatabilityOf } from './repeatability.ts';

/** A visit with its date, already derived; and the reference set that its per cent predicted rest on. */
export interface PastVisit {
  date: string;
  visit: Visit;
  set?: string | undefined;
  /** hours in 24 and longest time off a support, by decision, as typed */
  times?: Readonly<Record<string, { hours?: string | undefined; timeOff?: string | undefined }>> | undefined;
}

export interface TrendPoint {
  date: string;
  /** in the measure's own unit, without a sign where the measure has none */
  value: number;
  reading: Reading;
  /** which test it is, where a measure is taken from the better of two */
  test: string;
  set?: string | undefined;
  /** taken the same way as the last one, and so part of the line */
  counts: boolean;
}

/** When the line could be at a threshold. Dates are days of the calendar; `earliest` is the one to plan by. */
export type Crossing = { criterion: string; mark: number } & (
  | { state: 'crossed' }
  | { state: 'dated'; earliest: string; line: string; latest?: string }
  | { state: 'no-date'; why: string }
);

export interface Trend {
  measure: string;
  /** oldest first, one a date */
  points: TrendPoint[];
  /** from the last reading before it that was taken the same way; in the measure's unit, a fall is negative */
  change?: { value: number; percent?: number; from: string; to: string; days: number; repeatability: Repeatability };
  /**
   * change a month of the readings that count, with its 95 per cent interval from three readings on, where a repeatability is
   * published; `chance` when it is that figure, and not the readings, that the width of the interval rests on
   */
  perMonth?: { value: number; low?: number; high?: number; chance?: Chance; readings: number };
  /** why there is no rate, or what weakens it */
  notes: string[];
  crossings: Crossing[];
}

/**
 * @param visits    in any order
 * @param criteria  criteria to look ahead to; those of other measures, and those that compare no number, are passed over
 * @returns one trend for each measure that was read at two visits or more
 */
export function since(visits: readonly PastVisit[], measures: Measures, criteria: readonly Criterion[] = []): Trend[] {
  const ordered = inOrder(visits);
  return Object.entries(measures).flatMap(([id, measure]) => {
    if (measure.kind !== 'number' || falls.has(id) || !canChange(id, measure)) return [];
    const points = pointsOf(id, measure, ordered, measures);
    if (points.length < 2) return [];
    return [trendOf(id, measure, points, ordered.at(-1)?.visit, criteria)];
  });
}

/** Age, payers' intervals, a flight and the length of a recording run on by themselves: their change says nothing. */
const canChange = (id: string, { part }: NumberMeasure): boolean =>
  id !== 'age-years' && id !== 'recording-hours' && part !== 'record' && part !== 'travel';

function trendOf(
  id: string,
  measure: NumberMeasure,
  points: TrendPoint[],
  visit: Visit | undefined,
  criteria: readonly Criterion[],
): Trend {
  const counted = points.filter(({ counts }) => counts);
  const [before, last] = [counted.at(-2), counted.at(-1)];
  const notes = notesOn(measure, points, counted, visit);
  const trend: Trend = { measure: id, points, notes, crossings: [] };
  if (!before || !last) return trend;
  const value = last.value - before.value;
  trend.change = {
    value,
    ...(before.value > 0 ? { percent: (value / before.value) * 100 } : {}),
    from: before.date,
    to: last.date,
    days: dayCount(last.date) - dayCount(before.date),
    repeatability: repeatabilityOf(last.test, before.value, last.value),
  };
  const line = lineThrough(counted, visit);
  if (line) trend.perMonth = rateOf(line, chanceOf(last.test, line.meanValue));
  trend.crossings = criteria.flatMap((criterion) => crossingOf(criterion, id, measure, counted, line));
  return trend;
}

function rateOf(line: Line, chance: Chance | undefined): NonNullable<Trend['perMonth']> {
  const value = line.slope * daysInMonth;
  const half = slopeHalfWidthOf(line);
  if (half === undefined) return { value, readings: line.count };
  const error = half * daysInMonth;
  const restsOnChance = chance !== undefined && line.reach === chance.difference / Math.SQRT2;
  return {
    value,
    low: value - error,
    high: value + error,
    ...(restsOnChance ? { chance } : {}),
    readings: line.count,
  };
}

// --- readings that can be compared -----------------------------------------------------------------------------------

function pointsOf(id: string, measure: NumberMeasure, visits: readonly PastVisit[], measures: Measures): TrendPoint[] {
  const byDate = new Map<string, TrendPoint>();
  for (const { date, visit, set } of visits) {
    const reading = readingOf(id, visit, measures);
    if (!reading || !Number.isFinite(reading.value) || !convertible(reading.unit, measure.unit)) continue;
    if (Number.isNaN(dayCount(date))) continue;
    const told = convert(reading.value, reading.unit, measure.unit);
    const test = visit.readings[id]
      ? id
      : (measure.readFrom?.measures.find((from) => visit.readings[from] === reading) ?? id);
    // Two visits on one day are one point: the later entry stands.
    byDate.set(date, {
      date,
      value: measure.magnitude ? Math.abs(told) : told,
      reading,
      test,
      counts: true,
      ...(measure.unit === '%' && measure.of === 'predicted' ? { set } : {}),
    });
  }
  const points = [...byDate.values()];
  const last = points.at(-1);
  if (!last) return points;
  // From the last reading back to the first that was taken differently: beyond a change nothing is compared.
  let same = true;
  for (const point of [...points].reverse()) {
    same = same && differences(point, last).length === 0;
    point.counts = same;
  }
  return points;
}

/** In what two readings are known to differ. What was not recorded is not known to differ; `notesOn` says so. */
function differences(a: TrendPoint, b: TrendPoint): string[] {
  const differ = (one: unknown, other: unknown) => one !== undefined && other !== undefined && one !== other;
  return [
    differ(a.reading.posture, b.reading.posture) && 'posture',
    differ(a.reading.method, b.reading.method) && 'method',
    differ(a.reading.gas, b.reading.gas) && 'what was breathed',
    differ(a.set, b.set) && 'reference set',
    a.test !== b.test && 'test',
  ].filter((what) => what !== false);
}

function notesOn(
  measure: NumberMeasure,
  points: readonly TrendPoint[],
  counted: readonly TrendPoint[],
  visit: Visit | undefined,
): string[] {
  const notes: string[] = [];
  const last = counted.at(-1);
  const changed = points.filter(({ counts }) => !counts).at(-1);
  const first = counted[0];
  if (changed && last && first)
    notes.push(
      `Counted from ${first.date} on, because the reading of ${changed.date} differs in ${differences(changed, last).join(' and ') || 'the way of testing'}. A change of posture, method or reference set can look like a fall or hide one`,
    );
  if (counted.length < 2) return notes;
  if (visit?.disease && isAcute(visit.disease))
    notes.push('In acute disease hours and days count, so no monthly rate is calculated');
  else if (!spansAMonth(counted))
    notes.push('There is less than 1 month between the first and the last reading, so no rate can be given');
  if (measure.roomAir && counted.some(({ reading }) => reading.gas !== 'air'))
    notes.push(
      'Not all readings were taken on room air, or what was breathed is not recorded. Oxygen or ventilation can hide a fall',
    );
  const unrecorded = unrecordedIn(measure, counted);
  if (unrecorded.length > 0)
    notes.push(`Not recorded each time: ${unrecorded.join(' and ')}. The rate is uncertain, and no date is given`);
  const flagged = counted.filter(({ reading }) => (reading.flags ?? []).length > 0);
  if (flagged.length > 0)
    notes.push(
      `Some tests were flagged (${flagged.map(({ date }) => date).join(', ')}). A poor test can look like a fall or hide one`,
    );
  if (visit?.ageYears !== undefined && isChild(visit.ageYears) && measure.unit === 'L')
    notes.push(
      'Litres rise as a child grows, so a level line can mean a fall. Per cent of predicted shows a fall more clearly than litres do',
    );
  return notes;
}

/** What a criterion could depend on and nobody wrote down: a measure that is about one posture already says which. */
const unrecordedIn = (measure: NumberMeasure, points: readonly TrendPoint[]): string[] => [
  ...(measure.posture === 'any' && points.some(({ reading }) => reading.posture === undefined) ? ['posture'] : []),
  ...(measure.methods && points.some(({ reading }) => reading.method === undefined) ? ['method'] : []),
];

const spansAMonth = (points: readonly TrendPoint[]): boolean =>
  atLeastAMonth(points[0]?.date ?? '', points.at(-1)?.date ?? '');

function lineThrough(counted: readonly TrendPoint[], visit: Visit | undefined): Line | undefined {
  if (!spansAMonth(counted) || (visit?.disease && isAcute(visit.disease))) return undefined;
  const test = counted.at(-1)?.test ?? '';
  return fitLine(
    counted.map(({ date, value }) => ({ day: dayCount(date), value })),
    (mean) => chanceOf(test, mean)?.difference,
  );
}

// --- when a threshold could be reached -------------------------------------------------------------------------------

function crossingOf(
  criterion: Criterion,
  id: string,
  measure: NumberMeasure,
  counted: readonly TrendPoint[],
  line: Line | undefined,
): Crossing[] {
  const { comparator, value, unit = measure.unit } = criterion;
  const falling = comparator === '<' || comparator === '<=';
  const rising = comparator === '>' || comparator === '>=';
  if (criterion.measure !== id || typeof value !== 'number' || !(falling || rising) || !convertible(unit, measure.unit))
    return [];
  const mark = convert(value, unit, measure.unit);
  const last = counted.at(-1);
  if (!last) return [];
  const found = { criterion: criterion.id, mark };
  const past = falling ? last.value < mark : last.value > mark;
  if (past || (last.value === mark && (comparator === '<=' || comparator === '>=')))
    return [{ ...found, state: 'crossed' }];
  const none = (why: string): Crossing[] => [{ ...found, state: 'no-date', why }];
  if (isSaturation(id)) return none(noDateForSaturation);
  if (!line) return none('There is no rate to project from');
  if (counted.length === 2)
    return none('There are only two readings. The rate is uncertain, and a date needs a third reading');
  const posture = criterion.posture ?? (measure.posture === 'any' ? undefined : measure.posture);
  if (posture && counted.some(({ reading }) => reading.posture !== undefined && reading.posture !== posture))
    return none(`The threshold is about ${posture} readings`);
  const unrecorded = unrecordedIn(measure, counted);
  if (unrecorded.length > 0) return none(`Not recorded each time: ${unrecorded.join(' and ')}`);
  // A rising line is a falling one upside down.
  const turned: Line = falling ? line : { ...line, meanValue: -line.meanValue, slope: -line.slope };
  const target = falling ? mark : -mark;
  const days = datesFor(turned, target);
  if (typeof days === 'string') return none(whyNoDate[days](falling ? 'fall' : 'rise'));
  const latest = latestDay(turned, target);
  return [
    {
      ...found,
      state: 'dated',
      earliest: dateOf(Math.floor(days.earliest)),
      line: dateOf(Math.round(days.line)),
      ...(latest === undefined ? {} : { latest: dateOf(Math.ceil(latest)) }),
    },
  ];
}

/** A saturation at a moment, and what is counted from saturations in a night. */
const isSaturation = (id: string): boolean => /(^|-)spo2(-|$)/.test(id);

const noDateForSaturation =
  'A saturation is never projected, because it stays high while breathing weakens and then falls late and fast. Use carbon dioxide, vital capacity, SNIP and symptoms instead';

/** In plain words, for the reader. */
const whyNoDate: Record<NoDate, (change: 'fall' | 'rise') => string> = {
  'line-already-there': () =>
    'The line through the readings has already reached the threshold, though the last reading has not. Plan as if the last reading had reached it too',
  'no-interval': () =>
    'No published figure says how far two tests of this measure differ by chance, so no interval and no date can be given',
  'not-falling': (change) =>
    `The line is not ${change === 'fall' ? 'falling' : 'rising'}. Keep measuring: a change can begin later`,
  'fall-not-sure': (change) =>
    `The ${change} could be chance: the 95 % interval of the change contains zero. A ${change} is not ruled out: measure again`,
  'too-far': () =>
    `On this line the threshold is more than ${horizonMonths} months away. A line that far ahead is a guess`,
};

/**
 * Where the upper edge of the interval meets the threshold: the larger root of (line - threshold)^2 = halfWidth^2. There is none when
 * the slope could be level: the edges then part for ever.
 */
function latestDay(
  { reach = 0, count, meanDay, meanValue, slope, spreadOfDays }: Line,
  mark: number,
): number | undefined {
  const above = meanValue - mark;
  const steep = slope ** 2 - reach ** 2 / spreadOfDays;
  if (!(steep > 0)) return undefined;
  const middle = slope * above;
  const inside = middle ** 2 - steep * (above ** 2 - reach ** 2 * (1 + 1 / count));
  const day = meanDay + (-middle + Math.sqrt(Math.max(0, inside))) / steep;
  return Number.isFinite(day) && day < meanDay + 40_000 ? day : undefined;
}

// --- falls that criteria name ----------------------------------------------------------------------------------------

const falls = new Set([
  'snip-or-mip-fall-per-3-months',
  'snip-relative-fall-per-3-months',
  'vc-or-mip-or-mep-fall-from-baseline-percent',
]);

/**
 * The falls that published criteria are about, as readings of the last visit.
 *
 *   per 3 months   = (earlier - later) / months between x 3, from the last earlier test at least a month before
 *   relative       = the same, over the earlier value, x 100
 *   from the first = (first - now) / first x 100, the largest of VC, MIP and MEP; hours apart is enough
 *
 * Each says in `from` which test it came from, and carries the flags of the later test, which makes a fall look larger;
 * with a flag on the earlier one as well the direction is open, and `from` names the test twice.
 *
 * @returns the readings, and for each that there is none of, why not. A reading typed by hand is never replaced.
 */
export function fallsOf(
  visits: readonly PastVisit[],
  measures: Measures,
): { readings: Record<string, Reading>; missing: Record<string, string> } {
  const ordered = inOrder(visits);
  const now = ordered.at(-1);
  const readings: Record<string, Reading> = {};
  const missing: Record<string, string> = {};
  if (!now) return { readings, missing };
  const series = (id: string) => {
    const measure = measures[id];
    return measure?.kind === 'number' ? pointsOf(id, measure, ordered, measures) : [];
  };
  const put = (id: string, found: Fall | undefined, why: string) => {
    if (now.visit.readings[id] !== undefined) return;
    if (found && Number.isFinite(found.value)) readings[id] = fallReading(id, found, measures);
    else missing[id] = why;
  };

  const monthly = (['snip', 'mip'] as const).map((test) => ({
    test,
    pair: pairOf(series(test), now.date, atLeastAMonth),
  }));
  const perThree = fallsIn(monthly, 'cm[H2O]/(3.mo)', (pair) =>
    inThreeMonths(pair, pair.earlier.value - pair.later.value),
  );
  put('snip-or-mip-fall-per-3-months', largest(perThree), whyNot(monthly));
  const sniff = monthly.filter(({ test }) => test === 'snip');
  const relative = fallsIn(sniff.filter(startsAboveZero), '%/(3.mo)', (pair) => inThreeMonths(pair, percentFall(pair)));
  put('snip-relative-fall-per-3-months', largest(relative), whyNot(sniff));

  const litres = firstAndLast(series('vc-litres'), now.date);
  const first = [
    {
      test: typeof litres === 'string' ? 'fvc-percent' : 'vc-litres',
      pair: typeof litres === 'string' ? firstAndLast(series('fvc-percent'), now.date) : litres,
    },
    ...(['mip', 'mep'] as const).map((test) => ({ test, pair: firstAndLast(series(test), now.date) })),
  ];
  const fromFirst = fallsIn(first.filter(startsAboveZero), '%', percentFall);
  put('vc-or-mip-or-mep-fall-from-baseline-percent', largest(fromFirst), whyNot(first));
  return { readings, missing };
}

/** Two tests to compare, or why there are none. */
interface Tested {
  test: string;
  pair: Pair | string;
}

interface Fall {
  test: string;
  pair: Pair;
  unit: Reading['unit'];
  value: number;
}

const fallsIn = (tested: readonly Tested[], unit: Reading['unit'], fallIn: (pair: Pair) => number): Fall[] =>
  tested.flatMap(({ test, pair }) => (typeof pair === 'string' ? [] : [{ test, pair, unit, value: fallIn(pair) }]));

/** A share of the earlier value needs one above zero. */
const startsAboveZero = ({ pair }: Tested): boolean => typeof pair !== 'string' && pair.earlier.value > 0;

const percentFall = ({ earlier, later }: Pair): number => ((earlier.value - later.value) / earlier.value) * 100;

/** The fall as a reading of today, with the flags of both tests and the posture of the later one. */
function fallReading(id: string, { value, unit, test, pair }: Fall, measures: Measures): Reading {
  const earlierFlags = pair.earlier.reading.flags ?? [];
  const flags = [
    ...new Set([...earlierFlags, ...(pair.later.reading.flags ?? [])].map((flag) => flagOfFall(id, flag, measures))),
  ];
  return {
    value,
    unit,
    from: earlierFlags.length > 0 ? [test, test] : [test],
    ...(flags.length > 0 ? { flags } : {}),
    ...(pair.later.reading.posture === undefined ? {} : { posture: pair.later.reading.posture }),
  };
}

interface Pair {
  earlier: TrendPoint;
  later: TrendPoint;
}

/** Today's test and the last one before it that was taken the same way and lies far enough back; or why there is none. */
function pairOf(
  points: readonly TrendPoint[],
  today: string,
  farEnough: (earlier: string, later: string) => boolean,
): Pair | string {
  const later = points.at(-1);
  if (!later || later.date !== today) return 'not tested today';
  const before = points.slice(0, -1);
  if (before.length === 0) return 'no earlier test';
  const same = before.filter((point) => differences(point, later).length === 0);
  if (same.length === 0) return 'the earlier tests were done differently';
  const earlier = same.filter(({ date }) => farEnough(date, later.date)).at(-1);
  return earlier ? { earlier, later } : 'less than 1 month apart';
}

function firstAndLast(points: readonly TrendPoint[], today: string): Pair | string {
  const later = points.at(-1);
  if (!later || later.date !== today) return 'not tested today';
  const [earlier] = points;
  if (!earlier || earlier === later) return 'no earlier test';
  return differences(earlier, later).length === 0 ? { earlier, later } : 'the first test was done differently';
}

const inThreeMonths = ({ earlier, later }: Pair, change: number): number =>
  (change / ((dayCount(later.date) - dayCount(earlier.date)) / daysInMonth)) * 3;

const largest = <T extends { value: number }>(list: readonly T[]): T | undefined =>
  list.reduce<T | undefined>((most, next) => (most === undefined || next.value > most.value ? next : most), undefined);

const whyNot = (tests: readonly { test: string; pair: Pair | string }[]): string =>
  tests
    .flatMap(({ test, pair }) =>
      typeof pair === 'string' ? [`${test.replace(/-.*/, '').toUpperCase()}: ${pair}`] : [],
    )
    .join('; ');

/** A blocked nose in a sniff is a leak in the fall's own list; a flag that the fall does not list keeps its name. */
function flagOfFall(fall: string, flag: string, measures: Measures): string {
  const measure = measures[fall];
  const own = measure?.kind === 'number' ? measure.flags.map(({ id }) => id) : [];
  const told = flag === 'blocked-nose' || flag === 'plug-leak' ? 'leak' : flag;
  return own.includes(told) ? told : flag;
}

const inOrder = (visits: readonly PastVisit[]): PastVisit[] =>
  [...visits].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
