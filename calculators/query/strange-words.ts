/**
 * A word at the end of a clause that none of the reader's words could be. Some phrases count only where they end a clause
 * ('walking', 'headache none'), and such a word must not take their meaning away. So the line is read without it.
 */
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

/** All text of the words, however deep it stands. */
const textsIn = (value: unknown): string[] =>
  typeof value === 'string'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.entries(value).flatMap(([key, one]) => [key, ...textsIn(one)])
      : [];

/** Whole words, and beginnings that a pattern goes on from: 'drows' of `drows\w*`, 'wak' of `wak(?:es|ing)`. */
function wordsIn(value: unknown): { whole: Set<string>; beginnings: Set<string> } {
  const whole = new Set<string>();
  const beginnings = new Set<string>();
  for (const text of textsIn(value))
    for (const [letters, open] of text.matchAll(/[a-z]{2,}(\\w|\(|\[|\?|\{)?/g))
      if (open === undefined) whole.add(letters);
      else beginnings.add(letters.slice(0, letters.length - open.length).slice(0, open === '?' ? -1 : undefined));
  return { whole, beginnings };
}

const ofSubjects = new WeakMap<readonly unknown[], ReturnType<typeof wordsIn>>();
const ofOthers = madeOnce(({ topics: _, ...words }) => wordsIn(words));

/** The subjects may come after the other words. */
function ofTopics({ topics }: Vocabulary): ReturnType<typeof wordsIn> {
  const made = ofSubjects.get(topics) ?? wordsIn(topics.map(({ says: _, saysFor: __, ...topic }) => topic));
  ofSubjects.set(topics, made);
  return made;
}

const isKnown = (word: string, words: Vocabulary): boolean =>
  [ofOthers(words), ofTopics(words)].some(({ whole, beginnings }) => {
    if (whole.has(word)) return true;
    for (let length = 2; length <= word.length; length += 1) if (beginnings.has(word.slice(0, length))) return true;
    return false;
  });

const negating = madeOnce(
  ({ negation, filled }) =>
    new RegExp(`(?<![a-z0-9])(?:${filled(negation.before)}) (?:(?:${filled(negation.light)}) )*$`),
);

/**
 * @param left  words that nothing in the line took
 * @returns the line without the strange words at the ends of its clauses, and those words. 'no zzyzx' stays: what a "no" is
 *   said of must not change.
 */
export function withoutStrange(
  text: string,
  left: readonly Taken[],
  words: Vocabulary,
): { text: string; strange: Taken[] } {
  const strange: Taken[] = [];
  let rest = text;
  for (const one of [...left].sort((a, b) => b.at - a.at)) {
    const before = rest.slice(0, one.at);
    const ends = /^ ?(?:[;?]|$)/.test(rest.slice(one.end));
    if (!ends || before.trim() === '' || negating(words).test(before) || isKnown(one.typed, words)) continue;
    rest = `${before.trimEnd()}${rest.slice(one.end)}`;
    const at = before.trimEnd().length;
    strange.push({ ...one, at: at - 1, end: at + 1 });
  }
  return { text: rest, strange: strange.reverse() };
}
