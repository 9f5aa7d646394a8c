/** A slip of the finger in a sign or a disease is understood and said; an ordinary word never becomes one. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { asVisit, read, vocabulary } from './lines.ts';

const slipsIn = (line: string): string[] =>
  (asVisit(read(line))?.assumed ?? []).filter((one) => {
    const [, as] = /^\u201c[a-z]+\u201d read as ([a-z]+)$/.exec(one) ?? [];
    // '"drowsy" read as new' says what a known word was taken for.
    return as !== undefined && !vocabulary.signs.some((sign) => sign.as === as);
  });

describe('a slip of the finger', () => {
  test.each([
    ['als dypsnea fvc 60', 'breathlessness', '\u201cdypsnea\u201d read as dyspnea'],
    ['als orthopneoa fvc 60', 'orthopnoea', undefined],
    ['als hallucinatons fvc 60', 'hallucinations', undefined],
    ['als confsed sats 90', 'confusion', '\u201cconfsed\u201d read as confused'],
    ['als headahce fvc 60', 'morning-headache', '\u201cheadahce\u201d read as headache'],
  ])('%s', (line, sign, slip) => {
    const visit = asVisit(read(line));
    expect(visit?.signs[sign]).toBe('present');
    if (slip !== undefined) expect(visit?.assumed).toContain(slip);
  });

  test.each([
    ['myotonic dystrohpy fvc 60', 'dm1'],
    ['duchnene 20 fvc 30', 'dmd'],
    ['spinal muscular atropy pcf 150', 'sma'],
    ['myasthenai vc 2.1 l', 'mg'],
  ])('%s', (line, disease) => expect(asVisit(read(line))?.person.disease).toBe(disease));

  test('a measure is found by a swap of letters only right before its number', () => {
    expect(asVisit(read('als fcv 48'))?.readings['fvc-percent']?.value).toBe(48);
    expect(asVisit(read('als fcv snip 40'))?.readings['fvc-percent']).toBeUndefined();
  });
});

/** Words of the handbook, each as it stands: ordinary words and the trade's own, none of them a slip. */
const words = (): string[] => {
  const prose = globSync('content/handbook/**/*.mdx').map((file) =>
    readFileSync(file, 'utf8')
      .replace(/^---[\s\S]*?\n---/, '')
      .replace(/<[^>]*>|\{[^}]*\}|\]\([^)]*\)/g, ' '),
  );
  return [
    ...new Set(prose.flatMap((text) => text.toLowerCase().match(/(?<![a-z'\u2019-])[a-z]{3,}(?![a-z-])/g) ?? [])),
  ];
};

test('no word of the handbook is read as another, as a sign or as a disease that it does not name', () => {
  const all = words();
  expect(all.length).toBeGreaterThan(3000);
  expect(all.flatMap((word) => slipsIn(`als ${word} fvc 60`))).toEqual([]);
});
