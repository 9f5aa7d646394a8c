import { limits, type Said } from '../../../calculators/agreement/agreement.ts';

interface Props {
  legend: string;
  help: string;
  /** one of them, for labels: 'dissent' */
  name: string;
  /** the decision that the lines are about */
  decision: string;
  all: Said[];
  onChange: (all: Said[]) => void;
}

/** What was said about one decision, with the role that said it. */
export function SaidLines({ legend, help, name, decision, all, onChange }: Props) {
  const mine = all.flatMap((said, place) => (said.decision === decision ? [{ said, place }] : []));
  const put = (place: number, next: Partial<Said>) =>
    onChange(all.map((one, at) => (at === place ? { ...one, ...next } : one)));
  return (
    <fieldset class="field choice rows said-lines">
      <legend>{legend}</legend>
      <p class="small">{help}</p>
      {mine.map(({ said, place }, number) => (
        <div key={place} class="entry">
          <label>
            <span class="small">
              Role, {name} {number + 1}
            </span>
            <input
              type="text"
              autocomplete="off"
              maxLength={limits.name}
              value={said.by ?? ''}
              onInput={(event) => put(place, { by: event.currentTarget.value })}
            />
          </label>
          <label class="wide-part">
            <span class="small">
              What was said, {name} {number + 1}
            </span>
            <input
              type="text"
              autocomplete="off"
              maxLength={limits.reason}
              value={said.says}
              onInput={(event) => put(place, { says: event.currentTarget.value })}
            />
          </label>
          <button
            type="button"
            aria-label={`Remove ${name} ${number + 1}`}
            onClick={() => onChange(all.filter((_, at) => at !== place))}
          >
            Remove
          </button>
        </div>
      ))}
      {all.length < limits.minutes && (
        <button type="button" onClick={() => onChange([...all, { says: '', decision }])}>
          Add {name === 'question' ? 'an open question' : 'dissent'}
        </button>
      )}
    </fieldset>
  );
}
