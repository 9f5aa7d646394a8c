/** A typed line becomes the start of a visit: what was understood goes to the fields of the visit sheet. */
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { inForce } from '../agreement/in-force.ts';
import { today } from '../browser/today.ts';
import { type Entries, type Entry, noEntries } from '../islands/visit/entries.ts';
import { nextPerson, readEntries, readPerson, writeEntries, writePerson } from '../person/store.ts';
import { choice, replace } from './choice.ts';

/** Goes to the sheet. Where it already holds someone, the reader says first whether this is the same person. */
export function toSheet(asked: AskedVisit, base: string, button: HTMLElement): void {
  const go = async () => {
    write(asked, await inForce().catch(() => undefined));
    location.href = `${base}visit/`;
  };
  const inHand = readEntries<Entries>('visit') !== undefined || Object.keys(readPerson()).length > 0;
  if (!inHand) {
    void go();
    return;
  }
  replace(
    button,
    choice(
      'The visit sheet already has a person on it. Is this the same person?',
      [
        ['Same person: add this', () => void go()],
        [
          'Someone else: clear the sheet first',
          () => {
            nextPerson();
            void go();
          },
        ],
      ],
      (pick) => pick(),
    ),
  );
}

/** As the sheet starts by itself: dated today, with the reference set of the clinic's agreement. */
const started = (agreement: Agreement | undefined): Entries => ({
  ...noEntries(),
  date: today(),
  ...(agreement?.referenceSet ? { prediction: { set: agreement.referenceSet, group: agreement.group } } : {}),
});

function write(
  { person: { child: _, ...person }, readings, forSheet, signs, supports, wishes }: AskedVisit,
  agreement: Agreement | undefined,
): void {
  const before = readEntries<Entries>('visit') ?? started(agreement);
  const typed: Record<string, Entry> = Object.fromEntries(
    Object.entries({ ...forSheet, ...readings }).map(([id, { value, unit, gas, posture, method, flags }]) => [
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
