import { glob, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';

/** A step that mends the text of every page once all are written. */
export const everyPage = (name: string, mend: (html: string) => string): AstroIntegration => ({
  name,
  hooks: {
    'astro:build:done': async ({ dir }) => {
      const root = fileURLToPath(dir);
      for await (const page of glob('**/*.html', { cwd: root })) {
        const file = join(root, page);
        await writeFile(file, mend(await readFile(file, 'utf8')));
      }
    },
  },
});
