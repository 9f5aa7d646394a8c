/**
 * Every line of the independent corpus is understood to the letter, but for a list of lines that are not yet: each has its
 * reason, and a line that has become right must leave the list. So the list can only shrink.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type StructuredLine, structureFaults } from './line-structure.ts';

const lines: StructuredLine[] = parse(readFileSync('tests/reference/lines.yaml', 'utf8'));

const notYet: Readonly<Record<string, string>> = {
  'no resp symptoms, mnd, snip 44 m': 'a lone m after a number can be metres; the sex is not taken from it',
  'als 62/41 sitting/supine fvc drop':
    'both values are read; the calculation of the fall takes litres, and the criteria work it out from per cent themselves',
  'fvc 1.8 L woman 60 percent predicted': '"60 percent predicted" is read as the per cent, which it can be',
  'dmd 14 fvc 62 pcf 290 sats 97 air walking no symptoms':
    '"walking" after a saturation says that it was taken while walking, the safer reading',
};

describe('each line of the corpus', () => {
  const understood = lines.filter(({ line }) => notYet[line] === undefined);
  test.each(understood.map((entry) => [entry.line, entry] as const))('%s', (_, entry) =>
    expect(structureFaults(entry)).toEqual([]),
  );
});

describe('a line that is not understood yet', () => {
  test.each(Object.entries(notYet))('%s: %s', (line, why) => {
    const entry = lines.find((one) => one.line === line);
    if (!entry) throw new Error('this line is not in the corpus');
    expect(why.length).toBeGreaterThan(10);
    // Right now: take it off the list.
    expect(structureFaults(entry)).not.toEqual([]);
  });
});

/**
 * Lines that the reader was not made by. They are counted and never shown: whoever reads one and makes the reader pass it
 * takes the measure away. On 2026-11-29 the reader understood 42 of 46; one may be lost to a word that helps elsewhere.
 */
test('of the lines kept apart, as many stay understood', () => {
  const held: StructuredLine[] = parse(readFileSync('tests/reference/lines-held.yaml', 'utf8'));
  expect(held.length).toBe(46);
  expect(held.filter((entry) => structureFaults(entry).length === 0).length).toBeGreaterThanOrEqual(41);
});

/**
 * A hundred more that the reader was not made by, counted and never shown. On 2026-11-30 the reader understood 80 of them; one
 * may be lost to a word that helps elsewhere.
 */
test('of the second hundred lines kept apart, as many stay understood', () => {
  const held: StructuredLine[] = parse(readFileSync('tests/reference/lines-held-2.yaml', 'utf8'));
  expect(held.length).toBe(100);
  expect(held.filter((entry) => structureFaults(entry).length === 0).length).toBeGreaterThanOrEqual(79);
});

/** A third hundred, of everyday lines: 94 understood on the first run, on 2026-11-30. One may be lost. */
test('of the third hundred lines kept apart, as many stay understood', () => {
  const held: StructuredLine[] = parse(readFileSync('tests/reference/lines-held-3.yaml', 'utf8'));
  expect(held.length).toBe(100);
  expect(held.filter((entry) => structureFaults(entry).length === 0).length).toBeGreaterThanOrEqual(93);
});

/** A fourth hundred, in many voices: 99 understood on the first run, on 2026-11-30. One may be lost. */
test('of the fourth hundred lines kept apart, as many stay understood', () => {
  const held: StructuredLine[] = parse(readFileSync('tests/reference/lines-held-4.yaml', 'utf8'));
  expect(held.length).toBe(100);
  expect(held.filter((entry) => structureFaults(entry).length === 0).length).toBeGreaterThanOrEqual(98);
});

/**
 * 67, 83, 77, 73, 85, 95, 87, 94, 98, 91, 89, 88 and 95 of each hundred on the first run. Each further line that becomes right raises this. One writer
 * takes a sleepy boy of 16 as sleepy by day; until a source says from what age, a child who is sleepy counts as newly drowsy.
 */
test('of thirteen hundred lines by writers who never saw the reader, as many are understood to the letter', () => {
  const unseen: StructuredLine[] = parse(readFileSync('tests/reference/lines-unseen.yaml', 'utf8'));
  expect(unseen).toHaveLength(1300);
  expect(unseen.filter((entry) => structureFaults(entry).length === 0).length).toBeGreaterThanOrEqual(1284);
});
