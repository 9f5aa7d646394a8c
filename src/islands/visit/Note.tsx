import { useEffect, useState } from 'preact/hooks';
import { printOnly } from './print.ts';
import { personChanged } from '../../person/store.ts';

/** The note, as it will be sent: to copy, or to change first. */
export function Note({ text }: { text: string }) {
  const [edited, setEdited] = useState<string>();
  const [said, setSaid] = useState('');
  useEffect(() => {
    const next = (event: Event) => event instanceof CustomEvent && event.detail === 'next' && setEdited(undefined);
    addEventListener(personChanged, next);
    return () => removeEventListener(personChanged, next);
  }, []);
  const shown = edited ?? text;
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(shown);
      setSaid('Copied');
    } catch {
      setSaid('This browser does not let a page copy: select the text and copy it by hand');
    }
  };
  return (
    <section class="note" aria-labelledby="note-title">
      <h2 id="note-title">Note for the centre</h2>
      <p class="small">No name is asked for. Add what identifies the person where your policy lets you.</p>
      <label class="hidden" for="note-text">
        Note text
      </label>
      <textarea id="note-text" rows={18} value={shown} onInput={(event) => setEdited(event.currentTarget.value)} />
      <pre class="printed">{shown}</pre>
      <div class="entry">
        <button type="button" class="main" onClick={copy}>
          Copy the note
        </button>
        <button type="button" onClick={() => printOnly('note')}>
          Print
        </button>
        {edited !== undefined && (
          <button type="button" onClick={() => setEdited(undefined)}>
            Back to the note from the readings
          </button>
        )}
        <span role="status">{said}</span>
      </div>
    </section>
  );
}
