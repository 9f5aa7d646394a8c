/** Sixty lines as they are typed in a parked car, and the questions that a therapist asks: what must come first. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { pages } from './built.ts';
import { nextPerson } from './sheet.ts';

interface Wanted {
  typed: string;
  says?: string;
  notes?: string;
  asks?: string[];
  hints?: string;
  opens?: string[];
}

const queries: Wanted[] = parse(readFileSync('tests/site/queries.yaml', 'utf8'));
const questions: { asks: string; finds: string[] }[] = parse(readFileSync('tests/content/questions.yaml', 'utf8'));

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.page.goto(server.at('/search/'));
});

const plain = (text: string | null): string => (text ?? '').replace(/\s+/g, ' ').trim();

/** Typed and sent off with Enter; answered when the status line speaks. */
async function ask(page: Page, line: string): Promise<void> {
  await page.locator('#q').fill('');
  await page.waitForFunction(() => document.querySelector('#search-status')?.textContent === '');
  await page.locator('#q').fill(line);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.querySelector('#search-status')?.textContent !== '');
}

const found = (page: Page): Promise<string[]> =>
  page.locator('#results a').evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).pathname));

test('there are at least sixty lines, each with one thing that must come first', () => {
  expect(queries.length).toBeGreaterThanOrEqual(60);
  for (const { typed, says, asks, hints, opens } of queries)
    expect([typed, [says, asks, hints, opens].filter(Boolean).length]).toEqual([typed, 1]);
});

describe('a typed line', () => {
  test.each(queries)('"$typed"', async ({ typed, says, notes, asks, hints, opens }) => {
    const { page } = tab;
    await ask(page, typed);
    const instant = page.locator('#instant');
    if (says !== undefined) {
      expect(plain(await instant.locator('h2').first().textContent())).toBe(says);
      // A calculation is loaded when it is asked for.
      if (notes !== undefined) await expect.poll(async () => plain(await instant.textContent())).toContain(notes);
    }
    if (asks !== undefined)
      expect((await instant.locator('button').allTextContents()).map(plain).sort()).toEqual([...asks].sort());
    if (hints !== undefined) expect(plain(await instant.textContent())).toMatch(new RegExp(`^${hints}`));
    if (opens !== undefined) {
      // Pages only: the section on the subject may stand before the list.
      expect(await instant.locator('.instant').count()).toBe(0);
      for (const address of opens) expect(pages).toContain(address);
      expect(opens).toContain((await found(page))[0]);
    }
  });
});

describe('a question, answered among the first three pages', () => {
  test.each(questions)('"$asks"', async ({ asks, finds }) => {
    const { page } = tab;
    await ask(page, asks);
    const first = (await found(page)).slice(0, 3);
    expect(
      finds.some((address) => first.includes(address)),
      first.join(' '),
    ).toBe(true);
  });
});

describe('an instant answer', () => {
  test('an oxygen flow is answered with the caution before the figure', async () => {
    const { page } = tab;
    await ask(page, '4 l nasal');
    await page.locator('#instant .said').first().waitFor();
    const text = plain(await page.locator('#instant').textContent());
    expect(text.indexOf('Oxygen alone can hide and worsen hypoventilation')).toBeGreaterThan(0);
    expect(text.indexOf('Oxygen alone can hide and worsen hypoventilation')).toBeLessThan(
      text.indexOf('FiO2 by the published figure'),
    );
    // 20 + 4 x 4, the convention; ranges as published (calculators/oxygen/interfaces.ts names the texts)
    expect(text).toContain('36 %');
    expect(text).toContain('24 to 50');
  });

  test('a flow that nothing is published for is refused in words', async () => {
    const { page } = tab;
    await ask(page, '12 l nasal cannula');
    await page.locator('#instant aside').waitFor();
    const text = plain(await page.locator('#instant').textContent());
    expect(text).toContain('The cannula rule runs from 1 to 6 L/min. 12 L/min is above that');
    expect(text).not.toContain('FiO2 by the published figure');
  });

  test('of two meanings the one tapped is answered, and the keyboard goes on from there', async () => {
    const { page } = tab;
    await ask(page, 'sniff 4');
    await page.locator('#instant button', { hasText: 'kPa' }).click();
    expect(plain(await page.locator('#instant h2').textContent())).toBe('SNIP 4 kPa (40.8 cmH2O)');
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('instant');
  });

  test('a saturation asks what was breathed, and on oxygen no criterion for room air is called met', async () => {
    const { page } = tab;
    await ask(page, 'sats 91');
    await page.locator('#instant .chips button', { hasText: 'Air, oxygen or NIV?' }).click();
    expect((await page.locator('#instant .choice').first().locator('button').allTextContents()).map(plain)).toEqual([
      'On room air',
      'On oxygen',
      'On NIV',
    ]);
    await page.locator('#instant .choice button', { hasText: 'On oxygen' }).click();
    expect(plain(await page.locator('#instant .chips').textContent())).toContain('On oxygen');
    // What is said of oxygen by itself stays; no threshold of room air is called met.
    const purposes = (await page.locator('#instant .purpose').allTextContents()).map(plain);
    expect(purposes.filter((words) => !/oxygen/i.test(words))).toEqual([]);
  });

  test('a flag stands in the sentence of each criterion that a leaky blow crosses', async () => {
    const { page } = tab;
    await ask(page, 'fvc 48 leak');
    const said = (await page.locator('#instant .purpose .said').allTextContents()).map(plain);
    expect(said.length).toBeGreaterThan(0);
    for (const line of said) expect(line).toContain('flagged: leak');
  });

  test('a word that had no part in the answer is named', async () => {
    const { page } = tab;
    await ask(page, 'fvc 48 after surgery');
    expect(plain(await page.locator('#instant').textContent())).toContain('\u201csurgery\u201d');
  });

  test('the person in hand is taken into account, and goes with "next person" together with what was typed', async () => {
    const { context, page } = await openTab(browser, server.root);
    await page.goto(server.at('/search/'));
    await page.evaluate(() =>
      sessionStorage.setItem(
        'tidemark:person',
        JSON.stringify({ until: Date.now() + 1e6, data: { disease: 'dmd', ageYears: 14 } }),
      ),
    );
    await page.reload();
    await ask(page, 'fvc 45');
    const text = plain(await page.locator('#instant').textContent());
    expect(text).toContain('14 years');
    expect(text).toContain('Duchenne');
    await nextPerson(page, 'header');
    await page.waitForFunction(() => document.querySelector('#instant')?.textContent === '');
    expect(await page.locator('#q').inputValue()).toBe('');
    expect(new URL(page.url()).search).toBe('');
    await context.close();
  });
});

test('while a line is being typed the status line waits for a pause, and then speaks once', async () => {
  const { page } = tab;
  await page.locator('#q').fill('');
  await page.evaluate(() => {
    const spoken: string[] = [];
    Object.assign(globalThis, { spoken });
    const status = document.querySelector('#search-status');
    if (status) new MutationObserver(() => spoken.push(status.textContent ?? '')).observe(status, { childList: true });
  });
  // Typed from within the page: a machine that stands still for a moment holds up the keys and the pause alike.
  await page.evaluate(async (line) => {
    const field = document.querySelector<HTMLInputElement>('#q');
    if (!field) throw new Error('No field to search in');
    for (const key of line) {
      field.value += key;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise((next) => setTimeout(next, 60));
    }
  }, 'sniff 38');
  await page.waitForFunction(() => document.querySelector('#search-status')?.textContent !== '');
  await page.waitForTimeout(900);
  const spoken = await page.evaluate(() => (globalThis as unknown as { spoken: string[] }).spoken);
  expect(spoken.filter(Boolean).length).toBe(1);
  expect(plain(spoken.at(-1) ?? '')).toMatch(/^SNIP 38 cmH2O\. \d+ pages found\.$/);
});

test('on the first page the answer comes in place, and nothing of it is fetched before the field is touched', async () => {
  const { context, page } = await openTab(browser, server.root);
  await page.goto(server.at('/'), { waitUntil: 'networkidle' });
  expect(server.asked.filter((path) => path.startsWith('/data/')).length).toBeGreaterThan(0);
  server.asked.length = 0;
  await page.reload({ waitUntil: 'networkidle' });
  expect(server.asked.filter((path) => /^\/(?:data|pagefind)\//.test(path))).toEqual([]);
  await page.locator('#q').tap();
  await page.locator('#q').pressSequentially('co2 52', { delay: 30 });
  await page.locator('#instant h2').waitFor();
  expect(plain(await page.locator('#instant h2').textContent())).toBe('PaCO2 52 mmHg');
  expect(new URL(page.url()).pathname).toBe('/');
  await context.close();
});

test('where the full-text engine cannot start, titles and search words still find pages, and the status says so', async () => {
  const { context, page } = await openTab(browser, server.root);
  await context.route('**/pagefind/**', (route) => route.abort());
  await page.goto(server.at('/search/'));
  await ask(page, 'power cut');
  expect((await found(page)).slice(0, 3)).toContain('/home/power-and-back-up/');
  expect(await page.locator('#search-status').textContent()).toContain('Full-text search could not start');
  await context.close();
});

test('no query is sent anywhere, and nothing went wrong', () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  expect(server.asked.filter((path) => path.includes('?q='))).toEqual([]);
});
