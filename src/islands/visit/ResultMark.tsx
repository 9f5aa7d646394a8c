import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { resultBox, resultShapes, resultWords } from '../../components/result-shapes.ts';

/** A shape and a word for each result, never colour alone. */
export function ResultMark({ result, word = resultWords[result] }: { result: Truth; word?: string }) {
  return (
    <span class={`result-mark ${result}`}>
      <svg viewBox={resultBox} aria-hidden="true">
        <path d={resultShapes[result]} />
      </svg>
      {word}
    </span>
  );
}
