/**
 * The highest carbon dioxide of a night beside the value that it started from ('tcco2 baseline 45 peak 58'). The peak is no
 * value of the day: it is told as one asleep, and the rise is worked out from the two.
 */
import type { Measures } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { type UnitCode, units } from '../quantity.ts';
import type { AsleepTold } from './asked.ts';
import { asleepTold } from './asleep.ts';
import { nothingSaid } from './conditions.ts';
import type { Found } from './found.ts';
import { meanings } from './meaning.ts';
import type { Typed } from './numbers.ts';
import type { Pair } from './pair.ts';
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

export interface NightPeak {
  readings: Record<string, Reading>;
  assumed: string[];
  asleep: AsleepTold[];
  /** numbers and words of the line that had a part in it */
  used: Taken[];
}

const patterns = madeOnce(({ manner, filled, phrase }) => {
  const light = `(?: (?:${filled(manner.ofPeak)}))*`;
  return {
    peak: new RegExp(`(?<![a-z])(?:${filled(manner.peak)})${light} ?\\|*$`),
    peakAfter: new RegExp(`^ ?(?:${filled(manner.peakAfter)})(?![a-z]|${light} ?\\d)`),
    baseline: new RegExp(`(?<![a-z])(?:${filled(manner.baseline)})${light} ?\\|*$`),
    baselineAfter: new RegExp(`^ ?(?:${filled(manner.baseline)})(?![a-z]|${light} ?\\d)`),
    awake: phrase(manner.awake),
    awakeAfter: new RegExp(`^ ?(?:${filled(manner.awake)})(?![a-z])`),
  };
});

interface Told {
  baseline: Typed;
  peak: Typed;
  /** where the value that it started from is said to be one awake */
  awake: boolean;
}

function toldBy(pair: Pair, found: Found, words: Vocabulary): Told | undefined {
  const { peak, peakAfter, baseline, baselineAfter, awake, awakeAfter } = patterns(words);
  const { text } = found;
  const from = found.before.filter(({ at }) => at > pair.name.at);
  // 'sma 7': the number right after a disease can be an age.
  const own = pair.quantities.filter(
    ({ at }) => !found.about.some((one) => one.end <= at && text.slice(one.end, at).trim() === ''),
  );
  const numbers = [...from, ...own].sort((a, b) => a.at - b.at);
  const [first, second, ...more] = numbers;
  if (first === undefined || second === undefined || more.length > 0) return undefined;
  const before = ({ at }: Typed) => text.slice(Math.max(pair.name.at, at === second.at ? first.end : 0), at);
  const after = ({ end }: Typed) => text.slice(end);
  const isPeak = (one: Typed) => peak.test(before(one)) || peakAfter.test(after(one));
  const isBase = (one: Typed) => from.includes(one) || baseline.test(before(one)) || baselineAfter.test(after(one));
  const high = [first, second].find(isPeak);
  if (high === undefined) return undefined;
  const low = high === first ? second : first;
  const night = found.conditions.nights.length > 0;
  if (!(isBase(low) || (night && high === second)) || low.value >= high.value) return undefined;
  return { baseline: low, peak: high, awake: awake.test(before(low)) || awakeAfter.test(after(low)) };
}

const rises = ['tcco2-or-etco2-peak-rise', 'tcco2-night-rise'];
const round = (value: number): number => Math.round(value * 100) / 100;

/** Takes the numbers out of their pair, but for one that is said to be the value awake. */
export function nightPeaks(found: Found, pairs: readonly Pair[], measures: Measures, words: Vocabulary): NightPeak {
  const said: NightPeak = { readings: {}, assumed: [], asleep: [], used: [] };
  for (const pair of pairs) {
    if (!pair.name.measures.some((id) => carbonDioxide.has(id))) continue;
    const told = toldBy(pair, found, words);
    const value = told && ofBoth(told, pair, found, measures);
    if (told === undefined || value === undefined) continue;
    const { unit, method } = value;
    const symbol = units[unit].symbol;
    pair.quantities = told.awake ? [told.baseline] : [];
    found.conditions.nights = found.conditions.nights.filter(({ at }) => text(found, pair.name.at, at).includes(';'));
    const reading: Reading = { value: told.peak.value, unit, ...(method === undefined ? {} : { method }) };
    said.asleep.push(asleepTold({ measure: value.measure, reading }, words));
    said.used.push(told.baseline, told.peak, { ...pair.name, at: pair.name.at, end: found.text.length });
    const rise = round(told.peak.value - told.baseline.value);
    said.assumed.push(`${told.peak.value} ${symbol} is the highest asleep: a rise of ${rise} ${symbol}`);
    if (method !== 'transcutaneous' && method !== 'end-tidal') continue;
    // Over awake is told of the skin alone.
    for (const id of told.awake && method === 'transcutaneous' ? rises : rises.slice(0, 1))
      if (measures[id]) said.readings[id] = { value: rise, unit, from: [value.measure] };
  }
  return said;
}

const carbonDioxide = new Set(['paco2', 'awake-co2-any-method']);
const text = ({ text: line }: Found, at: number, end: number): string => line.slice(at, Math.max(at, end));

/** The unit that both can be in, and how they were taken. */
function ofBoth({ baseline, peak }: Told, pair: Pair, found: Found, measures: Measures) {
  const { method } = found.conditions;
  const shared = baseline.unit ?? peak.unit;
  const of = (one: Typed) =>
    meanings(pair.name.measures, { ...one, unit: shared }, { ...nothingSaid, method }, {}, measures).filter(
      ({ measure }) => carbonDioxide.has(measure),
    );
  const [low, high] = [of(baseline), of(peak)];
  const both = low.find((one) => high.some((other) => other.reading.unit === one.reading.unit));
  return both && { measure: both.measure, unit: both.reading.unit as UnitCode, method };
}
