import { useEffect, useRef, useState } from 'preact/hooks';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { today } from '../../browser/today.ts';
import {
  dropEntries,
  nextPerson,
  personChanged,
  readEntries,
  readPerson,
  writeEntries,
  writePerson,
} from '../../person/store.ts';
import type { Entries } from './entries.ts';
import { readEarlier, writeEarlier } from './Keeping.tsx';
import { moveNoteEdits } from './note-edits.ts';
import type { PersonTyped } from './person-typed.ts';
import { emptySheet, reduce, type SheetAction, type SheetState } from './sheet-state.ts';

const readSheet = (): SheetAction => ({
  type: 'load',
  person: readPerson(),
  earlier: readEarlier(),
  entries: readEntries<Entries>('visit'),
  typed: readEntries<PersonTyped>('typed'),
  today: today(),
});

/** In this order: the person, the visit, the earlier visits. */
function write(before: SheetState, after: SheetState): void {
  if (after.person !== before.person) writePerson(after.person);
  if (after.entries !== before.entries) writeEntries('visit', after.entries);
  if (after.earlier !== before.earlier) writeEarlier(after.earlier);
  // Age and height until their field is left: a reload in between must not lose them.
  if (after.typed !== before.typed) writeEntries('typed', after.typed);
  if (after.person !== before.person) dropEntries('typed');
}

/**
 * The visit sheet's state, and `act` to change it. What an act changes is in this tab's storage by the time it returns.
 * `latest` is there for that, and for an act that comes after something was waited for: useReducer has no next state to
 * write until the sheet is drawn again.
 */
export function useSheet(agreement: Agreement | undefined): { sheet: SheetState; act: (action: SheetAction) => void } {
  const [sheet, draw] = useState(emptySheet);
  const latest = useRef(sheet);
  /** while this sheet writes, it is told of its own changes, and has them already */
  const writing = useRef(false);
  const take = (action: SheetAction) => {
    latest.current = reduce(latest.current, action);
    draw(latest.current);
  };
  const act = (action: SheetAction) => {
    if (action.type === 'change entries' && action.changes.date !== undefined)
      moveNoteEdits(latest.current.entries.date, action.changes.date);
    const before = latest.current;
    take(action);
    writing.current = true;
    try {
      if (action.type === 'open file' && action.about === 'another') nextPerson();
      write(before, latest.current);
    } finally {
      writing.current = false;
    }
  };

  useEffect(() => {
    const load = (event: Event) => {
      if (writing.current) return;
      const all = !(event instanceof CustomEvent) || event.detail === 'next';
      take(all ? readSheet() : { type: 'load person', person: readPerson() });
    };
    const stored = latest.current.person;
    take(readSheet());
    // What was typed when the page went away is among the facts now.
    if (readEntries('typed') !== undefined && latest.current.person !== stored) {
      writing.current = true;
      writePerson(latest.current.person);
      dropEntries('typed');
      writing.current = false;
    }
    addEventListener(personChanged, load);
    return () => removeEventListener(personChanged, load);
  }, []);

  // Per cent predicted starts with the clinic's own set, until the reader chooses one for this person.
  useEffect(() => {
    const { referenceSet: set, group } = agreement ?? {};
    const start = () => {
      if (set && !writing.current && readEntries('visit') === undefined)
        take({ type: 'use reference set', prediction: { set, group } });
    };
    start();
    addEventListener(personChanged, start);
    return () => removeEventListener(personChanged, start);
  }, [agreement]);

  return { sheet, act };
}
