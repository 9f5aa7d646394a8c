import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/deep/**/*.test.ts'],
    root: '.',
    outputFile: { json: '.cache/deep.json' },
    // One after another: what is timed and weighed here would disturb itself.
    fileParallelism: false,
    testTimeout: 1_200_000,
    hookTimeout: 600_000,
  },
});
