/** The names of measured numbers in a line, with one slip of the finger allowed. */

import type { Measures } from '../domain/measure.ts';
import { withinSlips } from '../edit-distance.ts';
import { mayStand } from './beginnings.ts';
import { escaped, plain, type Scanner } from './text.ts';
import { type Guard, madeOnce, type Vocabulary } from './vocabulary.ts';

/** Ways of naming a measured number, with the measures that each can mean; the longest first. */
export type Terms = ReadonlyMap<string, readonly string[]>;

/** Longest first, so that 'supine FVC' is found before 'FVC'. */
export function termsOf(measures: Measures, vocabulary: Vocabulary): Terms {
  const terms = new Map<string, string[]>();
  for (const [id, measure] of Object.entries(measures)) {
    // The better of two is read from the two; it is never what was typed. Age belongs to the person.
    if (measure.kind !== 'number' || measure.readFrom?.rule === 'greatest' || id === 'age-years') continue;
    if (measure.sheetOnly || vocabulary.others.some((one) => one.measure === id)) continue;
    const more = vocabulary.names.flatMap(({ measure: its, names }) => (its === id ? names : []));
    for (const words of new Set(
      [measure.short, measure.label, ...measure.synonyms, ...more].map((name) => nameOf(name, vocabulary)),
    ))
      if (words.length > 1 && !/^\d/.test(words)) terms.set(words, [...(terms.get(words) ?? []), id]);
  }
  return new Map([...terms].sort(([a], [b]) => b.length - a.length));
}

const nameOf = (words: string, vocabulary: Vocabulary): string =>
  plain(words, vocabulary)
    .replace(/ ?[;:] ?/g, ' ')
    .trim();

const long = new WeakMap<Terms, Terms>();

/** Names of three words and more, or with a number or a comparison in them: taken before anything could break them up. */
export function longOf(terms: Terms): Terms {
  const before = long.get(terms);
  if (before) return before;
  const made = new Map([...terms].filter(([words]) => /\d.* | .*\d|below|above| \S+ /.test(words)));
  long.set(terms, made);
  return made;
}

export interface Name {
  at: number;
  end: number;
  typed: string;
  measures: string[];
  /** what a name that also says something else was taken for */
  as?: string | undefined;
}

export function takeNames(scan: Scanner, terms: Terms): Name[] {
  const names: Name[] = [];
  const { guards } = known(scan.words);
  for (const [words, measures] of terms) {
    if (!scan.rest.includes(words)) continue;
    const guard = guards.get(words);
    const pattern = guard?.pattern ?? new RegExp(`(?<![a-z0-9])${escaped(words)}(?![a-z0-9])`);
    for (let found = pattern.exec(scan.rest); found; found = pattern.exec(scan.rest))
      names.push({ ...scan.cut(found.index, found.index + words.length), measures: [...measures], as: guard?.as });
  }
  return names;
}

function guarded({ name, notAfter, orAfter, onlyThen }: Guard): RegExp {
  const word = `${notAfter ? `(?<!${notAfter})` : ''}(?<![a-z0-9])${escaped(name)}`;
  const followed = `${word}(?=${onlyThen})`;
  return new RegExp(orAfter ? `${followed}|(?<=${orAfter})${word}(?![a-z0-9])` : followed);
}

const known = madeOnce(({ guards, names, ordinary, passing }) => ({
  guards: new Map(guards.map((guard) => [guard.name, { as: guard.as, pattern: guarded(guard) }])),
  aliases: new Set(names.flatMap((one) => one.names)),
  ordinary: new Set(ordinary),
  passing: new Set(passing),
}));

/** A measure's name stands right before: the number that follows is its own. */
export const endsWithName = (before: string, terms: Terms): boolean =>
  [...terms.keys()].some((words) => {
    const text = before.replace(/(?: (?:of|is|was|at))* *$/, '');
    return text.endsWith(words) && !/[a-z0-9]/.test(text.charAt(text.length - words.length - 1));
  });

/** 'vital capacity (FVC)' and 'capillary gas co2' name one thing twice. */
export function mergedNames(names: readonly Name[], rest: string): Name[] {
  const kept: Name[] = [];
  for (const name of [...names].sort((a, b) => a.at - b.at)) {
    const last = kept.at(-1);
    const between = last === undefined ? '' : rest.slice(last.end, name.at);
    const shared = last?.measures.filter((id) => name.measures.includes(id)) ?? [];
    // 'overnight oximetry: 12 minutes in a row below 88': the second name says which of the first it is.
    const narrows =
      last !== undefined &&
      shared.length > 0 &&
      shared.length < last.measures.length &&
      /^[^;\d]*\d[\d.,]* ?[a-z]* ?$/.test(between) &&
      /^[^\d]*(?:;|$)/.test(rest.slice(name.end));
    if (last !== undefined && narrows) last.measures = shared;
    else if (last !== undefined && shared.length > 0 && !/[\d;]/.test(between)) {
      last.measures = shared;
      last.end = name.end;
    } else kept.push({ ...name });
  }
  return kept;
}

const figure = String.raw`(-?\d+(?:[.,]\d+)?)`;
const doubles = madeOnce(({ manner, units, filled }) => {
  const posture = `(${filled(manner.sitting)}|${filled(manner.lying)})`;
  const postures = `(?<![a-z])${posture} ?\\/ ?${posture}(?![a-z])`;
  const numbers = `${figure} ?\\/ ?${figure}(?![\\d/])((?: ?(?:${units.map(({ words }) => filled(words)).join('|')})(?![a-z]))?)`;
  return {
    names: new RegExp(`(?<![a-z0-9/-])([a-z][a-z0-9-]*) ?\\/ ?([a-z][a-z0-9-]*)(?: of| is)? ${numbers}`, 'g'),
    before: new RegExp(`${postures}((?: [a-z]+)?) ${numbers}`, 'g'),
    after: new RegExp(`(?<![\\d.,/-])${numbers} ${postures}`, 'g'),
  };
});

const followed = madeOnce(({ following, filled }) =>
  following.map(({ words, measure }) => ({
    measure,
    pattern: new RegExp(`(?<![\\d.,/-])(\\d{2,3})((?: ?l(?:pm|/min))?) (?:${filled(words)})(?![a-z]| ?\\d)`, 'g'),
  })),
);

/** 'pcf 160 alone, 250 with manual assist': the words after a number say which cough flow it is. */
export function namedAfter(text: string, terms: Terms, vocabulary: Vocabulary): string {
  const flows = [...terms].flatMap(([words, ids]) =>
    ids.includes('peak-cough-flow') && hasWord(text, words) ? [words] : [],
  );
  const [flow] = flows.sort((a, b) => text.indexOf(a) - text.indexOf(b));
  if (flow === undefined) return text;
  const from = text.indexOf(flow) + flow.length;
  return followed(vocabulary).reduce((all, { measure, pattern }) => {
    const name = [...terms].find(([, ids]) => ids.length === 1 && ids[0] === measure)?.[0] ?? '';
    return all.slice(0, from) + all.slice(from).replace(pattern, `; ${name} $1$2`);
  }, text);
}

export const hasWord = (text: string, words: string): boolean =>
  new RegExp(`(?<![a-z0-9])${escaped(words)}(?![a-z0-9])`).test(text);

/** 'mip/mep 52/61' and 'sit/lie 80/55': each number to the word in its own place. */
export function undouble(text: string, terms: Terms, vocabulary: Vocabulary): string {
  const { names, before, after } = doubles(vocabulary);
  return text
    .replace(before, (_, one, two, name, first, second, unit) =>
      `${name} ${one} ${first}${unit} ${two} ${second}${unit}`.trim(),
    )
    .replace(after, (_, first, second, unit, one, two) => `${one} ${first}${unit} ${two} ${second}${unit}`)
    .replace(names, (all, one, two, first, second, unit) =>
      terms.has(one) && terms.has(two) ? `${one} ${first}${unit} ${two} ${second}${unit}` : all,
    );
}

const sides = madeOnce(({ manner, filled }) => {
  const side = `(?:${filled(manner.sides)})`;
  const value = '\\d+(?:[.,]\\d+)?(?: ?(?:cmh2o|cm|kpa))?';
  return {
    side: new RegExp(`(?<![a-z])${side}(?![a-z])`),
    both: [
      new RegExp(`(?<![\\d.,] ?)(?<![a-z])${side} ?${value}[ ;]*(?:and )?${side} ?${value}(?![\\d.,])`),
      new RegExp(
        `(?<![\\d.,/-])${value} ?(?:on )?(?:the )?${side}[ ;]*(?:and )?${value} ?(?:on )?(?:the )?${side}(?![a-z])`,
      ),
    ],
  };
});

/** 'sniff l 52 r 60': takes the words for the sides, so that no letter is a unit. Whether a sniff was told of both. */
export function takeSides(scan: Scanner, names: readonly Name[]): boolean {
  const sniff = names.find(({ measures }) => measures.includes('snip'));
  if (sniff === undefined) return false;
  const { side, both } = sides(scan.words);
  for (const pattern of both) {
    const found = pattern.exec(scan.rest.slice(sniff.end));
    if (!found) continue;
    const from = sniff.end + found.index;
    for (let left = 2; left > 0; left--) {
      const word = side.exec(scan.rest.slice(from, from + found[0].length));
      if (word) scan.cut(from + word.index, from + word.index + word[0].length);
    }
    return true;
  }
  return false;
}

const rewritten = madeOnce(({ rewrites, phrase }) =>
  rewrites.map(({ words, as }) => ({ as, pattern: new RegExp(phrase(words).source, 'g') })),
);

/** Other ways of typing a word, each as the one that the other lists know: 'acc musc' as 'accessory muscles'. */
export const rewrite = (text: string, words: Vocabulary): string =>
  rewritten(words)
    .reduce((all, { pattern, as }) => (mayStand(pattern, all) ? all.replace(pattern, as) : all), text)
    .replace(/ +/g, ' ')
    .trim();

/** 'fvc48' and '48snip' as two words, but not 'co2', 't88' or '48kpa'. */
export function unglue(text: string, terms: Terms): string {
  return text
    .split(' ')
    .map((word) => {
      if (terms.has(word)) return word;
      const [, before, number, unit] = /^([a-z]{2,})(-?\d[\d.,]*)(%|[a-z][a-z/]*)?$/.exec(word) ?? [];
      if (before !== undefined && (terms.has(before) || before === 'ph'))
        return [before, number, unit].filter(Boolean).join(' ');
      const [, figure, after] = /^(\d[\d.,]*)([a-z]{3,})$/.exec(word) ?? [];
      return after !== undefined && terms.has(after) ? `${figure} ${after}` : word;
    })
    .join(' ');
}

/** Where a measure's name with a slip of the finger in it is looked for. */
export interface Slipped {
  strange: ReadonlySet<string>;
  /** no measure is named yet: any word may be one. Otherwise only a word right before a number */
  anyMeasure: boolean;
}

/** Words that nothing else in the line understands, each as the measure's name that a slip of the finger away was meant. */
export function unslip(
  text: string,
  { strange, anyMeasure }: Slipped,
  terms: Terms,
  vocabulary: Vocabulary,
  slips: string[],
): string {
  const { aliases, ordinary } = known(vocabulary);
  const names = [...terms.keys()].filter((words) => !aliases.has(words));
  const parts = [...new Set(names.flatMap((words) => words.split(' ')))].filter((word) => /^[a-z]{3,}$/.test(word));
  const words = text.split(' ');
  const measureMeant = (typed: string, next = ''): string | undefined => {
    if (!anyMeasure && !/^-?\d/.test(next)) return undefined;
    if (typed.length === 3) return /^-?\d/.test(next) ? parts.find((word) => swapped(typed, word)) : undefined;
    return (
      names.find((name) => name.includes(' ') && name.replaceAll(' ', '') === typed) ??
      parts.find((word) => couldMean(typed, word))
    );
  };
  return words
    .map((typed, index) => {
      if (!/^[a-z]{3,}$/.test(typed) || parts.includes(typed) || !strange.has(typed)) return typed;
      if (ordinary.has(typed) || vocabulary.spelling.includes(typed)) return typed;
      const meant = measureMeant(typed, words[index + 1]);
      if (meant === undefined) return typed;
      slips.push(`\u201c${typed}\u201d read as ${meant}`);
      return meant;
    })
    .join(' ');
}

const sameLetters = (typed: string, word: string): boolean =>
  [...typed].sort().join('') === [...word].sort().join('') && withinSlips(typed, word, 1);

const swapped = (typed: string, word: string): boolean => word.length === 3 && sameLetters(typed, word);

/**
 * Words that nothing else in the line understands, each as the word that a slip of the finger away was meant: the first letter
 * is the same, and no second word is as near.
 */
export function respelt(text: string, strange: ReadonlySet<string>, vocabulary: Vocabulary, slips: string[]): string {
  const { ordinary } = known(vocabulary);
  return text
    .split(' ')
    .map((typed) => {
      if (!/^[a-z]{4,}$/.test(typed) || !strange.has(typed) || ordinary.has(typed)) return typed;
      if (vocabulary.spelling.includes(typed)) return typed;
      const most = typed.length >= 8 ? 2 : 1;
      // Of four letters one is missing: another word of four is too near.
      const near = vocabulary.spelling.filter(
        (word) => word[0] === typed[0] && (typed.length > 4 || word.length > 4) && withinSlips(typed, word, most),
      );
      const nearest = near.filter((word) => withinSlips(typed, word, 1));
      const [meant, ...more] = nearest.length > 0 ? nearest : near;
      if (meant === undefined || more.length > 0) return typed;
      slips.push(`\u201c${typed}\u201d read as ${meant}`);
      return meant;
    })
    .join(' ');
}

/** 'sits' and 'eats' are words of their own: a name of four letters is meant only where its letters are all there. */
const couldMean = (typed: string, word: string): boolean =>
  word.length < 4
    ? false
    : word.length === 4
      ? sameLetters(typed, word) || (typed.length === 5 && typed.replace(/(.)\1/, '$1') === word)
      : withinSlips(typed, word, typed.length >= 8 ? 2 : 1);

/** Whether nothing is lost by not using the words. */
export const isPassing = (typed: string, words: Vocabulary): boolean =>
  typed.split(' ').every((word) => word === '' || known(words).passing.has(word));

/** Words that nothing took, without those said in passing. */
export const leftWords = ({ rest, words }: Scanner): { at: number; typed: string }[] =>
  [...rest.matchAll(/[a-z][a-z0-9-]+/g)]
    .map((match) => ({ at: match.index, typed: match[0] }))
    .filter(({ typed }) => !known(words).passing.has(typed));
