/** What was entered for one person: in words, so that it can be asked about before it is cleared; and as a copy of it. */
import type { KeptVisit } from '../../calculators/visit/series.ts';
import type { Entries } from '../islands/visit/entries.ts';
import type { NoteEdits } from '../islands/visit/note-edits.ts';
import { readKept } from '../islands/visit/on-device.ts';
import { copyFields, fieldsInWords } from './page-fields.ts';
import { heldKeys, personChanged, readEntries } from './store.ts';
import { factsInWords } from './words.ts';

const count = (number: number, one: string, many = `${one}s`): string | false =>
  number > 0 && `${number} ${number === 1 ? one : many}`;
/** What of these was entered. */
const only = (lines: (string | false | undefined)[]): string[] =>
  lines.filter((line): line is string => typeof line === 'string' && line !== '');
const written = (...texts: (string | undefined)[]): boolean => texts.some((text) => (text ?? '').trim() !== '');

/** Everything entered, a line each; empty where nothing was. */
export function enteredInWords(): string[] {
  try {
    heldKeys();
  } catch {
    // Nothing can be counted where nothing can be kept; what is on the page is still lost.
    return ['everything entered on this page'];
  }
  const visit = readEntries<Partial<Entries>>('visit');
  const earlier = readEntries<KeptVisit[]>('earlier') ?? [];
  const edits = Object.values(readEntries<NoteEdits>('note') ?? {}).flatMap((edit) => Object.keys(edit)).length;
  const ofVisit = visit ? visitInWords(visit) : [];
  const person = factsInWords();
  return only([
    person && `the person: ${person}`,
    ofVisit.length > 0 && `the visit of ${visit?.date || 'today'}: ${ofVisit.join(', ')}`,
    edits > 0 && (edits === 1 ? 'the note you edited' : `${edits} notes you edited`),
    earlier.length > 0 &&
      `${count(earlier.length, 'earlier visit')} on the sheet (${[...new Set([earlier[0]?.date, earlier.at(-1)?.date])].join(' to ')})`,
    ...fieldsInWords(),
  ]);
}

function visitInWords(visit: Partial<Entries>): string[] {
  const { readings = {}, notDone = {}, signs = {}, supports = {}, choices = {}, wishes = [], plan = [], card } = visit;
  return only([
    count(Object.values(readings).filter(({ text }) => written(text)).length, 'reading'),
    count(Object.keys(notDone).length, 'test not done', 'tests not done'),
    count(Object.keys(signs).length, 'answer'),
    count(Object.keys(supports).length, 'support'),
    count(Object.keys(choices).length, 'choice'),
    wishes.length > 0 && 'wishes',
    written(visit.answers) && 'who answers',
    count(plan.filter(({ what }) => written(what)).length, 'planned item'),
    written(visit.asked) && 'the question to the physician',
    written(visit.remark) && 'the remark',
    card && written(...Object.values(card)) && 'the emergency card',
  ]);
}

/** What stays although the person is cleared: it was kept on purpose, and has a button of its own. */
export const keptOnDevice = (): boolean => readKept() !== undefined;

export interface Copy {
  held: Record<string, string>;
  fields: ReturnType<typeof copyFields>;
}

/** @returns nothing where the browser refuses its storage: what was never held cannot be brought back */
export function copyOfPerson(): Copy | undefined {
  try {
    const held = Object.fromEntries(heldKeys().map((key) => [key, sessionStorage.getItem(key) ?? '']));
    return { held, fields: copyFields() };
  } catch {
    return undefined;
  }
}

/** What is held, as it was: nobody is asked to start afresh. */
export function holdAgain(held: Copy['held']): void {
  Object.assign(sessionStorage, held);
  dispatchEvent(new CustomEvent(personChanged));
}
