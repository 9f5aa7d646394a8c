/** At night, by the bed: the same pages in their dark colours, and in letters twice the size. A few of each kind. */
import { beforeAll, expect, test } from 'vitest';
import { accessFaults, overflow, unfold } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab, wake } from './browser.ts';
import { pages, some } from './built.ts';

const folders = [...new Set(pages.map((page) => page.split('/')[1] ?? ''))].filter(
  (folder) => folder !== '' && !folder.includes('.'),
);
const sample = [
  ...new Set([...some(/^\/[^/]*$/), ...folders.flatMap((folder) => some(new RegExp(`^/${folder}/`), 2))]),
];

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root, { colorScheme: 'dark' });
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
