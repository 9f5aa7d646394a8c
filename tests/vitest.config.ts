import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/{calculators,content,reference}/**/*.test.ts'],
    root: '.',
    testTimeout: 30_000,
    // A report asked for by hand (--reporter=json) goes where git does not look, instead of .vitest/.
    outputFile: { json: '.cache/unit.json' },
  },
});
