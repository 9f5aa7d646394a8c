import { glob, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';

/** A step that rewrites the text of every page once all are written. A page that it cannot rewrite stops the build. */
export const everyPage = (name: string, rewrite: (html: string) => string): AstroIntegration => ({
  name,
  hooks: {
    'astro:build:done': async ({ dir }) => {
      const root = fileURLToPath(dir);
      for await (const page of glob('**/*.html', { cwd: root })) {
        const file = join(root, page);
        const html = await readFile(file, 'utf8');
        try {
          await writeFile(file, rewrite(html));
        } catch (error) {
          throw new Error(`${name}: ${page}: ${error instanceof Error ? error.message : error}`);
        }
      }
    },
  },
});
