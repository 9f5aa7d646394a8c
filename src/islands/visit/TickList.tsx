import { useState } from 'preact/hooks';
import type { Measures, SignMeasure } from '../../../calculators/domain/measure.ts';
import type { Sign } from '../../../calculators/domain/visit.ts';
import { SignField } from './SignField.tsx';

interface Props {
  ids: readonly string[];
  measures: Measures;
  signs: Readonly<Record<string, Sign>>;
  last: Readonly<Record<string, string>>;
  /** what is answered otherwise; undefined takes the answer back */
  onAnswers: (answers: Record<string, Sign | undefined>) => void;
}

/**
 * Symptoms in one list: a tick is a yes, no tick is no answer. 'None of these' says no to whatever is listed and not ticked;
 * a tick after that takes the noes back, since the list was not gone through after all. Where some single noes are recorded,
 * ticks cannot show them, and the list stands as questions.
 */
export function TickList({ ids, measures, signs, last, onAnswers }: Props) {
  const [asQuestions, setAsQuestions] = useState(false);
  const open = ids.filter((id) => signs[id] === undefined);
  const ticked = ids.filter((id) => signs[id] === 'present');
  const denied = ids.filter((id) => signs[id] === 'absent');
  const none = open.length === 0 && denied.length > 0;
  const back = Object.fromEntries(denied.map((id) => [id, undefined]));
  if (asQuestions || (denied.length > 0 && open.length > 0))
    return (
      <>
        {ids.map((id) => (
          <SignField
            key={id}
            id={id}
            measure={measures[id] as SignMeasure}
            value={signs[id]}
            last={last[id]}
            onAnswer={(sign) => onAnswers({ [id]: sign })}
          />
        ))}
        <button type="button" onClick={() => onAnswers(Object.fromEntries(open.map((id) => [id, 'absent' as const])))}>
          All the others were asked about, and the answer was no
        </button>
        {denied.length === 0 && (
          <button type="button" onClick={() => setAsQuestions(false)}>
            One list to tick
          </button>
        )}
      </>
    );
  return (
    <fieldset class="field choice ticks">
      <legend>Ask and look for each. Tick what is present</legend>
      <div class="entry">
        {ids.map((id) => (
          <span key={id} data-measure={id}>
            <label class="chip">
              <input
                type="checkbox"
                name={`visit-${id}`}
                checked={signs[id] === 'present'}
                onChange={(event) =>
                  onAnswers(event.currentTarget.checked ? { ...back, [id]: 'present' } : { [id]: undefined })
                }
              />
              {measures[id]?.label}
            </label>
            {last[id] && <span class="small last"> Last: {last[id]}</span>}
          </span>
        ))}
        <label class="chip none">
          <input
            type="checkbox"
            checked={none}
            onChange={(event) =>
              onAnswers(
                event.currentTarget.checked ? Object.fromEntries(open.map((id) => [id, 'absent' as const])) : back,
              )
            }
          />
          {ticked.length > 0 ? 'None of the others' : 'None of these'}
        </label>
      </div>
      <button type="button" class="quiet" onClick={() => setAsQuestions(true)}>
        Answer one by one
      </button>
    </fieldset>
  );
}
