/** Which published criteria a team is shown beside its own: those about the same thing in people whom both can mean. */
import { describe, expect, test } from 'vitest';
import { publishedSpan, rowsBeside } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { row } from '../evaluate/setup.ts';
import { ownCriterion, published } from './agreement-setup.ts';

const like = (more: Partial<Criterion>): Criterion =>
  ({ ...row('aan-als-fvc-lt-50'), id: 'made', ...more }) as Criterion;
const beside = (own: Parameters<typeof ownCriterion>[0], other: Partial<Criterion>): boolean =>
  rowsBeside(ownCriterion(own), { ...published, criteria: [like(other)] }).length === 1;

describe('the same people', () => {
  test.each([
    ['adult', 'adult', true],
    ['adult', 'child', false],
    ['child', 'adult', false],
    ['any', 'child', true],
    ['adult', 'any', true],
    ['any', 'any', true],
  ] as const)('%s beside %s: %s', (own, other, expected) =>
    expect(beside({ population: own }, { population: other })).toBe(expected),
  );

  test.each([
    ['female', 'female', true],
    ['female', 'male', false],
    ['male', 'female', false],
    [undefined, 'male', true],
    ['male', undefined, true],
    [undefined, undefined, true],
  ] as const)('%s beside %s: %s', (own, other, expected) =>
    expect(beside({ sex: own }, { sex: other })).toBe(expected),
  );

  test.each([
    ['als', 'als', true],
    ['als', 'dmd', false],
    ['als', 'any', true],
    ['any', 'als', true],
    ['any', 'any', true],
    // an acute illness stands apart from the slow ones
    ['any', 'gbs', false],
    ['gbs', 'gbs', true],
    ['gbs', 'any', false],
  ] as const)('%s beside %s: %s', (own, other, expected) =>
    expect(beside({ disease: own }, { disease: other })).toBe(expected),
  );

  test('what is urgent, or about acute illness, in any disease stands beside an acute one too', () => {
    const other = { disease: 'any' } as const;
    expect(beside({ disease: 'gbs' }, { ...other, urgency: 'emergency' })).toBe(true);
    expect(beside({ disease: 'gbs' }, { ...other, urgency: 'same-day' })).toBe(true);
    expect(beside({ disease: 'gbs' }, { ...other, acute: true })).toBe(true);
    expect(beside({ disease: 'gbs' }, { ...other, urgency: 'routine' })).toBe(false);
  });
});

describe('the span', () => {
  const span = (...rows: Partial<Criterion>[]) =>
    publishedSpan(ownCriterion(), {
      ...published,
      criteria: rows.map((more, at) => like({ id: `made-${at}`, ...more })),
    });
  test('runs from the lowest to the highest number in force', () => {
    expect(span({ value: 50 }, { value: 80 }, { value: 65 })).toEqual({ low: 50, high: 80 });
  });
  test('leaves out numbers from memory, of replaced editions, of the other side and of payers', () => {
    const rest = { value: 50 };
    for (const left of [
      { standing: 'from-memory' },
      { status: { supersededBy: 'a newer edition' } },
      { comparator: '>' },
      { use: 'coverage' },
      { measure: 'snip' },
    ] as Partial<Criterion>[])
      expect([left, span(rest, { value: 90, ...left })]).toEqual([left, { low: 50, high: 50 }]);
  });
  test('nothing published, no span', () => expect(span()).toBeUndefined());
});
