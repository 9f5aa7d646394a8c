/** What was entered for one person: in words, so that it can be asked about before it is cleared; and as a copy of it. */
import type { KeptVisit } from '../../calculators/visit/series.ts';
import type { Entries } from '../islands/visit/entries.ts';
import type { NoteEdits } from '../islands/visit/note-edits.ts';
import { readKept } from '../islands/visit/on-device.ts';
import { copyFields, fieldsInWords } from './page-fields.ts';
import { personChanged, readEntries, storedKeys } from './store.ts';
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
    storedKeys();
  } catch {
    // Where the browser refuses storage nothing can be counted, but what is on the page would still be lost.
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

/**
 * Whether visits stay on this device although the person is cleared: they were saved on purpose, and have a button of
 * their own.
 */
export const visitsSavedOnDevice = (): boolean => readKept() !== undefined;

export interface Copy {
  stored: Record<string, string>;
  fields: ReturnType<typeof copyFields>;
}

/** @returns undefined where the browser refuses its storage: what was never stored cannot be brought back */
export function copyOfPerson(): Copy | undefined {
  try {
    const stored = Object.fromEntries(storedKeys().map((key) => [key, sessionStorage.getItem(key) ?? '']));
    return { stored, fields: copyFields() };
  } catch {
    return undefined;
  }
}

/** Puts the copy back into storage, without the event that makes pages start afresh. */
export function storeAgain(stored: Copy['stored']): void {
  Object.assign(sessionStorage, stored);
  dispatchEvent(new CustomEvent(personChanged));
}
