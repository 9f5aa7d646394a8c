/** What the search says of a subject: a sentence whose numbers are named and not typed. */
import { expect, test } from 'vitest';
import { readEvidence, readFacts, readWordContent } from '../read-content.ts';

const said = readWordContent().topics.flatMap(({ id, says, saysFor = {} }) =>
  [says, ...Object.values(saysFor)].flatMap((words) => (words === undefined ? [] : [{ id, words }])),
);
const named = /\{(criterion|fact):([a-z0-9-]+)\}/g;

test('there are such sentences, and some name numbers', () => {
  expect(said.length).toBeGreaterThan(5);
  expect(said.some(({ words }) => words.includes('{fact:'))).toBe(true);
});

test('no number is typed: only the year of a source', () => {
  const plain = (words: string) => words.replace(named, '').replace(/\b[A-Z]{3,} (?:19|20)\d\d\b/g, '');
  expect(said.filter(({ words }) => /(?<![A-Za-z])\d/.test(plain(words)))).toEqual([]);
});

test('every number that is named is there, and was read', () => {
  const facts = readFacts();
  const { criteria } = readEvidence();
  const standing = (kind: string, id: string) =>
    kind === 'fact' ? facts[id]?.standing : criteria.find((one) => one.id === id)?.standing;
  const names = said.flatMap(({ words }) =>
    [...words.matchAll(named)].map(([, kind = '', id = '']) => [kind, id] as const),
  );
  expect(names.length).toBeGreaterThan(4);
  for (const [kind, id] of names)
    expect([id, ['checked', 'checked-in-summary'].includes(standing(kind, id) ?? '')]).toEqual([id, true]);
});
