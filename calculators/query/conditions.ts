/** How the readings of a line were taken: posture, method, flags, by night, and whether a change is told. */

import type { Reading } from '../domain/visit.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import type { Gas, Support } from './supports.ts';
import { type Scanner, type Taken, takeAll } from './text.ts';
import { madeOnce } from './vocabulary.ts';

/** What is said about one reading, once it is known which. */
export interface Said {
  gas: Gas | undefined;
  /** what was read into it about the gas */
  gasAssumed: string | undefined;
  posture: Reading['posture'];
  method: string | undefined;
  flags: ReadonlySet<string>;
  change: 'fall' | 'rise' | undefined;
  /** the change came over days or months, not on lying down */
  overTime: boolean;
}

export interface PosturePlace {
  at: number;
  posture: NonNullable<Reading['posture']>;
}

export interface Conditions {
  /** each with its place in the line: with two numbers it belongs to one of them */
  postures: PosturePlace[];
  method: string | undefined;
  change: 'fall' | 'rise' | undefined;
  overTime: boolean;
  nights: Taken[];
}

export type Flag = readonly string[];

const flagTable = madeOnce(({ flags, phrase }) =>
  flags.map(({ words, flags: ids }) => ({ pattern: phrase(words), what: ids })),
);
export const takeFlags = (scan: Scanner): Concept<Flag>[] => takeConcepts(scan, flagTable(scan.words));

/** 'off niv 20 minutes' was read as support: it is a flag of the test as well. */
export function offFlags(supports: readonly Concept<Support>[], scan: Scanner): Concept<Flag>[] {
  return supports.flatMap(({ what, at }) => {
    if (what.kind !== 'off') return [];
    const from = scan.text.lastIndexOf(';', at) + 1;
    const clause = scan.text.slice(from).split(';', 1)[0] ?? '';
    return flagTable(scan.words).flatMap(({ pattern, what: flag }) => {
      const found = pattern.exec(clause);
      const start = from + (found?.index ?? 0);
      const includes = found && start <= at && start + found[0].length > at;
      return includes ? [{ ...scan.cut(start, start + found[0].length), what: flag }] : [];
    });
  });
}

const patterns = madeOnce(({ manner, methods, changes, units, phrase, filled }) => ({
  going: new RegExp(
    `(?<=\\d(?: ?(?:${units.map(({ words }) => filled(words)).join('|')}))? )(?:${filled(manner.going)})(?![a-z]| ?-?\\d| (?:by|to|from) )`,
  ),
  night: phrase(manner.night),
  overTime: phrase(manner.overTime),
  lying: phrase(manner.lying),
  sitting: phrase(manner.sitting),
  methods: methods.map(({ words, method }) => ({ pattern: phrase(words), method })),
  changes: changes.map(({ words, change }) => ({
    change,
    pattern: phrase(words),
    to: new RegExp(`(?<![a-z0-9])(?:${words})[ |]*(?<=[ |])to(?![a-z])`),
  })),
}));

export function takeConditions(scan: Scanner): Conditions {
  // A method can be part of the measure's own name, which is no longer in the rest.
  const { night, overTime, lying: lyingWords, sitting: sittingWords, going, methods, changes } = patterns(scan.words);
  const method = methods.find(({ pattern }) => pattern.test(scan.text));
  if (method) scan.take(method.pattern);
  const nights: Taken[] = [];
  for (let match = night.exec(scan.rest); match; match = night.exec(scan.rest))
    nights.push(scan.cut(match.index, match.index + match[0].length));
  const postures = [
    ...takeAll(scan, lyingWords).map(({ index }) => ({ at: index, posture: 'supine' as const })),
    ...takeAll(scan, sittingWords).map(({ index }) => ({ at: index, posture: 'upright' as const })),
  ].sort((a, b) => a.at - b.at);
  scan.take(going);
  // 'dropped to 84' tells a value, 'dropped 12' a fall.
  for (const { to } of changes) scan.take(to);
  const change = changes.find(({ pattern }) => scan.take(pattern))?.change;
  return {
    postures,
    method: method?.method,
    change,
    overTime: overTime.test(scan.text),
    nights,
  };
}
