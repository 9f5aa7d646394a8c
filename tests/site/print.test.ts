/** On paper: what goes into the record or onto the fridge, without the screen's furniture. */
import { beforeAll, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { pages, some } from './built.ts';
import { answer, fill, openCalculator } from './form.ts';
import { enterCaseA, note, openSheet, plain } from './sheet.ts';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
});

/** Pages of a PDF, counted in its own text. */
const sheets = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

test('the visit sheet prints its note, whole, and not its form', async () => {
  const { page } = tab;
  await openSheet(page, server.at('/visit/'));
  await enterCaseA(page);
  const written = plain(await note(page));
  await page.emulateMedia({ media: 'print' });
  const printed = page.locator('.note .printed');
  expect(await printed.isVisible()).toBe(true);
  expect(plain(await printed.textContent())).toBe(written);
  expect(await page.locator('.visit form').isVisible()).toBe(false);
  expect(await page.locator('#note-text').isVisible()).toBe(false);
  for (const button of await page.locator('button').all()) expect(await button.isVisible()).toBe(false);
  expect(await page.locator('.ways').isVisible()).toBe(false);
  const pdf = await page.pdf({ format: 'A4' });
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  expect(sheets(pdf)).toBeGreaterThanOrEqual(1);
  expect(sheets(pdf)).toBeLessThanOrEqual(4);
  await page.emulateMedia({ media: 'screen' });
});

test('a note changed by hand prints as changed', async () => {
  const { page } = tab;
  await page.locator('#note-text').fill('Seen at home. Sniff 38.');
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.note .printed').textContent()).toBe('Seen at home. Sniff 38.');
  await page.emulateMedia({ media: 'screen' });
});

test('a sum prints the numbers entered, the result and the safety words', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await fill(page, 'ideal-body-weight', { sex: 'male', height: 175 });
  await answer(page).waitFor();
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.calculator [id$="-height"]').isVisible()).toBe(true);
  expect(await answer(page).isVisible()).toBe(true);
  expect(await page.locator('footer p').first().isVisible()).toBe(true);
  expect(sheets(await page.pdf({ format: 'A4' }))).toBeGreaterThanOrEqual(1);
  await page.emulateMedia({ media: 'screen' });
});

test.each(some(/^\/(measuring|cough|urgent)\/[^/]+\/$/, 4))(
  '%s prints its answer and its emergency words on white, without the menus',
  async (path) => {
    const { page } = tab;
    await page.goto(server.at(path));
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    expect(await page.locator('.answer').isVisible()).toBe(true);
    expect(await page.locator('main .alarm').first().isVisible()).toBe(true);
    expect(await page.locator('.ways').isVisible()).toBe(false);
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe('rgb(255, 255, 255)');
    expect(await page.evaluate(() => getComputedStyle(document.body).color)).toBe('rgb(0, 0, 0)');
    expect(sheets(await page.pdf({ format: 'A4' }))).toBeGreaterThanOrEqual(1);
    await page.emulateMedia({ media: 'screen', colorScheme: 'light' });
  },
);

/** Sheets of paper by kind of page, on A4 and Letter: an urgent page is one, a page of words two at most. */
test('an urgent page is one sheet, a handbook page two at most, on A4 and Letter', async () => {
  const { page } = tab;
  await page.emulateMedia({ media: 'print' });
  const over: string[] = [];
  for (const path of pages.filter((one) =>
    /^\/(urgent|oxygen|cough|secretions|breathing|home|measuring|diseases|money)\/[^/]+\/$/.test(one),
  )) {
    await page.goto(server.at(path), { waitUntil: 'domcontentloaded' });
    for (const format of ['A4', 'Letter']) {
      const count = sheets(
        await page.pdf({ format, margin: { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } }),
      );
      const most = path.startsWith('/urgent/') ? 1 : 2;
      if (count > most) over.push(`${path} ${format}: ${count}`);
    }
  }
  expect(over).toEqual([]);
}, 180_000);
