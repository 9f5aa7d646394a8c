import type { Finding } from '../../../calculators/evaluate/evaluate.ts';
import { needsAttention } from '../../../calculators/evaluate/group.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';

export const resultWords: Record<Truth, string> = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' };

/** A schedule that is due or a limit that was left is no 'met'; one that is not about this person is simply not met. */
export function resultWord(finding: Finding): string {
  const { criterion, result } = finding;
  if (criterion.attentionWhen === undefined || result === 'cannot-tell') return resultWords[result];
  if (result === criterion.attentionWhen && !needsAttention(finding)) return resultWords[result];
  const [held, left] = criterion.use === 'schedule' ? ['Not due', 'Due'] : ['Within', 'Outside'];
  return (result === 'met' ? held : left) ?? '';
}

/** A shape and a word for each result, never colour alone: a full staff, an empty ring, a broken square. */
export function ResultMark({ result, word = resultWords[result] }: { result: Truth; word?: string }) {
  return (
    <span class={`result-mark ${result}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {result === 'met' && <path d="M3 1.5h10v8L8 14.5 3 9.5z" fill="currentColor" />}
        {result === 'not-met' && <circle cx="8" cy="8" r="5.5" fill="none" stroke="currentColor" stroke-width="2" />}
        {result === 'cannot-tell' && (
          <rect
            x="2.5"
            y="2.5"
            width="11"
            height="11"
            fill="none"
            stroke="currentColor"
            stroke-width="2"
            stroke-dasharray="3.2 2.2"
          />
        )}
      </svg>
      {word}
    </span>
  );
}
