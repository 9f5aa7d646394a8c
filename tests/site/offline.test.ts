/** A house without a signal: everything saved on the first visit works with the server gone. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { installed, launch, openTab, type Tab } from './browser.ts';
import { dist, pages, some, subDist } from './built.ts';
import { answer, fill, openCalculator } from './form.ts';
import { type Server, serve } from './server.ts';
import { plain } from './sheet.ts';
import { subBase } from './sub-base.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser.close());

/** Everything a first visit saves, then no network at all. */
async function saveAndCut(folder: string, base: string): Promise<{ server: Server; tab: Tab }> {
  const server = await serve(folder, base);
  const tab = await openTab(browser, server.root, { serviceWorkers: 'allow' });
  await tab.page.goto(server.root);
  await installed(tab.page);
  await server.stop();
  await tab.context.setOffline(true);
  return { server, tab };
}

describe.each([
  ['at the root of a site', '/', () => dist, pages],
  [
    'in a folder of a larger site',
    subBase,
    subDist,
    [
      ...some(/^\/[^/]*\/?$/),
      ...some(/^\/(breathing|cough|measuring|home)\//, 6),
      ...some(/^\/calculators\//, 3),
      ...some(/^\/sources\//, 2),
    ],
  ],
] as const)('%s', (_, base, folder, wanted) => {
  let server: Server;
  let tab: Tab;
  beforeAll(async () => {
    ({ server, tab } = await saveAndCut(folder(), base));
  });
  afterAll(() => tab.context.close());

  test.each(wanted)('%s opens', async (path) => {
    const response = await tab.page.goto(server.at(path), { waitUntil: 'commit' });
    expect([response?.status(), response?.fromServiceWorker()]).toEqual([200, true]);
    expect(plain(await tab.page.locator('h1').textContent())).not.toBe('');
    expect(await tab.page.title()).toContain('Tidemark');
  });

  test('an address without its last slash, and one with words after a question mark, open the same page', async () => {
    for (const path of ['/calculators', '/search/?q=sniff']) {
      const response = await tab.page.goto(server.at(path), { waitUntil: 'domcontentloaded' });
      expect([path, response?.status()]).toEqual([path, 200]);
    }
  });

  test('a sum is done', async () => {
    await openCalculator(tab.page, server, 'ideal-body-weight');
    await fill(tab.page, 'ideal-body-weight', { sex: 'male', height: 175 });
    await answer(tab.page).waitFor();
    // By hand: 50 + 0.91 x (175 - 152.4) = 70.566
    expect(plain(await answer(tab.page).textContent())).toContain('70.6 kg');
  });

  test('search finds a page by a word, and its link opens it', async () => {
    await tab.page.goto(server.at('/search/'));
    await tab.page.locator('#q').fill('sniff');
    const found = tab.page.locator(`#results a[href="${new URL(server.at('/measuring/sniff-pressure/')).pathname}"]`);
    await found.tap();
    await tab.page.waitForURL(server.at('/measuring/sniff-pressure/'));
    expect(plain(await tab.page.locator('h1').textContent())).toMatch(/sniff/i);
  });

  test('an address that is nowhere says so, and leads on', async () => {
    const response = await tab.page.goto(server.at('/no/such/page/'));
    expect(response?.status()).toBe(404);
    expect(await tab.page.locator('h1').textContent()).toBe('Page not found');
    await tab.page.locator('main a', { hasText: 'Urgent help' }).tap();
    await tab.page.waitForURL(server.at('/urgent/'));
  });

  test('nothing broke its content policy, and nothing was asked of another origin', () => {
    expect([tab.faults.policy, tab.faults.elsewhere]).toEqual([[], []]);
  });
});

test('a signal lost halfway through saving costs nothing: the next visit saves the rest', async () => {
  const server = await serve(dist);
  const { context, page } = await openTab(browser, server.root, { serviceWorkers: 'allow' });
  await page.goto(server.root);
  const listed = JSON.parse(
    /const files[^=]*= (\[.*?\]);/s.exec(readFileSync(join(dist, 'sw.js'), 'utf8'))?.[1] ?? '[]',
  ).length;
  expect(listed).toBeGreaterThan(pages.length);
  server.left = Math.floor(listed / 2);
  await vi.waitUntil(() => server.left < 0, { timeout: 60_000 });
  await page.waitForFunction(() => navigator.serviceWorker.getRegistration().then((found) => found === undefined));
  expect(await page.evaluate(() => navigator.serviceWorker.controller)).toBe(null);

  server.left = Number.POSITIVE_INFINITY;
  server.asked.length = 0;
  await page.goto(server.at('/about/'));
  await installed(page);
  expect(server.asked.length).toBeLessThan(listed * 0.75);
  const saved = await page.evaluate(async () => {
    const caches = await globalThis.caches.keys();
    const counts = await Promise.all(
      caches.map(async (name) => (await (await globalThis.caches.open(name)).keys()).length),
    );
    return Math.max(...counts);
  });
  expect(saved).toBe(listed);
  await context.close();
  await server.stop();
});

test('every file of the build is on the list, and no file on it is missing', async () => {
  const server = await serve(dist);
  const files: { url: string }[] = JSON.parse(
    /const files[^=]*= (\[.*?\]);/s.exec(readFileSync(join(dist, 'sw.js'), 'utf8'))?.[1] ?? '[]',
  );
  const listed = files.map(({ url }) => url);
  expect(
    pages
      .map((page) => `${page.slice(1)}${page.endsWith('/') ? 'index.html' : ''}`)
      .filter((file) => !listed.includes(file)),
  ).toEqual([]);
  for (const url of listed) expect([url, (await fetch(server.at(url), { method: 'HEAD' })).status]).toEqual([url, 200]);
  await server.stop();
});
