import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/site/**/*.test.ts'],
    root: '.',
    outputFile: { json: '.cache/site.json' },
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // One second is too short on a machine that runs other browsers at the same time.
    expect: { poll: { timeout: 15_000 } },
  },
});
