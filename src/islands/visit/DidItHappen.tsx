import { planStates } from '../../../calculators/domain/visit.ts';
import type { PlanItem } from './entries.ts';

interface Props {
  /** of the visit before this one */
  planned: readonly { what: string }[];
  since: string;
  plan: readonly PlanItem[];
  onPlan: (plan: PlanItem[]) => void;
}

/** A visit opens with what the last one planned: how far has it come? */
export function DidItHappen({ planned, since, plan, onPlan }: Props) {
  const carried = plan.flatMap((item, at) => (planned.some(({ what }) => what === item.what) ? [{ item, at }] : []));
  if (carried.length === 0) return null;
  return (
    <section class="part happened" aria-labelledby="happened-title">
      <h2 id="happened-title">Did it happen?</h2>
      <p class="small">Planned on {since}.</p>
      <ul class="planned">
        {carried.map(({ item, at }) => (
          <li key={item.what}>
            <label for={`happened-${at}`}>{item.what}</label>{' '}
            <span class="small">{[item.owner, item.due && `by ${item.due}`].filter(Boolean).join(', ')}</span>
            <div class="entry">
              <select
                id={`happened-${at}`}
                value={item.state}
                onChange={(event) =>
                  onPlan(
                    plan.map((one, place) =>
                      place === at ? { ...one, state: event.currentTarget.value as PlanItem['state'] } : one,
                    ),
                  )
                }
              >
                {planStates.map((state) => (
                  <option key={state} value={state}>
                    {state}
                  </option>
                ))}
              </select>
              <button type="button" onClick={() => onPlan(plan.filter((_, place) => place !== at))}>
                No longer planned
              </button>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
