/** A line longer than any visit, and characters that cannot be seen. */
import { describe, expect, test } from 'vitest';
import { cutLine, longestLine } from '../../../calculators/query/read-line.ts';
import { readWhole } from './line-structure.ts';

describe('a long line', () => {
  const filler = 'word '.repeat(100);

  test('is cut behind a whole word, and nothing of it is lost unsaid', () => {
    const { read, left } = cutLine(`als 62 sniff 38 ${filler}`);
    expect(read.length).toBeLessThanOrEqual(longestLine);
    expect(`${read} ${left}`).toBe(`als 62 sniff 38 ${filler}`.trim());
    expect(cutLine('a'.repeat(400)).left).toHaveLength(400 - longestLine);
    expect(cutLine('x'.repeat(longestLine))).toEqual({ read: 'x'.repeat(longestLine), left: '' });
  });

  test('is read as far as it was cut', () => {
    expect(readWhole(`als 62 sniff 38 ${filler}`)).toEqual(readWhole(cutLine(`als 62 sniff 38 ${filler}`).read));
    expect(JSON.stringify(readWhole(`${filler} sniff 38`) ?? null)).not.toContain('"snip"');
  });

  test('of 200,000 characters costs no more than a short one', () => {
    const start = performance.now();
    readWhole('sniff 38 '.repeat(22_000));
    expect(performance.now() - start).toBeLessThan(2000);
  });
});

describe('characters that cannot be seen', () => {
  test.each(['\u200b', '\u200c', '\u200d', '\u2060', '\ufeff', '\u00ad'])(
    '%j inside a word or number is passed over',
    (sign) => {
      expect(readWhole(`sn${sign}iff 3${sign}8`)).toEqual(readWhole('sniff 38'));
    },
  );

  test.each(['\u061c', '\u200e', '\u200f', '\u202e', '\u2066'])(
    '%j, which turns the direction of writing, never joins two figures',
    (sign) => {
      expect(readWhole(`sniff 3${sign}8`)).not.toEqual(readWhole('sniff 38'));
      expect(readWhole(`sniff 3${sign}8`)).not.toEqual(readWhole('sniff 83'));
    },
  );
});
