/**
 * The mark of a result, one family everywhere: a tick, and a reading that has passed it, falls short of it, or is not known.
 * Told apart by shape alone, since paper and forced colours show no other difference. Drawn by ResultMark.tsx and, where there
 * is no view library, by src/search/finding-items.ts.
 */
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { needsAttention } from '../../calculators/evaluate/group.ts';
import type { Truth } from '../../calculators/evaluate/logic.ts';
import { lowerFirst } from '../../calculators/visit/sentences.ts';

export const resultWords: Record<Truth, string> = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' };

/** As high as a capital letter, so that it is on the baseline, with strokes of a bold letter's weight. */
export const resultBox = '0 0 20 12';
const tick = 'M7 0h2v12H7z';
export const resultShapes: Record<Truth, string> = {
  met: `${tick}M0 4h14v4H0zM13 0l7 6-7 6z`,
  'not-met': `${tick}M0 5h5v2H0z`,
  'cannot-tell': `${tick}M0 5h2v2H0zM4 5h2v2H4zM11 5h2v2h-2zM15 5h2v2h-2z`,
};

/** How a finding is shown: what asks for attention has the mark of what is met. */
export const shownAs = (finding: Finding): Truth =>
  needsAttention(finding) ? 'met' : finding.result === 'cannot-tell' ? 'cannot-tell' : 'not-met';

/** A schedule that is due or a limit that was left is no 'met'; one that is not about this person is simply not met. */
export function resultWord(finding: Finding): string {
  const { criterion, result } = finding;
  if (criterion.attentionWhen === undefined || result === 'cannot-tell') return resultWords[result];
  if (result === criterion.attentionWhen && !needsAttention(finding)) return resultWords[result];
  const [held, left] = criterion.use === 'schedule' ? ['Not due', 'Due'] : ['Within', 'Outside'];
  return (result === 'met' ? held : left) ?? '';
}

/** The result is right before the sentence: 'Cannot tell' is not said twice. */
export const afterMark = (sentence: string): string => {
  const words = sentence
    .replace(/^Cannot tell: /, '')
    .replace(', but you cannot tell whether the criterion is met: ', ', but ');
  return words.charAt(0).toUpperCase() + words.slice(1);
};

/** What follows the mark and its word: 'Not met, because SpO2 92 % is above 90 %.' What is known and not enough is no reason. */
export const reasonAfterMark = (sentence: string): string =>
  `${sentence.includes(', but ') ? ':' : ', because'} ${lowerFirst(afterMark(sentence))}`;
