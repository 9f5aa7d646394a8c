import { defineConfig } from 'vitest/config';

/** A file for each engine, both at once; in a file one journey after the other. */
export default defineConfig({
  test: {
    include: ['tests/engines/**/*.test.ts'],
    root: '.',
    maxWorkers: 2,
    testTimeout: 90_000,
    hookTimeout: 90_000,
  },
});
