import { type Wish, wishList, wishWords } from '../../../calculators/domain/visit.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import type { Entries } from './entries.ts';

interface Props {
  entries: Entries;
  /** the visit before this one */
  last: KeptVisit | undefined;
  onChange: (next: Partial<Entries>) => void;
}

/** What the person wants, and how they answer: asked early, because it changes how everything after it is said. */
export function WishesPart({ entries, last, onChange }: Props) {
  const toggle = (wish: Wish, on: boolean) =>
    onChange({ wishes: on ? [...entries.wishes, wish] : entries.wishes.filter((one) => one !== wish) });
  const was = [last?.answers, ...(last?.wishes ?? []).map((wish) => wishWords[wish])].filter(Boolean).join('; ');
  return (
    <>
      {last && was !== '' && (
        <p class="small last">
          On {last.date}: {was}. Wishes change: ask again.{' '}
          {entries.wishes.length === 0 && entries.answers === '' && (
            <button type="button" onClick={() => onChange({ wishes: [...last.wishes], answers: last.answers })}>
              Asked: still so
            </button>
          )}
        </p>
      )}
      <div class="field">
        <label for="visit-answers">Who answers, and how</label>
        <div class="entry">
          <input
            id="visit-answers"
            type="text"
            class="long"
            autocomplete="off"
            placeholder="speaks; eye board; wife answers"
            value={entries.answers}
            onInput={(event) => onChange({ answers: event.currentTarget.value })}
          />
        </div>
      </div>
      <fieldset class="field choice">
        <legend>Wishes, as they stand today</legend>
        <div class="entry">
          {wishList.map((wish) => (
            <label key={wish} class="chip">
              <input
                type="checkbox"
                checked={entries.wishes.includes(wish)}
                onChange={(event) => toggle(wish, event.currentTarget.checked)}
              />
              {wishWords[wish]}
            </label>
          ))}
        </div>
      </fieldset>
    </>
  );
}
