/** The names of measured numbers in a line, with one slip of the finger allowed. */

import type { Measures } from '../domain/measure.ts';
import { withinSlips } from '../edit-distance.ts';
import { type Guard, guardedNames, moreNames, ordinaryWords, passingWords } from './query-words.ts';
import { escaped, plain, type Scanner } from './text.ts';

/** Ways of naming a measured number, with the measures that each can mean; the longest first. */
export type Terms = ReadonlyMap<string, readonly string[]>;

/** Longest first, so that 'supine FVC' is found before 'FVC'. */
export function termsOf(measures: Measures): Terms {
  const terms = new Map<string, string[]>();
  for (const [id, measure] of Object.entries(measures)) {
    // The better of two is read from the two; it is never what was typed. Age belongs to the person.
    if (measure.kind !== 'number' || measure.readFrom?.rule === 'greatest' || id === 'age-years') continue;
    if (measure.sheetOnly) continue;
    const more = moreNames.flatMap(([words, its]) => (its === id ? [words] : []));
    for (const words of new Set([measure.short, measure.label, ...measure.synonyms, ...more].map(nameOf)))
      if (words.length > 1 && !/^\d/.test(words)) terms.set(words, [...(terms.get(words) ?? []), id]);
  }
  return new Map([...terms].sort(([a], [b]) => b.length - a.length));
}

const nameOf = (words: string): string =>
  plain(words)
    .replace(/ ?[;:] ?/g, ' ')
    .trim();

const long = new WeakMap<Terms, Terms>();

/** Names of three words and more, or with a number or a comparison in them: taken before anything could break them up. */
export function longOf(terms: Terms): Terms {
  const known = long.get(terms);
  if (known) return known;
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
  for (const [words, measures] of terms) {
    if (!scan.rest.includes(words)) continue;
    const guard = guardedNames[words];
    const pattern = guard ? guarded(words, guard) : new RegExp(`(?<![a-z0-9])${escaped(words)}(?![a-z0-9])`);
    for (let found = pattern.exec(scan.rest); found; found = pattern.exec(scan.rest))
      names.push({ ...scan.cut(found.index, found.index + words.length), measures: [...measures], as: guard?.as });
  }
  return names;
}

function guarded(words: string, { before, behind, after }: Guard): RegExp {
  const word = `${before ? `(?<!${before.source})` : ''}(?<![a-z0-9])${escaped(words)}`;
  const followed = `${word}(?=${after.source})`;
  return new RegExp(behind ? `${followed}|(?<=${behind.source})${word}(?![a-z0-9])` : followed);
}

/** 'vital capacity (FVC)' and 'capillary gas co2' name one thing twice. */
export function mergedNames(names: readonly Name[], rest: string): Name[] {
  const kept: Name[] = [];
  for (const name of [...names].sort((a, b) => a.at - b.at)) {
    const last = kept.at(-1);
    const between = last === undefined ? '' : rest.slice(last.end, name.at);
    const shared = last?.measures.filter((id) => name.measures.includes(id)) ?? [];
    if (last !== undefined && shared.length > 0 && !/[\d;]/.test(between)) {
      last.measures = shared;
      last.end = name.end;
    } else kept.push({ ...name });
  }
  return kept;
}

/** 'fvc48' and '48snip' as two words, but not 'co2', 't88' or '48kpa'. */
export function unglue(text: string, known: Terms): string {
  return text
    .split(' ')
    .map((word) => {
      if (known.has(word)) return word;
      const [, before, number, unit] = /^([a-z]{2,})(-?\d[\d.,]*)(%|[a-z][a-z/]*)?$/.exec(word) ?? [];
      if (before !== undefined && (known.has(before) || before === 'ph'))
        return [before, number, unit].filter(Boolean).join(' ');
      const [, figure, after] = /^(\d[\d.,]*)([a-z]{3,})$/.exec(word) ?? [];
      return after !== undefined && known.has(after) ? `${figure} ${after}` : word;
    })
    .join(' ');
}

const aliases = new Set(moreNames.map(([words]) => words));

/** Words that nothing else in the line understands, each as the word of a name that a slip of the finger away was meant. */
export function unslip(text: string, strange: ReadonlySet<string>, terms: Terms, slips: string[]): string {
  const names = [...terms.keys()].filter((words) => !aliases.has(words));
  const known = [...new Set(names.flatMap((words) => words.split(' ')))].filter((word) => /^[a-z]{4,}$/.test(word));
  return text
    .split(' ')
    .map((typed) => {
      if (!/^[a-z]{4,}$/.test(typed) || known.includes(typed) || !strange.has(typed)) return typed;
      if (ordinaryWords.has(typed)) return typed;
      const meant =
        names.find((words) => words.includes(' ') && words.replaceAll(' ', '') === typed) ??
        known.find((word) => couldMean(typed, word));
      if (meant === undefined) return typed;
      slips.push(`\u201c${typed}\u201d read as ${meant}`);
      return meant;
    })
    .join(' ');
}

/** 'sits' and 'eats' are words of their own: a name of four letters is meant only where its letters are all there. */
const couldMean = (typed: string, word: string): boolean =>
  word.length === 4
    ? [...typed].sort().join('') === [...word].sort().join('') && withinSlips(typed, word, 1)
    : withinSlips(typed, word, typed.length >= 8 ? 2 : 1);

/** Words that nothing took, without those said in passing. */
export const leftWords = (rest: string): { at: number; typed: string }[] =>
  [...rest.matchAll(/[a-z][a-z0-9-]+/g)]
    .map((match) => ({ at: match.index, typed: match[0] }))
    .filter(({ typed }) => !passingWords.has(typed));
