import { expect, test } from 'vitest';
import { ended } from '../../src/learn/ended.ts';

test('an answer gets a full stop before its reason, unless it ends in a sign of its own', () => {
  expect(ended('71 %')).toBe('71 %.');
  expect(ended('How is the person right now?')).toBe('How is the person right now?');
  expect(ended('"She asks what can be done."')).toBe('"She asks what can be done."');
  expect(ended('"Sniff not done, nose blocked"')).toBe('"Sniff not done, nose blocked".');
});
