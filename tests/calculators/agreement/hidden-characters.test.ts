/** Characters that cannot be seen: refused where they could change how a number or a name reads, and taken where a script needs them. */
import { expect, test } from 'vitest';
import { hiddenCharacter } from '../../../calculators/agreement/agreement.ts';

test.each([
  ['an Arabic letter mark before a number', '\u061c50 %'],
  ['a joiner between digits', '5\u200d0 %'],
  ['a joiner in a Latin word', 'clin\u200dic'],
  ['a joiner at the end', '\u0915\u200d'],
  ['a non-joiner before a Latin letter', '\u0645\u200ca'],
  ['an override of direction', 'FVC \u202e05'],
  ['a soft hyphen', 'cli\u00adnic'],
])('%s is hidden', (_, text) => {
  expect(hiddenCharacter.test(text)).toBe(true);
});

test.each([
  ['a joiner in a Sinhala word', '\u0dc1\u0dca\u200d\u0dbb\u0dd3'],
  ['a joiner in a family of signs', '\u{1f469}\u200d\u{1f467}'],
  ['a non-joiner in a Persian word', '\u0645\u06cc\u200c\u0634\u0648\u062f'],
  ['plain text with accents', 'Clinique d\u2019\u00e9t\u00e9, 50 %'],
])('%s is not', (_, text) => {
  expect(hiddenCharacter.test(text)).toBe(false);
});
