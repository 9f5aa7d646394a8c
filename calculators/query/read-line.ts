/**
 * A whole typed line: the calculations it names, and the rest of it read as a visit. What a calculation takes (the length of
 * a forearm, the gauge of a cylinder) is not read again as something else.
 */
import type { AskedReading, AskedVisit, Query } from './asked.ts';
import type { Calculations } from './calculation-words.ts';
import { takeCalculations } from './calculations.ts';
import { plain } from './text.ts';

/** One reading is a visit with nothing else in it. */
export const visitOfReading = (asked: AskedReading): AskedVisit => ({
  kind: 'visit',
  signs: {},
  supports: {},
  wishes: [],
  asks: [],
  hints: [],
  others: [],
  dangers: [],
  because: {},
  person: asked.person,
  readings: { [asked.measure]: asked.reading },
  parts: [asked],
  understood: asked.told,
  assumed: asked.assumed,
  notUnderstood: asked.unused,
});

/** @param read  reads a line without calculations: as what it is, and as a visit whatever it says */
export function readLine(
  line: string,
  read: { line: (line: string) => Query; visit: (line: string) => AskedVisit },
  words: Calculations,
): Query {
  const { taken, rest, peeked } = takeCalculations(plain(line), words);
  if (taken.length === 0) return read.line(line);
  const visit = read.visit(rest);
  const known = new Set(peeked.flatMap((piece) => [piece, ...piece.split(' ')]));
  return { ...visit, taken, notUnderstood: visit.notUnderstood.filter((word) => !known.has(word)) };
}
