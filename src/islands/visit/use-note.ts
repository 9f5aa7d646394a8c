/** The text of a note: made from the readings, or edited by hand; an edit is stored with what it was made from. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { type NoteInput, noteText, plainNote } from '../../../calculators/visit/note.ts';
import { personChanged } from '../../person/store.ts';
import { type EditsOfVisit, type NoteFor, readNoteEdits, writeNoteEdits } from './note-edits.ts';

export const older = 'The readings changed after you edited your note.';

/** The edits of the visit on the sheet, and the word for what was done with the note last. */
function useEdits(date: string) {
  const [held, setHeld] = useState<{ date: string; edits: EditsOfVisit }>();
  /** the note from the readings is looked at while an edited one is stored */
  const [aside, setAside] = useState(false);
  const [said, setSaid] = useState('');
  // Another visit on the sheet has its own edited note, from the first moment that it is shown.
  const edits = held?.date === date ? held.edits : readNoteEdits(date);
  useEffect(() => {
    const load = () => {
      setHeld({ date, edits: readNoteEdits(date) });
      setAside(false);
      setSaid('');
    };
    const next = (event: Event) => event instanceof CustomEvent && event.detail === 'next' && load();
    load();
    addEventListener(personChanged, next);
    return () => removeEventListener(personChanged, next);
  }, [date]);
  const store = (next: EditsOfVisit) => {
    setHeld({ date, edits: next });
    writeNoteEdits(date, next);
    setAside(false);
    setSaid('');
  };
  return { edits, store, aside, setAside, said, setSaid };
}

export function useNote(input: NoteInput, words: NoteFor) {
  const { edits, store, aside, setAside, said, setSaid } = useEdits(input.date);
  const field = useRef<HTMLTextAreaElement>(null);
  const made = words === 'centre' ? noteText(input) : plainNote(input);
  const edit = edits[words];
  const edited = edit !== undefined && !aside;
  const isOlder = edited && edit.from !== made;
  const shown = edited ? edit.text : made;
  const put = ({ [words]: _, ...others }: EditsOfVisit, text?: string, from = made) =>
    store(text === undefined || text === made ? others : { ...others, [words]: { text, from } });
  return {
    shown,
    edit,
    aside,
    isOlder,
    said,
    field,
    type: (text: string) => put(edits, text, edit?.from),
    /** Another note is looked at: nothing is said about the last one. */
    turn: () => {
      setAside(false);
      setSaid('');
    },
    copy: async () => {
      try {
        await navigator.clipboard.writeText(shown);
        setSaid(`Copied.${isOlder ? ` ${older}` : ''}`);
      } catch {
        setSaid('This browser does not allow copying. Select the text and copy it yourself');
      }
    },
    /** For the buttons that are gone once pressed: the focus goes on in the text. */
    settle: (text?: string) => {
      put(edits, text);
      field.current?.focus();
    },
    look: (readings: boolean) => {
      setAside(readings);
      setSaid(
        readings ? 'This is the note made from the readings. Your edited note is kept.' : 'This is your edited note.',
      );
    },
  };
}
