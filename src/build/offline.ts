/**
 * Write the offline worker with the list of every file of this build. One list, one cache, one version: a page never
 * mixes with the next build's. Each file stands with a hash of its content, with which the worker compares every
 * answer.
 */
import { createHash } from 'node:crypto';
import { globSync } from 'node:fs';
import { readFile, rm, stat, writeFile } from 'node:fs/promises';
import { stripTypeScriptTypes } from 'node:module';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import pkg from '../../package.json' with { type: 'json' };
import { buildDate } from '../evidence/checks-due.ts';

/** Parts of the search engine that no page asks for: its ready-made interfaces, and the wasm for pages without a language. */
const unused = ['pagefind/pagefind-*.{js,css}', 'pagefind/wasm.unknown.pagefind'];
const neededScripts = ['pagefind/pagefind-worker.js'];

/** The whole site in one file (src/build/archive.ts). Whoever has the saved copy does not need it. */
export const archiveName = 'tidemark.zip';
/** For the host (src/build/headers.ts): a host that reads it does not serve it. */
export const headersName = '_headers';
/** For whoever looks after the copy (src/build/bill-of-materials.ts). */
export const materialsName = 'sbom.cdx.json';
const neverSaved = ['sw.js', archiveName, headersName, materialsName];
/** Files for other programs: no page needs them. */
const forOthers = 'data/registers/';

export interface ListedFile {
  url: string;
  hash: string;
}

/** Every file under a folder, by its address from there, in order. */
export async function filesIn(root: string): Promise<string[]> {
  const names = globSync('**/*', { cwd: root });
  const kinds = await Promise.all(names.map(async (name) => (await stat(join(root, name))).isFile()));
  return names
    .filter((_, at) => kinds[at])
    .map((name) => name.split(sep).join('/'))
    .sort();
}

/** As the worker computes it: the first 12 bytes of the SHA-256, base64url. */
const hashOf = (content: Uint8Array | string): string =>
  createHash('sha256').update(content).digest().subarray(0, 12).toString('base64url');

/**
 * Write `sw.js` into a folder of built files.
 *
 * @param root   the folder, served as the site's root or as its base
 * @param about  what the copy is called on the page that shows it
 */
export async function writeWorker(
  root: string,
  about: { version: string; built: string },
): Promise<{ files: ListedFile[]; bytes: number }> {
  const names = (await filesIn(root)).filter((name) => !neverSaved.includes(name) && !name.startsWith(forOthers));
  const contents = await Promise.all(names.map((name) => readFile(join(root, name))));
  const files = contents.map((content, at): ListedFile => ({ url: names[at] ?? '', hash: hashOf(content) }));
  const bytes = contents.reduce((sum, { length }) => sum + length, 0);
  const build = { id: hashOf(JSON.stringify([files, about])), ...about, bytes };
  let source = await readFile(new URL('../offline/worker.ts', import.meta.url), 'utf8');
  for (const [token, value] of [
    ['/* FILES */ []', files],
    ['/* BUILD */ {}', build],
  ] as const) {
    if (source.split(token).length !== 2) throw new Error(`src/offline/worker.ts must hold ${token} exactly once`);
    source = source.replace(token, () => JSON.stringify(value));
  }
  const worker = stripTypeScriptTypes(source);
  await writeFile(join(root, 'sw.js'), worker.replace(/^ +$/gm, '').replace(/\n{3,}/g, '\n\n'));
  return { files, bytes };
}

export const offline = (): AstroIntegration => ({
  name: 'offline',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      const root = fileURLToPath(dir);
      const drop = globSync(unused, { cwd: root }).filter((name) => !neededScripts.includes(name.split(sep).join('/')));
      await Promise.all(drop.map((name) => rm(join(root, name))));
      const { files, bytes } = await writeWorker(root, { version: pkg.version, built: buildDate });
      logger.info(`${files.length} files, ${(bytes / 1e6).toFixed(2)} MB before compression`);
    },
  },
});
