/** Nothing that is typed leaves the device: the server's own log, through every kind of page, with and without worker and script. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { installed, openTab, phone, wake } from './browser.ts';
import { htmlOf, pages, some } from './built.ts';

/** Words and figures that no address of the site holds. */
const words = 'zqxvjkw sniff 37.3 zqxvjkw';
const number = '73.91';
const typed = /zqxvjkw|37\.3|37%2E3|73\.91|73%2E91/i;

const journey = [
  '/',
  '/search/',
  '/measuring/sniff-pressure/',
  '/visit/',
  '/calculators/body-mass-index/',
  '/calculators/decline-rate/',
  '/agree/',
  '/agree/open/',
  '/agree/sign/',
  ...some(/^\/learn\/cases\/./, 1),
  ...some(/oximetry\/$/, 2),
];

/** Fill every field of the page, press Enter in each, and press every button that submits. */
async function fillAndSubmit(page: Page, path: string): Promise<void> {
  const fields = page.locator(
    'main :is(input:not([type]), input[type=text], input[type=search], input[type=number], textarea)',
  );
  for (let at = 0; at < Math.min(6, await fields.count()); at += 1) {
    const field = fields.nth(at);
    if (!(await field.isVisible()) || !(await field.isEnabled())) continue;
    const isNumber = (await field.getAttribute('inputmode')) === 'decimal';
    await field.fill(isNumber ? number : words).catch(() => undefined);
    await field.press('Enter', { timeout: 5000 }).catch(() => undefined);
    // Long enough for a form to lead to another page.
    await page.waitForTimeout(400);
    if (new URL(page.url()).pathname !== path) {
      await page.waitForLoadState();
      await page.goto(server.at(path));
    }
  }
  const submits = page.locator('main form button[type=submit]');
  for (let at = 0; at < (await submits.count()); at += 1) {
    if (await submits.nth(at).isEnabled())
      await submits
        .nth(at)
        .click({ timeout: 3000 })
        .catch(() => undefined);
  }
  await page.waitForTimeout(400);
  await page.waitForLoadState();
  await page.reload();
}

const left = (): string[] => server.log.filter((line) => typed.test(line));

describe.each([
  ['with script', { javaScriptEnabled: true, serviceWorkers: 'block' as const }],
  ['without script', { javaScriptEnabled: false, serviceWorkers: 'block' as const }],
  ['with the saved copy', { javaScriptEnabled: true, serviceWorkers: 'allow' as const }],
])('%s', (_, options) => {
  test(`nothing typed on ${journey.length} kinds of pages is in the server's log, and nothing is posted`, async () => {
    server.log.length = 0;
    const { context, page } = await openTab(browser, server.root, { ...phone, ...options });
    if (options.serviceWorkers === 'allow') {
      await page.goto(server.at('/about/'));
      await installed(page);
    }
    for (const path of journey) {
      await page.goto(server.at(path));
      if (options.javaScriptEnabled) await wake(page);
      await fillAndSubmit(page, path);
      expect(new URL(page.url()).href, path).not.toMatch(typed);
    }
    expect(server.log.length).toBeGreaterThan(0);
    expect(left()).toEqual([]);
    expect(server.log.filter((line) => !line.startsWith('GET '))).toEqual([]);
    await context.close();
  }, 240_000);
});

test('the log shows what a form would send: this test can fail', async () => {
  server.log.length = 0;
  const { context, page } = await openTab(browser, server.root);
  await page.goto(server.at('/about/'));
  await page.evaluate((line) => {
    document.body.innerHTML = `<form method="get"><input name="q" value="${line}"></form>`;
    document.querySelector('form')?.submit();
  }, words);
  await page.waitForURL(/q=/);
  expect(left().length).toBeGreaterThan(0);
  await context.close();
});

test('a form on any page goes nowhere by itself, or has no field with a name', () => {
  const wrong = pages.flatMap((page) =>
    [...htmlOf(page).matchAll(/<form\b([^>]*)>(.*?)<\/form>/gs)].flatMap(([, open = '', inside = '']) =>
      /method="?dialog"?/.test(open) || !/<(?:input|select|textarea)\b[^>]*\sname=/.test(inside)
        ? []
        : [`${page}: <form${open}>`],
    ),
  );
  expect(wrong).toEqual([]);
});

describe('a typed line', () => {
  let page: Page;
  beforeAll(async () => {
    ({ page } = await openTab(browser, server.root));
  });
  afterAll(() => page.context().close());

  test('handed from a measuring page to the search is in no address on the way', async () => {
    const addresses: string[] = [];
    page.on('framenavigated', (frame) => addresses.push(frame.url()));
    await page.goto(server.at('/'));
    await page.evaluate(() => {
      const field = document.querySelector<HTMLInputElement>('#q');
      if (field) field.value = 'sniff 38';
    });
    // Before the part that answers in place has come: the form leads to the search page.
    await page.evaluate(() => document.querySelector<HTMLFormElement>('form.find')?.requestSubmit());
    await page.waitForURL(/\/search\/$/);
    await page.locator('#instant .instant').waitFor();
    expect(await page.locator('#q').inputValue()).toBe('sniff 38');
    expect(addresses.join()).not.toMatch(/sniff|q=/);
  });

  test('from a link is taken out of the address once it is read', async () => {
    await page.goto(server.at('/search/#q=sniff%2038'));
    await page.locator('#instant .instant').waitFor();
    expect(page.url()).toBe(server.at('/search/'));
  });
});
