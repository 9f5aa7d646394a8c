/**
 * The words that the reader of typed lines knows, as plain data: each a pattern in text, with the shared parts still named in
 * capitals. `word-files.ts` makes them from content/words/ when the site is built; here they become patterns that run.
 */
import type { Sex } from '../domain/age-and-sex.ts';
import type { Disease } from '../domain/diseases.ts';
import type { SupportStatus, Wish } from '../domain/visit.ts';
import type { Interface } from '../oxygen/interfaces.ts';
import type { UnitCode } from '../quantity.ts';

export interface SignWords {
  words: string;
  /** signs that are present where the words are said */
  yes: readonly string[];
  /** signs that are absent where the words are negated: only those that the words stand for as a whole */
  no?: readonly string[] | undefined;
  /** in a child, in place of `yes` and `no` */
  child?: { yes: readonly string[]; no?: readonly string[] | undefined } | undefined;
  /** said of a child only: `tells` that it is one, `needs` to be told; in an adult the words are not understood */
  childOnly?: 'tells' | 'needs' | undefined;
  /** what the words were taken for, where they can mean less */
  as?: string | undefined;
  /** said of health: `yes` holds the signs that are absent */
  healthy?: true | undefined;
  /** comes and goes: said of long ago it is not so now */
  once?: true | undefined;
  /** says that all is well, without standing for a whole sign */
  fine?: true | undefined;
  /** bears on a visit but does not make one: 'wheelchair' alone is a topic */
  besides?: true | undefined;
  /** what `together` knows the words by: they need not be a sign by themselves */
  tag?: string | undefined;
  /** flag that it also sets on a test */
  flag?: string | undefined;
  /** on a test that has this flag it is the flag and no sign */
  flagFirst?: string | undefined;
  /** a support that is in use where the words are said */
  uses?: string | undefined;
  /** page that says what to do */
  danger?: string | undefined;
}

/** What several words of a line say together, wherever they are in it. */
export interface TogetherWords {
  /** where it is said of these only */
  diseases?: readonly Disease[] | undefined;
  /** every one of them must be said */
  tags: readonly string[];
  /** and a number that is no measure, such as a blood pressure, from or up to a value */
  other?: { label: string; from?: number | undefined; to?: number | undefined } | undefined;
  yes: readonly string[];
  as?: string | undefined;
  danger?: string | undefined;
}

export interface SupportWords {
  words: string;
  decision: string;
  name: string;
  /** a reading taken on it was breathed through a ventilator */
  ventilates?: true | undefined;
}

/** A way of saying how it is with a support; NAME is where its words stand. */
export interface SupportFrame {
  words: string;
  /** those of its ways in which no name stands */
  bare: string;
  status: SupportStatus;
  ventilated?: true | undefined;
  besides?: true | undefined;
}

/** A name that also says something else: taken only with `onlyThen` after it, or with `orAfter` before. */
export interface Guard {
  name: string;
  notAfter?: string | undefined;
  onlyThen: string;
  orAfter?: string | undefined;
  as?: string | undefined;
}

/** What a night is measured by, and the value from which one taken asleep may count for it. */
export interface NightMeasure {
  kind: 'co2' | 'saturation';
  measure: string;
  above?: number | undefined;
  below?: number | undefined;
  unit?: UnitCode | undefined;
}

/** A subject that has a page. */
export interface TopicWords {
  id: string;
  words: string;
  page: string;
  /** the heading that answers */
  section?: string | undefined;
  /** in a line about one of these, this page instead */
  forDisease?: Partial<Record<Disease, string>> | undefined;
  /** the answer in a sentence */
  says?: string | undefined;
  /** in a line about one of these, this sentence instead */
  saysFor?: Partial<Record<Disease, string>> | undefined;
}

type Words<Names extends string> = Record<Names, string>;

export interface WordData {
  parts: Record<string, string>;
  signs: SignWords[];
  /** in a disease one sign says another: trouble with saliva in myasthenia is a bulbar symptom of myasthenia */
  signsInDisease: { disease: Disease; of: string[]; yes: string; as: string; absentToo?: true | undefined }[];
  together: TogetherWords[];
  diseases: { words: string; disease: Disease }[];
  sexes: { words: string; sex: Sex; relative?: true | undefined }[];
  people: Words<
    | 'infant'
    | 'child'
    | 'grown'
    | 'height'
    | 'feet'
    | 'inches'
    | 'tall'
    | 'metres'
    | 'centimetres'
    | 'relatives'
    | 'relativeIs'
    | 'heIs'
    | 'noAgeWith'
    | 'noAgeAfter'
    | 'predicted'
    | 'lengthsBefore'
    | 'distanceBefore'
    | 'distanceAfter'
  >;
  time: Words<
    | 'before'
    | 'after'
    | 'supports'
    | 'about'
    | 'ago'
    | 'later'
    | 'now'
    | 'then'
    | 'was'
    | 'past'
    | 'longAgo'
    | 'usedTo'
    | 'stillSo'
    | 'since'
    | 'earlier'
    | 'trend'
    | 'over'
    | 'lastYear'
    | 'lastMonth'
  >;
  /** numbers as words */
  counts: Record<string, number>;
  /** January first */
  monthNames: string[];
  negation: Words<
    | 'before'
    | 'stopping'
    | 'light'
    | 'or'
    | 'and'
    | 'denying'
    | 'nouns'
    | 'alone'
    | 'minus'
    | 'deniedAfter'
    | 'noneSince'
    | 'goneAfter'
    | 'goneVerbs'
    | 'stoppedAfter'
    | 'affirmedAfter'
    | 'answers'
    | 'clauseEnds'
  >;
  supports: SupportWords[];
  supportFrames: SupportFrame[];
  offSupport: string;
  wishes: { words: string; wish: Wish }[];
  /** as one pattern each, with the flow as its first group where one is said */
  oxygen: { words: string; night?: true | undefined; tag?: string | undefined }[];
  /** right before oxygen or a ventilator: a reading before it was taken without */
  oxygenStarted: string;
  oxygenNamed: string;
  air: string;
  bareAir: string;
  masks: string;
  withFlow: string;
  interfaces: { words: string; interface: Interface }[];
  methods: { words: string; method: string }[];
  flags: { words: string; flags: string[] }[];
  manner: Words<
    | 'night'
    | 'lying'
    | 'sitting'
    | 'compared'
    | 'threshold'
    | 'overTime'
    | 'nightAfter'
    | 'nightBefore'
    | 'tens'
    | 'earlier'
    | 'going'
    | 'percentAsked'
    | 'awake'
    | 'gasAsleep'
    | 'fallBy'
    | 'fallTo'
    | 'about'
    | 'daily'
    | 'dips'
    | 'sides'
    | 'best'
    | 'peak'
    | 'peakAfter'
    | 'ofPeak'
    | 'baseline'
  >;
  nightMeasures: NightMeasure[];
  changes: { words: string; change: 'fall' | 'rise' }[];
  names: { measure: string; names: string[] }[];
  /** words after a number of the same test that make it another measure */
  following: { words: string; measure: string }[];
  guards: Guard[];
  /** other ways of typing what the other lists know by one */
  rewrites: { words: string; as: string }[];
  ordinary: string[];
  units: { words: string; unit: UnitCode }[];
  /** `measure`: the field of the visit sheet that it fills */
  others: { words: string; label: string; measure?: string | undefined }[];
  numbers: Words<
    | 'otherUnits'
    | 'asides'
    | 'pressures'
    | 'gasRow'
    | 'gasThen'
    | 'gasUnits'
    | 'doses'
    | 'notDoseAfter'
    | 'points'
    | 'halves'
    | 'lost'
    | 'ordinals'
  >;
  /** numbers written as words, and what is counted in them */
  spelled: Record<'ones' | 'teens' | 'tens' | 'nought', Record<string, number>> &
    Words<'minus' | 'point' | 'hundred' | 'and' | 'counted' | 'counting' | 'stone'>;
  passing: string[];
  /** well spelt, for a slip of the finger */
  spelling: string[];
  topics: TopicWords[];
  /** a question begins */
  asking: string;
}

export interface Vocabulary extends WordData {
  /** a pattern with the shared parts put in */
  filled: (words: string) => string;
  /** the words as whole words */
  phrase: (words: string) => RegExp;
}

export function vocabularyOf(data: WordData): Vocabulary {
  const filled = (words: string): string =>
    /[A-Z]{4,}/.test(words)
      ? filled(
          words.replace(/[A-Z]{4,}/g, (name) => (data.parts[name] ? `(?:${data.parts[name]})` : name.toLowerCase())),
        )
      : words;
  const made = new Map<string, RegExp>();
  const phrase = (words: string): RegExp => {
    const known = made.get(words) ?? wholeWords(filled(words));
    made.set(words, known);
    return known;
  };
  return { ...data, filled, phrase };
}

const wholeWords = (source: string): RegExp => new RegExp(`(?<![a-z0-9])(?:${source})(?![a-z0-9])`);

/** Patterns that a part of the reader needs, made once for a vocabulary and kept. */
export function madeOnce<T>(make: (words: Vocabulary) => T): (words: Vocabulary) => T {
  const made = new WeakMap<Vocabulary, T>();
  return (words) => {
    const known = made.get(words) ?? make(words);
    made.set(words, known);
    return known;
  };
}
