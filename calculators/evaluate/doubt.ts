/**
 * What a flagged reading can show. One rule, here and nowhere else: a flag says which way a test errs, and a reading shows
 * only what that error cannot have made. A leak reads low, so it can show "not below"; "below" is then said as what was
 * read, with the flag, and never plainly.
 */
import type { Condition } from '../domain/criterion.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import type { Truth } from './logic.ts';

export type Way = 'low' | 'high' | 'either';

interface OneFlag {
  id: string;
  label: string;
  reads: Way;
}

const flagsOf = (measure: Measure | undefined): readonly OneFlag[] => (measure?.kind === 'number' ? measure.flags : []);

/**
 * Each flag of a reading, with the way it errs. Of a value computed from two others nobody knows the way: a leak reads
 * low, but whether the fall it gives reads high or low depends on which of the two leaked.
 */
export function flagsWithWays({ flags = [], from = [] }: Reading, measure: Measure, measures: Measures): OneFlag[] {
  if (flags.length === 0) return [];
  const taken = measure.kind === 'number' ? (measure.readFrom?.measures ?? []) : [];
  const own = from.length > 1 ? [] : [measure, ...taken.map((id) => measures[id])].flatMap(flagsOf);
  const behind = [...from.map((id) => measures[id]), measure].flatMap(flagsOf);
  return flags.map((id) => {
    const known = own.find((flag) => flag.id === id);
    const label = (known ?? behind.find((flag) => flag.id === id))?.label ?? id;
    return { id, label, reads: known?.reads ?? 'either' };
  });
}

/**
 * The ways in which an answer may be wrong because of what was flagged: 'low' for a "below" from a test that leaked.
 * Empty where the error would have made the other answer, so that this one holds all the more.
 */
export function doubtsIn(
  truth: Truth,
  comparator: Condition['comparator'],
  reading: Reading,
  measure: Measure,
  measures: Measures,
): Way[] {
  if (truth === 'cannot-tell' || !reading.flags?.length) return [];
  const below = comparator.startsWith('<');
  const towards: Way = (truth === 'met') === below ? 'low' : 'high';
  const ways = flagsWithWays(reading, measure, measures).map(({ reads }) => reads);
  return [...new Set(ways)].filter((way) => way === towards || way === 'either');
}

/** 'the true value may be higher' */
export const trueValueWords = (ways: readonly Way[]): string =>
  `the true value may be ${ways.includes('either') ? 'higher or lower' : ways.includes('low') ? 'higher' : 'lower'}`;
