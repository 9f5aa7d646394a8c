/** One pass over the line: everything in it that is understood, each thing taken once, and what is left. */

import type { Wish } from '../domain/visit.ts';
import type { Duration, Hint, Other } from './asked.ts';
import { type Concept, negate } from './concepts.ts';
import { type Conditions, type Flag, offFlags, takeConditions, takeFlags } from './conditions.ts';
import {
  endsWithName,
  hasWord,
  isPassing,
  leftWords,
  longOf,
  mergedNames,
  type Name,
  type Terms,
  takeNames,
  takeSides,
} from './names.ts';
import {
  asksThreshold,
  type GasRow,
  lostWeight,
  saysHalf,
  type Typed,
  takeAsides,
  takeCompared,
  takeDoses,
  takeEarlier,
  takeGasRow,
  takeHalves,
  takeLonePh,
  takeOthers,
  takePoints,
  takeQuantities,
  takeTens,
} from './numbers.ts';
import {
  type About,
  type Ages,
  beginsBare,
  type HeightTyped,
  saysYoung,
  takeAge,
  takeDiseases,
  takeHeight,
  takeWho,
} from './person.ts';
import { takeSigns } from './signs.ts';
import { type Support, takeAir, takeBareAir, takeSupports, takeWishes } from './supports.ts';
import { type Scanner, scanner, type Taken } from './text.ts';
import { monthsIn, saysSince, type TimeMark, takeTimes } from './times.ts';
import type { SignWords, Vocabulary } from './vocabulary.ts';

export interface Found {
  text: string;
  about: Concept<About>[];
  ages: Ages;
  height: HeightTyped | undefined;
  signs: Concept<SignWords>[];
  supports: Concept<Support>[];
  flags: Concept<Flag>[];
  wishes: Wish[];
  conditions: Conditions;
  times: TimeMark[];
  /** 'from 70': values from before */
  before: Typed[];
  /** '12 points', where a fall is told */
  points: Taken[];
  /** how long the disease has been there */
  duration: (Duration & Taken) | undefined;
  names: Name[];
  /** a sniff of both sides */
  sided: boolean;
  quantities: Typed[];
  row: GasRow | undefined;
  others: Other[];
  hints: Hint[];
  assumed: string[];
  /** numbers with words that are no reading */
  asides: Taken[];
  /** words that nothing understood */
  left: Taken[];
}

/** Tests that need someone who can follow what they are told: no baby. */
export const byEffort = new Set(['fvc-percent', 'vc-litres', 'snip', 'mip', 'mep', 'peak-cough-flow']);
const countsDays = new Set(['days-since-start', 'interval-months']);

export function findAll(text: string, terms: Terms, words: Vocabulary): Found {
  const scan = scanner(text, words);
  const doses = takeDoses(scan);
  const diseases = takeDiseases(scan);
  const numbered = /\d/.test(text) || saysHalf(text, words);
  const longNames = numbered ? takeNames(scan, longOf(terms)) : [];
  const row = takeGasRow(scan);
  const height = takeHeight(scan);
  const others = [...(row?.others ?? []), ...takeOthers(scan)];
  const ages = takeAge(
    scan,
    diseases.flatMap(({ what }) => (what.kind === 'disease' ? [what.disease] : [])),
    saysYoung(text, words),
    longNames.some(({ measures }) => measures.some((id) => countsDays.has(id))),
    (before) => endsWithName(before, terms),
    [...terms].some(([name, ids]) => ids.some((id) => byEffort.has(id)) && hasWord(text, name)),
    !diseases.some(({ end }) => beginsBare(text.slice(end), words)),
  );
  const compared = takeCompared(scan);
  const signs = takeSigns(scan);
  const names = numbered ? mergedNames([...longNames, ...takeNames(scan, terms)], scan.rest) : [];
  const lone = takeLonePh(scan, names);
  const sided = takeSides(scan, names);
  const { unreached, ...concepts } = conceptsOf(scan, diseases, signs);
  const conditions = conditionsOf(scan);
  const times = takeTimes(scan, ages.durations);
  const numbers = numbersOf(scan, compared, conditions.changed);
  return {
    text,
    ...concepts,
    ages,
    height,
    signs,
    supports: [...concepts.supports, ...takeBareAir(scan)],
    conditions: conditions.told,
    times,
    before: conditions.earlier,
    points: numbers.points,
    duration: durationOf(scan, diseases, ages),
    names,
    sided,
    quantities: numbers.quantities,
    row,
    others: [...others, ...lone.others],
    hints: [...lone.hints, ...conditions.tens, ...lostWeight(doses, names, words), ...takeHalves(scan, names)],
    assumed: [...(row?.assumed ?? []), ...lone.assumed, ...unreached],
    asides: [
      ...doses,
      ...conditions.earlier,
      ...compared,
      ...ages.durations,
      ...numbers.points,
      ...times.filter(({ typed, at }) => !ages.durations.some((one) => one.at === at) && !isPassing(typed, words)),
      ...numbers.asides,
      ...(row?.unused ?? []).map((typed) => ({ at: row?.at ?? 0, end: row?.at ?? 0, typed })),
    ],
    left: leftWords(scan).map(({ at, typed }) => ({ at, end: at + typed.length, typed })),
  };
}

/** Support, wishes, people and flags, and which of all of them a "no" reaches. */
function conceptsOf(scan: Scanner, diseases: readonly Concept<About>[], signs: readonly Concept<SignWords>[]) {
  // 'wants no ventilation' is a wish, and no support that is missing.
  const wishes = takeWishes(scan);
  const supports = [...takeSupports(scan), ...takeAir(scan)];
  const about = [...diseases, ...takeWho(scan, Math.min(...diseases.map(({ at }) => at)))];
  const flags = [...takeFlags(scan), ...offFlags(supports, scan)];
  const unreached = negate([...signs, ...supports, ...about, ...flags], scan)
    .filter((one) => signs.some((sign) => sign === one && !sign.what.healthy && !sign.what.fine))
    .map(({ typed }) => `\u201c${typed}\u201d is present: a \u201cno\u201d applies only to what follows it`);
  return { supports, wishes, about, flags, unreached };
}

/** 'als 3 years', 'als diagnosed 2 years ago': right after the disease, with nothing but an age between. */
function durationOf(
  scan: Scanner,
  diseases: readonly Concept<About>[],
  { age, durations }: Ages,
): (Duration & Taken) | undefined {
  const between = (end: number, at: number): string =>
    scan.text
      .slice(end, at)
      .replace(age?.typed ?? '', '')
      .replace(/[ ;]/g, '');
  const found = durations.find(
    ({ at, typed }) =>
      (/^\d[\d.,]* ?[a-z]+$/.test(typed) || saysSince(typed, scan.words)) &&
      diseases.some(({ end }) => end <= at && between(end, at) === ''),
  );
  const months = found && monthsIn(found.typed, scan.words);
  return found && months !== undefined ? { ...found, months } : undefined;
}

/** A value from before is taken first: 'down from 70' tells of no fall of 70. */
function conditionsOf(scan: Scanner) {
  const earlier = takeEarlier(scan);
  const tens = takeTens(scan);
  const told = takeConditions(scan);
  return { earlier, tens, told, changed: told.change !== undefined };
}

/** A threshold without a number of its own ('cut-off') is asked for by the whole line: none of its numbers is a reading. */
function numbersOf(scan: Scanner, compared: readonly Taken[], changed: boolean) {
  const points = changed ? takePoints(scan) : [];
  const asides = takeAsides(scan);
  const { quantities, strange } = takeQuantities(scan);
  return compared.length > 0 && asksThreshold(scan)
    ? { quantities: [], points: [], asides: [...asides, ...points, ...strange, ...quantities] }
    : { quantities, points, asides: [...asides, ...strange] };
}
