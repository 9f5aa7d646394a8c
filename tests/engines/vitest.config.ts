import { defineConfig } from 'vitest/config';

/** One engine after the other: the tests of one journey in both at once would measure the machine. */
export default defineConfig({
  test: {
    include: ['tests/engines/**/*.test.ts'],
    root: '.',
    maxWorkers: 2,
    testTimeout: 90_000,
    hookTimeout: 90_000,
  },
});
