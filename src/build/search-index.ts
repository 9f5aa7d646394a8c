/** After the pages are written: the full-text index over them, beside them in dist. */
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import { createIndex } from 'pagefind';

export const searchIndex = (): AstroIntegration => ({
  name: 'search-index',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      const root = fileURLToPath(dir);
      const { index, errors } = await createIndex({ forceLanguage: 'en' });
      if (!index) throw new Error(`search index: ${errors.join('; ')}`);
      const added = await index.addDirectory({ path: root });
      if (added.errors.length > 0) throw new Error(`search index: ${added.errors.join('; ')}`);
      const written = await index.writeFiles({ outputPath: `${root}pagefind` });
      if (written.errors.length > 0) throw new Error(`search index: ${written.errors.join('; ')}`);
      logger.info(`${added.page_count} pages`);
    },
  },
});
