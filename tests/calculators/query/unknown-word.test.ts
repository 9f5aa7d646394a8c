/**
 * A word that nobody knows, at the end of a clause, takes nothing from what is understood of the rest: after every phrase of
 * the word files, and in every clause of the corpora. A "no" right before it is said of the word.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import type { WordFiles } from '../../../calculators/query/word-files.ts';
import { linesOf, said } from './lines.ts';
import { samplesOf } from './phrase-samples.ts';

const file = <Name extends keyof WordFiles>(name: Name): WordFiles[Name] =>
  parse(readFileSync(`content/words/${name}.yaml`, 'utf8'));
const { parts } = file('parts');
const supports = file('supports');
const { negation } = file('negation');

const namesOfSupports = ['niv', 'cough assist', 'peg'];
const samples = (phrases: readonly string[], lead = '', name = 'niv'): string[] =>
  phrases
    .flatMap((phrase) => samplesOf(phrase, { ...parts, NAME: [name] }))
    .filter((text) => text !== '')
    .map((text) => lead + text);
const allOf = (rows: readonly { say: string[] }[], lead = ''): string[] =>
  rows.flatMap(({ say }) => samples(say, lead));

const phrases = [
  ...allOf(file('signs').signs),
  ...allOf(file('diseases').diseases),
  ...namesOfSupports.flatMap((name) => supports.supportFrames.flatMap(({ say }) => samples(say, '', name))),
  ...samples(supports.offSupport),
  ...allOf(supports.wishes),
  ...allOf(file('oxygen').oxygen),
  ...samples(file('oxygen').air),
  ...allOf(file('readings').flags, 'snip 40 '),
  ...allOf(file('readings').methods, 'co2 50 '),
  ...allOf(file('people').sexes),
  ...samples([...negation.goneAfter, ...negation.deniedAfter], 'headache '),
  ...allOf(file('topics').topics),
];
const lines = ['lines', 'lines-unseen', 'lines-classes', 'lines-safety'].flatMap((name) =>
  linesOf(name).map(({ line }) => line),
);

/** With the word at the end, and at the end of each clause. */
const places = (line: string, word: string): string[] => [
  `${line} ${word}`,
  ...[...line.matchAll(/, /g)].map(({ index }) => `${line.slice(0, index)} ${word}${line.slice(index)}`),
];
const saysNo = /(?:^| |, )(?:no|nil|not|without|zero)(?: has)? zqxvib(?:$|,)/;

/** Kinds are left out: oxygen by a device is worked out only where the line says nothing else. */
function understood(line: string): string {
  const { not: _, asked: __, assumes: ___, understands: ____, hints: _____, ...rest } = said(line);
  return rest.kind === undefined ? JSON.stringify(rest) : 'no visit';
}
const isSum = (line: string): boolean => said(line).kind === 'sum';

function changed(all: readonly string[], tried: (line: string) => string[]): string[] {
  return [...new Set(all)]
    .filter((line) => !isSum(line))
    .flatMap((line) => {
      const before = understood(line);
      return tried(line).filter((text) => !saysNo.test(text) && understood(text) !== before);
    });
}

test('after every phrase of the word files', () => {
  expect(phrases.length).toBeGreaterThan(2000);
  expect(changed(phrases, (line) => [`${line} zqxvib`])).toEqual([]);
}, 300_000);

test('at the end of every clause of the corpora', () => {
  expect(changed(lines, (line) => places(line, 'zqxvib'))).toEqual([]);
}, 300_000);

test('a word of courtesy at the end of a line changes nothing', () => {
  const some = [...phrases, ...lines].filter((_, at) => at % 5 === 0);
  expect(changed(some, (line) => [`${line} please`])).toEqual([]);
}, 300_000);

test('a "no" before a word that nobody knows denies that word', () => {
  for (const line of ['breathless no zqxvib', 'drowsy not zqxvib', 'als headache without zqxvib'])
    expect(Object.values(said(line).absent ?? [])).toEqual([]);
});
