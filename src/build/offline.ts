/**
 * Last step of a build: write the offline worker with the list of every file of this build. One list, one cache, one
 * version: a page never mixes with the next build's.
 */
import { readFile, rm, writeFile } from 'node:fs/promises';
import { stripTypeScriptTypes } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import { getManifest } from 'workbox-build';

/** Parts of the search engine that no page asks for: its ready-made interfaces, and the wasm for pages without a language. */
const unused = ['pagefind/pagefind-*.{js,css}', 'pagefind/wasm.unknown.pagefind'];
const keptScripts = ['pagefind/pagefind-worker.js'];

export const offline = (): AstroIntegration => ({
  name: 'offline',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      const root = fileURLToPath(dir);
      const listed = await getManifest({
        globDirectory: root,
        globPatterns: ['**/*'],
        globIgnores: ['sw.js'],
        maximumFileSizeToCacheInBytes: 8_000_000,
      });
      const dropped = await getManifest({ globDirectory: root, globPatterns: unused });
      const drop = new Set(
        dropped.manifestEntries.map((entry) => entry.url).filter((url) => !keptScripts.includes(url)),
      );
      await Promise.all([...drop].map((url) => rm(root + url, { force: true })));
      const files = listed.manifestEntries
        .filter((entry) => !drop.has(entry.url))
        .map(({ url, revision }) => ({ url, revision }));
      files.sort((a, b) => (a.url < b.url ? -1 : 1));
      const source = await readFile(new URL('../offline/worker.ts', import.meta.url), 'utf8');
      const token = '/* FILES */ []';
      if (source.split(token).length !== 2) throw new Error(`src/offline/worker.ts must hold ${token} exactly once`);
      const worker = stripTypeScriptTypes(source.replace(token, JSON.stringify(files)));
      await writeFile(`${root}sw.js`, worker.replace(/^ +$/gm, '').replace(/\n{3,}/g, '\n\n'));
      logger.info(`${files.length} files, ${(listed.size / 1e6).toFixed(2)} MB before compression`);
    },
  },
});
