/**
 * Readings taken asleep. A saturation or a carbon dioxide asleep is another reading than the one awake: criteria compare the
 * time spent there, or the rise over awake. It is told with what is missing, and is never compared as if it were awake.
 */
import type { Reading } from '../domain/visit.ts';
import { convert } from '../quantity.ts';
import type { AskedReading, AsleepTold, Hint } from './asked.ts';
import type { Found } from './found.ts';
import type { Typed } from './numbers.ts';
import type { Pair } from './pair.ts';
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

const beside = madeOnce(({ manner, filled, phrase }) => ({
  lightAfter: new RegExp(`^ ?(?:(?:${filled(manner.nightAfter)}) ?)*$`),
  lightBefore: new RegExp(`^ ?(?:(?:${filled(manner.nightBefore)}) ?)*$`),
  gasAsleep: phrase(manner.gasAsleep),
  dips: phrase(manner.dips),
  /** '4 h a night' is no time at which something was read */
  daily: new RegExp(filled(`\\d ?(?:HOURS) ?(?:${manner.daily})$`)),
}));

/** The numbers of a pair that were taken asleep: all of them, or where 'awake' is said too, those beside 'asleep'. */
export function asleepOf(pair: Pair, found: Found, words: Vocabulary): Typed[] {
  const { awake } = found.conditions;
  const nights = nightsOf(found, words);
  if (nights.length === 0) return [];
  const [first, second, ...more] = pair.quantities;
  // 'sats 95, dips to 88 asleep': the first is the one awake.
  const dips = first && second && more.length === 0 && beside(words).dips.test(found.text.slice(first.end, second.at));
  if (awake.length === 0 && !dips) return takenAtNight(pair, found, words) ? pair.quantities : [];
  // 'etco2 awake 38 asleep 50': the words stand before their numbers. In '95 awake 86 asleep' they stand after them.
  const { lightBefore } = beside(words);
  const leads = (words: readonly Taken[], { at }: Typed) =>
    words.some(({ end }) => end <= at && lightBefore.test(found.text.slice(end, at)));
  if (first && leads([...awake, ...nights], first)) return pair.quantities.filter((one) => leads(nights, one));
  return pair.quantities.filter((one) => takenAtNight({ ...pair, quantities: [one] }, found, words));
}

const nightsOf = ({ conditions, text }: Found, words: Vocabulary): Taken[] =>
  conditions.nights.filter(({ end }) => !beside(words).daily.test(text.slice(0, end)));

/** Only where the word stands right beside the reading: 'choking at night, sats 84' is not a saturation at night. */
function takenAtNight({ name, quantities }: Pair, found: Found, words: Vocabulary): boolean {
  const { conditions, text } = found;
  const { lightAfter, lightBefore } = beside(words);
  const ends = quantities.map(({ end }) => end);
  const end = Math.max(...ends, conditions.awake.length > 0 ? 0 : name.end);
  const start = Math.min(name.at, ...quantities.map(({ at }) => at));
  const first = Math.min(...quantities.map(({ at }) => at));
  return nightsOf(found, words).some(
    (night) =>
      (night.at >= name.end &&
        night.end <= first &&
        lightBefore.test(text.slice(name.end, night.at)) &&
        lightBefore.test(text.slice(night.end, first))) ||
      (night.at >= end && lightAfter.test(text.slice(end, night.at))) ||
      (night.end <= start && lightBefore.test(text.slice(night.end, start))),
  );
}

const kindOf: Readonly<Record<string, 'co2' | 'saturation'>> = {
  spo2: 'saturation',
  paco2: 'co2',
  'awake-co2-any-method': 'co2',
};

/** Whether a reading of this measure is another one asleep. */
export const differsAsleep = (measure: string): boolean => kindOf[measure] !== undefined;

/** A gas drawn asleep has criteria of its own. */
export const isGasAsleep = ({ measure, reading }: AskedReading, words: Vocabulary): boolean =>
  kindOf[measure] === 'co2' && reading.method !== undefined && beside(words).gasAsleep.test(reading.method);

export const asleepTold = (
  { measure, reading }: Pick<AskedReading, 'measure' | 'reading'>,
  { nightMeasures }: Vocabulary,
): AsleepTold => ({
  measure,
  reading,
  needs: nightMeasures
    .filter((night) => night.kind === kindOf[measure] && mayCount(reading, night))
    .map((night) => night.measure),
});

function mayCount({ value, unit }: Reading, night: Vocabulary['nightMeasures'][number]): boolean {
  if (night.unit === undefined) return true;
  const here = convert(value, unit, night.unit);
  return (night.above === undefined || here >= night.above) && (night.below === undefined || here <= night.below);
}

export function asleepHint(measure: string): Hint {
  return kindOf[measure] === 'saturation'
    ? {
        kind: 'hint',
        say: 'Saturation while asleep is judged by the time spent low, such as \u201ct88 12 min\u201d or \u201ct90 15 %\u201d',
        page: '/measuring/overnight-oximetry/',
      }
    : {
        kind: 'hint',
        say: 'Carbon dioxide while asleep has its own criteria: the rise from the awake value, and the time spent high',
        page: '/measuring/overnight-carbon-dioxide/',
      };
}
