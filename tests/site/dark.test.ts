/** At night, by the bed: the same pages in their dark colours, and in letters twice the size. A few of each kind. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { accessFaults, overflow, unfold } from './access.ts';
import { launch, openTab, type Tab, wake } from './browser.ts';
import { dist, pages, some } from './built.ts';
import { type Server, serve } from './server.ts';

const folders = [...new Set(pages.map((page) => page.split('/')[1] ?? ''))].filter(
  (folder) => folder !== '' && !folder.includes('.'),
);
const sample = [
  ...new Set([...some(/^\/[^/]*$/), ...folders.flatMap((folder) => some(new RegExp(`^/${folder}/`), 2))]),
];

let browser: Browser;
let server: Server;
let tab: Tab;
beforeAll(async () => {
  browser = await launch();
  server = await serve(dist);
  tab = await openTab(browser, server.root, { colorScheme: 'dark' });
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

test.each(sample)(
  '%s: in the dark an accessibility check has nothing against it, and letters twice the size still fit',
  async (path) => {
    const { page } = tab;
    await page.goto(server.at(path));
    await wake(page);
    await unfold(page);
    expect(await page.evaluate(() => matchMedia('(prefers-color-scheme: dark)').matches)).toBe(true);
    expect(await accessFaults(page)).toEqual([]);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '200%';
    });
    expect(await overflow(page)).toBeLessThanOrEqual(0);
  },
);
