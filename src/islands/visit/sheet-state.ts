/**
 * What is on the visit sheet, and how each act changes it. Pure: no screen, no storage and no clock (`today` comes with the
 * act). use-sheet.ts writes to storage whatever part an act has replaced, so an act leaves a part that it does not change
 * as the same object.
 */
import type { Person } from '../../../calculators/domain/person.ts';
import type { PredictionChoice } from '../../../calculators/evaluate/derive.ts';
import type { KeptVisit, Series } from '../../../calculators/visit/series.ts';
import type { TypedQuantity } from '../QuantityInput.tsx';
import { type Entries, isTouched, noEntries } from './entries.ts';
import { entriesOf, inOrder, keepVisit, nextEntries } from './kept.ts';
import { type PersonField, type PersonTyped, personText, readPersonField } from './person-typed.ts';

export interface SheetState {
  person: Person;
  /** age and height as typed; `person` has them once the field is left */
  typed: PersonTyped;
  entries: Entries;
  /** other visits of this person, oldest first */
  earlier: readonly KeptVisit[];
}

/** A file of visits is about the person on the sheet, or about another who takes their place. */
export type FileAbout = 'same' | 'another';

export type SheetAction =
  /** everything as it is stored; with nothing stored, the empty sheet of the next person */
  | {
      type: 'load';
      person: Person;
      entries: Partial<Entries> | undefined;
      earlier: readonly KeptVisit[];
      /** age and height that were typed when the page went away, and whose field was not left */
      typed?: PersonTyped | undefined;
      today: string;
    }
  /** the stored person was changed elsewhere on the page; age and height stay as they are typed */
  | { type: 'load person'; person: Person }
  /** the clinic agreement's reference set, for a visit that nothing was entered for yet */
  | { type: 'use reference set'; prediction: PredictionChoice }
  | { type: 'change entries'; changes: Partial<Entries> }
  | { type: 'change person'; changes: Person }
  | { type: 'type person'; field: PersonField; value: TypedQuantity }
  /** age or height was left: "4" on the way to "45" is not an age */
  | { type: 'leave person field' }
  | { type: 'show visit'; date: string }
  | { type: 'begin visit'; today: string }
  | { type: 'open file'; series: Series; about: FileAbout; today: string };

export const emptySheet = (): SheetState => ({
  person: {},
  typed: personText({}),
  entries: noEntries(),
  earlier: [],
});

export function reduce(state: SheetState, action: SheetAction): SheetState {
  const { person, typed, entries } = state;
  switch (action.type) {
    case 'load':
      return {
        ...withTyped(action.person, action.typed),
        // Entries stored by an earlier build of this page may lack what has been added since.
        entries: { ...noEntries(), date: action.today, ...action.entries },
        earlier: action.earlier,
      };
    case 'load person':
      return { ...state, person: action.person };
    case 'use reference set':
      return { ...state, entries: { ...entries, prediction: action.prediction } };
    case 'change entries':
      return { ...state, entries: { ...entries, ...action.changes } };
    case 'change person':
      return { ...state, person: onlyKnown({ ...person, ...action.changes }) };
    case 'type person':
      return { ...state, typed: { ...typed, [action.field]: action.value } };
    case 'leave person field':
      return { ...state, person: factsOf(person, typed) };
    case 'show visit':
      return showVisit(state, action.date);
    case 'begin visit':
      return beginVisit(state, withThisVisit(state), person, action.today);
    case 'open file':
      return openFile(state, action.series, action.about, action.today);
  }
}

const factsOf = (person: Person, typed: PersonTyped): Person =>
  onlyKnown({
    ...person,
    ageYears: readPersonField('age', typed.age).value,
    heightCm: readPersonField('height', typed.height).value,
  });

/** The page went away before a field was left: what was typed in it counts, for nobody is in the field any more. */
const withTyped = (person: Person, typed: PersonTyped | undefined): Pick<SheetState, 'person' | 'typed'> =>
  typed ? { person: factsOf(person, typed), typed } : { person, typed: personText(person) };

/** A fact that is not known has no key: laid over the facts of a file, it must not hide one of them. */
const onlyKnown = (person: Person): Person =>
  Object.fromEntries(Object.entries(person).filter(([, value]) => value !== undefined));

const withPerson = (person: Person): Pick<SheetState, 'person' | 'typed'> => ({
  person: onlyKnown(person),
  typed: personText(person),
});

/** The earlier visits, and the visit on the sheet with them if anything was entered for it. */
const withThisVisit = ({ person, entries, earlier }: SheetState): readonly KeptVisit[] =>
  isTouched(entries) ? inOrder([...earlier, keepVisit(person, entries)]) : earlier;

/** One visit on the sheet and the others beside it; age and height are those of its day. */
function putOnSheet(
  { entries }: SheetState,
  visit: KeptVisit,
  others: readonly KeptVisit[],
  person: Person,
): SheetState {
  const then = {
    ...person,
    ageYears: visit.ageYears ?? person.ageYears,
    heightCm: visit.heightCm ?? person.heightCm,
  };
  return {
    ...withPerson(then),
    entries: { ...entriesOf(visit), leadWeeks: entries.leadWeeks },
    earlier: [...others],
  };
}

function showVisit(state: SheetState, date: string): SheetState {
  const visit = state.earlier.find((one) => one.date === date);
  if (!visit) return state;
  const others = withThisVisit(state).filter((one) => one.date !== date);
  return putOnSheet(state, visit, others, state.person);
}

/** An empty sheet for that day. If one of the visits is of that day, it goes on the sheet instead. */
function beginVisit(state: SheetState, visits: readonly KeptVisit[], person: Person, date: string): SheetState {
  const same = visits.find((visit) => visit.date === date);
  if (same) {
    const others = visits.filter((visit) => visit !== same);
    return putOnSheet(state, same, others, person);
  }
  const last = visits.filter((visit) => visit.date < date).at(-1);
  return {
    ...withPerson(person),
    entries: last ? nextEntries(last, date) : { ...noEntries(), date },
    earlier: [...visits],
  };
}

/** Facts already on the sheet stand over those of the file, and so does a visit that something was entered for. */
function openFile(state: SheetState, { person, visits }: Series, about: FileAbout, today: string): SheetState {
  const { label: _, ...ofFile } = person;
  const date = state.entries.date || today;
  if (about === 'another') return beginVisit(state, inOrder(visits), ofFile, date);
  const both = { ...ofFile, ...state.person };
  const all = inOrder([...visits, ...state.earlier]);
  if (!isTouched(state.entries)) return beginVisit(state, all, both, date);
  return {
    ...state,
    ...withPerson(both),
    earlier: all.filter((visit) => visit.date !== state.entries.date),
  };
}
