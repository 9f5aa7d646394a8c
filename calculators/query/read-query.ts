/**
 * What a typed line says: 'sniff 38', 'mg vc 3.2 l trouble with saliva', 'sats 91 not on oxygen', '4 l nasal'.
 *
 * A line is read towards a visit: whose it is, readings with their conditions, signs present or absent, support. Words and
 * numbers are taken one step after the other (`query/`), each once: what one step understood no later step can take for
 * something else. What was taken for granted is listed, and what was not understood is named and changes nothing.
 */

import { isAcute } from '../domain/diseases.ts';
import type { Measures } from '../domain/measure.ts';
import type { AskedVisit, Hint, Query, Topic } from './asked.ts';
import { isVisit, type Read, singleFrom, visitFrom } from './assemble.ts';
import { takeBareAge } from './bare-age.ts';
import { byEffort, type Found, findAll } from './found.ts';
import { type Name, namedAfter, respelt, rewrite, type Terms, termsOf, undouble, unglue, unslip } from './names.ts';
import { type NightPeak, nightPeaks } from './night-peak.ts';
import { type OverTime, overTime } from './over-time.ts';
import { oxygenSum } from './oxygen-sum.ts';
import {
  bestOf,
  type Pair,
  pairUp,
  unnamedInPosture,
  withHours,
  withSaturations,
  withVolumes,
  withWeights,
} from './pair.ts';
import { type PersonSaid, personSaid, saysYoung, takeAge, takeDiseases, takeWho } from './person.ts';
import { flagsOf, readingsSaid, rowPairs } from './readings.ts';
import { signsSaid } from './signs.ts';
import { withDigits } from './spelled-numbers.ts';
import { withoutStrange } from './strange-words.ts';
import { supportsSaid } from './supports.ts';
import { plain, scanner, type Taken } from './text.ts';
import { askedIn, type FoundTopic, isQuestion, topicsIn } from './topics.ts';
import { madeOnce, type TopicWords, type Vocabulary } from './vocabulary.ts';

export {
  type Ambiguous,
  type AskedPerson,
  type AskedReading,
  type AskedSum,
  type AskedVisit,
  type AsleepTold,
  type Danger,
  type Duration,
  type FallTold,
  gasUnknown,
  type Hint,
  type Other,
  type Query,
  type SeriesTold,
  saysNothing,
  type Topic,
  visitOf,
} from './asked.ts';
export { type TopicWords, type Vocabulary, vocabularyOf, type WordData } from './vocabulary.ts';

/** Reads typed lines. Made once for the measures and the words. */
export interface Reader {
  read: (line: string) => Query;
  /** the same as a visit, whatever it says: a sex alone, or nothing. For what a calculation left of the `whole` line */
  readVisit: (line: string, whole?: string) => AskedVisit;
  /** the line in small letters, as the reader sees it first */
  plain: (line: string) => string;
  /** makes the patterns that most lines need, so that none waits for them: where nobody waits for an answer */
  warm: () => void;
  /** subjects that have a page, also of a line that says nothing else */
  topics: (line: string) => Topic[];
  /** from now on the reader knows these subjects: they may come after the other words */
  learn: (subjects: TopicWords[]) => void;
}

export function reader(measures: Measures, words: Vocabulary): Reader {
  const known: Known = { measures, words, terms: termsOf(measures, words) };
  return {
    warm: () => void readQuery(warmLine, known),
    read: (line) => readQuery(line, known),
    readVisit: (line, whole = line) =>
      visitFrom(readAll(textOf(line, known), known), measures, words, childHint(whole)),
    plain: (line) => withDigits(plain(line, words), words),
    learn: (subjects) => {
      words.topics = subjects;
    },
    topics: (line) => {
      const typed = textOf(line, known);
      return topicsOf(typed, () => speltAs(typed, known), words).map(({ at: _, end: __, ...topic }) => topic);
    },
  };
}

const warmLine = 'als 62 yo fvc 48 lying flat at night over 6 months, no headache, on niv';

interface Known {
  measures: Measures;
  words: Vocabulary;
  terms: Terms;
  /** the line that was read last, and how it is spelt without slips of the finger */
  spelt?: { typed: string; text: string };
}

/** A line is asked for its subjects right after it was read. */
const speltAs = (typed: string, known: Known): string =>
  known.spelt?.typed === typed ? known.spelt.text : findWithSlips(typed, known, []).text;

function textOf(line: string, { words, terms }: Known): string {
  const signs = line
    .replace(/-+>|=>|\u2192/g, ' then ')
    .replace(/[<\u2264]/g, ' below ')
    .replace(/[>\u2265]/g, ' above ');
  const typed = rewrite(unglue(withDigits(plain(signs, words), words), terms), words);
  const apart = undouble(typed, terms, words);
  return namedAfter(apart, terms, words);
}

function readQuery(line: string, known: Known): Query {
  const { measures, words } = known;
  const typed = textOf(line, known);
  const read = readAll(typed, known);
  if (isVisit(read)) return visitFrom(read, measures, words, childHint(line));
  if (read.found.names.length + read.parts.length + read.asks.length + read.hints.length === 0)
    return sumOf(typed, line, words);
  const [first = read.asks[0]] = read.parts;
  if (first === undefined) return read.hints[0];
  if (read.hints.length > 0) return read.hints[0];
  if (read.who.child && read.who.person.ageYears === undefined) return childHint(line);
  return first.kind === 'reading'
    ? singleFrom(read, first)
    : { ...first, options: first.options.map((one) => (one.kind === 'reading' ? singleFrom(read, one) : one)) };
}

function readAll(typed: string, known: Known): Read {
  const { measures, words } = known;
  const slips: string[] = [];
  const found = findWithSlips(withBest(withFigures(typed, slips), known.terms, slips), known, slips);
  known.spelt = { typed, text: found.text };
  const hints = commaHints(found);
  const names = namesMeant(found, words);
  const pairs = pairUp(names, hints.length > 0 ? [] : found.quantities, found.text, found.conditions.postures);
  bestOf(pairs, found.text, words);
  const acute = found.about.some(({ what, negated }) => what.kind === 'disease' && !negated && isAcute(what.disease));
  const peaks = nightPeaks(found, pairs, measures, words);
  const told = withPeaks(overTime(found, pairs, acute, measures, words), peaks);
  // 'gbs vc fell 30 %': where hours count, a fall is one over time.
  if (acute && found.conditions.postures.length === 0) found.conditions = { ...found.conditions, overTime: true };
  // A change that was told over time is no change of the values that are left.
  if (told.falls.length + told.series.length > 0) found.conditions = { ...found.conditions, change: undefined };
  const bare = takeBareAge(found, pairs, told.used, words);
  const who = personSaid(found.about, bare ? { ...found.ages, age: bare } : found.ages, found.height, words);
  const used = [...pairs.filter(({ quantities }) => quantities.length > 0), ...rowPairs(found)];
  const held = flagsOf(used, measures);
  const said = {
    who,
    signs: signsOf(found, who, held, words),
    supports: supportsSaid(found.supports, found.text, words),
  };
  const readings = readingsSaid(found, used, said, measures, words);
  const unused = unusedIn(found, used, bare, { ...said, readings, held }, words);
  const topics = topicsOf(typed, () => found.text, words);
  const within = (one: Taken, some: readonly Pick<Taken, 'at' | 'end'>[]) =>
    some.some(({ at, end }) => at <= one.at && one.end <= end);
  const spare = unused
    .filter(
      (one) =>
        !within(one, [...told.used, ...topics, ...said.supports.joined, ...(found.duration ? [found.duration] : [])]),
    )
    .filter(({ typed: word }) => told.used.length === 0 || !saysTime(word, words))
    .sort((a, b) => a.at - b.at);
  const { asked, left } = askedIn(found.text, spare, words);
  return {
    found,
    told,
    topics,
    question: isQuestion(found.text, words),
    asked: asked.map((one) => one.typed),
    uncompared: readings.uncompared,
    asleep: [...peaks.asleep, ...readings.asleep],
    ...said,
    parts: readings.parts,
    asks: readings.asks,
    hints: [...found.hints, ...hints, ...unnamedInPosture(found), ...told.hints, ...readings.hints],
    unused: left.map((one) => one.typed),
    slips,
  };
}

interface Understood {
  who: PersonSaid;
  signs: Read['signs'];
  supports: Read['supports'];
  readings: ReturnType<typeof readingsSaid>;
  held: ReadonlyMap<string, readonly Name[]>;
}

/** Words and numbers that had no part in what was understood. */
function unusedIn(
  found: Found,
  used: readonly Pair[],
  bare: Taken | undefined,
  { who, signs, supports, readings, held }: Understood,
  words: Vocabulary,
): Taken[] {
  const paired = new Set(used.flatMap(({ quantities }) => quantities));
  return [
    ...found.left,
    ...found.asides,
    ...found.quantities.filter((one) => !paired.has(one) && one.at !== bare?.at),
    ...found.names.filter((name) => !used.some((pair) => pair.name === name) && !saysMethod(name, words)),
    ...readings.unused,
    ...who.unused,
    ...supports.unused,
    ...signs.strange,
    ...found.flags.filter(({ what, negated }) => !negated && !what.some((flag) => held.has(flag))),
  ];
}

/** Of the line as typed; where it names none, as it is spelt without slips of the finger. */
function topicsOf(typed: string, spelt: () => string, words: Vocabulary): FoundTopic[] {
  const topics = topicsIn(typed, words);
  return topics.length > 0 ? topics : topicsIn(spelt(), words);
}

const withPeaks = (told: OverTime, { readings, assumed, used }: NightPeak): OverTime => ({
  ...told,
  readings: { ...told.readings, ...readings },
  assumed: [...told.assumed, ...assumed],
  used: [...told.used, ...used],
});

/** The names of the line, and those of numbers that say by themselves what they are. */
function namesMeant(found: Found, words: Vocabulary): Name[] {
  const volumes = withWeights(withVolumes(found.names, found, words), found, words);
  return withHours(withSaturations(volumes, found), found, words);
}

const signsOf = (found: Found, who: PersonSaid, held: ReadonlyMap<string, readonly Name[]>, words: Vocabulary) =>
  signsSaid(
    found.signs,
    {
      child: who.child,
      grown: who.grown,
      disease: who.person.disease,
      others: found.others,
      tags: tagsOf(found),
      held,
      text: found.text,
    },
    words,
  );

const tagsOf = ({ supports }: Found): [string, string][] =>
  supports.flatMap(({ what, typed, negated }) =>
    what.kind === 'oxygen' && what.tag !== undefined && !negated ? [[what.tag, typed]] : [],
  );

/** 'abg' beside 'co2 60' says how it was taken, and waits for no number. */
const saysMethod = ({ typed }: Name, words: Vocabulary): boolean => methods(words).some((said) => said.test(typed));
const methods = madeOnce((words) => words.methods.map((one) => words.phrase(one.words)));

/** A letter typed for a figure: '5l%' is 51 and '4o' is 40. */
const withFigures = (typed: string, slips: string[]): string =>
  typed.replace(/(?<![a-z\d.,/-])(\d)([ol])(?= ?%|(?<=o)(?![a-z\d/]))/g, (said, figure, letter) => {
    const meant = `${figure}${letter === 'o' ? 0 : 1}`;
    slips.push(`\u201c${said}\u201d read as ${meant}`);
    return meant;
  });

/** 'mip 40/42/45': three efforts of one test, of which the best counts. Two numbers can be two tests, or two postures. */
const withBest = (typed: string, terms: Terms, slips: string[]): string =>
  typed.replace(
    /(?<=(?:^| )([a-z]+(?: [a-z]+){0,2})(?: (?:is|of|was))? )-?\d+(?:[.,]\d+)?(?: ?\/ ?-?\d+(?:[.,]\d+)?){2,4}(?![\d.,/])/g,
    (efforts, name: string) => {
      const last = name.split(' ').map((_, from, all) => all.slice(from).join(' '));
      if (!last.some((one) => terms.get(one)?.some((id) => byEffort.has(id)))) return efforts;
      const values = efforts.split('/').map((one) => one.trim());
      const sizes = values.map((one) => Math.abs(Number(one.replace(',', '.'))));
      // A date, and numbers of several tests, are no efforts at one.
      if (Math.max(...sizes) > 2 * Math.min(...sizes)) return efforts;
      const best = values[sizes.indexOf(Math.max(...sizes))] ?? efforts;
      slips.push(`\u201c${efforts}\u201d read as the best of them, ${best}`);
      return best;
    },
  );

/** A word that nothing understands may be one with a slip of the finger: a name where one can stand, or another word. */
function findWithSlips(typed: string, { terms, words }: Known, slips: string[]): Found {
  const found = findAll(typed, terms, words);
  if (found.left.length === 0) return found;
  const strange = new Set(found.left.map((word) => word.typed));
  const anyMeasure = found.names.length === 0 && /\d/.test(typed);
  const spelt = respelt(unslip(typed, { strange, anyMeasure }, terms, words, slips), strange, words, slips);
  const text = spelt === typed ? typed : rewrite(spelt, words);
  const again = text === typed ? found : findAll(text, terms, words);
  const { text: plainer, strange: apart } = withoutStrange(again.text, again.left, words);
  if (apart.length === 0) return again;
  const without = findAll(rewrite(plainer, words), terms, words);
  return { ...without, left: [...without.left, ...apart] };
}

const saysTime = (word: string, words: Vocabulary): boolean => sinceWords(words).exec(word)?.[0] === word;
const sinceWords = madeOnce(({ manner, phrase }) => phrase(manner.overTime));

/** '1,900' is nineteen hundred in one country and one point nine in the next. */
function commaHints({ text, names }: Found): Hint[] {
  const twoWays = /(?<![\d.,])\d{1,3},\d{3}(?![\d,.])/.exec(text);
  return twoWays && (names.length > 0 || /\bl\b|ml/.test(text))
    ? [{ kind: 'hint', say: `"${twoWays[0]}" can be read two ways. Type it without the comma` }]
    : [];
}

/** A flow of oxygen by a device, and nothing about a visit. */
function sumOf(typed: string, line: string, words: Vocabulary): Query {
  const scan = scanner(typed, words);
  const diseases = takeDiseases(scan).flatMap(({ what }) => (what.kind === 'disease' ? [what.disease] : []));
  const ages = takeAge(scan, diseases, saysYoung(typed, words));
  const about = takeWho(scan);
  const { person, child } = personSaid(about, ages, undefined, words);
  const sum = oxygenSum(scan, { ...person, ...(diseases[0] ? { disease: diseases[0] } : {}) });
  return sum !== undefined && child && person.ageYears === undefined ? childHint(line) : sum;
}

const childHint = (line: string): Hint => ({
  kind: 'hint',
  say: `A child: adult criteria do not apply, and children\u2019s criteria go by age. Add the age, such as \u201c${line.trim()} 8 years\u201d`,
});
