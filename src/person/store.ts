/**
 * The one person in hand. Held in this tab only (session storage goes when the tab closes), for twelve hours at most;
 * 'next person' clears everything typed for the last one. Nothing is sent anywhere.
 */
import type { Person } from '../../calculators/domain/person.ts';

/** What kind of person this is; everything else typed for them starts with the same words, so that one sweep clears it. */
const personKey = 'tidemark:person';
const twelveHours = 43_200_000;
export const personChanged = 'tidemark:person-changed';

interface Held<T> {
  until: number;
  data: T;
}

/** @throws where the browser refuses its storage */
export const heldKeys = (): string[] => Object.keys(sessionStorage).filter((key) => key.startsWith(personKey));
export const isHeld = (): boolean => unlessRefused(() => heldKeys().length > 0) ?? false;

/** Private windows can refuse storage; a page then works for as long as it is open. */
function unlessRefused<T>(use: () => T): T | undefined {
  try {
    return use();
  } catch {
    return undefined;
  }
}

/** @returns undefined when nothing is held, it has expired, or the browser keeps no session storage */
const readHeld = <T>(key: string): T | undefined =>
  unlessRefused(() => {
    const text = sessionStorage.getItem(key);
    if (text === null) return undefined;
    const held: Held<T> = JSON.parse(text);
    if (held.until > Date.now()) return held.data;
    nextPerson();
    return undefined;
  });

const writeHeld = <T>(key: string, data: T): void =>
  unlessRefused(() =>
    sessionStorage.setItem(key, JSON.stringify({ until: Date.now() + twelveHours, data } satisfies Held<T>)),
  );

export const readPerson = (): Person => readHeld<Person>(personKey) ?? {};

export function writePerson(person: Person): void {
  const known = Object.fromEntries(Object.entries(person).filter(([, value]) => value !== undefined));
  if (Object.keys(known).length > 0) writeHeld(personKey, known);
  else unlessRefused(() => sessionStorage.removeItem(personKey));
  dispatchEvent(new CustomEvent(personChanged));
}

/** What was typed on a page for this person: the visit sheet's entries. */
export const readEntries = <T>(name: string): T | undefined => readHeld<T>(`${personKey}:${name}`);
export const writeEntries = <T>(name: string, data: T): void => writeHeld(`${personKey}:${name}`, data);

export const dropEntries = (name: string): void =>
  unlessRefused(() => sessionStorage.removeItem(`${personKey}:${name}`));

/** Everything typed goes, and with `another` someone else's comes in its place. The pages that listen start afresh. */
export function nextPerson(another: Record<string, string> = {}): void {
  unlessRefused(() => {
    for (const key of heldKeys()) sessionStorage.removeItem(key);
    Object.assign(sessionStorage, another);
  });
  dispatchEvent(new CustomEvent(personChanged, { detail: 'next' }));
}

/** A tab left open overnight is another visit in the morning. */
export const dropExpired = (): void => unlessRefused(() => heldKeys().forEach(readHeld));
