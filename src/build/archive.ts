/**
 * The whole site as one archive, for browsers that keep nothing: unpacked, it opens from any file server on the reader's
 * own machine. It is not on the offline worker's list: whoever has that copy does not need this one.
 */
import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import { type Zippable, zipSync } from 'fflate';
import { archiveName, filesIn } from './offline.ts';

const howTo = (base: string): string => `Tidemark, the whole handbook in one folder

A browser blocks the scripts of pages opened straight from a folder. You can read the pages, but calculators and search do not work. Serve the folder instead, with any file server on this machine, for example:

  1. Unpack this archive.
  2. In the unpacked folder "tidemark" run:   python3 -m http.server
  3. Open http://localhost:8000${base} in a browser.

Nothing is sent anywhere. This copy does not update itself. Look at the date at the foot of its pages.
`;

/** The same site gives the same bytes: names in order, one date for all. */
const settled = { level: 9, mtime: new Date(2026, 0, 1), os: 3 } as const;

/** @param base  folder of a larger site that the pages were built for: they keep their place in it */
export async function archive(root: string, base: string): Promise<Uint8Array> {
  const contents: Zippable = { 'tidemark/READ-ME.txt': [new TextEncoder().encode(howTo(base)), settled] };
  // Without the offline worker: a copy on this machine needs none, and an old one could hide a new one.
  for (const name of (await filesIn(root)).filter((one) => one !== 'sw.js' && one !== archiveName))
    contents[`tidemark${base}${name}`] = [await readFile(join(root, name)), settled];
  return zipSync(contents);
}

export const siteArchive = (): AstroIntegration => {
  let base = '/';
  return {
    name: 'archive',
    hooks: {
      'astro:config:done': ({ config }) => {
        base = `/${config.base}/`.replace(/\/+/g, '/');
      },
      'astro:build:done': async ({ dir, logger }) => {
        const root = fileURLToPath(dir);
        await rm(join(root, archiveName), { force: true });
        const bytes = await archive(root, base);
        await writeFile(join(root, archiveName), bytes);
        logger.info(`${(bytes.length / 1e6).toFixed(2)} MB`);
      },
    },
  };
};
