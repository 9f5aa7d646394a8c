import { type Wish, wishList, wishWords } from '../../../calculators/domain/visit.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import type { Entries } from './entries.ts';

interface Props {
  entries: Entries;
  /** the visit before this one */
  last: KeptVisit | undefined;
  onChange: (next: Partial<Entries>) => void;
}

/** What was said last time, and one tap where nothing has changed. */
export function WishesLastTime({ entries, last, onChange }: Props) {
  const was = [last?.answers, ...(last?.wishes ?? []).map((wish) => wishWords[wish])].filter(Boolean).join('; ');
  if (!last || was === '') return null;
  return (
    <p class="small last">
      On {last.date}: {was}. Wishes change, so ask again.{' '}
      {entries.wishes.length === 0 && entries.answers === '' && (
        <button type="button" onClick={() => onChange({ wishes: [...last.wishes], answers: last.answers })}>
          Asked: unchanged
        </button>
      )}
    </p>
  );
}

export function AnswersField({ entries, onChange }: Omit<Props, 'last'>) {
  return (
    <div class="field" data-measure="answers">
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
  );
}

/** What the person wants: asked early, because it changes how everything after it is said. */
export function WishesField({ entries, onChange }: Omit<Props, 'last'>) {
  const toggle = (wish: Wish, on: boolean) =>
    onChange({ wishes: on ? [...entries.wishes, wish] : entries.wishes.filter((one) => one !== wish) });
  return (
    <fieldset class="field choice ticks" data-measure="wishes">
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
  );
}

export function RemarkField({ entries, onChange }: Omit<Props, 'last'>) {
  return (
    <div class="field" data-measure="remark">
      <label for="visit-remark">Anything else, in your own words</label>
      <textarea
        id="visit-remark"
        rows={2}
        value={entries.remark}
        onInput={(event) => onChange({ remark: event.currentTarget.value })}
      />
    </div>
  );
}
