/** The readings of a line, from its names and numbers and from a blood gas in a row. */
import type { Measures } from '../domain/measure.ts';
import type { Ambiguous, AskedReading, Hint } from './asked.ts';
import type { Found } from './found.ts';
import { type Breathing, type Pair, type PairRead, readPair, saidAbout } from './pair.ts';
import type { PersonSaid } from './person.ts';
import type { SignsSaid } from './signs.ts';
import type { SupportsSaid } from './supports.ts';
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

/** Carbon dioxide and bicarbonate of a row, each as if it had been named. */
export function rowPairs({ row }: Found): Pair[] {
  if (!row) return [];
  const pair = (measure: string, quantity: Pair['quantities'][number] | undefined): Pair[] =>
    quantity
      ? [
          {
            name: { at: row.at, end: row.at, typed: 'blood gas', measures: [measure] },
            quantities: [quantity],
            reversed: false,
          },
        ]
      : [];
  return [...pair('paco2', row.co2), ...pair('bicarbonate', row.bicarbonate)];
}

/** Flags that the named tests have. */
export const flagsOf = (pairs: readonly Pair[], measures: Measures): Set<string> =>
  new Set(
    pairs.flatMap(({ name }) =>
      name.measures.flatMap((id) => {
        const measure = measures[id];
        return measure?.kind === 'number' ? measure.flags.map((flag) => flag.id) : [];
      }),
    ),
  );

/** Nothing said is not room air; a denial of oxygen is, and that is told as assumed. */
function breathingOf({ breathed, noOxygen, notAir }: SupportsSaid): Breathing {
  const gases = breathed.filter(({ gas }) => gas !== undefined);
  const air = gases.length === 0 && noOxygen && !notAir;
  return {
    // Off the ventilator counts only against a reading on it: 'co2 59 off niv, 46 on niv'.
    breathed: gases.some(({ gas }) => gas === 'ventilation') ? breathed : gases,
    otherwise: air ? 'air' : undefined,
    otherwiseAssumed: air ? 'on room air, as the line says no oxygen' : undefined,
  };
}

export interface ReadingsSaid {
  parts: AskedReading[];
  asks: Ambiguous[];
  hints: Hint[];
  unused: Taken[];
}

export function readingsSaid(
  found: Found,
  pairs: readonly Pair[],
  { who, signs, supports }: { who: PersonSaid; signs: SignsSaid; supports: SupportsSaid },
  measures: Measures,
  words: Vocabulary,
): ReadingsSaid {
  const flags = new Set([...found.flags.filter(({ negated }) => !negated).flatMap(({ what }) => what), ...signs.flags]);
  const breathing = breathingOf(supports);
  const said: ReadingsSaid = { parts: [], asks: [], hints: [], unused: [] };
  for (const pair of pairs.flatMap(bothPostures)) {
    const read = readPair(
      pair,
      (quantity) => saidAbout(quantity, pair, pairs, found.conditions, breathing, flags),
      who.person,
      measures,
    );
    said.unused.push(...read.unused);
    const hint = takenAtNight(pair, found, words) ? nightHint(read) : undefined;
    if (hint) said.hints.push(hint);
    else {
      said.parts.push(...read.readings);
      if (read.ask) said.asks.push(read.ask);
    }
  }
  return said;
}

/** 'supine fall 3.1 2.5': the two values that the fall is worked out from, sitting first. */
function bothPostures(pair: Pair): Pair[] {
  const [sitting, lying, ...more] = pair.quantities;
  if (!pair.name.measures.includes('fvc-drop-supine-percent') || !sitting || !lying || more.length > 0) return [pair];
  return [
    { ...pair, name: { ...pair.name, measures: ['fvc-percent'] }, quantities: [sitting] },
    { ...pair, name: { ...pair.name, measures: ['fvc-supine-percent'] }, quantities: [lying] },
  ];
}

const beside = madeOnce(({ manner, filled }) => ({
  lightAfter: new RegExp(`^ ?(?:(?:${filled(manner.nightAfter)}) ?)*$`),
  lightBefore: new RegExp(`^ ?(?:(?:${filled(manner.nightBefore)}) ?)*$`),
}));

/** Only where the word stands right beside the reading: 'choking at night, sats 84' is not a saturation at night. */
function takenAtNight({ name, quantities }: Pair, { conditions, text }: Found, words: Vocabulary): boolean {
  const { lightAfter, lightBefore } = beside(words);
  const end = Math.max(name.end, ...quantities.map((one) => one.end));
  const start = Math.min(name.at, ...quantities.map(({ at }) => at));
  return conditions.nights.some(
    (night) =>
      (night.at >= end && lightAfter.test(text.slice(end, night.at))) ||
      (night.end <= start && lightBefore.test(text.slice(night.end, start))),
  );
}

/** A saturation or a gas taken at night is another reading than the one awake. */
function nightHint({ readings, ask }: PairRead): Hint | undefined {
  const option = readings[0] ?? ask?.options.find((one) => one.kind === 'reading');
  const of = option?.kind === 'reading' ? option.measure : undefined;
  if (of === 'spo2')
    return {
      kind: 'hint',
      say: 'A saturation at night is told by the time spent low, such as \u201ct88 12 min\u201d or \u201ct90 15 %\u201d',
      page: '/measuring/overnight-oximetry/',
    };
  if (of === 'paco2' || of === 'awake-co2-any-method')
    return {
      kind: 'hint',
      say: 'Carbon dioxide at night has criteria of its own: the rise over awake, and the time spent high',
      page: '/measuring/overnight-carbon-dioxide/',
    };
  return undefined;
}
