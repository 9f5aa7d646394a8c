/** What is asked back: which of several meanings, or what to type instead. */

import { readingWords } from '../../calculators/evaluate/say.ts';
import type { Ambiguous, AskedReading, AskedSum, Hint } from '../../calculators/query/read-query.ts';
import { link, make } from '../browser/dom.ts';
import type { EvidenceData } from '../islands/visit/evidence-data.ts';
import { choice, replace } from './choice.ts';

export function hintView({ say, page }: Hint, base: string): HTMLElement {
  const words = make('p', '', `${say}.`);
  if (page) words.append(' ', link(base + page.slice(1), 'How it is read'));
  return make('div', 'entry', words);
}

/** The number can mean several things: the reader says which. */
export function askView(
  { options }: Ambiguous,
  data: EvidenceData,
  answer: (option: AskedReading | AskedSum) => HTMLElement,
): HTMLElement {
  return choice(
    'Which one do you mean?',
    options.map((option) => [nameOf(option, data), option]),
    (option, box) => replace(box, answer(option)),
  );
}

function nameOf(option: AskedReading | AskedSum, data: EvidenceData): string {
  if (option.kind === 'sum') return option.title;
  const measure = data.measures[option.measure];
  return measure ? `${measure.short} ${readingWords(option.reading, measure)}` : option.measure;
}
