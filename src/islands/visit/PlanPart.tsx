import type { Decisions } from '../../../calculators/domain/decision.ts';
import { planStates } from '../../../calculators/domain/visit.ts';
import type { Entries, PlanItem } from './entries.ts';

interface Props {
  entries: Entries;
  decisions: Decisions;
  /** decisions with a criterion met: their own lists are offered to tick */
  suggested: string[];
  onChange: (next: Partial<Entries>) => void;
}

const blank = (what: string): PlanItem => ({ what, owner: '', due: '', state: 'asked' });

/** What will be arranged, by whom, by when, and how far it has come. Ticked from the decisions' own lists, or written. */
export function PlanPart({ entries, decisions, suggested, onChange }: Props) {
  const { plan } = entries;
  const put = (at: number, next: Partial<PlanItem>) =>
    onChange({ plan: plan.map((item, place) => (place === at ? { ...item, ...next } : item)) });
  const offered = suggested
    .flatMap((id) => (decisions[id]?.arrange ?? []).map((what) => ({ title: decisions[id]?.title ?? id, what })))
    .filter(({ what }) => !plan.some((item) => item.what === what));
  return (
    <section class="plan" aria-labelledby="plan-title">
      <h2 id="plan-title">Plan</h2>
      {plan.length === 0 && (
        <p class="small">Nothing is planned yet. Tick items in the lists below, or write your own.</p>
      )}
      <ol class="planned">
        {plan.map((item, at) => (
          <li key={at}>
            <label for={`plan-what-${at}`}>What is arranged</label>
            <input
              id={`plan-what-${at}`}
              type="text"
              class="long"
              value={item.what}
              onInput={(event) => put(at, { what: event.currentTarget.value })}
            />
            <div class="entry">
              <label>
                Who does it{' '}
                <input
                  type="text"
                  value={item.owner}
                  onInput={(event) => put(at, { owner: event.currentTarget.value })}
                />
              </label>
              <label>
                By{' '}
                <input type="date" value={item.due} onInput={(event) => put(at, { due: event.currentTarget.value })} />
              </label>
              <label>
                Now{' '}
                <select
                  value={item.state}
                  onChange={(event) => put(at, { state: event.currentTarget.value as PlanItem['state'] })}
                >
                  {planStates.map((state) => (
                    <option key={state} value={state}>
                      {state}
                    </option>
                  ))}
                </select>
              </label>
              <button type="button" onClick={() => onChange({ plan: plan.filter((_, place) => place !== at) })}>
                Remove
              </button>
            </div>
          </li>
        ))}
      </ol>
      <button type="button" onClick={() => onChange({ plan: [...plan, blank('')] })}>
        Write your own
      </button>
      {offered.length > 0 && (
        <details>
          <summary>From the lists of decisions with a criterion met ({offered.length})</summary>
          <ul class="findings">
            {offered.map(({ title, what }) => (
              <li key={title + what}>
                <label class="chip">
                  <input type="checkbox" checked={false} onChange={() => onChange({ plan: [...plan, blank(what)] })} />
                  {what}
                </label>{' '}
                <span class="small">{title}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
      <div class="field">
        <label for="visit-asked">Asked of the physician</label>
        <textarea
          id="visit-asked"
          rows={3}
          value={entries.asked}
          onInput={(event) => onChange({ asked: event.currentTarget.value })}
        />
      </div>
    </section>
  );
}
