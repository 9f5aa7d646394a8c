/** What the full-text search can show of a page: never the numbers of a worked example, which are nobody's reading. */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { dist, htmlOf, pages } from './built.ts';

interface Fragment {
  url: string;
  content: string;
}

/** The text that excerpts are cut from, page by page. */
const fragments: Fragment[] = globSync('pagefind/fragment/*.pf_fragment', { cwd: dist }).map((file) => {
  const text = gunzipSync(readFileSync(join(dist, file))).toString('utf8');
  return JSON.parse(text.slice(text.indexOf('{')));
});
const contentOf = (page: string): string => fragments.find(({ url }) => url === page)?.content ?? '';
const plain = (html: string): string =>
  html
    .replace(/<[^>]+>/g, ' ')
    .replace(/&nbsp;|\u00a0|\u202f/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

/** Worked examples as they stand on the page. */
const examplesOf = (html: string): string[] =>
  [...html.matchAll(/<p class="example"[^>]*>([\s\S]*?)<\/p>|<section class="sum"[^>]*>([\s\S]*?)<\/section>/g)].map(
    ([, example, sum]) => plain(example ?? sum ?? ''),
  );

/** Numbers with a point or of three figures: the ones that say whose example it is. */
const tellingNumbers = (text: string): string[] => [...new Set(text.match(/\d+\.\d+|\d{3,}/g) ?? [])];

test('the index holds the pages', () => {
  expect(fragments.length).toBeGreaterThan(100);
  expect(contentOf('/calculators/ideal-body-weight/') || contentOf('/calculators/predicted-body-weight/')).not.toBe('');
});

test('no worked example, in a calculator or in a lesson, is in what the search can show', () => {
  let seen = 0;
  const shown = pages.flatMap((page) => {
    const examples = examplesOf(htmlOf(page));
    seen += examples.length;
    const content = plain(contentOf(page));
    return examples.flatMap((example) => {
      const start = example.slice(0, 60);
      return content.includes(start) ? [`${page}: ${start}`] : [];
    });
  });
  expect(seen).toBeGreaterThan(40);
  expect(shown).toEqual([]);
});

test('a number that only an example of a calculator holds is not found on its page', () => {
  const shown = pages
    .filter((page) => /^\/calculators\/[^/]+\/$/.test(page))
    .flatMap((page) => {
      const html = htmlOf(page);
      const without = plain(html.replace(/<p class="example"[^>]*>[\s\S]*?<\/p>/g, ' '));
      const only = examplesOf(html)
        .flatMap(tellingNumbers)
        .filter((number) => !without.includes(number));
      const content = contentOf(page);
      return only.filter((number) => content.includes(number)).map((number) => `${page}: ${number}`);
    });
  expect(shown).toEqual([]);
});
