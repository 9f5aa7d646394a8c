/** The words are data: phrases become patterns, and a file that names what there is not is refused with its line. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, test } from 'vitest';
import { withinSlips } from '../../../calculators/edit-distance.ts';
import { patternOf } from '../../../calculators/query/phrases.ts';
import { vocabularyOf } from '../../../calculators/query/read-query.ts';
import { readWords } from '../../../src/build/read-words.ts';
import { readWordContent, wordsKnown } from '../../read-content.ts';
import { read } from './lines.ts';

const known = wordsKnown();

const words = readWordContent();
const found = (phrase: string, line: string): string | undefined =>
  vocabularyOf(words)
    .phrase(patternOf([phrase]))
    .exec(line)?.[0]
    .trim();

describe('a phrase', () => {
  test.each([
    ['wak(es|ing) [up] choking', 'he wakes up choking', 'wakes up choking'],
    ['wak(es|ing) [up] choking', 'waking choking now', 'waking choking'],
    ['wak(es|ing) [up] choking', 'wakes upchoking', undefined],
    ['{is|getting} weaker', 'she is getting weaker', 'is getting weaker'],
    ['{is|getting} weaker', 'weaker', 'weaker'],
    ['[very] {is|so} weak', 'very so weak', 'very so weak'],
    ['drows*', 'drowsiness', 'drowsiness'],
    ['concentrat+', 'concentrat', undefined],
    ['head~ache', 'head-ache', 'head-ache'],
    ['head~ache', 'head ache', 'head ache'],
    ['limb-girdle', 'limb girdle', 'limb girdle'],
    ['covid <not then jab>', 'covid jab', undefined],
    ['covid <not then jab>', 'covid now', 'covid'],
    ['<not after old|past> flu', 'past flu', undefined],
    ['<not after old|past> flu', 'new flu', 'flu'],
    ['skin <only then co2>', 'skin rash', undefined],
    ['skin <only then co2>', 'skin co2', 'skin'],
    ['high [p]co2', 'high pco2', 'high pco2'],
    ['high [p]co2', 'highco2', undefined],
    ['sob[oe]', 'soboe', 'soboe'],
    ['CANNOT swallow', 'unable to swallow', 'unable to swallow'],
    ['/\\d\\d ?%/', '28 %', '28 %'],
    ['n/c', 'n/c', 'n/c'],
  ])('%s in "%s"', (phrase, line, is) => expect(found(phrase, line)).toBe(is));

  test.each(['wak(es', 'wakes) up', '[up', 'a <before b>', '/(/'])('"%s" is refused', (phrase) =>
    expect(() => patternOf([phrase])).toThrow(),
  );
});

describe('the files', () => {
  const texts = Object.fromEntries(
    globSync('content/words/*.yaml').map((file) => [basename(file, '.yaml'), readFileSync(file, 'utf8')]),
  );
  const changed = (file: string, from: string | RegExp, to: string) => {
    const text = texts[file] ?? '';
    expect(text).toMatch(from);
    return () => readWords({ ...texts, [file]: text.replace(from, to) }, known);
  };

  test('are all read, and go through JSON unchanged', () => {
    expect(readWords(texts, known)).toEqual(words);
    expect(JSON.parse(JSON.stringify(words))).toEqual(words);
    expect(words.signs.length).toBeGreaterThan(80);
  });

  test.each([
    [
      'an unknown sign',
      'signs',
      'means: [ nightmares ]',
      'means: [ night-mares ]',
      /signs\.yaml:\d+: signs\.\d+\.means\.0: there is no sign "night-mares"/,
    ],
    [
      'an unknown measure',
      'readings',
      'measure: spo2',
      'measure: spo3',
      /readings\.yaml:\d+: .*there is no measure "spo3"/,
    ],
    [
      'an unknown support',
      'supports',
      'decision: cough-help',
      'decision: cough-hlep',
      /supports\.yaml:\d+: .*there is no decision "cough-hlep"/,
    ],
    [
      'an unknown disease',
      'diseases',
      'disease: pompe',
      'disease: pompey',
      /diseases\.yaml:\d+: diseases\.\d+\.disease: expected one of als, .*"pompey"/,
    ],
    [
      'an unknown page',
      'signs',
      'danger: /urgent/chest-infection/',
      'danger: /urgent/chest/',
      /signs\.yaml:\d+: .*there is no page/,
    ],
    ['an unknown flag', 'signs', 'flagFirst: tired', 'flagFirst: weary', /signs\.yaml:\d+: .*there is no flag "weary"/],
    [
      'an unknown shared part',
      'signs',
      'CANNOT [even] SWALLOW',
      'CANNOT [even] SWALOW',
      /signs\.yaml:\d+: .*no shared part "SWALOW"/,
    ],
    ['a phrase that is not closed', 'signs', 'nightmare[s]', 'nightmare(s', /signs\.yaml:\d+: .*"\)" is missing/],
    [
      'a field of another name',
      'signs',
      'childOnly: tells',
      'childonly: tells',
      /signs\.yaml:\d+: .*no field of that name/,
    ],
    [
      'a section that its page does not have',
      'topics',
      'section: How much leak is acceptable?',
      'section: How much leak?',
      /topics\.yaml:\d+: topics\.\d+\.section: \/breathing\/interface-choice-and-fit\/ has no section/,
    ],
    [
      'a topic of a page that is not there',
      'topics',
      'page: /home/alarms/',
      'page: /home/alarm/',
      /topics\.yaml:\d+: .*there is no page "\/home\/alarm\/"/,
    ],
    ['broken YAML', 'passing', /\npassing:\n/, '\npassing: [\n', /passing\.yaml:\d+: this is not YAML/],
  ])('%s is refused with its file and line', (_, file, from, to, message) => {
    expect(changed(file, from, to)).toThrow(message);
  });

  test('a line that is named is the line of the fault', () => {
    const at = (texts.signs ?? '').split('\n').findIndex((line) => line.includes('means: [ nightmares ]')) + 1;
    expect(changed('signs', 'means: [ nightmares ]', 'means: [ night-mares ]')).toThrow(`signs.yaml:${at}:`);
  });

  test('a file too many or too few is refused', () => {
    expect(() => readWords({ ...texts, slang: 'slang: []' }, known)).toThrow(/slang\.yaml/);
    const { passing: _, ...fewer } = texts;
    expect(() => readWords(fewer, known)).toThrow(/passing\.yaml is missing/);
  });
});

describe('the list for slips of the finger', () => {
  const handbook = readFileSync('tests/content/words.txt', 'utf8').split('\n');
  test('holds no word of denying, refusing or stopping: a slip must not make anything absent', () => {
    const vocabulary = vocabularyOf(words);
    const denies = ['before', 'stopping', 'goneAfter', 'deniedAfter'] as const;
    const patterns = denies.map((name) => vocabulary.phrase(words.negation[name]));
    expect(words.spelling.filter((word) => patterns.some((pattern) => pattern.exec(word)?.[0] === word))).toEqual([]);
  });
  test('takes no word of the handbook for a sign', () => {
    const near = handbook.filter(
      (word) => word.length > 4 && words.spelling.some((spelt) => spelt !== word && withinSlips(word, spelt, 2)),
    );
    expect(near.length).toBeGreaterThan(20);
    const taken = near.filter((word) => {
      const query = read(`als ${word}`);
      const told = words.spelling.map((spelt) => `\u201c${word}\u201d read as ${spelt}`);
      return query?.kind === 'visit' && query.assumed.some((one) => told.includes(one));
    });
    // The same word in another form.
    expect(taken.filter((word) => !words.spelling.some((spelt) => spelt.slice(0, 5) === word.slice(0, 5)))).toEqual([]);
  });
});

/** An alternation of words inside a pattern or a list: what belongs in content/words/. */
const wordLists = (text: string): string[] =>
  text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '').match(/[a-z]{3,}\??\|[a-z]{2,}\??\|[a-z]{2,}/g) ?? [];

test('no list of words stands in the code of the reader', () => {
  expect(wordLists('const words = /drowsy|sleepy|tired/;')).toEqual(['drowsy|sleepy|tired']);
  const files = globSync('calculators/query/*.ts').filter((file) => !file.includes('worked-out'));
  expect(files.flatMap((file) => wordLists(readFileSync(file, 'utf8')).map((list) => `${file}: ${list}`))).toEqual([]);
});
