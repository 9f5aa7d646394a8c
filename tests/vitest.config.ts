import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['tests/{calculators,content,reference}/**/*.test.ts'], root: '.', testTimeout: 30_000 },
});
