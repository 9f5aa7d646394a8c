/** A signal that drops halfway: the page came, its scripts did not. No sum may look alive, and the text must do the work. */
import type { Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { calculators } from '../../calculators/index.ts';
import { accessFaults } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { pages } from './built.ts';
import { examplesOf } from './form.ts';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.context.route('**/*.js', (route) => route.abort());
});

const waiting = 'This calculation needs JavaScript';
const disabled = (fields: Locator): Promise<boolean> =>
  fields.evaluate((element) => (element as HTMLFieldSetElement).disabled);

/** The page has tried for its scripts and been refused. */
async function openDead(path: string): Promise<Page> {
  const { page } = tab;
  const refused = page.waitForEvent('requestfailed', (request) => request.url().endsWith('.js'));
  await page.goto(server.at(path));
  await refused;
  return page;
}

describe.each(Object.entries(calculators))('%s, its script refused', (id, calculator) => {
  test('fields are disabled, no result shows, and the text says why', async () => {
    const page = await openDead(`/calculators/${id}/`);
    expect(await disabled(page.locator('.calculator form > fieldset'))).toBe(true);
    const controls = page.locator('.calculator form').locator('input, select, button');
    expect(await controls.count()).toBeGreaterThan(0);
    for (const control of await controls.all()) expect(await control.isDisabled()).toBe(true);
    expect(await page.locator('.result dl').count()).toBe(0);
    expect(await page.locator('.waiting').textContent()).toContain(waiting);
  });

  test('the worked example and each formula can be read as plain text', async () => {
    const { page } = tab;
    const example = page.locator('.calculator .example');
    await example.scrollIntoViewIfNeeded();
    expect(await example.isVisible()).toBe(true);
    for (const name of Object.keys(examplesOf(id).find((one) => one.gives)?.gives ?? {}))
      if (calculator.results[name]) expect(await example.textContent()).toContain(calculator.results[name].label);
    const formulas = page.locator('.calculator .formula .plain');
    expect(await formulas.count()).toBe(Object.keys(calculator.formulas).length);
    for (const text of await formulas.allTextContents()) expect(text).toMatch(/ = .*\S/);
  });
});

test('the visit sheet is disabled, with a sentence that says what to use meanwhile', async () => {
  const page = await openDead('/visit/');
  expect(await disabled(page.locator('.visit form > fieldset'))).toBe(true);
  // Held back for a second, in which a script that does come has come.
  await page
    .getByText(
      'This sheet needs JavaScript, which has not loaded yet. Until JavaScript has loaded, use the criteria on the measuring pages.',
    )
    .waitFor();
  expect(await page.locator('.found').count()).toBe(0);
});

test('emergency words stand on the visit sheet and the urgent page', async () => {
  for (const path of ['/visit/', '/urgent/']) {
    const page = await openDead(path);
    expect(await page.locator('main .alarm').first().isVisible()).toBe(true);
    expect(await page.locator('main .alarm').first().textContent()).toMatch(/Call (the emergency number )?now/);
  }
});

test('the list of all pages leads to every page of the handbook and every sum', async () => {
  const page = await openDead('/all-pages/');
  const listed = await page
    .locator('main a')
    .evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).pathname));
  const wanted = pages.filter((path) => path.split('/').length === 4 && !path.startsWith('/sources/'));
  expect(wanted.filter((path) => !listed.includes(path))).toEqual([]);
  expect(listed.filter((path) => !pages.includes(path))).toEqual([]);
  await page.locator('main summary').first().tap();
  await page.locator('main a').first().tap();
  await page.locator('h1').waitFor();
});

test('search points to the list of all pages', async () => {
  const page = await openDead('/search/');
  const link = page.locator('main p a', { hasText: 'All pages' });
  await link.tap();
  await page.waitForURL(server.at('/all-pages/'));
});

test('a dead sum passes the accessibility check', async () => {
  const page = await openDead('/calculators/ideal-body-weight/');
  expect(await accessFaults(page)).toEqual([]);
});

test('with scripts switched off altogether, pages read, search says so, and sums stay disabled', async () => {
  const { context, page } = await openTab(browser, server.root, { javaScriptEnabled: false });
  await page.goto(server.at('/search/'));
  expect(await page.locator('noscript a', { hasText: 'All pages' }).isVisible()).toBe(true);
  await page.goto(server.at('/calculators/ideal-body-weight/'));
  expect(await disabled(page.locator('.calculator form > fieldset'))).toBe(true);
  await context.close();
});
