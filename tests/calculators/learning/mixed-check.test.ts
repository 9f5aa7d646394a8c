/** The mixed check: twenty of a pool, mixed, with every kind in it; the same seed draws the same. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkLength, drawCheck, type InPool, leastOf } from '../../../calculators/learning/mixed-check.ts';
import { questionKinds } from '../../../calculators/learning/question.ts';

const pool: InPool[] = questionKinds.flatMap((kind) =>
  Array.from({ length: 9 }, (_, at) => ({ id: `${kind}-${at}`, kind })),
);
const anySeed = fc.integer({ min: 0, max: 2 ** 32 - 1 });

test('is twenty different questions of the pool, with at least so many of each kind', () => {
  fc.assert(
    fc.property(anySeed, fc.subarray(pool), (seed, seen) => {
      const ids = drawCheck(pool, new Set(seen.map(({ id }) => id)), seed);
      expect(ids).toHaveLength(checkLength);
      expect(new Set(ids).size).toBe(checkLength);
      for (const kind of questionKinds)
        expect(ids.filter((id) => id.startsWith(kind)).length).toBeGreaterThanOrEqual(leastOf[kind]);
    }),
  );
});

test('is the same for the same seed, and another for another', () => {
  expect(drawCheck(pool, new Set(), 7)).toEqual(drawCheck(pool, new Set(), 7));
  const orders = new Set(Array.from({ length: 50 }, (_, seed) => drawCheck(pool, new Set(), seed).join()));
  expect(orders.size).toBe(50);
});

test('takes new questions before those of earlier checks', () => {
  const seen = new Set(drawCheck(pool, new Set(), 1));
  const again = drawCheck(pool, seen, 2).filter((id) => seen.has(id));
  // Sixteen are new. Each kind has enough new ones, so only what is missing to twenty comes again.
  expect(pool.length - seen.size).toBe(16);
  expect(again.length).toBeLessThanOrEqual(checkLength - 16 + 3);
});

test('no question is left out for good', () => {
  const drawn = new Set(Array.from({ length: 200 }, (_, seed) => drawCheck(pool, new Set(), seed)).flat());
  expect(drawn.size).toBe(pool.length);
});

test('of a pool that is too small is the whole pool', () => {
  expect(drawCheck(pool.slice(0, 5), new Set(), 3).sort()).toEqual(
    pool
      .slice(0, 5)
      .map(({ id }) => id)
      .sort(),
  );
});
