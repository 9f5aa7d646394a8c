/** How the readings of a line were taken: posture, method, flags, by night, and whether a change is told. */

import type { Reading } from '../domain/visit.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import type { Gas } from './supports.ts';
import type { Scanner, Taken } from './text.ts';
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

export interface Conditions {
  posture: Reading['posture'];
  /** each with its place: with two numbers it belongs to one of them */
  postures: { posture: NonNullable<Reading['posture']>; at: number; end: number }[];
  method: string | undefined;
  change: 'fall' | 'rise' | undefined;
  /** end of the word that tells the change */
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

const patterns = madeOnce(({ manner, methods, changes, phrase }) => ({
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
    methods,
    changes,
  } = patterns(scan.words);
  const method = methods.find(({ pattern }) => pattern.test(scan.text));
  if (method) scan.take(method.pattern);
  const nights: Taken[] = [];
  for (let match = night.exec(scan.rest); match; match = night.exec(scan.rest))
    nights.push(scan.cut(match.index, match.index + match[0].length));
  const awake = nights.length > 0 ? takeEach(scan, awakeWords) : [];
  const lying = scan.take(lyingWords);
  const sitting = scan.take(sittingWords);
  // 'dropped to 84' tells a value, 'dropped 12' a fall.
  for (const { to } of changes) scan.take(to);
  const changed = firstChange(scan, changes);
  return {
    posture: lying ? 'supine' : sitting ? 'upright' : undefined,
    method: method?.method,
    change: changed?.change,
    changeEnd: changed?.match ? changed.match.index + changed.match[0].length : 0,
    overTime: overTime.test(scan.text),
    nights,
    awake,
    postures: [...(lying ? [placeOf('supine', lying)] : []), ...(sitting ? [placeOf('upright', sitting)] : [])],
  };
}

const placeOf = (posture: NonNullable<Reading['posture']>, match: RegExpExecArray) => ({
  posture,
  at: match.index,
  end: match.index + match[0].length,
});

const takeEach = (scan: Scanner, pattern: RegExp): Taken[] => {
  const found: Taken[] = [];
  for (let match = pattern.exec(scan.rest); match; match = pattern.exec(scan.rest))
    found.push(scan.cut(match.index, match.index + match[0].length));
  return found;
};

function firstChange(scan: Scanner, changes: readonly { pattern: RegExp; change: 'fall' | 'rise' }[]) {
  for (const { pattern, change } of changes) {
    const match = scan.take(pattern);
    if (match) return { change, match };
  }
  return undefined;
}
