import { useEffect, useState } from 'preact/hooks';
import { versionWords } from '../../../calculators/agreement/status.ts';
import { type Shelved, shelf, takeOffShelf } from '../../agreement/shelf.ts';
import { agreementChanged } from '../../agreement/store.ts';

/** Agreements that this device had in force before: to go back to one, after the same question as for any other. */
export function Shelf({ base }: { base: string }) {
  const [list, setList] = useState<Shelved[]>([]);
  useEffect(() => {
    const load = () => setList(shelf());
    load();
    addEventListener(agreementChanged, load);
    return () => removeEventListener(agreementChanged, load);
  }, []);
  if (list.length === 0) return null;
  return (
    <details class="part shelf">
      <summary>Agreements used before on this device ({list.length})</summary>
      <ul class="changes">
        {list.map(({ agreement, digest, since, until }, place) => (
          <li key={place}>
            <b>{agreement.clinic}</b>, {versionWords(agreement)}.
            <span class="by">
              In force here {since ? `from ${since} ` : ''}to {until}.{digest && ` Digest ${digest}.`}
            </span>
            <div class="entry">
              <a class="button" href={`${base}agree/open/#kept-${place}`}>
                Switch to this one
              </a>
              <button type="button" onClick={() => takeOffShelf(place)}>
                Remove from this device
              </button>
            </div>
          </li>
        ))}
      </ul>
    </details>
  );
}
