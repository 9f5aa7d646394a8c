/**
 * Phrases that made a native-speaking reader stop. None of them may come back, in what a reader sees or in a comment. The
 * list grows: add a phrase here in the commit that rewrites it. Rules and examples: DEVELOPERS.md.
 */
import { globSync, readFileSync } from 'node:fs';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { allProse, type Prose } from './prose.ts';

interface Phrase {
  words: RegExp;
  instead: string;
  /** only in these files: elsewhere the words have another meaning */
  only?: RegExp;
}

const shown = /^(?:content|src|calculators)\//;

/** Each phrase with what to write instead. */
const phrases: Phrase[] = [
  { words: /\bby lot\b/i, instead: 'randomised, at random' },
  { words: /\bforet(?:old|ells?|elling)\b/i, instead: 'predicted' },
  { words: /\bmend(?:s|ed|ing)?\b/i, instead: 'fix, correct' },
  { words: /\bthe own\b/i, instead: 'their own, its own' },
  { words: /\b(?:went|goes) with\b(?! (?:them|you|the person))/i, instead: 'was associated with', only: /^content\// },
  { words: /\bclears? nobody\b/i, instead: 'rules nothing out' },
  { words: /\bmakes? nobody safe\b/i, instead: 'does not mean that someone is safe' },
  { words: /\bno breath for a sentence\b/i, instead: 'too breathless to finish a sentence' },
  { words: /\bborne\b/i, instead: 'tolerated' },
  { words: /\bsomebody\b/i, instead: 'someone' },
  { words: /\blung that burst\b/i, instead: 'pneumothorax' },
  { words: /\b(?:has|have) a blood gas taken\b/i, instead: 'recommends a blood gas' },
  { words: /\b(?:machine|alarm|device|ventilator|meter)s? complain(?:s|ed)?\b/i, instead: 'alarms, reports' },
  { words: /\bwith (?:their|its) clothes on\b/i, instead: 'with its conditions' },
  { words: /(?<!\bUSB )\b(?:the|memory|straight from a) stick\b/i, instead: 'USB stick' },
  { words: /\bin vain\b/i, instead: 'without result' },
  { words: /\b(cannot tell|common practice|not yet checked)[.:,;]? \1\b/i, instead: 'say it once' },
  { words: /\bshow both\.(?:\s|$)/i, instead: 'an author’s note: leave it out', only: /^content\/handbook\// },
  { words: /\?\.(?:\s|$)/, instead: 'one full stop or one question mark', only: shown },
  { words: /\bheld against\b(?! your)/i, instead: 'compared with' },
  {
    words: /\bas summarised\b|\bwas not read\b/i,
    instead: 'say it where the source is described',
    only: /^content\/handbook\//,
  },
  { words: /\bonly to refuse\b/i, instead: 'used only to check that' },
  {
    words: /\bfrom memory,? (?:and )?unchecked\b|\bchecked (?:at source|in a summary)\b/i,
    instead: 'not yet checked, read at source, read in a summary',
  },
];

const offences = (prose: Prose[]): string[] =>
  prose.flatMap(({ file, line, text }) =>
    phrases.flatMap(({ words, instead, only }) => {
      const found = only && !only.test(file) ? undefined : words.exec(text)?.[0];
      return found === undefined ? [] : [`${file}:${line}: "${found.trim()}". Write: ${instead}`];
    }),
  );

/** Comments of TypeScript, by its own scanner, so that a string with two slashes is no comment. */
function codeComments(file: string): Prose[] {
  const text = readFileSync(file, 'utf8');
  const scanner = ts.createScanner(ts.ScriptTarget.Latest, false, ts.LanguageVariant.Standard, text);
  const found: Prose[] = [];
  for (let kind = scanner.scan(); kind !== ts.SyntaxKind.EndOfFileToken; kind = scanner.scan())
    if (kind === ts.SyntaxKind.SingleLineCommentTrivia || kind === ts.SyntaxKind.MultiLineCommentTrivia)
      found.push({
        file,
        line: text.slice(0, scanner.getTokenStart()).split('\n').length,
        text: scanner.getTokenText(),
      });
  return found;
}

const hashComments = (file: string): Prose[] =>
  readFileSync(file, 'utf8')
    .split('\n')
    .flatMap((text, index) => (/^\s*#/.test(text) ? [{ file, line: index + 1, text }] : []));

const comments = (): Prose[] => [
  ...globSync('{calculators,src,tests}/**/*.{ts,tsx}').sort().flatMap(codeComments),
  ...globSync('content/**/*.yaml').sort().flatMap(hashComments),
];

test('no phrase that made a reader stop is left in what a reader sees', () => {
  expect(offences(allProse())).toEqual([]);
});

test('nor in a comment', () => {
  const found = comments();
  // The collector itself must not go blind.
  expect(found.length).toBeGreaterThan(1500);
  // The list itself names them.
  expect(offences(found.filter(({ file }) => !file.endsWith('phrases.test.ts')))).toEqual([]);
});

test('a phrase is seen, with its line and what to write', () => {
  const file = 'content/handbook/a.mdx';
  expect(offences([{ file, line: 3, text: 'A good one clears nobody.' }])).toEqual([
    `${file}:3: "clears nobody". Write: rules nothing out`,
  ]);
  expect(offences([{ file, line: 3, text: 'Is it on?. Call.' }])).toHaveLength(1);
  expect(offences([{ file, line: 3, text: 'Cannot tell. Cannot tell: no reading.' }])).toHaveLength(1);
  expect(offences([{ file, line: 3, text: 'Copy it to the USB stick. The valve sticks.' }])).toEqual([]);
});
