/** The danger table typed into search, a line each, on a phone: what must lead is in the first view, and the answer says nothing that it must not. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readDangers } from '../reference/danger.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { firstView, lacking, saying, seen } from './first-view.ts';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.page.goto(server.at('/search/'));
});
afterAll(() => tab?.context.close());

const typed = readDangers('danger-table').filter(({ line }) => line !== undefined);

test.each(typed.map((danger) => [danger.id, danger.line ?? '', danger] as const))('%s: %s', async (_, line, danger) => {
  const { page } = tab;
  const field = page.locator('main input[type="search"]');
  await field.fill('');
  await page.waitForFunction(() => document.querySelector('#instant')?.textContent === '');
  await field.fill(line);
  await field.press('Enter');
  // A line that only names a device is answered by its pages.
  await page.locator('#instant > *, #results li').first().waitFor();
  await page.evaluate(() => scrollTo(0, 0));
  const first = await firstView(page);
  const lacks = lacking(danger.lineLeads ?? [], first);
  expect({
    lacks,
    says: saying(danger.never, await seen(page.locator('#instant'))),
    first: lacks.length > 0 ? first : '',
  }).toEqual({ lacks: [], says: [], first: '' });
});
