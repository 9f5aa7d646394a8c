/** The short visit on a phone: one list of symptoms, parts that close, contradictions with a way to their fields, nothing lost on reload. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { answerSign, chip, measure, openSheet, plain, ready, shown, Thumb, type } from './sheet.ts';

let tab: Tab;
let page: Page;
let thumb: Thumb;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  page = tab.page;
});
afterAll(async () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  await tab.context.close();
});

async function start(disease: string, age: string): Promise<void> {
  await openSheet(page, server.at('/visit/'));
  await page.evaluate(() => sessionStorage.clear());
  await page.reload();
  await ready(page);
  thumb = new Thumb(page);
  await page.getByLabel('Disease', { exact: true }).selectOption(disease);
  await page.getByLabel('Age', { exact: true }).fill(age);
  await chip(page, 'Female').tap();
}

const none = () => page.locator('.ticks label.none');
const box = (id: string) => measure(page, id).locator('input[type="checkbox"]');
const part = (name: string) => page.locator(`.part[data-part="${name}"]`);
const isOpen = (name: string) => part(name).evaluate((one) => (one as HTMLDetailsElement).open);

beforeEach(() => start('als', '61'));

test('fields stand in the order of a visit, and each is there once', async () => {
  const order = await page
    .locator('.part[data-part]')
    .evaluateAll((parts) => parts.map((one) => (one as HTMLElement).dataset.part));
  expect(order.slice(0, 8)).toEqual(['look', 'wishes', 'support', 'symptoms', 'gas', 'cough', 'blowing', 'remark']);
  const ids = await page
    .locator('.parts [data-measure]')
    .evaluateAll((fields) => fields.map((one) => (one as HTMLElement).dataset.measure ?? ''));
  expect(ids.filter((id, place) => ids.indexOf(id) !== place)).toEqual([]);
  const places = ['new-drowsiness-or-confusion', 'wishes', 'support:night-ventilation', 'orthopnoea', 'spo2', 'snip'];
  expect([...places].sort((a, b) => ids.indexOf(a) - ids.indexOf(b))).toEqual(places);
  // Authored order, not that of the ids: pH comes after PaCO2 in the file, and before the ear lobe.
  const more = ['ph', 'morning-earlobe-pco2', 'bicarbonate', 'base-excess'].filter((id) => ids.includes(id));
  expect([...more].sort((a, b) => ids.indexOf(a) - ids.indexOf(b))).toEqual(more);
  expect(more.length).toBeGreaterThan(2);
});

test('"None of these" says no to what is not ticked; a tick takes the noes back', async () => {
  const list = 'aan-als-orthopnoea';
  expect((await shown(page))[list]).toBe('cannot-tell');
  await thumb.none();
  await expect.poll(async () => (await shown(page))[list]).toBe('not-met');
  await thumb.tick('morning-headache');
  await expect.poll(async () => (await shown(page))[list]).toBe('cannot-tell');
  expect(await none().locator('input').isChecked()).toBe(false);
  expect(plain(await none().textContent())).toBe('None of the others');
  await thumb.none();
  await expect.poll(async () => (await shown(page))[list]).toBe('not-met');
  expect(await box('morning-headache').isChecked()).toBe(true);
  await thumb.none();
  await expect.poll(async () => (await shown(page))[list]).toBe('cannot-tell');
});

test('a single no is said one by one, and is not shown as an unanswered box', async () => {
  await answerSign(page, 'orthopnoea', 'No');
  await expect.poll(async () => (await shown(page))['aan-als-orthopnoea']).toBe('not-met');
  expect(await measure(page, 'fatigue').locator('input:checked').count()).toBe(0);
  expect(await page.locator('.ticks label.none').count()).toBe(0);
});

test('a question whose number was typed goes, and comes back with the number', async () => {
  await thumb.reach('hypercapnia');
  await measure(page, 'hypercapnia').waitFor();
  await type(page, 'paco2', '52');
  await measure(page, 'hypercapnia').waitFor({ state: 'detached' });
  await type(page, 'paco2', '');
  await measure(page, 'hypercapnia').waitFor();
});

test('a part that is done closes to one line when the reader goes on, and nothing jumps under the thumb', async () => {
  await type(page, 'peak-cough-flow', '210');
  expect(await isOpen('cough')).toBe(true);
  const next = measure(page, 'fvc-percent').locator('input[type="text"]');
  await thumb.show(next);
  const before = (await next.boundingBox())?.y ?? 0;
  await next.tap();
  await expect.poll(() => isOpen('cough')).toBe(false);
  expect(plain(await part('cough').locator('summary').first().textContent())).toContain('Peak cough flow 210 L/min');
  expect(Math.abs(((await next.boundingBox())?.y ?? 0) - before)).toBeLessThanOrEqual(2);
  expect(await next.evaluate((field) => field === document.activeElement)).toBe(true);
  // Opened again by hand, it stays open.
  await part('cough').locator('summary').first().tap();
  await next.tap();
  expect(await isOpen('cough')).toBe(true);
});

test('the first tap in another part is taken: a chip keeps its answer', async () => {
  await answerSign(page, 'respiratory-infection', 'No');
  await thumb.tap(chip(measure(page, 'support:night-ventilation'), 'none'));
  await thumb.tap(chip(measure(page, 'acutely-unwell'), 'Yes'));
  expect(await measure(page, 'acutely-unwell').locator('input').first().isChecked()).toBe(true);
});

test('"Night NIV: none", but 14 hours a day: said once, with a tap to the field', async () => {
  await thumb.tap(chip(measure(page, 'support:night-ventilation'), 'none'));
  await thumb.read('niv-hours', '14');
  const said = page.locator('.found section', {
    has: page.getByRole('heading', { name: 'Answers and readings that disagree' }),
  });
  await said.waitFor();
  expect(plain(await said.textContent())).toContain('Night NIV: none, but 14 h/day on the ventilator.');
  await said.getByRole('button', { name: 'Go to Night NIV' }).tap();
  expect(
    await page.evaluate(() => document.activeElement?.closest('[data-measure]')?.getAttribute('data-measure')),
  ).toBe('support:night-ventilation');
});

test('what is in place is asked about as such, with what would show that it is not enough', async () => {
  await thumb.tap(chip(measure(page, 'support:night-ventilation'), 'in place'));
  await thumb.tick('morning-headache');
  await type(page, 'snip', '30');
  const review = page.locator('.found .review', { hasText: 'Night NIV' });
  await review.first().waitFor();
  const words = plain(await review.first().textContent());
  expect(words).toMatch(/^Night NIV: This support is already in place\. Review whether it is still enough\./);
  expect(words).toContain('Night NIV may no longer be enough if');
  expect(words).toMatch(/Today: .*morning headache|Today: .*headache/i);
  // Once for its decision, however many criteria.
  expect(await page.locator('.found section.decision .review', { hasText: 'Night NIV' }).count()).toBe(1);
});

test('one line for each statement, with all its sources as links', async () => {
  await type(page, 'fvc-percent', '45');
  const line = page.locator('.found .finding.met', { has: page.locator('a[href$="#chest-nmd-fvc-lt-50"]') });
  await line.first().waitFor();
  expect(await line.count()).toBe(1);
  expect(await line.locator('a.source').count()).toBeGreaterThan(1);
  const links = await page
    .locator('.found :is(.alarm, .soon, .decision) a.source')
    .evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).hash));
  expect(links.filter((id, place) => links.indexOf(id) !== place)).toEqual([]);
});

test('an age typed and not left is there after a reload, and counts', async () => {
  await page.getByLabel('Age', { exact: true }).fill('9');
  await page.reload();
  await ready(page);
  expect(await page.getByLabel('Age', { exact: true }).inputValue()).toBe('9');
  await page.locator('[data-person]', { hasText: 'child: adult criteria hidden' }).waitFor();
});

test('a height in metres typed into centimetres is asked about, and says how it was got once it counts', async () => {
  const height = page.locator('#visit-height');
  await height.fill('1.76');
  await page.locator('#visit-height-problem', { hasText: 'Is 1.76 in m?' }).waitFor();
  await height.fill('176');
  await page.keyboard.press('Tab');
  await page.getByLabel('How the height was measured').selectOption('arm-span');
  await page.getByText('several centimetres either way in adults').waitFor();
});

test('the ventilator as ordered, what oxygen is given by and a remark survive a reload', async () => {
  await thumb.tap(chip(measure(page, 'support:night-ventilation'), 'in place'));
  await thumb.reach('ventilator-mode');
  await measure(page, 'ventilator-mode').locator('select').selectOption('volume-assured');
  await type(page, 'ventilator-ipap', '18');
  await thumb.read('oxygen-flow', '2');
  await thumb.tap(chip(measure(page, 'oxygen-flow'), 'nasal cannula'));
  await thumb.reach('remark');
  await page.locator('#visit-remark').fill('New mask since May.');
  await page.reload();
  await ready(page);
  expect(await measure(page, 'ventilator-mode').locator('select').inputValue()).toBe('volume-assured');
  expect(await page.locator('#visit-remark').inputValue()).toBe('New mask since May.');
  expect(await measure(page, 'oxygen-flow').locator('input:checked').count()).toBe(1);
});

test('with lips that cannot seal, no mouth pressure is suggested', async () => {
  await answerSign(page, 'bulbar-dysfunction', 'Yes');
  await answerSign(page, 'severe-bulbar-impairment', 'Yes');
  const next = page.locator('.found .next');
  await next.waitFor();
  expect(plain(await next.textContent())).not.toMatch(/mouth pressure/i);
});
