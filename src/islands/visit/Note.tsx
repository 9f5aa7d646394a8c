import { useEffect, useState } from 'preact/hooks';
import type { NoteInput } from '../../../calculators/visit/note.ts';
import { cautionsHere } from '../../agreement/cautions.ts';
import { digestHere } from '../../agreement/store.ts';
import { useAgreement } from '../use-agreement.ts';
import type { Entries } from './entries.ts';
import type { NoteFor } from './note-edits.ts';
import { printOnly } from './print.ts';
import { older, useNote } from './use-note.ts';

interface Props {
  input: NoteInput;
  entries: Entries;
  onChange: (changes: Partial<Entries>) => void;
}

/** The note, as it will be sent: for the centre, or in plain words for the person; to change first, copy, share or print. */
export function Note({ input: found, entries, onChange }: Props) {
  const [words, setWords] = useState<NoteFor>('centre');
  const [withStatistics, setWithStatistics] = useState(false);
  const agreement = useAgreement();
  useEffect(() => {
    if (agreement) void import('../../agreement/recount.ts').then(({ recount }) => recount());
  }, [agreement]);
  const cautions = cautionsHere();
  const input: NoteInput = {
    ...found,
    withStatistics,
    agreement: agreement && { name: agreement.clinic, digest: digestHere(), cautions },
  };
  const note = useNote(input, words);
  const { edit, aside, isOlder, shown } = note;

  return (
    <section class="note" aria-labelledby="note-title">
      <h2 id="note-title">Note</h2>
      {agreement && cautions.length > 0 && <p class="care">The clinic agreement: {cautions.join(' ')}</p>}
      <p class="small">No name is asked for. Add identifying details if your policy allows it.</p>
      <WrittenFor
        words={words}
        onChoose={(one) => {
          setWords(one);
          note.turn();
        }}
      />
      {words === 'centre' && <AskedOf {...{ entries, onChange, withStatistics }} onStatistics={setWithStatistics} />}
      <div role="status">
        {isOlder && (
          <div class="care">
            <p>
              <b>{older}</b> The readings or answers changed after you edited the note. Compare the two before you send
              yours.
            </p>
          </div>
        )}
      </div>
      {edit && aside && (
        <p class="small">
          This is the note made from the readings. You can read and copy it. Your edited note is kept.
        </p>
      )}
      <label class="hidden" for="note-text">
        Note text
      </label>
      <textarea
        id="note-text"
        ref={note.field}
        rows={18}
        value={shown}
        readOnly={edit !== undefined && aside}
        onInput={(event) => note.type(event.currentTarget.value)}
      />
      {isOlder && <p class="printed stale">{older} Check each number in it.</p>}
      <pre class="printed">{shown}</pre>
      <NoteButtons shown={shown} isOlder={isOlder} said={note.said} onCopy={note.copy} />
      {edit && (
        <EditedNote
          aside={aside}
          isOlder={isOlder}
          onLook={note.look}
          onUpToDate={() => note.settle(edit.text)}
          onDelete={() => note.settle()}
        />
      )}
    </section>
  );
}

interface NoteButtonsProps {
  shown: string;
  isOlder: boolean;
  said: string;
  onCopy: () => void;
}

function NoteButtons({ shown, isOlder, said, onCopy }: NoteButtonsProps) {
  // A cancelled share is no failure, and there is nothing to say about it.
  const share = () => void navigator.share({ text: shown }).catch(() => undefined);
  return (
    <div class="entry">
      <button type="button" class="main" onClick={onCopy}>
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
      {isOlder && <span class="problem">{older}</span>}
      <span role="status">{said}</span>
    </div>
  );
}

function WrittenFor({ words, onChoose }: { words: NoteFor; onChoose: (words: NoteFor) => void }) {
  return (
    <fieldset class="field choice">
      <legend>Written for</legend>
      <div class="entry">
        {(['centre', 'family'] as const).map((one) => (
          <label key={one} class="chip">
            <input type="radio" name="note-words" checked={words === one} onChange={() => onChoose(one)} />
            {one === 'centre' ? 'The centre' : 'The person and family, in plain words'}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface AskedOfProps {
  entries: Entries;
  onChange: (changes: Partial<Entries>) => void;
  withStatistics: boolean;
  onStatistics: (on: boolean) => void;
}

/** Of whom the note asks something, by when; and whether it holds statistics and payer rules. */
function AskedOf({ entries, onChange, withStatistics, onStatistics }: AskedOfProps) {
  return (
    <div class="field">
      <div class="entry">
        <label class="asked">
          Asked of{' '}
          <input
            type="text"
            autocomplete="off"
            placeholder="the ventilation service"
            value={entries.askedOf}
            onInput={(event) => onChange({ askedOf: event.currentTarget.value })}
          />
        </label>
        <label>
          Answer by{' '}
          <input
            type="date"
            value={entries.askedBy}
            onInput={(event) => onChange({ askedBy: event.currentTarget.value })}
          />
        </label>
      </div>
      <div class="entry">
        <label class="chip">
          <input
            type="checkbox"
            checked={withStatistics}
            onChange={(event) => onStatistics(event.currentTarget.checked)}
          />
          With rates, study figures and payer rules
        </label>
      </div>
    </div>
  );
}

interface EditedNoteProps {
  /** the note from the readings is looked at instead */
  aside: boolean;
  isOlder: boolean;
  onLook: (readings: boolean) => void;
  onUpToDate: () => void;
  onDelete: () => void;
}

/** What can be done with a note that was edited. */
function EditedNote({ aside, isOlder, onLook, onUpToDate, onDelete }: EditedNoteProps) {
  return (
    <div class="entry">
      <button type="button" onClick={() => onLook(!aside)}>
        {aside ? 'Back to my edited note' : 'See the note made from the readings'}
      </button>
      {isOlder && (
        <button type="button" onClick={onUpToDate}>
          My edited note is up to date
        </button>
      )}
      {aside && (
        <button type="button" class="clears" onClick={onDelete}>
          Delete my edited note
        </button>
      )}
    </div>
  );
}
