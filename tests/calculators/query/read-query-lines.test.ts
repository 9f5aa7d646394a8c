/**
 * Lines as therapists type them, each with the whole structure that it must be understood to say. `lines-safety.yaml` was
 * written before the reader; of `lines-safety-held.yaml`, which nobody looks at while changing the reader, only the share
 * that is right is asked.
 */
import { describe, expect, test } from 'vitest';
import { measures } from '../evaluate/setup.ts';
import { type Line, linesOf, wrong } from './lines.ts';

const open = linesOf('lines-safety');
const held = linesOf('lines-safety-held');

const classes = linesOf('lines-classes');

describe('each line of the classes: over time, asleep, how long, questions, subjects', () => {
  test.each(classes.map((entry) => [entry.line, entry] as const))('%s', (_, entry) =>
    expect(wrong(entry, true)).toEqual([]),
  );
});

describe('each line of the open corpus', () => {
  test.each(open.map((entry) => [entry.line, entry] as const))('%s', (_, entry) => expect(wrong(entry)).toEqual([]));
});

test('of the lines set aside at least nine in ten are understood to the letter', () => {
  const right = held.filter((entry) => wrong(entry).length === 0).length;
  expect(right / held.length).toBeGreaterThanOrEqual(0.9);
});

test('there are enough lines, none twice, and none is both open and set aside', () => {
  const lines = [...open, ...held].map(({ line }) => line);
  expect(open.length).toBeGreaterThanOrEqual(100);
  expect(held.length).toBeGreaterThanOrEqual(20);
  expect(lines.length).toBe(new Set(lines).size);
});

test('every sign and measure that the corpora name is one that can be asked or measured', () => {
  const named = (entry: Line) => [
    ...[...(entry.present ?? []), ...(entry.absent ?? [])].map((id) => [id, 'sign']),
    ...[...(entry.readings ?? []), ...(entry.asks ?? [])].map((words) => [words.split(' ')[0] ?? '', 'number']),
  ];
  const unknown = [...open, ...held].flatMap(named).filter(([id = '', kind]) => measures[id]?.kind !== kind);
  expect(unknown).toEqual([]);
});

test('the comparison itself sees a sign that is missing, one too many and a word that was swallowed', () => {
  const entry: Line = { line: 'als drowsy fvc 48 zzyzx', disease: 'als', readings: ['fvc-percent 48 %'] };
  const right = { ...entry, present: ['new-drowsiness-or-confusion'], not: ['zzyzx'] };
  expect(wrong(right)).toEqual([]);
  expect(wrong({ ...right, present: [] })).not.toEqual([]);
  expect(wrong({ ...right, present: ['new-drowsiness-or-confusion', 'fatigue'] })).not.toEqual([]);
  expect(wrong({ ...right, not: [] })).not.toEqual([]);
  expect(wrong({ ...right, assumed: ['room air'] })).not.toEqual([]);
});
