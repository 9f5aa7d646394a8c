import { useEffect, useState } from 'preact/hooks';
import { type NoteInput, noteText, plainNote } from '../../../calculators/criteria/note.ts';
import { personChanged } from '../../person/store.ts';
import { printOnly } from './print.ts';

type Words = 'centre' | 'family';

/** The note, as it will be sent: for the centre, or in plain words for the person; to change first, copy, share or print. */
export function Note({ input }: { input: NoteInput }) {
  const [words, setWords] = useState<Words>('centre');
  const [edited, setEdited] = useState<Partial<Record<Words, string>>>({});
  const [said, setSaid] = useState('');
  useEffect(() => {
    const next = (event: Event) => event instanceof CustomEvent && event.detail === 'next' && setEdited({});
    addEventListener(personChanged, next);
    return () => removeEventListener(personChanged, next);
  }, []);
  const made = words === 'centre' ? noteText(input) : plainNote(input);
  const shown = edited[words] ?? made;
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(shown);
      setSaid('Copied');
    } catch {
      setSaid('This browser does not let a page copy: select the text and copy it by hand');
    }
  };
  // A cancelled share is no failure, and there is nothing to say about it.
  const share = () => void navigator.share({ text: shown }).catch(() => undefined);
  return (
    <section class="note" aria-labelledby="note-title">
      <h2 id="note-title">Note</h2>
      <p class="small">No name is asked for. Add what identifies the person where your policy lets you.</p>
      <fieldset class="field choice">
        <legend>Written for</legend>
        <div class="entry">
          {(['centre', 'family'] as const).map((one) => (
            <label key={one} class="chip">
              <input type="radio" name="note-words" checked={words === one} onChange={() => setWords(one)} />
              {one === 'centre' ? 'The centre' : 'The person and family, in plain words'}
            </label>
          ))}
        </div>
      </fieldset>
      <label class="hidden" for="note-text">
        Note text
      </label>
      <textarea
        id="note-text"
        rows={18}
        value={shown}
        onInput={(event) => setEdited({ ...edited, [words]: event.currentTarget.value })}
      />
      <pre class="printed">{shown}</pre>
      <div class="entry">
        <button type="button" class="main" onClick={copy}>
          Copy the note
        </button>
        {typeof navigator !== 'undefined' && 'share' in navigator && (
          <button type="button" onClick={share}>
            Share
          </button>
        )}
        <button type="button" onClick={() => printOnly('note')}>
          Print
        </button>
        {edited[words] !== undefined && (
          <button type="button" onClick={() => setEdited({ ...edited, [words]: undefined })}>
            Back to the note from the readings
          </button>
        )}
        <span role="status">{said}</span>
      </div>
    </section>
  );
}
