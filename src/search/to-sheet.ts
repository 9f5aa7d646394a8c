/** A typed line becomes the start of a visit: what was understood goes to the fields of the visit sheet. */
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { type Entries, type Entry, noEntries } from '../islands/visit/entries.ts';
import { nextPerson, readEntries, readPerson, writeEntries, writePerson } from '../person/store.ts';
import { choice, replace } from './choice.ts';

/** Goes to the sheet. Where it already holds someone, the reader says first whether this is the same person. */
export function toSheet(asked: AskedVisit, base: string, button: HTMLElement): void {
  const go = () => {
    write(asked);
    location.href = `${base}visit/`;
  };
  const inHand = readEntries<Entries>('visit') !== undefined || Object.keys(readPerson()).length > 0;
  if (!inHand) {
    go();
    return;
  }
  replace(
    button,
    choice(
      'The visit sheet already holds someone. Is this the same person?',
      [
        ['Same person: add this', () => go()],
        [
          'Someone else: clear the sheet first',
          () => {
            nextPerson();
            go();
          },
        ],
      ],
      (pick) => pick(),
    ),
  );
}

function write({ person: { child: _, ...person }, readings, signs, supports, wishes }: AskedVisit): void {
  const before = { ...noEntries(), ...readEntries<Entries>('visit') };
  const typed: Record<string, Entry> = Object.fromEntries(
    Object.entries(readings).map(([id, { value, unit, gas, posture, method, flags }]) => [
      id,
      {
        text: String(value),
        unit,
        ...(gas ? { gas } : {}),
        ...(posture ? { posture } : {}),
        ...(method ? { method } : {}),
        ...(flags ? { flags: [...flags] } : {}),
      },
    ]),
  );
  writePerson({ ...readPerson(), ...person });
  writeEntries<Entries>('visit', {
    ...before,
    readings: { ...before.readings, ...typed },
    signs: { ...before.signs, ...signs },
    supports: { ...before.supports, ...supports },
    wishes: [...new Set([...before.wishes, ...wishes])],
  });
}
