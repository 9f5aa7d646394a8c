/**
 * `_headers`: what a host of static files should send with the pages, in the form that many such hosts read. Made from the
 * pages themselves, so that the policy in the header and those in the pages cannot contradict each other: a browser holds
 * a page to both. A host that does not know the file serves the site as before; each page carries its own policy.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import { filesIn, headersName } from './offline.ts';

/** The policy that a page carries, directive by directive. */
export function policyOf(html: string): Map<string, string[]> {
  const words = /<meta http-equiv="content-security-policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
  return new Map(
    words
      .split(';')
      .map((directive) => directive.trim().split(/\s+/))
      .map(([name = '', ...sources]) => [name, sources] as const)
      .filter(([name]) => name !== ''),
  );
}

/**
 * Allows what any of the pages allows itself, and one thing more that only a header can say: no other site frames them.
 * Styles are the exception: their hashes over all pages are longer than a line may be on some hosts, so that the header
 * leaves inline styles to the page's own policy, which lists them one by one and which the browser holds it to as well.
 */
export function commonPolicy(pages: readonly string[]): string {
  const all = new Map<string, Set<string>>();
  for (const page of pages)
    for (const [name, sources] of policyOf(page)) all.set(name, new Set([...(all.get(name) ?? []), ...sources]));
  all.set('style-src', new Set(["'self'", "'unsafe-inline'"]));
  const words = Array.from(all, ([name, sources]) => `${name} ${[...sources].sort().join(' ')}`);
  return [...words, "frame-ancestors 'none'"].join('; ');
}

/**
 * @param base   of the site, with a slash at both ends
 * @param names  of the site's files, from its root
 */
export function headersFile(policy: string, base: string, names: readonly string[]): string {
  return `# For hosts of static files that read this form; others: see "Host your clinic's own copy".
${base}*
  Content-Security-Policy: ${policy}
  X-Content-Type-Options: nosniff
  Referrer-Policy: no-referrer
  Permissions-Policy: camera=(self), microphone=(), geolocation=(), payment=(), usb=()
  Cross-Origin-Opener-Policy: same-origin
  Cross-Origin-Resource-Policy: same-origin
# The names in this folder change with their content.
${base}_astro/*
  Cache-Control: public, max-age=31536000, immutable
# Pages, data and the offline worker are asked for anew, so that an update is noticed: the host's ETag saves their bytes.
# A place each, since hosts join what several places say of one file.
${askedAnew(names)
  .map((place) => `${base}${place}\n  Cache-Control: no-cache\n`)
  .join('')}`;
}

/** Every folder but that of the names that change with their content; and the files beside the folders. */
const askedAnew = (names: readonly string[]): string[] =>
  [
    ...new Set(
      names
        .filter((name) => !name.startsWith('_astro/'))
        .map((name) =>
          name.includes('/') ? `${name.slice(0, name.indexOf('/'))}/*` : name.replace(/^index\.html$/, ''),
        ),
    ),
  ].sort();

export const headers = (): AstroIntegration => {
  let base = '/';
  return {
    name: 'headers',
    hooks: {
      'astro:config:done': ({ config }) => {
        base = `/${config.base}/`.replace(/\/+/g, '/');
      },
      'astro:build:done': async ({ dir }) => {
        const root = fileURLToPath(dir);
        const files = (await filesIn(root)).filter((name) => name !== headersName);
        const names = files.filter((name) => name.endsWith('.html'));
        const pages = await Promise.all(names.map((name) => readFile(join(root, name), 'utf8')));
        const bare = names.filter((_, at) => policyOf(pages[at] ?? '').size === 0);
        if (bare.length > 0) throw new Error(`No content security policy in ${bare.join(', ')}`);
        await writeFile(join(root, headersName), headersFile(commonPolicy(pages), base, [...files, 'sw.js']));
      },
    },
  };
};
