/**
 * What a page may cost a phone on a weak signal. Bytes are exact, and compressed as a host does on the fly (brotli 5); paint
 * is compared with the same text as bare HTML, opened in turn. The real times are `npm run bench`'s.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { brotli, fileOf, htmlWeight, savedOffline, scriptWeight } from '../bench/page-weight.ts';
import { bareOf, paintAgainstBare } from '../bench/paint.ts';
import { browser, server } from './at-hand.ts';
import { openTab } from './browser.ts';
import { dist, htmlOf, pages } from './built.ts';

const kilobyte = 1024;
const handbook = pages.filter((page) => existsSync(`content/handbook${page.replace(/\/$/, '')}.mdx`));
/** Pages of words and tables alone: sums, gauges and drawings have weights of their own. */
const textPages = handbook.filter((page) => !/<astro-island|class="(gauge|figure|moving)/.test(htmlOf(page)));

const weigh = (list: readonly string[]) =>
  list.map((page) => {
    const html = htmlWeight(dist, page);
    return { page, html, times: html / brotli(Buffer.from(bareOf(readFileSync(fileOf(dist, page), 'utf8')))) };
  });
const over = (list: readonly { page: string; html: number }[], limit: number): string[] =>
  list.filter(({ html }) => html > limit).map(({ page, html }) => `${page}: ${(html / kilobyte).toFixed(1)} KB`);

test('there are text pages to weigh, and the bare page holds the text and nothing else', () => {
  expect(textPages.length).toBeGreaterThan(20);
  const bare = bareOf('<body class="x"><p style="a">One <a class="b" href="/c/">two</a></p><script>d</script></body>');
  expect(bare).toContain('<body><p>One <a href="/c/">two</a></p></body>');
});

test('a text page comes to at most three times its own text as bare HTML', () => {
  const heavy = weigh(textPages).filter(({ times }) => times > 3);
  expect(heavy.map(({ page, times }) => `${page}: ${times.toFixed(2)} times`)).toEqual([]);
});

/**
 * The budgets of the design (12 KB for a text page's HTML, 3 KB of script before the reader acts, 18 KB for a calculator), and
 * beside them the pages that are still over, each held to what it weighs now, so that it can only come down.
 */
test('a text page is under 12 KB of HTML with its styles; no handbook page weighs more than it did', () => {
  // Since 2026-11-29 each row prints its conditions whole, and says what the source recommends in a sentence; equal statements
  // are not grouped yet. Whom a row is for is a sentence as well: 0.1 to 0.2 KB. Since 2026-11-30 a row names its source and what
  // it says in whole sentences, and the rules for paper are longer: 0.1 to 0.2 KB. Each sentence names what it is about, so that it
  // can be read alone, and each row says that it is the criterion that was checked: 0.1 to 0.2 KB. Tables on a narrow phone,
  // second lines of a fold and paper in fewer sheets are in every page's styles: 0.1 KB. A criterion says which side a value at the
  // threshold is on, and sentences name what a reader of one sentence would have to guess: 0.1 KB.
  const stillOver: Record<string, number> = {
    '/breathing/night-ventilation-cord-injury/': 13.2,
    '/breathing/night-ventilation-duchenne/': 14.2,
    '/breathing/night-ventilation-myotonic-dystrophy/': 12.8,
    '/breathing/night-ventilation-post-polio/': 12.7,
    '/breathing/night-ventilation-slow-disease/': 12.9,
    '/breathing/night-ventilation-sma/': 13.0,
    // The first screen, the numbers of the sources and the rules of paper are in every page's styles: 0.1 KB.
    '/diseases/guillain-barre-and-myasthenia/': 12.8,
  };
  const limit = (page: string) => (stillOver[page] ?? 12) * kilobyte;
  expect(weigh(textPages).flatMap((one) => over([one], limit(one.page)))).toEqual([]);
  // 22.2 until the emergencies of acute diseases and the numbers of the sources came to the page of vital capacity. 23.7 until
  // its lists could be narrowed to a disease and each closed row said for whom and what for: 0.6 KB; the third column of a wide
  // screen, the icons of the bar and one look of fields: 0.6 KB. 25.4 until its rows named their source in whole sentences.
  // 25.9 until each sentence of a row named what it is about: 0.1 KB; tables on a narrow phone, second lines of a fold and paper
  // in fewer sheets: 0.2 KB. 26.2 until each row said in a clause of its own when its criterion applies, and each item of whom
  // to call was a sentence: 0.2 KB.
  expect(over(weigh(handbook), 26.4 * kilobyte)).toEqual([]);
});

describe('scripts', () => {
  test.each([
    // The field of the first screen, as on a measuring page. What is typed there is handed over in the tab's storage and in no
    // address, by a part that comes when it is sent: naming it is 0.3 KB. 'Next person' hears the other tabs: 0.1 KB. The
    // agreement's line says draft and changed evidence: 0.1 KB. A page from the back-forward cache shows nobody after 'next
    // person', in Firefox too: 0.1 KB. Enter before the answering part has come waits for it: 0.1 KB. "Saved" is said only once
    // the worker answers for pages: 0.1 KB on every page.
    ['/', 3.8],
    ['/about/', 3.2],
    [textPages[0] ?? '', 3.2],
    ['/measuring/sniff-pressure/', 3.9],
    ['/urgent/', 3.8],
  ])('%s loads at most this many KB before the reader acts: %d', async (page, limit) => {
    const { atOnce } = await scriptWeight(browser, server, page);
    expect(atOnce).toBeGreaterThan(0);
    expect(atOnce).toBeLessThanOrEqual(limit * kilobyte);
  });

  test.each([
    // Over since one message and one table serve every form, and since it opens with the numbers of a typed line. Each result
    // has a range outside which it asks to be checked, and each asks about inches and pounds: 0.2 to 0.5 KB. A breath can be
    // ordered as a range: one more field, 0.1 KB. Messages in whole sentences, and "Saved" as above: 0.1 KB.
    ['/calculators/ideal-body-weight/', 19.7],
    ['/calculators/peak-cough-flow/', 20.6],
    // Cautions that name what they are about: 0.1 KB.
    ['/calculators/cylinder-duration/', 21.4],
    ['/calculators/predicted-vital-capacity/', 27.6],
  ])('%s loads at most this many KB with its sum: %d', async (page, limit) => {
    const { inAll } = await scriptWeight(browser, server, page);
    expect(inAll).toBeGreaterThan(5 * kilobyte);
    expect(inAll).toBeLessThanOrEqual(limit * kilobyte);
  });
});

test('the saved copy grows with the pages: 2.5 MB for 150 of them', () => {
  expect(savedOffline(dist).bytes / pages.length).toBeLessThanOrEqual((2.5 * kilobyte * kilobyte) / 150);
});

test.each(['/', textPages[0] ?? '', '/calculators/ideal-body-weight/'])(
  '%s waits for no file but itself before it is painted',
  async (path) => {
    const { context, page } = await openTab(browser, server.root);
    await page.goto(server.at(path), { waitUntil: 'load' });
    const files = await page.evaluate(() =>
      (performance.getEntriesByType('resource') as PerformanceResourceTiming[]).map(
        ({ name, renderBlockingStatus }: PerformanceResourceTiming & { renderBlockingStatus?: string }) =>
          `${renderBlockingStatus}: ${name}`,
      ),
    );
    expect(files.filter((file) => file.startsWith('non-blocking')).length).toBeGreaterThan(0);
    expect(files.filter((file) => !file.startsWith('non-blocking'))).toEqual([]);
    await context.close();
  },
);

test('a text page is painted about as soon as its bare text', async () => {
  // The design's 1.15, of middle ratios on a slowed processor, is the bench's. On a machine with fifteen things to do the
  // quickest of five still came to 1.2 to 1.8 from run to run; this catches what is far off, the test above what is waited for.
  const { best } = await paintAgainstBare(browser, dist, textPages[0] ?? '/about/', 5, 1);
  expect(best).toBeLessThanOrEqual(2.5);
});
