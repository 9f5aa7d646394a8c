/** Long lists are a few screens on a phone; what is folded is still found, linked to, printed, and there without a script. */
import { describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab } from './browser.ts';
import { htmlOf } from './built.ts';

/** In pixels at 390 wide. On 2026-11-30 they were 51,534, 59,645, 43,955, 18,139, 158,477, 15,648 and 18,377. */
const heights: [path: string, most: number][] = [
  ['/evidence/disagreements/', 3_200],
  ['/sources/', 3_200],
  ['/all-pages/', 2_600],
  ['/glossary/', 3_000],
  ['/sources/behind-prose/', 3_200],
  ['/evidence/', 11_000],
  ['/sources/nice-ng42/', 8_000],
];

test.each(heights)('%s is at most %d pixels high on a phone', async (path, most) => {
  const { context, page } = await openTab(browser, server.root);
  await page.goto(server.at(path));
  expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThanOrEqual(most);
  await context.close();
});

/** A place inside a fold, and words that stand there. */
const folded: [path: string, id: string, words: string][] = [
  ['/glossary/', 'snip', 'sniff'],
  ['/sources/behind-prose/', 'spirometry-2019', 'Published in or by'],
  ['/evidence/disagreements/', 'cough-flow', 'Source'],
  ['/sources/nice-ng42/', 'nice-mnd-fvc-lt-50', 'NICE'],
];
const places = folded.map(([path, wanted, words]) => {
  // The ids are the content's own: the first inside a fold serves where one was renamed.
  const ids = [...htmlOf(path).matchAll(/<\/summary>[\s\S]{0,400}? id="([a-z0-9-]+)"/g)].map((found) => found[1] ?? '');
  return { path, id: ids.includes(wanted) ? wanted : (ids[0] ?? ''), words };
});

describe.each(places)('$path#$id', ({ path, id }) => {
  test.each([
    ['with scripts', true],
    ['without', false],
  ])('a link opens its fold, %s', async (_, javaScriptEnabled) => {
    const { context, page } = await openTab(browser, server.root, { javaScriptEnabled });
    await page.goto(server.at(`${path}#${id}`));
    await expect.poll(() => page.locator(`[id="${id}"]`).isVisible()).toBe(true);
    const { y = -1 } = (await page.locator(`[id="${id}"]`).boundingBox()) ?? {};
    expect(y).toBeGreaterThanOrEqual(0);
    expect(y).toBeLessThan(844);
    await context.close();
  });

  test('is printed although it is folded', async () => {
    const { context, page } = await openTab(browser, server.root);
    await page.goto(server.at(path));
    expect(await page.locator(`[id="${id}"]`).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    const { height = 0 } = (await page.locator(`[id="${id}"]`).boundingBox()) ?? {};
    expect(height).toBeGreaterThan(10);
    await context.close();
  });
});

test('the browser\u2019s own find looks into a fold: its first words are found, and it opens', async () => {
  const { context, page } = await openTab(browser, server.root);
  // A link to words is found by the same search as the reader's, and opens folds by the same rule.
  await page.goto(server.at('/glossary/#:~:text=A%20condition%20'));
  await page.goto(`${server.at('/glossary/')}#:~:text=${encodeURIComponent(wordsIn('/glossary/'))}`);
  await expect.poll(() => page.locator('.letter[open]').count()).toBe(1);
  await context.close();
});

/** Words that stand in one fold of a page and nowhere else. */
function wordsIn(path: string): string {
  const meanings = [...htmlOf(path).matchAll(/<dd[^>]*>\s*([A-Z][^<.,"&]{30,70})/g)].map((found) =>
    (found[1] ?? '').trim(),
  );
  const [alone] = meanings.filter((words) => htmlOf(path).split(words).length === 2);
  if (alone === undefined) throw new Error(`${path}: no words of its own`);
  return alone.split(' ').slice(0, 6).join(' ');
}

test('every question keeps its address', () => {
  const html = htmlOf('/evidence/disagreements/');
  expect([...html.matchAll(/<div id="[a-z0-9-]+"/g)].length).toBe(
    [...html.matchAll(/<details class="question-of"/g)].length,
  );
});
