/**
 * Two versions of a small site, cut from the built one, behind one server: to see what an update does at every moment at
 * which a signal can go. Every page and data file says which version it is of.
 */
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, extname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { filesIn, type ListedFile, writeWorker } from '../../src/build/offline.ts';
import { type Server, serve } from './server.ts';

export interface Versions {
  server: Server;
  /** files on each version's list */
  files: Record<'one' | 'two', ListedFile[]>;
  /** which files differ between the two, by address */
  changed: string[];
  /** which version the server gives out from now on */
  give: (version: 'one' | 'two') => void;
  /** the folder of a version, to spoil a file of it */
  folder: (version: 'one' | 'two') => string;
  stop: () => Promise<void>;
}

const pages = [
  'index.html',
  '404.html',
  'about/index.html',
  'offline/index.html',
  'urgent/index.html',
  'search/index.html',
  'glossary/index.html',
];
const others = ['data/pages.json', 'icon.svg', 'manifest.webmanifest'];
/** A part that the first version fetches late and the second no longer has, as a new build's new names leave the old ones. */
export const latePart = '_astro/late.Old12345.js';

/** A thread of its own that says which version it is answered with, as the search engine's asks for its parts. */
export const threadPart = 'parts/thread.js';

/**
 * The scripts that these pages load by themselves. Of the pages that tell about the copy also what those fetch in turn; not
 * of the search, which fetches any calculator: this site stays small.
 */
function scriptsOf(dist: string): string[] {
  const found = new Set<string>();
  const scriptsIn = (page: string): string[] =>
    [...readFileSync(join(dist, page), 'utf8').matchAll(/_astro\/([\w.-]+\.js)/g)].map(([, name = '']) => name);
  const follow = (name: string) => {
    const file = `_astro/${name}`;
    if (found.has(file)) return;
    found.add(file);
    for (const [, next = ''] of readFileSync(join(dist, file), 'utf8').matchAll(
      /["'`/](?:_astro\/|\.\/)([\w.-]+\.js)/g,
    ))
      follow(next);
  };
  for (const page of ['about/index.html', 'offline/index.html']) scriptsIn(page).forEach(follow);
  for (const page of ['index.html', 'search/index.html'])
    for (const name of scriptsIn(page)) found.add(`_astro/${name}`);
  return [...found].sort();
}

async function make(dist: string, folder: string, version: 'one' | 'two'): Promise<void> {
  for (const file of [...pages, ...others, ...scriptsOf(dist)]) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    cpSync(join(dist, file), join(folder, file));
  }
  for (const file of await filesIn(folder)) {
    const place = join(folder, file);
    const text = readFileSync(place, 'utf8');
    if (extname(file) === '.html')
      writeFileSync(place, text.replace('</main>', `<p data-version>${version}</p></main>`));
    if (extname(file) === '.json') writeFileSync(place, JSON.stringify({ version }));
  }
  // Files of their own, so that there are enough moments between two of them.
  for (let at = 0; at < 12; at += 1) {
    mkdirSync(join(folder, 'parts'), { recursive: true });
    writeFileSync(join(folder, `parts/${at}.json`), JSON.stringify({ version, at }));
  }
  writeFileSync(
    join(folder, threadPart),
    `onmessage = () => fetch('0.json').then((answer) => answer.json()).then(({ version }) => postMessage(version), () => postMessage('nothing'));\n`,
  );
  if (version === 'one') writeFileSync(join(folder, latePart), `export const version = 'one';\n`);
}

export async function twoVersions(dist: string, base = '/'): Promise<Versions> {
  const root = mkdtempSync(join(tmpdir(), 'tidemark-versions-'));
  const folder = (version: 'one' | 'two') => join(root, version);
  const files = {} as Versions['files'];
  for (const version of ['one', 'two'] as const) {
    await make(dist, folder(version), version);
    files[version] = (
      await writeWorker(folder(version), { version, built: version === 'one' ? '2026-01-01' : '2026-02-01' })
    ).files;
  }
  const current = join(root, 'current');
  const give = (version: 'one' | 'two') => {
    rmSync(current, { force: true });
    symlinkSync(folder(version), current);
  };
  give('one');
  const server = await serve(current, base);
  const before = new Map(files.one.map(({ url, hash }) => [url, hash]));
  return {
    server,
    files,
    changed: files.two.flatMap(({ url, hash }) => (before.get(url) === hash ? [] : [url])),
    give,
    folder,
    stop: async () => {
      await server.stop();
      if (readdirSync(root).length > 0) rmSync(root, { recursive: true });
    },
  };
}

/** The server is there again, or gone after so many more requests. */
export const signal = (server: Server, left: number): void => {
  server.left = left;
};

/** Start an installation or an update by hand, and wait until the browser has made up its mind about it. */
export const install = (page: Page, base = '/'): Promise<'installed' | 'failed'> =>
  page.evaluate(async (scope) => {
    try {
      const registration = await navigator.serviceWorker.register(`${scope}sw.js`, { scope });
      await registration.update().catch(() => undefined);
      const coming = registration.installing ?? registration.waiting ?? registration.active;
      if (!coming) return 'failed';
      while (coming.state === 'installing')
        await new Promise((done) => coming.addEventListener('statechange', done, { once: true }));
      if (coming.state === 'redundant') return 'failed';
      while (coming.state === 'activating')
        await new Promise((done) => coming.addEventListener('statechange', done, { once: true }));
      return 'installed';
    } catch {
      return 'failed';
    }
  }, base);

/** Which version each page and data file is of, as this tab gets them. One version, or something is mixed. */
export const versionsSeen = (page: Page, files: readonly ListedFile[], base = '/'): Promise<string[]> =>
  page.evaluate(
    async ({ addresses, scope }) => {
      const seen = await Promise.all(
        addresses.map(async (address) => {
          const text = await fetch(scope + address).then(
            (response) => response.text(),
            () => 'nothing',
          );
          return (
            /data-version>(\w+)</.exec(text)?.[1] ??
            /"version":"(\w+)"/.exec(text)?.[1] ??
            `${address}: ${text.slice(0, 20)}`
          );
        }),
      );
      return [...new Set(seen)].sort();
    },
    { addresses: files.map(({ url }) => url).filter((url) => /\.(html|json)$/.test(url)), scope: base },
  );

/** What the page that is open says of itself. */
export const versionShown = (page: Page): Promise<string | null> => page.locator('[data-version]').textContent();
