import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/{build,calculators,content,islands,reference}/**/*.test.ts'],
    root: '.',
    // No test replaces a module or leaves anything behind in one, so files share their workers: half the processor time.
    isolate: false,
    testTimeout: 30_000,
    // A report asked for by hand (--reporter=json) goes where git does not look, instead of .vitest/.
    outputFile: { json: '.cache/unit.json' },
  },
});
