/** What every page must be, whatever it says. Shared by the files that each take a part of the pages, so that two run at once. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { closingSafety } from '../../src/safety/emergency.ts';
import { accessFaults, overflow, unfold } from './access.ts';
import { type Faults, launch, openTab, type Tab, wake } from './browser.ts';
import { dist } from './built.ts';
import { type Server, serve } from './server.ts';

interface Seen {
  access: string[];
  faults: Faults;
  headings: string[];
  /** headings that leave out a level: a reader who goes by them believes that a part is missing */
  jumps: string[];
  /** last words of the page, as a reader sees them */
  safety: boolean;
  overflow: number;
  /** where the first section begins: a heading, field, list or table after the answer; of an urgent page, the first step */
  first: number;
}

const narrow = { width: 320, height: 640 };
const phone = { width: 390, height: 844 };
/** Half of the phone's height. */
const firstBy = 420;
const firstStep = 'main ol > li';
const firstSection =
  'main :is(h2, h3, form, ul, ol, dl, table, details, figure, section, fieldset, label, .criteria, .care, .calculator, .alarm:not(.row), .small)';

export function examine(pages: string[]): void {
  let server: Server;
  let browser: Browser;
  let tab: Tab;
  beforeAll(async () => {
    server = await serve(dist);
    browser = await launch();
    tab = await openTab(browser, server.root);
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  describe.each(pages)('%s', (path) => {
    // A page that cannot be looked at fails each of its tests, rather than leaving them out.
    let looked: Promise<Seen>;
    beforeAll(async () => {
      looked = look(tab, server.at(path));
      await looked.catch(() => undefined);
    });
    test('an accessibility check has nothing against it', async () => expect((await looked).access).toEqual([]));
    test('runs without an error, within its content policy, and asks no other origin for anything', async () =>
      expect((await looked).faults).toEqual({ errors: [], policy: [], elsewhere: [] }));
    test('has one main heading', async () =>
      expect((await looked).headings.map((words) => words.trim() !== '')).toEqual([true]));
    test('leaves out no level of its headings', async () => expect((await looked).jumps).toEqual([]));
    test('ends on the safety words', async () => expect((await looked).safety).toBe(true));
    test('shows its first section, or its first step, in the upper half of a phone', async () =>
      expect((await looked).first).toBeLessThanOrEqual(firstBy));
    test('fits a screen 320 pixels wide', async () => expect((await looked).overflow).toBeLessThanOrEqual(0));
  });
}

async function look({ page, faults }: Tab, address: string): Promise<Seen> {
  faults.errors.length = 0;
  faults.policy.length = 0;
  faults.elsewhere.length = 0;
  await page.setViewportSize(phone);
  await page.goto(address);
  await wake(page);
  const first = await firstTop(page, /\/urgent\/./.test(address) ? firstStep : firstSection);
  await unfold(page);
  const access = await accessFaults(page);
  const headings = await page.locator('h1').allTextContents();
  const jumps = await page.evaluate(() => {
    const all = [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].filter((one) => one.checkVisibility());
    const level = (heading: Element | undefined) => Number(heading?.tagName.slice(1) ?? 0);
    return all.filter((one, at) => level(one) > level(all[at - 1]) + 1).map((one) => one.textContent ?? '');
  });
  const safety = await isVisible(page, closingSafety);
  await page.setViewportSize(narrow);
  const wider = await overflow(page);
  return { access, headings, jumps, safety, overflow: wider, first, faults: structuredClone(faults) };
}

const firstTop = (page: Page, found: string): Promise<number> =>
  page.evaluate((selector) => {
    const first = [...document.querySelectorAll(selector)].find(
      (one) => one.closest('.way, .local') === null && one.checkVisibility() && one.getBoundingClientRect().height > 0,
    );
    return first ? Math.round(first.getBoundingClientRect().top) : Number.POSITIVE_INFINITY;
  }, found);

const isVisible = (page: Page, words: string): Promise<boolean> =>
  page.locator('footer').getByText(words, { exact: true }).isVisible();
