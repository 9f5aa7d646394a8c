/** A night's recording, opened in a real browser: counted in a worker, drawn, explained when broken, and carried to the visit sheet. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { csvOf, edfOfNight, flat, ramp } from '../calculators/night-oximetry/build.ts';
import { accessFaults, overflow, unfold } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { chip, finding, measure, nextPerson, openParts, openSheet, plain } from './sheet.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(async () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  await tab.context.close();
});

/** Seven hours at 95, with 12 minutes at 87 in one run and 3 at 88 in another. */
const night = [
  ...flat(95, 3600),
  ...ramp(95, 87, 8),
  ...flat(87, 712),
  ...flat(95, 7200),
  ...ramp(95, 88, 7),
  ...flat(88, 173),
  ...flat(95, 13_500),
];

async function openPage(page: Page): Promise<void> {
  await page.goto(server.at('/overnight-oximetry/'));
  await page.locator('.night fieldset:enabled').waitFor();
}

const openFile = (page: Page, name: string, bytes: string | ArrayBuffer) =>
  page.setInputFiles('#night-file', {
    name,
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(bytes as string),
  });

const figures = async (page: Page): Promise<Record<string, string>> => {
  await page.locator('.night-figures').waitFor();
  const titles = await page.locator('.night-figures dt').allTextContents();
  const values = await page.locator('.night-figures .value').allTextContents();
  return Object.fromEntries(titles.map((title, place) => [title, plain(values[place] ?? '')]));
};

describe('the figures', () => {
  test.each([
    ['a table', 'night.csv', () => csvOf(night)],
    ['a table of another country', 'nacht.txt', () => csvOf(night, { mark: ';' }).replace('SpO2', 'S\u00e4ttigung')],
    ['European Data Format', 'night.edf', () => edfOfNight(night)],
  ])('of a made night are the same from %s', async (_, name, file) => {
    await openPage(tab.page);
    await openFile(tab.page, name, file());
    const found = await figures(tab.page);
    // 712 s at 87 and the step onto it, 173 s at 88 and the step onto it
    expect(found['Time at or below 88 %']).toContain('14 min 48 s');
    expect(found['Longest run at or below 88 %']).toBe('11 min 54 s');
    expect(found['Lowest SpO2']).toBe('87 %');
    expect(found['Usable time']).toBe('7 h of 7 h recorded');
    expect(found['Drops of 3 % or more in an hour']).toBe('0.0 an hour (0 in all)');
  });

  test('each stands beside its rule and how well that is known', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(night));
    await figures(tab.page);
    const first = tab.page.locator('.night-figures details').first();
    await first.locator('summary').tap();
    expect(await first.textContent()).toContain('common practice');
    expect(await tab.page.locator('.night-figures details').count()).toBe(8);
  });

  test('no word on the page names a pattern or calls a night good or bad', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(night));
    await figures(tab.page);
    expect(await tab.page.locator('.night').textContent()).not.toMatch(
      /apn|hypopn|hypoventil|obstruct|abnormal|severe|mild|diagnos|suggest/i,
    );
  });
});

describe('the trace', () => {
  test('can be walked along with the keyboard, and is there as a table', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(night));
    await tab.page.locator('#trace-at').focus();
    expect(plain(await tab.page.locator('output[for="trace-at"]').textContent())).toBe('22:00: SpO2 95 %');
    await tab.page.keyboard.press('End');
    expect(plain(await tab.page.locator('output[for="trace-at"]').textContent())).toMatch(/^04:59: SpO2 95 %/);
    await tab.page.getByText('The same in a table, by the hour').tap();
    expect(await tab.page.locator('.night table tbody tr').count()).toBe(7);
  });

  test('has nothing against it in an accessibility check, and fits a phone', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(night));
    await figures(tab.page);
    await unfold(tab.page);
    expect(await accessFaults(tab.page)).toEqual([]);
    expect(await overflow(tab.page)).toBeLessThanOrEqual(0);
  });

  test('what was left out is marked in it', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf([...flat(95, 3600), ...flat(0, 600), ...flat(95, 3600)]));
    await figures(tab.page);
    expect(await tab.page.locator('.trace .left-out').count()).toBe(1);
  });
});

describe('a file that cannot be read as it is', () => {
  test('is asked about when a date can be two days, and read when that is answered', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(flat(95, 600)).replaceAll('\n22:', '\n03/11/2026 22:'));
    await tab.page.getByRole('heading', { name: 'A question about the file' }).waitFor();
    expect(await tab.page.locator('.night .care').textContent()).toContain('3 November 2026 or 11 March 2026');
    await tab.page.getByRole('button', { name: 'day first' }).tap();
    await figures(tab.page);
    expect(await tab.page.locator('.night').textContent()).toContain('from 2026-11-03 22:00:00');
  });

  test('is asked how far apart its rows are when it has no time, and read when that is answered', async () => {
    await openPage(tab.page);
    const rows = Array.from({ length: 900 }, (_, at) => `${95 - (at % 2)},61`).join('\n');
    await openFile(tab.page, 'night.csv', `Sample interval: 4 s\nSpO2,Pulse\n${rows}`);
    await tab.page.getByRole('heading', { name: 'A question about the file' }).waitFor();
    await tab.page.getByRole('button', { name: 'A row every 4 s, as the file says' }).tap();
    await figures(tab.page);
    // 900 rows of 4 seconds are an hour
    expect(plain(await tab.page.locator('.night').textContent())).toMatch(/a row every 4 s, as answered/);
    expect(plain(await tab.page.locator('.night-figures').first().textContent())).toMatch(/\b(1 h|60 min|1:00)/);
  });

  test.each([
    ['letter.csv', 'Dear team,\nplease find the night attached.', 'letter.csv, line 1: No table found'],
    ['night.edf', edfOfNight(night).slice(0, 300), 'night.edf, byte 300: The file ends inside its header'],
    ['night.xlsx', 'PK\u0003\u0004\0\0\0\0\0', 'night.xlsx, byte 4: This is not a text table'],
  ])('%s is explained', async (name, bytes, words) => {
    await openPage(tab.page);
    await openFile(tab.page, name, bytes);
    await tab.page.getByRole('heading', { name: 'The file could not be read' }).waitFor();
    expect(await tab.page.locator('.night .care').textContent()).toContain(words);
    expect(await tab.page.locator('.night-figures').count()).toBe(0);
  });

  test('leaves no figure of the file before it standing', async () => {
    await openPage(tab.page);
    await openFile(tab.page, 'night.csv', csvOf(night));
    await figures(tab.page);
    await openFile(tab.page, 'letter.csv', 'Dear team');
    await tab.page.locator('.night-figures').waitFor({ state: 'detached' });
  });
});

test('twelve hours at four values a second are read while the page stays alive', async () => {
  await openPage(tab.page);
  const rows = csvOf(flat(95, 43_200)).split('\n');
  // From the disk, as a reader opens it: handed over through the test's own pipe it would hold the page up by itself.
  const file = join(mkdtempSync(join(tmpdir(), 'night-')), 'long.csv');
  writeFileSync(file, [rows[0], ...rows.slice(1).flatMap((row) => [row, row, row, row])].join('\n'));
  // The longest time in which the page did nothing, from choosing the file to the figures.
  await tab.page.evaluate(() => {
    const seen = globalThis as unknown as { longest: number };
    seen.longest = 0;
    let last = performance.now();
    setInterval(() => {
      seen.longest = Math.max(seen.longest, performance.now() - last);
      last = performance.now();
    }, 10);
  });
  await tab.page.setInputFiles('#night-file', file);
  const found = await figures(tab.page);
  expect(found['Usable time']).toBe('12 h of 12 h recorded');
  const longest = await tab.page.evaluate(() => (globalThis as unknown as { longest: number }).longest);
  expect(longest).toBeLessThan(1000);
}, 120_000);

test('"Next person" takes the recording away with everything else', async () => {
  const { page } = tab;
  await openPage(page);
  // Someone is in hand, as after a calculator or the visit sheet.
  await page.evaluate(() =>
    sessionStorage.setItem(
      'tidemark:person',
      JSON.stringify({ until: Date.now() + 3_600_000, data: { ageYears: 61 } }),
    ),
  );
  await openPage(page);
  await openFile(page, 'night.csv', csvOf(night));
  const { 'Usable time': before } = await figures(page);
  await nextPerson(page, 'header');
  await page.locator('.night-figures').waitFor({ state: 'detached' });
  expect(await page.locator('#night-file').inputValue()).toBe('');
  // Brought back within five minutes, the same file is counted again.
  await page.getByRole('button', { name: /^Undo: bring back/ }).tap();
  expect((await figures(page))['Usable time']).toBe(before);
});

describe('onto the visit sheet', () => {
  const put = 'Put these into the visit sheet';

  test('go hours, share and minutes, once it is said what was breathed, and marks are held against them', async () => {
    const { page } = tab;
    await openPage(page);
    await openFile(page, 'night.csv', csvOf(night));
    await figures(page);
    expect(await page.getByRole('button', { name: put }).isDisabled()).toBe(true);
    await chip(page, 'Room air').tap();
    await page.getByRole('button', { name: put }).tap();
    await page.getByRole('link', { name: 'visit sheet', exact: true }).tap();
    await page.getByLabel('Disease').selectOption('als');
    await openParts(page);
    const minutes = measure(page, 'nocturnal-minutes-spo2-at-or-below-88');
    expect(await minutes.locator('input[type="text"]').inputValue()).toBe('14.8');
    expect(await minutes.getByRole('radio', { name: 'Room air' }).isChecked()).toBe(true);
  });

  test('with what was breathed not known, room-air marks stay cannot tell', async () => {
    const { page } = tab;
    await openPage(page);
    await openFile(page, 'night.csv', csvOf(night));
    await chip(page, 'Not known').tap();
    await page.getByRole('button', { name: put }).tap();
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.getByLabel('Age', { exact: true }).fill('61');
    await page.getByLabel('Age', { exact: true }).blur();
    const mark = finding(page, 'aci2012-spo2-le-88-5-consecutive-min');
    await mark.waitFor({ state: 'attached' });
    expect(await mark.locator('.result-mark').textContent()).toBe('Cannot tell');
  });

  test('figures that stand there are not replaced without asking', async () => {
    const { page } = tab;
    await openPage(page);
    await openFile(page, 'night.csv', csvOf(night));
    await chip(page, 'Room air').tap();
    await page.getByRole('button', { name: put }).tap();
    await openFile(page, 'other.csv', csvOf(flat(95, 20_000)));
    await page.getByText('other.csv').waitFor();
    await chip(page, 'Room air').tap();
    await page.getByRole('button', { name: put }).tap();
    await page.getByText('The visit sheet already has figures from a night.').waitFor();
    const minutes = () =>
      page.evaluate(
        () =>
          JSON.parse(sessionStorage.getItem('tidemark:person:visit') ?? '{}').data.readings[
            'nocturnal-minutes-spo2-at-or-below-88'
          ].text,
      );
    expect(await minutes()).toBe('14.8');
    await page.getByRole('button', { name: 'Replace them' }).tap();
    expect(await minutes()).toBe('0');
  });
});
