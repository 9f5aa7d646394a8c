/**
 * The search page names in its head what its script will ask for, so that all of it is on its way at once instead of part
 * after part: someone waits there for an answer. No other page does, so that none carries the list.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';

/** Fetched by `src/search/page.ts` and `answer.ts`, whatever is typed: the criteria first, since they answer first. */
const [criteria, subjects, pages] = ['data/criteria.json', 'data/subjects.json', 'data/pages.json'];

/** @returns the scripts that a script imports before it runs, and theirs, as written from the site's root */
export function importedBy(script: string, read: (script: string) => string): string[] {
  const found = new Set<string>();
  const follow = (one: string) => {
    for (const [, from = ''] of read(one).matchAll(/\b(?:from|import)\s*"(\.[^"]+\.js)"/g)) {
      const next = posix.join(dirname(one), from);
      if (found.has(next)) continue;
      found.add(next);
      follow(next);
    }
  };
  follow(script);
  return [...found];
}

/**
 * @param base  of the site, with a slash at both ends
 * @throws where the page's scripts, what they import or the end of its head is not found: it would read nothing ahead
 */
export function withReadAhead(html: string, base: string, read: (script: string) => string): string {
  const own = Array.from(html.matchAll(/<script type="module" src="([^"]+)"/g), ([, src = '']) =>
    src.slice(base.length),
  );
  if (own.length === 0) throw new Error('read-ahead: the search page has no <script type="module" src="...">');
  const scripts = new Set(own.flatMap((script) => importedBy(script, read)));
  if (scripts.size === 0)
    throw new Error(
      'read-ahead: the scripts of the search page import nothing; look at how this bundler writes imports',
    );
  if (!html.includes('</head>')) throw new Error('read-ahead: the search page has no </head>');
  const script = (file: string) => `<link rel="modulepreload" href="${base}${file}">`;
  const data = (file: string) => `<link rel="preload" as="fetch" crossorigin href="${base}${file}">`;
  // In the order of need: on a slow line they come one after the other. The page's own scripts stand last in its text.
  const links = [
    ...new Set([...own, ...scripts].map(script)),
    data(criteria),
    data(subjects),
    script('pagefind/pagefind.js'),
    data(pages),
  ];
  return html.replace('</head>', `${links.join('')}</head>`);
}

export const readAhead = (): AstroIntegration => {
  let base = '/';
  return {
    name: 'read-ahead',
    hooks: {
      'astro:config:done': ({ config }) => {
        base = config.base.endsWith('/') ? config.base : `${config.base}/`;
      },
      'astro:build:done': ({ dir }) => {
        const root = fileURLToPath(dir);
        const file = join(root, 'search/index.html');
        for (const data of [criteria, subjects, pages])
          if (!existsSync(join(root, data))) throw new Error(`read-ahead: ${data} was not built`);
        const read = (script: string) => readFileSync(join(root, script), 'utf8');
        writeFileSync(file, withReadAhead(readFileSync(file, 'utf8'), base, read));
      },
    },
  };
};
