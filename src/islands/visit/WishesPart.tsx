import { type Wish, wishList, wishWords } from '../../../calculators/criteria/visit.ts';
import type { Entries } from './entries.ts';

interface Props {
  entries: Entries;
  onChange: (next: Partial<Entries>) => void;
}

/** What the person wants, and how they answer: asked early, because it changes how everything after it is said. */
export function WishesPart({ entries, onChange }: Props) {
  const toggle = (wish: Wish, on: boolean) =>
    onChange({ wishes: on ? [...entries.wishes, wish] : entries.wishes.filter((one) => one !== wish) });
  return (
    <>
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
