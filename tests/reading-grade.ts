/** How hard a text is to read, as a school grade of the United States: Flesch and Kincaid's formula of 1975, from memory. */

/** Syllables of an English word, by its groups of vowels; near enough for a mean over many words. */
export function syllables(word: string): number {
  const letters = word.toLowerCase().replace(/[^a-z]/g, '');
  if (letters.length <= 3) return 1;
  const shown = letters
    .replace(/(?:[^laeiouy]es|[^aeioutd]ed|[^laeiouy]e)$/, (end) => end.slice(0, 1))
    .replace(/^y/, '');
  return Math.max(1, (shown.match(/[aeiouy]{1,2}/g) ?? []).length);
}

export interface Reading {
  words: number;
  sentences: number;
  grade: number;
}

/**
 * A line of a list is a sentence, whether it has a full stop or not. Numbers and units are no words.
 *
 * @param fewest  sentences with fewer words are left out: headings and short items make a text look easier than it is
 */
export function readingGrade(text: string, fewest = 1): Reading {
  const sentences = text
    .split(/\n|(?<=[.!?:;])\s/)
    .map((one) => one.match(/[A-Za-z][A-Za-z'\u2019-]*/g) ?? [])
    .filter((words) => words.length >= fewest);
  const words = sentences.flat();
  const beats = words.reduce((sum, word) => sum + syllables(word), 0);
  const grade = 0.39 * (words.length / sentences.length) + 11.8 * (beats / words.length) - 15.59;
  return { words: words.length, sentences: sentences.length, grade };
}
