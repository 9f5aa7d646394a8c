import fc from 'fast-check';
import { expect, test } from 'vitest';
import { editDistance, withinSlips } from '../../calculators/edit-distance.ts';

test.for([
  ['snip', 'snip', 0],
  ['spin', 'snip', 2],
  ['snpi', 'snip', 1],
  ['sni', 'snip', 1],
  ['snipp', 'snip', 1],
  ['slip', 'snip', 1],
  ['', 'snip', 4],
  ['bicarbonat', 'bicarbonate', 1],
  ['bicrabonat', 'bicarbonate', 2],
] as const)('from %s to %s: %i', ([typed, meant, slips]) => {
  expect(editDistance(typed, meant)).toBe(slips);
  expect(withinSlips(typed, meant, slips)).toBe(true);
  expect(withinSlips(typed, meant, slips - 1)).toBe(false);
});

test('one slip anywhere in a word is at most one; the way back is as long', () => {
  const word = fc.string({ minLength: 2, maxLength: 12, unit: fc.constantFrom(...'abcde') });
  fc.assert(
    fc.property(word, word, fc.nat(), fc.constantFrom('add', 'drop', 'change', 'swap'), (meant, other, place, how) => {
      const at = place % (meant.length - 1);
      const [before, a = '', b = '', after] = [meant.slice(0, at), meant[at], meant[at + 1], meant.slice(at + 2)];
      const slipped = { add: `${a}x${b}`, drop: a, change: `x${b}`, swap: b + a }[how];
      expect(editDistance(before + slipped + after, meant)).toBe(slipped === a + b ? 0 : 1);
      expect(editDistance(meant, other)).toBe(editDistance(other, meant));
    }),
  );
});
