/** What a match can begin with is never too little: a pattern that is not run would not have matched. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { beginningsOf, mayStand } from '../../../calculators/query/beginnings.ts';
import { vocabulary } from './lines.ts';

/** Every text of the vocabulary that can be read as a pattern. */
function patternsIn(value: unknown): RegExp[] {
  if (typeof value === 'string') {
    try {
      return [vocabulary.phrase(value)];
    } catch {
      return [];
    }
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(patternsIn);
}

const patterns = [...new Set(patternsIn({ ...vocabulary, parts: {}, names: {} }))];
const lines: { line: string }[] = parse(readFileSync('tests/reference/lines.yaml', 'utf8'));
const typed = lines.map(({ line }) => line.toLowerCase());

/** Patterns that would match a text and would not be run on it. */
const missed = (text: string): string[] =>
  patterns.filter((pattern) => pattern.test(text) && !mayStand(pattern, text)).map(({ source }) => source);

describe('a pattern that matches is run', () => {
  test('there are patterns and lines to try', () => {
    expect(patterns.length).toBeGreaterThan(400);
    expect(typed.length).toBeGreaterThan(300);
  });

  test('on every third line of the reference', () => {
    expect(typed.filter((_, at) => at % 3 === 0).flatMap(missed)).toEqual([]);
  });

  test('on pieces of lines in any order', () => {
    const words = typed.flatMap((line) => line.split(' '));
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...words), { minLength: 1, maxLength: 8 }), (some) => {
        expect(missed(some.join(' '))).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

test('most patterns need not run on a short line', () => {
  const run = patterns.filter((pattern) => mayStand(pattern, 'sniff 38'));
  expect(run.length).toBeLessThan(patterns.length / 4);
});

test.each([
  [/abc|abd/, ['abc', 'abd']],
  [/(?<![a-z])(?:not )*weak/, ['wea', 'not']],
  [/colou?r/, ['col']],
  [/b[- ]?pap/, ['b-p', 'b p', 'bpa']],
  [/(?<flow>o2) on/, ['o2 ']],
  [/ab{2}c/, ['ab']],
  [/x+y/, ['x']],
])('%s begins as it does', (pattern, texts) => {
  expect(beginningsOf(pattern)?.sort()).toEqual([...texts].sort());
});

test.each([/\d+ kg/, /a?/, /.x/, /[a-z]b/, /abc/i, /(?=ab)/])('%s can begin with anything', (pattern) => {
  expect(beginningsOf(pattern)).toBeUndefined();
});
