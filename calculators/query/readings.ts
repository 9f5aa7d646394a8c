/** The readings of a line, from its names and numbers and from a blood gas in a row. */
import type { Measures } from '../domain/measure.ts';
import { units } from '../quantity.ts';
import type { Ambiguous, AskedReading, AsleepTold, Hint } from './asked.ts';
import { asleepHint, asleepOf, asleepTold, differsAsleep, isGasAsleep } from './asleep.ts';
import type { Found } from './found.ts';
import { takenOnGas } from './meaning.ts';
import { isPassing, type Name } from './names.ts';
import type { Typed } from './numbers.ts';
import { type Breathing, type Pair, type PairRead, readPair, saidAbout } from './pair.ts';
import type { PersonSaid } from './person.ts';
import type { SignsSaid } from './signs.ts';
import type { SupportsSaid } from './supports.ts';
import type { Taken } from './text.ts';
import type { Vocabulary } from './vocabulary.ts';

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

/** Flags that the named tests have, each with the names of those tests. */
export function flagsOf(pairs: readonly Pair[], measures: Measures): Map<string, Name[]> {
  const held = new Map<string, Name[]>();
  for (const { name } of pairs)
    for (const measure of name.measures.map((id) => measures[id]))
      for (const { id } of measure?.kind === 'number' ? measure.flags : [])
        held.set(id, [...(held.get(id) ?? []), name]);
  return held;
}

/** Nothing said is not room air; a denial of oxygen is, and that is told as assumed. */
function breathingOf(
  { breathed, noOxygen, notAir }: SupportsSaid,
  pairs: readonly Pair[],
  measures: Measures,
): Breathing {
  const gases = breathed.filter(({ gas }) => gas !== undefined);
  const air = gases.length === 0 && noOxygen && !notAir;
  const onGas = (id: string) => {
    const measure = measures[id];
    return measure?.kind === 'number' && takenOnGas(measure);
  };
  return {
    numbers: pairs.flatMap(({ name, quantities }) => (name.measures.some(onGas) ? quantities : [])),
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
  asleep: AsleepTold[];
  unused: Taken[];
  /** numbers in a unit that no criterion of their test has */
  uncompared: number;
}

export function readingsSaid(
  found: Found,
  pairs: readonly Pair[],
  { who, signs, supports }: { who: PersonSaid; signs: SignsSaid; supports: SupportsSaid },
  measures: Measures,
  words: Vocabulary,
): ReadingsSaid {
  const numbers = pairs.flatMap(({ quantities }) => quantities);
  const breathing = breathingOf(supports, pairs, measures);
  const said: ReadingsSaid = { parts: [], asks: [], hints: [], asleep: [], unused: [], uncompared: 0 };
  for (const pair of pairs.flatMap(bothPostures)) {
    if (found.sided && pair.name.measures.includes('snip')) keepBetterSide(pair);
    const read = (named: Pair, quantities: Pair['quantities']): PairRead =>
      readPair(
        { ...named, quantities },
        (quantity) =>
          saidAbout(quantity, pair, pairs, found, breathing, flagsAt(quantity, numbers, found, signs, words)),
        who.person,
        measures,
      );
    const asleep = asleepOf(pair, found, words);
    const awake = pair.quantities.filter((one) => !asleep.includes(one));
    if (awake.length > 0) {
      const found = read(pair, awake);
      addRead(said, found);
      const hints = unitHints(pair, found.unused, measures);
      said.hints.push(...hints);
      said.uncompared += hints.length;
    }
    if (asleep.length > 0) addAsleep(said, read(pair, asleep), () => read(gasAsleep(pair), asleep), words);
  }
  return said;
}

/** 'sats 90 at rest, 86 walking': a flag beside a number is that number's, and any other is for all. */
function flagsAt(
  quantity: Typed,
  numbers: readonly Typed[],
  { flags, text }: Found,
  signs: SignsSaid,
  words: Vocabulary,
): Set<string> {
  const between = (one: Taken, other: Taken) => text.slice(Math.min(one.end, other.end), Math.max(one.at, other.at));
  const own = flags.filter((flag) => {
    if (flag.negated) return false;
    const inClause = numbers.filter((one) => one.end > one.at && !between(flag, one).includes(';'));
    const beside = inClause.filter((one) => isPassing(between(flag, one).replace(/[%;|]/g, '').trim(), words));
    const its = beside.length === 1 ? beside : inClause;
    return its.length === 0 || its.includes(quantity);
  });
  return new Set([...own.flatMap(({ what }) => what), ...signs.flags]);
}

/** 'snip 45 %': per cent of what is predicted, which no criterion on that test compares. */
function unitHints({ name }: Pair, unused: readonly Typed[], measures: Measures): Hint[] {
  const [measure] = name.measures.map((id) => measures[id]).filter((one) => one?.kind === 'number');
  if (measure?.kind !== 'number' || measure.unit === '%') return [];
  return unused
    .filter(({ unit }) => unit === '%')
    .map(({ typed }) => ({
      kind: 'hint',
      say: `\u201c${typed}\u201d is not the usual unit of ${measure.short}: its criteria are in ${units[measure.unit].symbol}. Type the value in ${units[measure.unit].symbol}`,
      ...(measure.page ? { page: measure.page } : {}),
    }));
}

const gasAsleep = (pair: Pair): Pair => ({ ...pair, name: { ...pair.name, measures: ['nocturnal-paco2'] } });

function addRead(said: ReadingsSaid, { readings, ask, unused }: PairRead): void {
  said.unused.push(...unused);
  said.parts.push(...readings);
  if (ask) said.asks.push(ask);
}

function addAsleep(said: ReadingsSaid, read: PairRead, asGas: () => PairRead, words: Vocabulary): void {
  const options = read.ask?.options.flatMap((one) => (one.kind === 'reading' ? [one] : [])) ?? read.readings;
  const [first] = options;
  if (first === undefined || !differsAsleep(first.measure)) addRead(said, read);
  else if (isGasAsleep(first, words)) addRead(said, asGas());
  else {
    said.unused.push(...read.unused);
    // One value in two units, or of two names for a carbon dioxide: what it stands for at night is the same.
    const lowest = options.filter(({ reading }) => reading.unit === first.reading.unit);
    said.asleep.push(...(read.ask ? lowest.slice(0, 1) : read.readings).map((one) => asleepTold(one, words)));
    said.hints.push(asleepHint(first.measure));
  }
}

/** Of a sniff on both sides the better one counts. */
function keepBetterSide(pair: Pair): void {
  const best = Math.max(...pair.quantities.map(({ value }) => Math.abs(value)));
  pair.quantities = pair.quantities.filter(({ value }) => Math.abs(value) === best).slice(0, 1);
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
