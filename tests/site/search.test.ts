/** Words of the trade, and the page that each should bring up among the first three. */
import { beforeAll, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { dist, subDist } from './built.ts';
import { serve } from './server.ts';
import { subBase } from './sub-base.ts';

const wanted: [words: string, page: string][] = [
  ['sniff', '/measuring/sniff-pressure/'],
  ['SNIP', '/measuring/sniff-pressure/'],
  ['MIP', '/measuring/mouth-pressure/'],
  ['peak cough flow', '/measuring/cough-flow/'],
  ['vital capacity', '/measuring/vital-capacity/'],
  ['supine', '/measuring/supine-vital-capacity/'],
  ['sats', '/measuring/saturation/'],
  ['capillary gas', '/measuring/carbon-dioxide/'],
  ['MI-E', '/cough/mi-e-session/'],
  ['cough machine', '/cough/ladder-of-help/'],
  ['mouthpiece', '/breathing/mouthpiece-ventilation/'],
  ['FVC', '/measuring/vital-capacity/'],
  ['ideal body weight', '/calculators/ideal-body-weight/'],
  ['kPa to mmHg', '/calculators/gas-units/'],
  ['FiO2', '/oxygen/flow-to-fio2/'],
  ['cylinder', '/oxygen/cylinders/'],
  ['power cut', '/home/power-and-back-up/'],
  ['drowsy', '/urgent/drowsy-or-grey/'],
  ['ulna', '/calculators/height-from-ulna/'],
];

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.page.goto(server.at('/search/'));
});

const results = () =>
  tab.page.locator('#results a').evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).pathname));

async function find(words: string): Promise<string[]> {
  const { page } = tab;
  await page.locator('#q').fill('');
  await page.waitForFunction(() => document.querySelector('#search-status')?.textContent === '');
  await page.locator('#q').fill(words);
  await page.waitForFunction(() => {
    const items = document.querySelectorAll('#results li');
    const told = document.querySelector('#search-status')?.textContent ?? '';
    return told !== '' && [...items].every((item) => item.querySelector('a') !== null);
  });
  return results();
}

describe('among the first three', () => {
  test.each(wanted)('"%s" finds %s', async (words, page) => {
    expect((await find(words)).slice(0, 3)).toContain(page);
  });
});

test('a word that is nowhere says so, and points to the list of all pages', async () => {
  expect(await find('zyzzyva')).toEqual([]);
  expect(await tab.page.locator('#search-status').textContent()).toContain('Nothing found');
  expect(await tab.page.locator('main a', { hasText: 'All pages' }).isVisible()).toBe(true);
});

test('each result shows where the word stands in its page', async () => {
  await find('orthopnoea');
  expect(await tab.page.locator('#results li p mark').count()).toBeGreaterThan(0);
});

test('going back from a result finds the same search again', async () => {
  const { page } = tab;
  const before = await find('sniff');
  await page.locator('#results a').first().tap();
  await page.locator('.crumb').waitFor();
  await page.goBack();
  await page.locator('#results a').first().waitFor();
  expect(await page.locator('#q').inputValue()).toBe('sniff');
  expect((await results())[0]).toBe(before[0]);
});

test('the form on the first page leads to the results', async () => {
  const { page } = tab;
  await page.goto(server.at('/'));
  await page.locator('#q').fill('sniff');
  await page.keyboard.press('Enter');
  await page.locator('#results a').first().waitFor();
  expect(await page.locator('#q').inputValue()).toBe('sniff');
});

test('nothing went wrong on the way, and no word searched for left this device', () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
});

test.each([
  ['the site', () => dist, '/'],
  ['the site in a folder of a larger one', subDist, subBase],
])('%s: what the search page will ask for is named in its head, and each is fetched once', async (_, folder, base) => {
  const own = await serve(folder(), base);
  const { page, context, faults } = await openTab(browser, own.root);
  await page.goto(own.at('/search/?q=sniff+38'));
  await page.locator('#instant h2').waitFor();
  await page.locator('#results a').first().waitFor();
  const named = await page
    .locator('head link:is([rel=modulepreload], [rel=preload]), head script[src], body script[src]')
    .evaluateAll((links) =>
      links.map((one) => new URL((one as HTMLLinkElement).href ?? (one as HTMLScriptElement).src).pathname),
    );
  const once = own.asked.filter((path) => /_astro\/|data\/|pagefind\.js/.test(path));
  expect(named.filter((path) => !once.includes(path))).toEqual([]);
  // A clinic's agreement and what reads it come only where there is one.
  const more = once.filter((path) => !named.includes(path));
  expect(base === '/' ? more.filter((path) => !path.endsWith('clinic.json')) : []).toEqual([]);
  expect(new Set(once).size).toBe(once.length);
  expect(faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  await context.close();
  await own.stop();
});
