/** Whatever comes from outside is shown as the text that it is: no element of it is made, and nothing of it runs. */
import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { linkFragment, pack } from '../../src/agreement/link.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { plain, ready } from './sheet.ts';

const markup = '<img src=x onerror="window.hostile=1"><svg onload="window.hostile=2"></svg><b id="made">bold</b>';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
});
/** Elements and effects that only the markup can have made. */
const made = () =>
  tab.page.evaluate(() => ({
    elements: document.querySelectorAll(
      'img, iframe, object, embed, #made, [onerror], [onload], a[href^="javascript:"]',
    ).length,
    ran: 'hostile' in globalThis,
  }));
afterEach(async () => {
  expect(await made()).toEqual({ elements: 0, ran: false });
  expect([tab.faults.policy, tab.faults.elsewhere]).toEqual([[], []]);
});

const shown = () => tab.page.locator('main').textContent().then(plain);

test('a search for markup, typed or in the address', async () => {
  const { page } = tab;
  await page.goto(server.at(`/search/?q=${encodeURIComponent(markup)}`));
  expect(await page.locator('#q').inputValue()).toBe(markup);
  await page.locator('#q').fill(`${markup} sniff 38`);
  await page.locator('#search-status', { hasText: /\S/ }).waitFor();
  await page.locator('#q').fill('sniff <b id="made">');
  await page.locator('#results li').first().waitFor();
});

test('an address with markup in its path or after its #', async () => {
  const { page } = tab;
  for (const path of [
    `/no/such/${encodeURIComponent(markup)}/`,
    `/agree/open/#1.abc.${encodeURIComponent(markup)}`,
    `/agree/sign/#${encodeURIComponent(markup)}`,
    `/visit/#${encodeURIComponent(markup)}`,
    `/calculators/peak-cough-flow/?q=${encodeURIComponent(markup)}#${encodeURIComponent(markup)}`,
  ]) {
    await page.goto(server.at(path));
    await page.locator('h1').first().waitFor();
  }
});

test('a link that carries an agreement full of markup', async () => {
  const { page } = tab;
  const told = await (await page.request.get(server.at('/data/demonstration-agreement.json'))).text();
  const agreement: Agreement = JSON.parse(told);
  const hostile: Agreement = {
    ...agreement,
    clinic: markup,
    jurisdiction: markup,
    agreedBy: [markup],
    phones: [{ label: markup, number: '555 0100' }],
    waits: [{ what: markup, weeks: 2 }],
    marks: agreement.marks.map((mark) => ({ ...mark, reason: markup })),
  };
  await page.goto(server.at(`/agree/open/${linkFragment(await pack(hostile))}`));
  await page.locator('#opened-title').waitFor();
  const text = await shown();
  expect(text.split(markup).length).toBeGreaterThan(10);
});

const visits = (value: string) =>
  JSON.stringify({
    format: 'tidemark-visits',
    version: 1,
    person: { disease: 'als', ageYears: 61 },
    visits: [
      {
        date: '2026-11-01',
        readings: { 'fvc-percent': { text: value, unit: '%', method: value } },
        notDone: { snip: value },
        signs: {},
        supports: {},
        prediction: { set: 'gli-2022-global' },
        wishes: [],
        answers: value,
        asked: value,
        notes: value,
        plan: [],
        card: { interface: value, settings: value, contacts: value },
      },
    ],
  });

test.each<[string, string, string, RegExp]>([
  ['that fits', 'visits.json', visits(markup), /1 visit opened/],
  [
    'with markup for a field and for its name',
    `${markup}.json`,
    `{"format":"tidemark-visits","${markup.replaceAll('"', "'")}":1}`,
    /Nothing was changed/,
  ],
  [
    'that is a health record\u2019s bundle',
    'bundle.json',
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [{ resource: { resourceType: 'Patient', text: { div: markup } } }],
    }),
    /Nothing was changed/,
  ],
  ['that is a page of the web', 'page.json', markup, /Nothing was changed/],
])('a file of visits %s', async (_, name, text, said) => {
  const { page } = tab;
  await page.goto(server.at('/visit/'));
  await ready(page);
  await page.setInputFiles('#series-file', { name, mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.locator('.opening [role="status"]', { hasText: said }).waitFor();
});

test.each([
  ['with markup for its headings', `Time,${markup}\n2026-11-01 22:00:00,${markup}\n2026-11-01 22:00:01,95\n`],
  ['that is a page of the web', `<!doctype html>${markup}`],
])('a night\u2019s recording %s', async (_, text) => {
  const { page } = tab;
  await page.goto(server.at('/overnight-oximetry/'));
  await page.locator('.night fieldset:enabled').waitFor();
  await page.setInputFiles('#night-file', { name: `${markup}.csv`, mimeType: 'text/csv', buffer: Buffer.from(text) });
  await page.locator('.night', { hasText: '<b id="made">' }).waitFor();
});

test('markup in the fields of a sum and of the sheet', async () => {
  const { page } = tab;
  await page.goto(server.at('/visit/'));
  await ready(page);
  await page.getByLabel('Age', { exact: true }).fill(markup);
  await page.getByLabel('Age', { exact: true }).blur();
  await page.goto(server.at('/calculators/peak-cough-flow/'));
  await page.locator('fieldset:enabled').first().waitFor();
  await page.locator('.calculator input[type="text"]').first().fill(markup);
  await page.locator('.calculator input[type="text"]').first().blur();
  await page.locator('.calculator .problem', { hasText: /\S/ }).first().waitFor();
});

test('the check itself sees markup that became elements, and the content policy keeps even that from running', async () => {
  await tab.page.goto(server.at('/about/'));
  await tab.page.evaluate((text) => {
    document.body.innerHTML = text;
  }, markup);
  await tab.page.waitForFunction(() => document.querySelector('img')?.complete);
  expect(await made()).toEqual({ elements: 3, ran: false });
  await expect.poll(() => tab.faults.policy.length).toBeGreaterThan(0);
  await tab.page.goto(server.at('/about/'));
  tab.faults.policy.length = 0;
});
