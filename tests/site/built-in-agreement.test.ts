/** A clinic's own copy of the handbook, with its agreement built in: it shows its criteria from the first page on. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { canonicalText } from '../../calculators/agreement/digest.ts';
import { launch, openTab, phone, startOptions, type Tab } from './browser.ts';
import { pages, subDist } from './built.ts';
import { printedText } from './pdf.ts';
import { type Server, serve } from './server.ts';
import { openParts, openSheet, plain, type } from './sheet.ts';
import { builtInFile, subBase } from './sub-base.ts';

let browser: Browser;
let server: Server;
beforeAll(async () => {
  if (readFileSync(join(subDist(), 'data/clinic.json'), 'utf8') === 'null')
    throw new Error(`${subDist()} has no agreement built in: build it with TIDEMARK_AGREEMENT=${builtInFile}`);
  browser = await launch();
  server = await serve(subDist(), subBase);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

const whose = 'Tern Valley Neuromuscular Clinic (demonstration, invented), agreed 2026-11-25';
const line = (page: Page) => page.locator('[data-agreement-line]');
const local = (page: Page) => page.locator('.criteria [data-local="criteria"]').first();
const phones = (page: Page) => page.locator('[data-phones] a');

test('every page says whose criteria it shows in its own text, with no script at all', () => {
  for (const page of pages) {
    const html = readFileSync(join(subDist(), page.endsWith('/') ? `${page}index.html` : page), 'utf8');
    const told = /<div class="agreed"([^>]*)>\s*<span>(.*?)<\/span>/s.exec(html);
    expect([page, told?.[2]?.replace(/<\/?time>/g, '')]).toEqual([
      page,
      `Shown beside the published criteria: ${whose}, review due 2027-11-25.`,
    ]);
    expect([page, told?.[1]?.includes('hidden')]).toEqual([page, false]);
  }
});

test('urgent pages give the clinic\u2019s numbers to call with no script at all', async () => {
  const { context, page } = await openTab(browser, server.root, { ...phone, javaScriptEnabled: false });
  for (const path of ['/urgent/', '/urgent/equipment-stopped/']) {
    await page.goto(server.at(path));
    expect(await phones(page).evaluateAll((all) => all.map((one) => one.getAttribute('href')))).toEqual([
      'tel:01632960101',
      'tel:01632960102',
      'tel:01632960103;ext=2',
    ]);
    expect(await phones(page).first().isVisible()).toBe(true);
    expect(await line(page).isVisible()).toBe(true);
  }
  await context.close();
});

test('its digest is worked out when the site is built, so that a browser over plain http can show it too', async () => {
  const built = JSON.parse(readFileSync(join(subDist(), 'data/clinic.json'), 'utf8')) as Agreement;
  const whole = createHash('sha256').update(canonicalText(built)).digest('hex');
  const digest = whole.slice(0, 32).replace(/.{4}(?=.)/g, '$& ');
  const start = startOptions();
  const args = [...(start.args ?? []), '--host-resolver-rules=MAP clinic.test 127.0.0.1'];
  const other = await chromium.launch({ ...start, args });
  const root = server.root.replace('127.0.0.1', 'clinic.test');
  const { context, page } = await openTab(other, root);
  await page.goto(`${root}learn/pocket/marks-als/`);
  expect(await page.evaluate(() => isSecureContext)).toBe(false);
  await page.locator('[data-local="line"] p', { hasText: `digest ${digest}; handbook` }).waitFor();
  await page.goto(`${root}agree/sign/`);
  await page.locator('.paper > .small', { hasText: `digest ${digest}; handbook` }).waitFor();
  await context.close();
  await other.close();
});

describe('a device that opens it for the first time', () => {
  let tab: Tab;
  beforeAll(async () => {
    tab = await openTab(browser, server.root);
  });
  afterAll(() => tab.context.close());

  test('sees its criteria beside the published ones, on the scale too, and on paper', async () => {
    const { page } = tab;
    await page.goto(server.at('/measuring/sniff-pressure/'));
    await local(page).locator('details').first().waitFor();
    expect(plain(await local(page).textContent())).toContain('SNIP below 40 cmH2O');
    expect(await page.locator('.criteria').first().locator('.mark', { hasText: 'AAN 2009' }).first().isVisible()).toBe(
      true,
    );
    const gauge = page.locator('svg[data-gauge="snip"]').first();
    expect((await gauge.locator('[data-notch] text').allTextContents()).map(plain)).toEqual(['Local', '< 40']);
    const paper = printedText(await page.pdf({ format: 'A4' }));
    const squeezed = (text: string) => text.normalize('NFKC').replace(/\s+/g, '');
    for (const words of [`Shown beside the published criteria: ${whose}`, 'SNIP below 40 cmH2O', 'AAN 2009'])
      expect(paper).toContain(squeezed(words));
  });

  test('sees its usual waits beside a decision', async () => {
    await tab.page.goto(server.at('/decisions/cough-help/'));
    await tab.page.getByText('MI-E device after the order: 6 weeks').waitFor();
  });

  test('sees a typed reading compared with them too', async () => {
    await tab.page.goto(server.at('/search/'));
    await tab.page.locator('#q').fill('sniff 38');
    await tab.page
      .locator('.finding, .mark', { hasText: `Agreed by ${whose.split(',')[0]}` })
      .first()
      .waitFor();
  });

  test('finds them met in a visit, and in the note', async () => {
    const { page } = tab;
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.getByLabel('Age', { exact: true }).fill('61');
    await openParts(page);
    await type(page, 'snip', '38');
    const met = page.locator('.found .finding.met', { hasText: 'Agreed by Tern Valley' });
    await met.first().waitFor();
    expect((await met.locator('.said').allTextContents()).map(plain)).toContain('Met SNIP 38 cmH2O is below 40 cmH2O.');
    expect(await page.locator('.found .finding a[href$="#aan-als-snp-lt-40"]').count()).toBeGreaterThan(0);
    expect(plain(await page.locator('#note-text').inputValue())).toMatch(
      /criteria of Tern Valley Neuromuscular Clinic[^:]*: SNIP 38 cmH2O is below 40 cmH2O \[agreed by Tern Valley/,
    );
  });

  test('can print the paper to sign from it', async () => {
    const { page } = tab;
    await page.goto(server.at('/agree/sign/'));
    await page.locator('.paper .agreed-list').first().waitFor();
    expect(await page.locator('.paper .agreed-list > li').count()).toBe(10);
  });

  test('nothing went wrong on the way', () => {
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});

describe('a reader who does without it, or opens another', () => {
  let context: BrowserContext;
  let page: Page;
  beforeAll(async () => {
    const tab = await openTab(browser, server.root);
    context = tab.context;
    page = tab.page;
  });
  afterAll(() => context.close());

  test('switches it off with one tap, and it stays off on every page', async () => {
    await page.goto(server.at('/measuring/sniff-pressure/'));
    await local(page).locator('details').first().waitFor();
    await line(page).getByRole('button', { name: 'Switch off' }).tap();
    await local(page).waitFor({ state: 'hidden' });
    expect(await page.locator('[data-notch] *').count()).toBe(0);
    for (const path of ['/measuring/sniff-pressure/', '/urgent/', '/about/', '/visit/']) {
      await page.goto(server.at(path));
      await line(page).waitFor({ state: 'hidden' });
      expect(await page.locator('[data-notch] *, [data-local] *, [data-phones] *').count()).toBe(0);
    }
  });

  test('finds on the agreement page that it is off, and switches it on again', async () => {
    await page.goto(server.at('/agree/'));
    await page.getByRole('heading', { name: 'Switched off on this device' }).waitFor();
    await page.locator('form.agree').getByRole('button', { name: 'Switch on again' }).tap();
    await page.getByText('This agreement is built into this copy of the handbook.').waitFor();
    await page.goto(server.at('/urgent/'));
    expect(await phones(page).count()).toBe(3);
    expect(await line(page).isVisible()).toBe(true);
  });

  test('opens another: is asked first, with what it changes, and then sees that one alone', async () => {
    const other = JSON.parse(readFileSync(join(subDist(), 'data/clinic.json'), 'utf8'));
    other.clinic = 'Upper Valley';
    other.phones = [{ label: 'Ward, at all hours', number: '01632 960 150' }];
    other.marks = other.marks.filter(({ value }: { value?: number }) => value !== 60);
    await page.goto(server.at('/agree/open/'));
    await page.locator('form.agree > fieldset:enabled').waitFor();
    await page
      .locator('#agree-file')
      .setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(other)) });
    await page.getByText('It takes the place of the agreement of Tern Valley').waitFor();
    await page.getByText('which stays built into this copy of the handbook').waitFor();
    expect(plain(await page.locator('.difference', { hasText: 'Criteria (1)' }).textContent())).toContain('Removed');
    expect(await page.evaluate(() => localStorage.getItem('tidemark:agreement'))).not.toContain('Upper Valley');
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Upper Valley').waitFor();
    await page.goto(server.at('/urgent/'));
    expect(await phones(page).evaluateAll((all) => all.map((one) => one.getAttribute('href')))).toEqual([
      'tel:01632960150',
    ]);
    expect(plain(await line(page).textContent())).toContain('Shown beside the published criteria: Upper Valley');
    await page.goto(server.at('/measuring/vital-capacity/'));
    await local(page).locator('details').first().waitFor();
    const shown = plain(await local(page).textContent());
    expect(shown).toContain('Agreed by Upper Valley');
    expect(shown).toContain('FVC below 80 % predicted');
    expect(shown).not.toContain('FVC below 60 % predicted');
  });

  test('goes back to the built-in one, asked again', async () => {
    await page.goto(server.at('/agree/'));
    await page.getByRole('link', { name: 'Go back to the built-in one' }).tap();
    await page.getByText('It takes the place of the agreement of Upper Valley').waitFor();
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Tern Valley').waitFor();
    await page.goto(server.at('/measuring/sniff-pressure/'));
    await local(page).locator('details').first().waitFor();
    expect(plain(await line(page).textContent())).toContain(whose);
    // Not kept on the device: the next update's takes its place by itself.
    expect(await page.evaluate(() => localStorage.getItem('tidemark:agreement'))).not.toContain('Tern Valley');
  });
});
