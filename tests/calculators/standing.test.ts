import { expect, test } from 'vitest';
import { standingAfter } from '../../calculators/standing.ts';

test('how a source was checked is said after its name, and once only', () => {
  expect(standingAfter('NICE NG42', 'checked')).toBe(', read at source');
  expect(standingAfter('Home oximetry practice', 'common-practice')).toBe(', common practice');
  expect(standingAfter('Common practice', 'common-practice')).toBe('');
  expect(standingAfter('Canada ALS 2020', 'from-memory')).toBe(
    '; we have not yet checked this criterion in the original',
  );
});
