/** What a browser brings back by itself: a page from its back-forward cache, a session after a restart; and what it adds on paper. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { server } from './at-hand.ts';
import { openTab, startOptions, wake } from './browser.ts';
import { printedText } from './pdf.ts';
import { measure, openParts, openSheet, type } from './sheet.ts';

const pressNext = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: 'Next person', exact: true }).click();
  await page.getByRole('button', { name: 'Clear and start the next person', exact: true }).click();
};

async function holdSomeone(page: Page, hours = 1): Promise<void> {
  await page.goto(server.at('/about/'));
  await page.evaluate(
    (left) =>
      sessionStorage.setItem(
        'tidemark:person',
        JSON.stringify({ until: Date.now() + left * 3_600_000, data: { disease: 'als', ageYears: 61 } }),
      ),
    hours,
  );
}

/** As a thumb goes back. Playwright's own goBack waits for a page that loads, and a page from this cache does not load. */
async function goBackTo(page: Page, path: string): Promise<void> {
  await page.evaluate(() => history.back());
  await page.waitForURL(server.at(path), { waitUntil: 'commit' });
  await page.waitForFunction(() => (globalThis as { cameBack?: boolean }).cameBack === true);
}

/** What stands in the fields that take text, dates aside. */
const typedIn = (page: Page): Promise<string[]> =>
  page
    .locator('main input[type="text"]')
    .evaluateAll((fields) => fields.map((field) => (field as HTMLInputElement).value).filter((value) => value !== ''));

describe('the back-forward cache', () => {
  let browser: Browser;
  // Playwright switches the cache off unless told not to.
  beforeAll(async () => {
    browser = await chromium.launch({ ...startOptions(), ignoreDefaultArgs: ['--disable-back-forward-cache'] });
  });
  afterAll(() => browser.close());

  async function open(): Promise<{ page: Page; context: BrowserContext }> {
    const tab = await openTab(browser, server.root);
    await tab.page.addInitScript(() =>
      addEventListener('pageshow', ({ persisted }) => Object.assign(globalThis, { cameBack: persisted })),
    );
    return tab;
  }

  test('brings a visit back as it was typed; after "Next person" it brings back an empty sheet', async () => {
    const { page, context } = await open();
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await openParts(page);
    await type(page, 'snip', '38');
    await page.goto(server.at('/glossary/'));
    await goBackTo(page, '/visit/');
    expect(await measure(page, 'snip').locator('input[type="text"]').inputValue()).toBe('38');

    await page.goto(server.at('/glossary/'));
    await pressNext(page);
    await goBackTo(page, '/visit/');
    await expect.poll(() => page.getByLabel('Disease').inputValue()).toBe('');
    expect(await typedIn(page)).toEqual([]);
    await context.close();
  });

  test('brings back a typed line with its answer; after "Next person" neither', async () => {
    const { page, context } = await open();
    await holdSomeone(page);
    await page.goto(server.at('/search/'));
    await page.locator('#q').fill('als sniff 38');
    await page.locator('#q').press('Enter');
    await page.locator('#instant .instant').first().waitFor();
    await page.goto(server.at('/glossary/'));
    await goBackTo(page, '/search/');
    expect(await page.locator('#q').inputValue()).toBe('als sniff 38');

    await page.goto(server.at('/glossary/'));
    await pressNext(page);
    await goBackTo(page, '/search/');
    await expect.poll(() => page.locator('#q').inputValue()).toBe('');
    await expect.poll(() => page.locator('#instant .instant').count()).toBe(0);
    await context.close();
  });

  test('brings back a calculator as it was typed; after "Next person" an empty one', async () => {
    const { page, context } = await open();
    await holdSomeone(page);
    const path = '/calculators/cylinder-duration/';
    await page.goto(server.at(path));
    await wake(page);
    // The pressure is about a cylinder: it is stored nowhere but on this page.
    const pressure = page.locator('.calculator input[type="text"]').first();
    await pressure.fill('137');
    await page.goto(server.at('/glossary/'));
    await goBackTo(page, path);
    expect(await pressure.inputValue()).toBe('137');
    await page.goto(server.at('/glossary/'));
    await pressNext(page);
    await goBackTo(page, path);
    await expect.poll(() => pressure.inputValue()).toBe('');
    await context.close();
  });
});

describe('a session that the browser restores after it was closed', () => {
  /** A browser with a profile on disk: the only kind that has a session to restore. */
  const begin = (profile: string, ...more: string[]): Promise<BrowserContext> =>
    chromium.launchPersistentContext(profile, {
      ...startOptions(),
      viewport: null,
      args: [...(startOptions().args ?? []), ...more],
      // Otherwise an empty tab is asked for, and that takes the place of the session.
      ignoreDefaultArgs: ['about:blank'],
    });
  const place = () => server.at('/about/');

  test.each([
    ['within twelve hours brings the same person, named as such', 2, true],
    ['later brings nobody', -1, false],
  ])('%s', async (_, hours, comes) => {
    const profile = mkdtempSync(join(tmpdir(), 'tidemark-session-'));
    const before = await begin(profile);
    const first = before.pages()[0] ?? (await before.newPage());
    await holdSomeone(first, hours);
    await first.evaluate(() => sessionStorage.setItem('for-the-test', 'restored'));
    // Chromium writes a tab's storage to the disk some seconds later.
    await first.waitForTimeout(6_000);
    await before.close();

    const after = await begin(profile, '--restore-last-session');
    await expect.poll(() => after.pages().map((page) => page.url())).toContain(place());
    const again = after.pages().find((page) => page.url() === place()) as Page;
    expect(await again.evaluate(() => sessionStorage.getItem('for-the-test'))).toBe('restored');
    const strip = again.locator('[data-person]');
    if (comes) await strip.filter({ hasText: '61' }).waitFor();
    else await strip.waitFor({ state: 'hidden' });
    const stored = await again.evaluate(() => sessionStorage.getItem('tidemark:person'));
    expect(stored === null).toBe(!comes);
    await after.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 3 });
  });
});

test('the address and the title that a browser prints at the edge of the paper hold nothing that was typed', async () => {
  const { page, context } = await openTab(await chromium.launch(startOptions()), server.root);
  const printed = async (): Promise<string> => {
    const footer = '<p style="font-size:9px"><span class="title"></span> <span class="url"></span></p>';
    return printedText(await page.pdf({ displayHeaderFooter: true, headerTemplate: footer, footerTemplate: footer }));
  };
  await page.goto(server.at('/search/'));
  await page.locator('#q').fill('als sniff 38');
  await page.locator('#q').press('Enter');
  await page.locator('#instant .instant').first().waitFor();
  const edges = (await page.title()) + page.url();
  expect(await printed()).toContain(page.url().replace(/\s/g, ''));
  expect(edges).not.toMatch(/sniff|als/i);

  await openSheet(page, server.at('/visit/'));
  await page.getByLabel('Disease').selectOption('dmd');
  expect((await page.title()) + page.url()).not.toMatch(/dmd|duchenne/i);
  await context.browser()?.close();
});
