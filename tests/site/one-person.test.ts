/** One person at a time: nothing typed for one can colour the next one's marks. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { field, openCalculator } from './form.ts';
import { chip, measure, note, openParts, openSheet, type } from './sheet.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

const strip = (page: Page) => page.locator('[data-person]');
const nextPerson = (page: Page) => strip(page).getByRole('button', { name: 'Next person' }).tap();

/** A woman of 61 with ALS whose sniff was 38. */
async function enterSomeone(page: Page): Promise<void> {
  await openSheet(page, server.at('/visit/'));
  await page.getByLabel('Disease').selectOption('als');
  await page.getByLabel('Age', { exact: true }).fill('61');
  await chip(page, 'Female').tap();
  await openParts(page);
  await type(page, 'snip', '38');
}

test('height, age and sex typed for one sum are there for the next, and a line at the top says whose they are', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await page.locator('.calculator').getByText('Male', { exact: true }).tap();
  await strip(page).filter({ hasText: '175\u00a0cm' }).filter({ hasText: 'male' }).waitFor();
  await openCalculator(page, server, 'body-surface-area');
  expect(await field(page, 'height').inputValue()).toBe('175');
});

test('"Next person" on a calculator empties its fields, its answer and the line at the top', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await page.locator('.calculator').getByText('Male', { exact: true }).tap();
  await page.locator('.result dl').waitFor();
  await nextPerson(page);
  await page.locator('.result dl').waitFor({ state: 'detached' });
  expect(await field(page, 'height').inputValue()).toBe('');
  expect(await page.locator('.calculator input:checked').count()).toBe(0);
  expect(await strip(page).isVisible()).toBe(false);
});

test('"Next person" at the top of one page clears the visit sheet too', async () => {
  const { page } = tab;
  await enterSomeone(page);
  await page.goto(server.at('/calculators/'));
  await nextPerson(page);
  await openSheet(page, server.at('/visit/'));
  expect(
    await measure(page, 'snip')
      .locator('input')
      .first()
      .inputValue()
      .catch(() => ''),
  ).toBe('');
  expect(await note(page)).not.toContain('38');
  expect(await page.evaluate(() => Object.keys(sessionStorage).concat(Object.keys(localStorage)))).toEqual([]);
});

test('a note changed by hand goes with its person', async () => {
  const { page } = tab;
  await enterSomeone(page);
  await page.locator('#note-text').fill('Seen at home. Sniff 38.');
  await nextPerson(page);
  await strip(page).waitFor({ state: 'hidden' });
  expect(await note(page)).not.toContain('Seen at home');
});

test('another tab knows nothing of this one', async () => {
  await enterSomeone(tab.page);
  const other = await tab.context.newPage();
  await openSheet(other, server.at('/visit/'));
  expect(await other.getByLabel('Disease').inputValue()).toBe('');
  expect(await strip(other).isVisible()).toBe(false);
});

test('a page found again with the Back button after "Next person" no longer shows the last one', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await field(page, 'height').blur();
  // What a browser does that keeps the whole page, script and all, and wakes it: the person was cleared elsewhere meanwhile.
  await page.evaluate(() => {
    sessionStorage.clear();
    dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }));
  });
  await page.waitForFunction(
    () => document.querySelector<HTMLInputElement>('.calculator input[type="text"]')?.value === '',
  );
});

test('a sheet left open overnight is empty in the morning', async () => {
  const { page } = tab;
  await page.clock.install();
  await enterSomeone(page);
  expect(await note(page)).toContain('38');
  await page.clock.fastForward('13:00:00');
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.clock.runFor(1000);
  expect(await note(page)).not.toContain('38');
  expect(await page.getByLabel('Disease').inputValue()).toBe('');
});

test('nothing typed is written to any storage that outlives the tab', async () => {
  await enterSomeone(tab.page);
  expect(await tab.page.evaluate(() => [localStorage.length, document.cookie, sessionStorage.length > 0])).toEqual([
    0,
    '',
    true,
  ]);
});
