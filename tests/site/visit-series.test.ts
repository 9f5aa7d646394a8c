/** More than one visit: what was found last time, what changed, what was planned; and where the visits are kept. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { accessFaults } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import {
  chip,
  finding,
  measure,
  nextPerson,
  note,
  openParts,
  openSheet,
  paperPages,
  plain,
  ready,
  shown,
  type,
} from './sheet.ts';

const visit = (date: string, vital: string, sniff: string, more: object = {}) => ({
  date,
  readings: { 'fvc-percent': { text: vital, unit: '%' }, snip: { text: sniff, unit: 'cm[H2O]' } },
  notDone: {},
  signs: { orthopnoea: 'absent' },
  supports: {},
  prediction: { set: 'gli-2022-global' },
  wishes: [],
  answers: '',
  asked: '',
  plan: [],
  ...more,
});
/** A man with ALS: 80 and then 71 per cent, sniff 60 and then 55, ventilated by night, one thing asked for. */
const series = {
  format: 'tidemark-visits',
  version: 1,
  person: { disease: 'als', ageYears: 60, sex: 'male' },
  visits: [
    visit('2026-05-25', '80', '60'),
    visit('2026-08-24', '71', '55', {
      supports: {
        'night-ventilation': { status: 'in-place', hours: '9', timeOff: '2 h, sitting' },
        'daytime-ventilation': { status: 'none' },
      },
      plan: [{ what: 'Ask the centre for a night study', owner: 'therapist', due: '2026-09-07', state: 'asked' }],
    }),
  ],
};

let tab: Tab;
let page: Page;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.context.addInitScript(() => {
    const told = globalThis as unknown as { shared: ShareData[] };
    told.shared = [];
    Object.assign(navigator, { share: async (data: ShareData) => void told.shared.push(data) });
    globalThis.print = () => undefined;
  });
  page = tab.page;
  await openSheet(page, server.at('/visit/'));
});
afterAll(async () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
});

const openFile = (text: string) =>
  page.setInputFiles('#series-file', { name: 'visits.json', mimeType: 'application/json', buffer: Buffer.from(text) });
const button = (name: string) => page.getByRole('button', { name, exact: true });
const opened = (words: string) => page.locator('.opening [role=status]', { hasText: words }).waitFor();
const trend = (id: string) => page.locator(`[data-trend="${id}"]`);
const state = () => page.evaluate(() => JSON.stringify({ ...sessionStorage, ...localStorage }));

test('the visit opens with what the last one planned, and the answer goes into the note', async () => {
  await page.locator('#visit-date').fill('2026-11-23');
  await openFile(JSON.stringify(series));
  await opened('2 visits opened');
  await page.getByRole('heading', { name: 'Did it happen?' }).waitFor();
  await page.getByLabel('Ask the centre for a night study').selectOption('delivered');
  expect(await note(page)).toContain('- Ask the centre for a night study: therapist, by 7 September 2026 (delivered)');
});

test('each field has what was found last time beside it, with its date', async () => {
  await openParts(page);
  expect(plain(await measure(page, 'fvc-percent').locator('.last').textContent())).toBe('Last: 71 %, 2026-08-24');
  expect(plain(await measure(page, 'orthopnoea').locator('.last').textContent())).toBe('Last: no, 2026-08-24');
  expect(await measure(page, 'fvc-percent').locator('input').first().inputValue()).toBe('');
});

test('supports that are as they were take one tap, and their hours are compared with the criteria', async () => {
  await button('Supports as on 2026-08-24').tap();
  expect(await page.getByLabel('Night NIV: hours in 24').inputValue()).toBe('9');
  const text = plain(await note(page));
  expect(text).toContain('Night NIV: in place, 9 hours in 24, longest time off it: 2 h, sitting');
  expect(text).toContain('ventilator hours 9 h/day');
  await finding(page, 'onmap2021-second-home-ventilator-over-18-h')
    .and(page.locator('.not-met'))
    .first()
    .waitFor({ state: 'attached' });
});

test('nine points in 91 days are more than chance, three points a month, and could reach 50 from 29 December', async () => {
  await type(page, 'fvc-percent', '62');
  await type(page, 'snip', '43');
  const told = plain(await trend('fvc-percent').textContent());
  // 11 per cent of 71 are 7.8; 9 / 91 x 30.4375 = 3.01; the line is at 50 on 24 March, its lower edge on 29 December (worked
  // out in since-words.test.ts)
  expect(told).toContain('FVC 62 % predicted after 71 % predicted on 24 August 2026 (91 days): 9 points lower');
  expect(await trend('fvc-percent').locator('svg').count()).toBe(1);
  expect(told).toContain('more than two tests usually differ by chance');
  expect(told).toContain('\u22123.01 points a month');
  expect(told).toContain('from 3 readings');
  expect(told).toMatch(/Could be below 50 % predicted from 29 December 2026 \(on the line itself 24 March 2027/);
  expect(told).toContain(
    'The interval reflects how much the test varies when repeated: two tests can differ by 7.81 points',
  );
});

test('four weeks to arrange are counted back from that day, here and in the note', async () => {
  await page.getByLabel('Weeks to put a support in place here').fill('4');
  const lead = '4 weeks before that is 1 December 2026';
  await trend('fvc-percent').getByText(lead).first().waitFor();
  const text = plain(await note(page));
  expect(text).toContain('SINCE 24 AUGUST 2026');
  expect(text).toContain('FVC 62 % predicted, was 71 %: 9 points lower, more than two tests usually differ by chance');
  expect(text).toContain(lead);
  // A change that may be chance stands apart, and has no chart.
  expect(await trend('snip').locator('svg').count()).toBe(0);
  expect(text).toContain(
    'how far two such tests differ by chance is not known: SNIP 43 cmH2O, was 55 cmH2O: 12 cmH2O lower',
  );
});

test('of whom something is asked, and by when, go into the note; rates and payer rules when they are wanted', async () => {
  await page.getByLabel('Asked of the physician').fill('a night study');
  await page.getByLabel('Asked of', { exact: true }).fill('the centre');
  await page.getByLabel('Answer by').fill('2026-12-07');
  expect(plain(await note(page))).toContain('I ask the centre, by 7 December 2026: a night study.');
  expect(plain(await note(page))).not.toContain('points a month');
  await chip(page.locator('.note'), 'With rates, study figures and payer rules').tap();
  expect(plain(await note(page))).toMatch(/RATES AND DATES.*FVC: \u22123\.01 points a month/);
  await chip(page.locator('.note'), 'With rates, study figures and payer rules').tap();
  expect(await accessFaults(page, '.note')).toEqual([]);
}, 60_000);

test('an automatic check finds no fault in the sheet with earlier visits open', async () => {
  await page.getByText('2 visits beside this one').tap();
  expect(await accessFaults(page, '.visit')).toEqual([]);
  await page.getByText('2 visits beside this one').tap();
}, 60_000);

test('a sniff that fell from 55 to 43 in 91 days is compared with the criterion on falls', async () => {
  // 12 / (91 / 30.4375) x 3 = 12.04 cmH2O in 3 months
  const found = finding(page, 'nice-mnd-snip-or-mip-fall-gt-10-per-3-months').first();
  expect(plain(await found.locator('.said').textContent())).toMatch(
    /^Met The fall in SNIP or MIP \(12\.?0?\b.*\) is more than 10/,
  );
});

test('a broken file says what and where, and changes nothing', async () => {
  const before = await state();
  await openFile(JSON.stringify({ ...series, visits: [visit('2026-02-30', '80', '60')] }, null, 2));
  await opened('Nothing was changed');
  expect(plain(await page.locator('.opening .problem').textContent())).toMatch(
    /visits\.json, line \d+, visits.*date: expected a date that exists/,
  );
  expect(await state()).toBe(before);
});

test('a file of someone else is not mixed in: it asks, and closed it changes nothing', async () => {
  const before = await state();
  await openFile(JSON.stringify({ ...series, person: { disease: 'dmd', sex: 'male' } }));
  const asked = page.locator('.opening [role=alert]');
  await asked.waitFor();
  expect(await asked.getByRole('button', { name: 'The same person' }).count()).toBe(0);
  await button('Do not open the file').tap();
  expect(await state()).toBe(before);
});

test('an earlier visit is shown again on the sheet, and the one in hand waits beside it', async () => {
  const [now, text] = [await shown(page), await note(page)];
  await page.getByText('2 visits beside this one').tap();
  await page.locator('.opening li', { hasText: '2026-08-24' }).getByRole('button').tap();
  expect(await measure(page, 'fvc-percent').locator('input').first().inputValue()).toBe('71');
  expect(plain(await note(page))).toContain('Respiratory visit on 24 August 2026');
  await page.locator('.opening li', { hasText: '2026-11-23' }).getByRole('button').tap();
  await expect.poll(() => shown(page), { timeout: 15_000 }).toEqual(now);
  await expect.poll(() => note(page), { timeout: 15_000 }).toBe(text);
});

test('a reload in the middle of a number loses nothing', async () => {
  await measure(page, 'mip').locator('input').first().fill('4');
  const text = await note(page);
  await page.reload();
  await ready(page);
  await page.waitForFunction((told) => document.querySelector<HTMLTextAreaElement>('#note-text')?.value === told, text);
  expect(await measure(page, 'mip').locator('input').first().inputValue()).toBe('4');
  await type(page, 'mip', '');
});

test('what is shared is the text as it was changed by hand', async () => {
  await page.locator('#note-text').fill('Seen at home. Sniff 43.');
  await button('Share').tap();
  expect(await page.evaluate(() => (globalThis as unknown as { shared: ShareData[] }).shared)).toEqual([
    { text: 'Seen at home. Sniff 43.' },
  ]);
  await button('See the note made from the readings').tap();
  await button('Delete my edited note').tap();
});

test('the note is one page of paper, and so is the card', async () => {
  for (const format of ['A4', 'Letter']) {
    await button('Print').tap();
    expect([format, paperPages(await page.pdf({ format }))]).toEqual([format, 1]);
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  }
  await page.getByText('Emergency card for the hospital bag').tap();
  await page.getByLabel('Settings as ordered').fill('as on the order of 2 November');
  await button('Print the card').tap();
  expect(paperPages(await page.pdf({ format: 'A4' }))).toBe(1);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
});

test('kept on the device only after a warning and a tap; opened again with the same findings; gone with one tap', async () => {
  const now = await shown(page);
  expect(await page.evaluate(() => localStorage.getItem('tidemark:kept-series'))).toBeNull();
  expect(plain(await page.locator('.keeping .care').textContent())).toContain('anyone who opens this browser can read');
  await button('Keep on this device').tap();
  await page.locator('.keeping [role=status]', { hasText: '3 visits kept on this device' }).waitFor();
  await nextPerson(page);
  await page.reload();
  await ready(page);
  await page.locator('#visit-date').fill('2026-11-23');
  await button('Open what is kept on this device').tap();
  await opened('3 visits opened');
  await expect.poll(() => shown(page), { timeout: 15_000 }).toEqual(now);
  await button('Clear it from this device').tap();
  expect(await page.evaluate(() => localStorage.getItem('tidemark:kept-series'))).toBeNull();
});

test('an earlier visit can be typed: it goes behind the one of today', async () => {
  await nextPerson(page);
  await page.locator('#visit-date').fill('2026-01-12');
  await openParts(page);
  await type(page, 'vc-litres', '2.6');
  await chip(measure(page, 'vc-litres'), 'Sitting up').tap();
  await button("Keep this visit as an earlier one and begin today's").tap();
  await openParts(page);
  expect(plain(await measure(page, 'vc-litres').locator('.last').textContent())).toBe(
    'Last: 2.6 L (sitting), 2026-01-12',
  );
});

test('a part that does not load is said, and nothing typed is lost', async () => {
  const other = await openTab(browser, server.root);
  const sheet = other.page;
  await sheet.route(/\/series-file\.|\/compare\./, (route) => route.abort());
  await openSheet(sheet, server.at('/visit/'));
  await openParts(sheet);
  await type(sheet, 'snip', '43');
  const missing = /Part of this page did not load, and nothing was changed/;
  await sheet.setInputFiles('#series-file', {
    name: 'visits.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(series)),
  });
  await sheet.locator('.opening [role=status]', { hasText: missing }).waitFor();
  await sheet.getByRole('button', { name: 'Save as a file' }).tap();
  await sheet.locator('.keeping [role=status]', { hasText: missing }).waitFor();
  expect(await measure(sheet, 'snip').locator('input').first().inputValue()).toBe('43');
  await sheet.locator('#visit-date').fill('2026-01-12');
  await sheet.getByRole('button', { name: "Keep this visit as an earlier one and begin today's" }).tap();
  await sheet.getByRole('alert').filter({ hasText: 'were not compared with the earlier visits' }).waitFor();
  expect(await note(sheet)).toContain('The findings do not include any fall since those visits');
  await other.context.close();
});
