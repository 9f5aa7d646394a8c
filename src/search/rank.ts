/**
 * Pages by the words they are looked up by: titles, synonyms and answers of every page, ranked without an index of their
 * full text. Small enough to come first and to work where the full-text engine cannot run.
 */
import { withinSlips } from '../../calculators/edit-distance.ts';

export interface Listed {
  /** address from the site's root */
  to: string;
  title: string;
  /** synonyms and abbreviations */
  words: string[];
  /** its answer, in a sentence or two */
  says: string;
  kind: 'page' | 'calculator' | 'decision' | 'source' | 'tool';
}

export interface Found {
  page: Listed;
  score: number;
}

const titleWeight = 3;
const wordsWeight = 2;
const saysWeight = 0.7;
const kindWeight: Record<Listed['kind'], number> = {
  page: 1,
  tool: 0.95,
  calculator: 0.88,
  decision: 0.88,
  source: 0.7,
};

/** Words of content/look-up.yaml. */
export interface LookUp {
  /** they tell nothing about a page */
  passing: string[];
  /** what one clinic calls by one word and the next by another */
  same: string[][];
  /** parts of words: as they may be typed, and as the text has them */
  spellings: [string, string][];
}

const plain = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{Mn}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();

/** Off with the endings that do not change what is meant: 'secretions', 'stacking'. */
const stem = (word: string): string =>
  word.length < 5
    ? word
    : word
        .replace(/(?:ies|y)$/, 'i')
        .replace(/(?:ing|ed|es|s)$/, '')
        .replace(/([bdfgmnprt])\1$/, '$1');

export type WordsOf = (query: string) => string[];

/** @returns the words of a query that tell something, spelt as the text spells them; numbers only where there is nothing else */
export function wordsFor({ passing, spellings }: LookUp): WordsOf {
  const light = new Set(passing);
  const spelt = (word: string): string => {
    const pair = spellings.find(([typed, text]) => word.includes(typed) && !word.includes(text));
    return pair ? word.replace(...pair) : word;
  };
  return (query) => {
    const all = plain(query).split(' ').filter(Boolean).map(spelt);
    const said = all.filter((word) => !light.has(word));
    const telling = said.filter((word) => !/^\d+$/.test(word));
    return [telling, said, all].find((some) => some.length > 0) ?? [];
  };
}

interface Prepared {
  page: Listed;
  weights: Map<string, number>;
  phrases: string[];
}

export interface Ranker {
  rank: (query: string) => Found[];
  wordsOf: WordsOf;
  /** words of the pages that look like those of a query for which nothing was found */
  nearest: (query: string) => string[];
}

/** Ranks the pages for a line of words, best first; pages that hold too little of it are left out. */
export function ranker(pages: readonly Listed[], lookUp: LookUp): Ranker {
  const wordsOf = wordsFor(lookUp);
  const prepared = pages.map(prepare);
  const everyWord = new Set(prepared.flatMap(({ weights }) => [...weights.keys()]));
  const seldom = (word: string): number => {
    const holding = prepared.filter(({ weights }) => weights.has(word)).length;
    return Math.log(1 + prepared.length / (1 + holding));
  };
  const rank = (query: string): Found[] => {
    const asked = wordsOf(query).map((word) => {
      const meant = meantBy(word, everyWord, lookUp.same);
      return { meant, worth: seldom(meant[0]?.word ?? word) };
    });
    const said = [...new Set([plain(query), wordsOf(query).join(' ')])];
    const whole = asked.reduce((sum, { worth }) => sum + worth * titleWeight, 0);
    if (whole === 0) return [];
    return prepared
      .map(({ page, weights, phrases }) => {
        const held = asked.reduce(
          (sum, { meant, worth }) =>
            sum + worth * Math.max(0, ...meant.map(({ word, likeness }) => (weights.get(word) ?? 0) * likeness)),
          0,
        );
        return {
          page,
          score:
            (held / whole + Math.max(...said.map((phrase) => phraseBonus(phrase, phrases)))) * kindWeight[page.kind],
        };
      })
      .filter(({ score }) => score >= 0.3)
      .sort((a, b) => b.score - a.score || a.page.to.localeCompare(b.page.to));
  };
  return { rank, wordsOf, nearest: (query) => nearestTo(wordsOf(query), pages) };
}

/** As many as are looked through at a glance. */
const mostNearest = 6;

function nearestTo(asked: readonly string[], pages: readonly Listed[]): string[] {
  const words = pages.flatMap(({ title, words: looked }) =>
    [title, ...looked].flatMap((text) => plain(text).split(' ')),
  );
  const near = (word: string): boolean =>
    asked.some(
      (one) =>
        word.length > 3 &&
        (withinSlips(one, word, one.length > 5 ? 2 : 1) || (one.length > 3 && word.startsWith(one.slice(0, 4)))),
    );
  return [...new Set(words)].filter(near).slice(0, mostNearest);
}

function prepare(page: Listed): Prepared {
  const weights = new Map<string, number>();
  const add = (text: string, weight: number) => {
    for (const word of plain(text).split(' ').map(stem)) weights.set(word, Math.max(weights.get(word) ?? 0, weight));
  };
  add(page.title, titleWeight);
  for (const words of page.words) add(words, wordsWeight);
  add(page.says, saysWeight);
  return { page, weights, phrases: [page.title, ...page.words].map(plain) };
}

interface Meant {
  word: string;
  likeness: number;
}

/** The words of the pages that a typed word can stand for, the likeliest first. */
function meantBy(typed: string, everyWord: ReadonlySet<string>, sameWords: LookUp['same']): Meant[] {
  const own = stem(typed);
  const same = sameWords.filter((group) => group.includes(typed)).flatMap((group) => group.map(stem));
  const exact: Meant[] = [
    ...(everyWord.has(own) ? [{ word: own, likeness: 1 }] : []),
    ...same.filter((word) => word !== own && everyWord.has(word)).map((word) => ({ word, likeness: 0.85 })),
  ];
  const all = [...everyWord];
  const longer = typed.length >= 3 ? all.filter((word) => word !== own && word.startsWith(own)) : [];
  const known = [...exact, ...longer.map((word) => ({ word, likeness: 0.75 }))];
  if (known.length > 0) return known;
  return own.length >= 4
    ? all.filter((word) => withinSlips(own, word, 1)).map((word) => ({ word, likeness: 0.65 }))
    : [];
}

function phraseBonus(query: string, phrases: readonly string[]): number {
  const padded = ` ${query} `;
  let most = 0;
  for (const phrase of phrases) {
    if (phrase === query) most = Math.max(most, 0.6);
    else if (phrase.includes(' ') && padded.includes(` ${phrase} `)) most = Math.max(most, 0.35);
    else if (query.includes(' ') && ` ${phrase} `.includes(padded)) most = Math.max(most, 0.3);
  }
  return most;
}
