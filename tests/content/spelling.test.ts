/**
 * Spelling, without a dictionary to install: every word of our prose stands in words.txt, a list that was checked against a
 * British English dictionary (hunspell en_GB) and, where that did not know a word, by a person.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { allProse, codeProse, type Prose, pageProse, wordsIn, yamlProse } from './prose.ts';

const listFile = 'tests/content/words.txt';
const list = readFileSync(listFile, 'utf8').trimEnd().split('\n');
const known = new Set(list);

const unknown = (prose: Prose[]): string[] => {
  const seen = new Set<string>();
  return prose.flatMap(({ file, line, text }) =>
    wordsIn(text).flatMap((word) => {
      if (known.has(word) || seen.has(word)) return [];
      seen.add(word);
      return [`${file}:${line}: "${word}" is not in ${listFile}. Correct it, or add it there if it is spelt right`];
    }),
  );
};

test('every word of the handbook, its data, the calculators and the pages is spelt as in the list', () => {
  const prose = allProse();
  // The collector itself must not go blind.
  expect(prose.flatMap(({ text }) => wordsIn(text)).length).toBeGreaterThan(80_000);
  expect(unknown(prose)).toEqual([]);
});

test('a slip is seen in a page, in data and in a label, with its line', () => {
  expect(unknown(pageProse('a.mdx', '---\ntitle: The mask\n---\n\nThe mask laeks.\n'))[0]).toMatch(
    /^a\.mdx:5: "laeks"/,
  );
  expect(unknown(pageProse('a.mdx', '---\ntitle: The maks leaks\n---\n'))[0]).toMatch(/^a\.mdx:2: "maks"/);
  expect(unknown(yamlProse('b.yaml', 'one:\n  says: The mask laeks\n'))[0]).toMatch(/^b\.yaml:2: "laeks"/);
  expect(unknown(codeProse('c.ts', "\nconst label = 'The mask laeks';"))[0]).toMatch(/^c\.ts:2: "laeks"/);
});

test('American spelling is a slip here', () => {
  expect(['behavior', 'color', 'center', 'anesthesia', 'hypoxemia', 'apnea'].filter((word) => known.has(word))).toEqual(
    [],
  );
});

test('the list is sorted, and no word stands in it twice', () => {
  expect(list).toEqual([...new Set(list)].sort());
});
