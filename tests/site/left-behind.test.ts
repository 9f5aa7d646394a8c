/** What 'Next person' leaves behind: on Back, in other tabs, after a wrong clock. And what a reader finds again who did not press it. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

const strip = (page: Page) => page.locator('[data-person]');
const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const answered = (page: Page) => page.locator('#instant .instant');

async function holdSomeone(page: Page): Promise<void> {
  await page.goto(server.at('/about/'));
  await page.evaluate(() =>
    sessionStorage.setItem(
      'tidemark:person',
      JSON.stringify({ until: Date.now() + 3_600_000, data: { disease: 'als', ageYears: 61 } }),
    ),
  );
  await page.reload();
  await strip(page).filter({ hasText: '61' }).waitFor();
}

async function typeLine(page: Page, line: string, path = '/search/'): Promise<void> {
  await page.goto(server.at(path));
  await page.locator('#q').fill(line);
  await page.locator('#q').press('Enter');
  await answered(page).first().waitFor();
}

async function pressNext(page: Page): Promise<void> {
  await button(page, 'Next person').tap();
  await button(page, 'Clear and start the next person').tap();
}

describe('the search, on Back', () => {
  test.each(['/search/', '/'])(
    '%s: the line and its answer are there again; after "Next person" neither is',
    async (path) => {
      const { page } = tab;
      await holdSomeone(page);
      await typeLine(page, 'fvc 48 sleepy', path);
      await page.goto(server.at('/glossary/'));
      await page.goBack();
      await answered(page).first().waitFor();
      expect(await page.locator('#q').inputValue()).toBe('fvc 48 sleepy');

      await page.goto(server.at('/glossary/'));
      await pressNext(page);
      await page.goBack();
      await page.locator('#q').waitFor();
      await page.waitForTimeout(500);
      expect(await page.locator('#q').inputValue()).toBe('');
      expect(await answered(page).count()).toBe(0);
      expect(await page.evaluate(() => JSON.stringify([sessionStorage, history.state]))).not.toMatch(/fvc|sleepy/);
    },
  );

  test('a fact and a sign changed in the answer are still changed on Back and on a reload, and another line starts afresh', async () => {
    const { page } = tab;
    await typeLine(page, 'sats 91 on air sleepy als 62');
    const chip = (name: string | RegExp) => page.locator('#instant .instant').getByRole('button', { name }).first();
    await chip('On room air').tap();
    await chip('On oxygen').tap();
    await chip('On oxygen').waitFor();
    await page.reload();
    await chip('On oxygen').waitFor();
    expect(await page.getByRole('button', { name: 'On room air' }).count()).toBe(0);
    await page.goto(server.at('/urgent/'));
    await page.goBack();
    await chip('On oxygen').waitFor();
    await page.locator('#q').fill('sats 91 on air sleepy als 63');
    await chip('On room air').waitFor();
    expect(await page.getByRole('button', { name: 'On oxygen' }).count()).toBe(0);
  });

  test('a link to a place on the page leaves the line alone', async () => {
    const { page } = tab;
    await typeLine(page, 'fvc 48 als', '/');
    await page.evaluate(() => {
      location.hash = '#device';
    });
    await page.waitForTimeout(300);
    expect(await page.locator('#q').inputValue()).toBe('fvc 48 als');
    expect(await answered(page).count()).toBe(1);
  });
});

describe('other tabs', () => {
  test('are cleared too, and each can undo it', async () => {
    const { page, context } = tab;
    await holdSomeone(page);
    const other = await context.newPage();
    await holdSomeone(other);
    await page.bringToFront();
    await button(page, 'Next person').tap();
    expect(await page.getByRole('alertdialog').textContent()).toContain(
      'Other open tabs of this site are cleared too.',
    );
    await button(page, 'Clear and start the next person').tap();
    await expect.poll(() => other.evaluate(() => Object.keys(sessionStorage))).toEqual([]);
    expect(await strip(other).textContent()).not.toContain('61');
    await other.getByRole('button', { name: /^Undo: bring back the person cleared at/ }).tap();
    await strip(other).filter({ hasText: '61' }).waitFor();
    expect(await page.evaluate(() => Object.keys(sessionStorage))).toEqual([]);
  });
});

describe('the twelve hours', () => {
  const put = (page: Page, hours: number): Promise<void> =>
    page.evaluate(
      (left) =>
        sessionStorage.setItem(
          'tidemark:person',
          JSON.stringify({ until: Date.now() + left * 3_600_000, data: { ageYears: 61 } }),
        ),
      hours,
    );

  test.each([
    ['over', -0.1, false],
    ['nearly over', 0.1, true],
    ['just begun', 11.9, true],
    ['begun by a clock that was a day ahead', 36, false],
  ])('%s', async (_, hours, there) => {
    const { page } = tab;
    await page.goto(server.at('/about/'));
    await put(page, hours);
    await page.reload();
    if (there) await strip(page).filter({ hasText: '61' }).waitFor();
    else await expect.poll(() => page.evaluate(() => Object.keys(sessionStorage))).toEqual([]);
  });
});
