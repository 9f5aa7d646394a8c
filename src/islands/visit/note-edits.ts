/** Notes changed by hand: held in this tab like the entries, by the date of their visit, and cleared with them. */
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { readEntries, writeEntries } from '../../person/store.ts';

/** the centre, or the person and family */
export type NoteFor = 'centre' | 'family';

export interface NoteEdit {
  text: string;
  /** the note from the readings when it was first changed, or last said to be up to date */
  from: string;
}
export type EditsOfVisit = Partial<Record<NoteFor, NoteEdit>>;
export type NoteEdits = Record<string, EditsOfVisit>;

const key = 'note';
const all = (): NoteEdits => readEntries<NoteEdits>(key) ?? {};

export const readNoteEdits = (date: string): EditsOfVisit => all()[date] ?? {};

export function writeNoteEdits(date: string, edits: EditsOfVisit): void {
  const { [date]: _, ...others } = all();
  writeEntries<NoteEdits>(key, Object.keys(edits).length > 0 ? { ...others, [date]: edits } : others);
}

/**
 * The date of the visit on the sheet was corrected: its notes go along. Not over those of another day, and not those of an
 * earlier visit whose date is only passed on the way.
 */
export function moveNoteEdits(from: string, to: string): void {
  const { [from]: moved, ...others } = all();
  const earlier = readEntries<KeptVisit[]>('earlier') ?? [];
  if (moved && others[to] === undefined && from !== to && !earlier.some(({ date }) => date === from))
    writeEntries<NoteEdits>(key, { ...others, [to]: moved });
}
