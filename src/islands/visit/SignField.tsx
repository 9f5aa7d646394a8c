import type { SignMeasure } from '../../../calculators/domain/measure.ts';
import type { Sign } from '../../../calculators/domain/visit.ts';
import { How } from './How.tsx';

interface Props {
  id: string;
  measure: SignMeasure;
  value: Sign | undefined;
  last: string | undefined;
  onAnswer: (sign: Sign | undefined) => void;
}

const answers = [
  ['present', 'Yes'],
  ['absent', 'No'],
] as const;

/** One question, answered with one thumb: yes, no, or left unanswered. */
export function SignField({ id, measure, value, last, onAnswer }: Props) {
  return (
    <fieldset class="field sign" data-measure={id}>
      <legend>
        {measure.question}
        {last && <span class="small last"> Last: {last}</span>}
      </legend>
      <div class="entry">
        {answers.map(([sign, word]) => (
          <label key={sign} class="chip">
            <input
              type="radio"
              name={`visit-${id}`}
              checked={value === sign}
              // A second tap takes an answer back: what was not asked stays unanswered.
              onClick={() => value === sign && onAnswer(undefined)}
              onChange={() => onAnswer(sign)}
            />
            {word}
          </label>
        ))}
      </div>
      <How words={measure.how} />
    </fieldset>
  );
}
