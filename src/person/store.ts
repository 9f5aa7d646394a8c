/**
 * The current person. Stored in this tab only (session storage goes when the tab closes), for twelve hours at most;
 * 'next person' clears everything typed for the last one. Nothing is sent anywhere.
 */
import type { Person } from '../../calculators/domain/person.ts';

/**
 * Key of disease, age, sex and height. Every other key about the person begins with it, so that one loop clears them
 * all.
 */
const personKey = 'tidemark:person';
/**
 * Lines typed in a search, a line for each entry of the tab's history. They name nobody, so that they alone do not make a
 * person; they go with the person.
 */
const linesKey = 'tidemark:lines';
/**
 * When 'next person' was last pressed on this device, in milliseconds: for a page that the browser kept for the Back
 * button meanwhile. Some browsers keep such a page's session storage with it, as it was.
 */
const nextKey = 'tidemark:next';
const twelveHours = 43_200_000;
export const personChanged = 'tidemark:person-changed';

interface Stored<T> {
  until: number;
  data: T;
}

/** @throws where the browser refuses its storage */
export const storedKeys = (): string[] => Object.keys(sessionStorage).filter((key) => key.startsWith(personKey));
export const isAnythingStored = (): boolean => unlessRefused(() => storedKeys().length > 0) ?? false;

/** Private windows can refuse storage; a page then works for as long as it is open. */
function unlessRefused<T>(use: () => T): T | undefined {
  try {
    return use();
  } catch {
    return undefined;
  }
}

/** @returns undefined when nothing is stored, it has expired, or the browser refuses session storage */
const readStored = <T>(key: string, expired: () => void = nextPerson): T | undefined =>
  unlessRefused(() => {
    const text = sessionStorage.getItem(key);
    if (text === null) return undefined;
    const stored: Stored<T> = JSON.parse(text);
    const left = stored.until - Date.now();
    // More than twelve hours left: the clock was ahead when it was stored, and how old it is, nobody knows.
    if (left > 0 && left <= twelveHours) return stored.data;
    expired();
    return undefined;
  });

const writeStored = <T>(key: string, data: T): void =>
  unlessRefused(() =>
    sessionStorage.setItem(key, JSON.stringify({ until: Date.now() + twelveHours, data } satisfies Stored<T>)),
  );

export const readPerson = (): Person => readStored<Person>(personKey) ?? {};

export function writePerson(person: Person): void {
  const known = Object.fromEntries(Object.entries(person).filter(([, value]) => value !== undefined));
  if (Object.keys(known).length > 0) writeStored(personKey, known);
  else unlessRefused(() => sessionStorage.removeItem(personKey));
  dispatchEvent(new CustomEvent(personChanged));
}

/** What was typed on a page for this person: the visit sheet's entries. */
export const readEntries = <T>(name: string): T | undefined => readStored<T>(`${personKey}:${name}`);
export const writeEntries = <T>(name: string, data: T): void => writeStored(`${personKey}:${name}`, data);

export const dropEntries = (name: string): void =>
  unlessRefused(() => sessionStorage.removeItem(`${personKey}:${name}`));

export const readLines = <T>(): Record<string, T> =>
  readStored<Record<string, T>>(linesKey, () => sessionStorage.removeItem(linesKey)) ?? {};
/** @returns whether the browser took it */
export const writeLines = <T>(lines: Record<string, T>): boolean => {
  writeStored(linesKey, lines);
  return unlessRefused(() => sessionStorage.getItem(linesKey) !== null) ?? false;
};

/**
 * Clears everything typed; with `another`, stores those entries instead. Pages that listen for the event start afresh.
 */
export function nextPerson(another: Record<string, string> = {}): void {
  unlessRefused(() => {
    for (const key of [...storedKeys(), linesKey]) sessionStorage.removeItem(key);
    Object.assign(sessionStorage, another);
    // What is brought back is older than the press that cleared it.
    if (Object.keys(another).length > 0) localStorage.removeItem(nextKey);
    else localStorage.setItem(nextKey, String(Date.now()));
  });
  dispatchEvent(new CustomEvent(personChanged, { detail: 'next' }));
}

/** @returns undefined where the browser refuses its storage: nobody can tell then */
export const lastNext = (): string | undefined => unlessRefused(() => localStorage.getItem(nextKey) ?? '0');

/** Drops what was stored before this 'next person'. */
export const dropFromBefore = (next: string): void =>
  unlessRefused(() => {
    for (const key of [...storedKeys(), linesKey])
      if (JSON.parse(sessionStorage.getItem(key) ?? '{}').until < twelveHours + Number(next))
        sessionStorage.removeItem(key);
  });

/** Clears what has expired: a tab left open overnight is another visit in the morning. */
export const dropExpired = (): void =>
  unlessRefused(() => {
    for (const key of storedKeys()) readStored(key);
    readLines();
  });
