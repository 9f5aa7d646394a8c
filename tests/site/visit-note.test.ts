/** A note changed by hand: it stays, it says when it is older than the readings, and neither version is lost. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { noteText, plainNote } from '../../calculators/visit/note.ts';
import { goldens, inputOf } from '../reference/golden-notes.ts';
import { accessFaults } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { focused, press } from './keys.ts';
import { printedText } from './pdf.ts';
import { chip, nextPerson, note, openParts, openSheet, paperPages, plain, ready, type } from './sheet.ts';

const older = 'The readings changed after you edited your note.';
const mine = 'Seen at home. Sniff 38.';
const packed = (text: string) => text.replace(/\s+/g, '');

let tab: Tab;
let page: Page;
beforeAll(async () => {
  tab = await openTab(browser, server.root, { permissions: ['clipboard-read', 'clipboard-write'] });
  await tab.context.addInitScript(() => {
    globalThis.print = () => undefined;
  });
  page = tab.page;
  await openSheet(page, server.at('/visit/'));
  await page.getByLabel('Disease').selectOption('als');
  await openParts(page);
  await type(page, 'snip', '38');
});
afterAll(async () => {
  expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
});

const button = (name: string) => page.getByRole('button', { name, exact: true });
const warnings = async () =>
  (await page.locator('.note').getByText(older).filter({ visible: true }).allTextContents()).map(plain);
const reload = async () => {
  await page.reload();
  await ready(page);
  await page.locator('#note-text').waitFor();
};
const printed = async (): Promise<string> => {
  await button('Print').tap();
  const pdf = await page.pdf({ format: 'A4' });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  expect(paperPages(pdf)).toBe(1);
  return printedText(pdf);
};

test('an edit survives a reload, and as long as the readings are the same nothing is said about it', async () => {
  await page.locator('#note-text').fill(mine);
  await reload();
  expect(await note(page)).toBe(mine);
  expect(await warnings()).toEqual([]);
  expect(await printed()).not.toContain(packed(older));
  // Session storage alone, which goes with the tab.
  expect(await page.evaluate(() => localStorage.length)).toBe(0);
});

test('a reading changed since then is said above the text and beside Copy and Print, and stays said after a reload', async () => {
  await openParts(page);
  await type(page, 'snip', '30');
  await page.locator('.note [role=status]', { hasText: older }).waitFor();
  expect(await note(page)).toBe(mine);
  expect((await warnings()).length).toBeGreaterThanOrEqual(2);
  const [above, text, copy, beside] = await page.evaluate(
    () =>
      ['.note .care', '#note-text', '.note button.main', '.note .problem'].map((one) => {
        const { top, bottom } = document.querySelector(one)?.getBoundingClientRect() ?? { top: 0, bottom: 0 };
        return { top, bottom };
      }) as [DOMRect, DOMRect, DOMRect, DOMRect],
  );
  expect(above.bottom).toBeLessThanOrEqual(text.top);
  expect(Math.abs(beside.top - copy.top)).toBeLessThan(120);
  await reload();
  expect(await note(page)).toBe(mine);
  expect((await warnings()).length).toBeGreaterThanOrEqual(2);
});

test('it can be copied and printed all the same: the copy says so on the screen, the paper in its own line', async () => {
  await button('Copy the note').tap();
  await page.locator('.note [role=status]', { hasText: `Copied. ${older}` }).waitFor();
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(mine);
  const paper = await printed();
  expect(paper).toContain(packed(older));
  expect(paper.indexOf(packed(older))).toBeLessThan(paper.indexOf(packed(mine)));
});

test('the note from the readings can be looked at, copied and printed, and the edited one taken back', async () => {
  await button('See the note made from the readings').tap();
  expect(plain(await note(page))).toContain('30 cmH2O');
  expect(await warnings()).toEqual([]);
  expect(await page.locator('#note-text').getAttribute('readonly')).not.toBeNull();
  const paper = await printed();
  expect(paper).toContain(packed('30 cmH2O'));
  expect(paper).not.toContain(packed(older));
  await button('Back to my edited note').tap();
  expect(await note(page)).toBe(mine);
  expect((await warnings()).length).toBeGreaterThanOrEqual(2);
});

test('the plain version has an edit of its own', async () => {
  await chip(page.locator('.note'), 'The person and family, in plain words').tap();
  expect(await note(page)).toContain('Your breathing visit');
  expect(await warnings()).toEqual([]);
  await page.locator('#note-text').fill('We met today.');
  await chip(page.locator('.note'), 'The centre').tap();
  expect(await note(page)).toBe(mine);
  await reload();
  await chip(page.locator('.note'), 'The person and family, in plain words').tap();
  expect(await note(page)).toBe('We met today.');
  await chip(page.locator('.note'), 'The centre').tap();
});

test('a corrected date takes the edited note along, and the date counts as a change', async () => {
  await page.locator('#visit-date').fill('2026-01-12');
  expect(await note(page)).toBe(mine);
  expect((await warnings()).length).toBeGreaterThanOrEqual(2);
});

test('an earlier visit keeps its own edited note; the one of today starts from its readings', async () => {
  await button("Keep this visit as an earlier one and begin today's").tap();
  expect(await note(page)).not.toContain('Seen at home');
  expect(await warnings()).toEqual([]);
  await page.getByText('1 visit beside this one').tap();
  await page.locator('.opening li', { hasText: '2026-01-12' }).getByRole('button').tap();
  expect(await note(page)).toBe(mine);
});

test('an automatic check finds no fault in the warning', async () => {
  expect(await accessFaults(page, '.note')).toEqual([]);
}, 120_000);

test('by keyboard: said to be up to date, the warning goes; a later change brings it back', async () => {
  await page.locator('#note-text').fill(`${mine} Now 30.`);
  await page.locator('#note-text').focus();
  await press(page, 'My edited note is up to date');
  expect(await warnings()).toEqual([]);
  expect((await focused(page)).id).toBe('note-text');
  expect(await note(page)).toBe(`${mine} Now 30.`);
  await openParts(page);
  await type(page, 'mip', '41');
  await page.locator('.note .care', { hasText: older }).waitFor();
});

test('deleted, the note follows the readings again, and can be edited anew', async () => {
  await button('See the note made from the readings').tap();
  await button('Delete my edited note').tap();
  expect(plain(await note(page))).toContain('41 cmH2O');
  expect((await focused(page)).id).toBe('note-text');
  await type(page, 'mip', '42');
  expect(plain(await note(page))).toContain('42 cmH2O');
  const made = await note(page);
  await page.locator('#note-text').fill(`${made}\nSeen at home.`);
  // Typed back to what the readings give, it is no edit any more.
  await page.locator('#note-text').fill(made);
  await type(page, 'mip', '43');
  expect(plain(await note(page))).toContain('43 cmH2O');
});

test('it goes with "Next person"', async () => {
  await page.locator('#note-text').fill('Her dog is called Otter.');
  await nextPerson(page);
  expect(await note(page)).not.toContain('Otter');
  expect(await page.evaluate(() => JSON.stringify({ ...sessionStorage }))).not.toContain('Otter');
  expect(await warnings()).toEqual([]);
});

test('each golden note, for the centre and in plain words, is one page of A4 and of Letter', async () => {
  await page.locator('#note-text').fill('to print');
  await page.evaluate(() => {
    document.body.dataset.paper = 'note';
  });
  const found: [string, string, number][] = [];
  for (const golden of goldens)
    for (const [words, write] of [
      ['centre', noteText],
      ['family', plainNote],
    ] as const) {
      const text = write(inputOf(golden));
      await page.locator('.note pre.printed').evaluate((pre, told) => {
        pre.textContent = told;
      }, text);
      for (const format of ['A4', 'Letter']) {
        const pdf = await page.pdf({ format });
        found.push([`${golden.name}, ${words}`, format, paperPages(pdf)]);
        // Whole: the last sentence is on the paper as well.
        expect(printedText(pdf)).toContain(packed(text.split('\n').at(-1) ?? '?'));
      }
    }
  expect(found.filter(([, , pages]) => pages !== 1)).toEqual([]);
  expect(found).toHaveLength(goldens.length * 4);
}, 120_000);
