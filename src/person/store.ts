/**
 * The one person in hand. Held in this tab only (session storage goes when the tab closes), for twelve hours at most;
 * 'next person' clears everything typed for the last one. Nothing is sent anywhere.
 */
import type { Person } from '../../calculators/criteria/person.ts';

const personKey = 'tidemark:person';
/** everything typed for this person starts with this, so that one sweep clears it */
const prefix = 'tidemark:person';
const hours = 12;
export const personChanged = 'tidemark:person-changed';

interface Held<T> {
  until: number;
  data: T;
}

/** @returns undefined when nothing is held, it has expired, or the browser keeps no session storage */
function readHeld<T>(key: string): T | undefined {
  try {
    const text = sessionStorage.getItem(key);
    if (text === null) return undefined;
    const held: Held<T> = JSON.parse(text);
    if (typeof held.until === 'number' && held.until > Date.now()) return held.data;
    nextPerson();
  } catch {
    // private windows can refuse storage; the page then works for as long as it is open
  }
  return undefined;
}

function writeHeld<T>(key: string, data: T): void {
  try {
    sessionStorage.setItem(key, JSON.stringify({ until: Date.now() + hours * 3_600_000, data } satisfies Held<T>));
  } catch {
    // as above
  }
}

export const readPerson = (): Person => readHeld<Person>(personKey) ?? {};

export function writePerson(person: Person): void {
  const known = Object.fromEntries(Object.entries(person).filter(([, value]) => value !== undefined));
  if (Object.keys(known).length > 0) writeHeld(personKey, known);
  else sessionStorage.removeItem(personKey);
  dispatchEvent(new CustomEvent(personChanged));
}

/** What was typed on a page for this person: the visit sheet's entries. */
export const readEntries = <T>(name: string): T | undefined => readHeld<T>(`${prefix}:${name}`);
export const writeEntries = <T>(name: string, data: T): void => writeHeld(`${prefix}:${name}`, data);

export function nextPerson(): void {
  try {
    for (const key of Object.keys(sessionStorage)) if (key.startsWith(prefix)) sessionStorage.removeItem(key);
  } catch {
    // as above
  }
  dispatchEvent(new CustomEvent(personChanged, { detail: 'next' }));
}

/** A tab left open overnight is another visit in the morning. */
export function dropExpired(): void {
  try {
    for (const key of Object.keys(sessionStorage)) if (key.startsWith(prefix)) readHeld(key);
  } catch {
    // as above
  }
}
