/** How the readings of a line were taken: posture, method, flags, by night, and whether a change is told. */

import type { Reading } from '../domain/visit.ts';
import { type Concept, phrase, takeConcepts } from './concepts.ts';
import { changedOver, changeWords, flagWords, methodWords, nightWords } from './query-words.ts';
import type { Gas } from './supports.ts';
import { type Scanner, type Taken, whole } from './text.ts';

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
  /** place of the posture in the line: with two numbers it belongs to one of them */
  postureAt: number;
  method: string | undefined;
  change: 'fall' | 'rise' | undefined;
  overTime: boolean;
  nights: Taken[];
}

export type Flag = readonly string[];

const flagTable = flagWords.map(([words, ids]) => ({ pattern: phrase(words), what: ids }));
export const takeFlags = (scan: Scanner): Concept<Flag>[] => takeConcepts(scan, flagTable);

const night = whole(nightWords);
const overTimeWords = whole(changedOver);
const lyingWords = /\b(?:lying flat|lying down|supine|lying|flat)\b/;
const sittingWords = /\b(?:sitting|upright|seated)\b/;

export function takeConditions(scan: Scanner): Conditions {
  // A method can be part of the measure's own name, which is no longer in the rest.
  const method = methodWords.find(([pattern]) => pattern.test(scan.text));
  if (method) scan.take(method[0]);
  const nights: Taken[] = [];
  for (let match = night.exec(scan.rest); match; match = night.exec(scan.rest))
    nights.push(scan.cut(match.index, match.index + match[0].length));
  const lying = scan.take(lyingWords);
  const sitting = scan.take(sittingWords);
  // 'dropped to 84' tells a value, 'dropped 12' a fall.
  for (const [pattern] of changeWords)
    scan.take(new RegExp(`(?<![a-z0-9])(?:${pattern.source})[ |]*(?<=[ |])to(?![a-z])`));
  const change = changeWords.find(([pattern]) => scan.take(whole(pattern)))?.[1];
  return {
    posture: lying ? 'supine' : sitting ? 'upright' : undefined,
    postureAt: (lying ?? sitting)?.index ?? 0,
    method: method?.[1],
    change,
    overTime: overTimeWords.test(scan.text),
    nights,
  };
}
