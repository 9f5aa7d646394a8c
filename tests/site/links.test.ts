/** Every page as it was written to disk: where its links lead, and what it prints. No browser needed. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { dist, htmlOf, pages, subDist } from './built.ts';
import { subBase } from './sub-base.ts';

const idsOf = new Map<string, Set<string>>();
function ids(page: string): Set<string> {
  const known =
    idsOf.get(page) ?? new Set([...htmlOf(page).matchAll(/\sid="([^"]+)"/g)].map((found) => found[1] ?? ''));
  idsOf.set(page, known);
  return known;
}

/** @returns what is wrong with a link from a page; undefined when it leads somewhere */
function broken(from: string, to: string): string | undefined {
  const url = new URL(to, `http://site${from}`);
  if (url.host !== 'site') return url.protocol === 'https:' ? undefined : `${to}: an outside link that is not https`;
  const path = decodeURIComponent(url.pathname);
  if (!pages.includes(path))
    return existsSync(join(dist, path)) && !path.endsWith('/') ? undefined : `${to}: no such page`;
  // On the search page a typed line stays after '#', so that no server sees it; it is no place on the page.
  if (path === '/search/' && /^#q=./.test(url.hash)) return undefined;
  const place = decodeURIComponent(url.hash.slice(1));
  return place === '' || ids(path).has(place) ? undefined : `${to}: no such place on the page`;
}

const linksOf = (html: string): string[] =>
  [...html.matchAll(/<(?:a|link|img|script|form)\s[^>]*?(?:href|src|action)="([^"]+)"/g)].map((found) =>
    (found[1] ?? '').replaceAll('&#38;', '&').replaceAll('&amp;', '&'),
  );

const canonical = /^https:\/\/tidemark\.example/;

test.each(pages)('%s: each link leads to a page and a place that exist', (page) => {
  const wrong = linksOf(htmlOf(page))
    .filter((to) => !canonical.test(to))
    .map((to) => broken(page, to))
    .filter((found) => found !== undefined);
  expect([...new Set(wrong)]).toEqual([]);
});

/** Values that only a fault prints. */
const leaks = (html: string): string[] =>
  [...html.replace(/<script[\s\S]*?<\/script>/g, '').matchAll(/NaN|\[object Object\]|\bundefined\b|\bInfinity\b/g)].map(
    (found) => `${found[0]} in "${html.slice(Math.max(0, found.index - 40), found.index + 40)}"`,
  );

test.each(pages)('%s: prints no value that is none', (page) => {
  expect(leaks(htmlOf(page).replace(/<astro-island[^>]*>/g, ''))).toEqual([]);
});

test('in a folder of a larger site, no link leaves the folder', () => {
  for (const page of pages) {
    const html = readFileSync(join(subDist(), page.endsWith('/') ? `${page}index.html` : page), 'utf8');
    const out = linksOf(html).filter((to) => to.startsWith('/') && !to.startsWith(subBase));
    expect([page, out]).toEqual([page, []]);
  }
});

describe('the checks themselves can fail', () => {
  test('a link to no page, to no place, and to plain http is found', () => {
    expect(broken('/', '/nowhere/')).toContain('no such page');
    expect(broken('/', '/about/#nowhere')).toContain('no such place');
    expect(broken('/', 'http://example.org/')).toContain('not https');
    expect(broken('/', '/about/')).toBeUndefined();
  });
  test('a sum that printed NaN is found', () => {
    expect(leaks('<p>Lasts: NaN min</p>')).toHaveLength(1);
    expect(leaks('<p>Peak cough flow: [object Object]</p>')).toHaveLength(1);
  });
});
