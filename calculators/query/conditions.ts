/** How the readings of a line were taken: posture, method, flags, by night, and whether a change is told. */

import type { Reading } from '../domain/visit.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import type { Gas, Support } from './supports.ts';
import { cutAll, type Scanner, type Taken } from './text.ts';
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

/** A number about which the line says nothing. */
export const nothingSaid: Said = {
  gas: undefined,
  gasAssumed: undefined,
  posture: undefined,
  method: undefined,
  flags: new Set(),
  change: undefined,
  overTime: false,
};

export interface PosturePlace {
  at: number;
  end: number;
  posture: NonNullable<Reading['posture']>;
}

export interface Conditions {
  /** each with its place in the line: with two numbers it belongs to one of them */
  postures: PosturePlace[];
  method: string | undefined;
  change: 'fall' | 'rise' | undefined;
  /** where the word that tells the change begins and ends */
  changeAt: number;
  changeEnd: number;
  overTime: boolean;
  nights: Taken[];
  /** 'awake', beside a night */
  awake: Taken[];
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
  awake: phrase(manner.awake),
  methods: methods.map(({ words, method }) => ({ pattern: phrase(words), method })),
  changes: changes.map(({ words, change }) => ({
    change,
    pattern: phrase(words),
    to: new RegExp(`(?<![a-z0-9])(?:${words})[ |]*(?<=[ |])to(?![a-z])`),
  })),
}));

export function takeConditions(scan: Scanner): Conditions {
  // A method can be part of the measure's own name, which is no longer in the rest.
  const {
    night,
    overTime,
    lying: lyingWords,
    sitting: sittingWords,
    awake: awakeWords,
    going,
    methods,
    changes,
  } = patterns(scan.words);
  const method = methods.find(({ pattern }) => pattern.test(scan.text));
  if (method) scan.take(method.pattern);
  const nights = cutAll(scan, night);
  const awake = nights.length > 0 ? cutAll(scan, awakeWords) : [];
  const postures = [...placesOf(scan, sittingWords, 'upright'), ...placesOf(scan, lyingWords, 'supine')].sort(
    (a, b) => a.at - b.at,
  );
  scan.take(going);
  // 'dropped to 84' tells a value, 'dropped 12' a fall.
  for (const { to } of changes) scan.take(to);
  const changed = firstChange(scan, changes);
  return {
    postures,
    method: method?.method,
    change: changed?.change,
    changeAt: changed?.match.index ?? 0,
    changeEnd: changed?.match ? changed.match.index + changed.match[0].length : 0,
    overTime: overTime.test(scan.text),
    nights,
    awake,
  };
}

const placesOf = (scan: Scanner, pattern: RegExp, posture: PosturePlace['posture']): PosturePlace[] =>
  cutAll(scan, pattern).map(({ at, end }) => ({ posture, at, end }));

function firstChange(scan: Scanner, changes: readonly { pattern: RegExp; change: 'fall' | 'rise' }[]) {
  for (const { pattern, change } of changes) {
    const match = scan.take(pattern);
    if (match) return { change, match };
  }
  return undefined;
}
