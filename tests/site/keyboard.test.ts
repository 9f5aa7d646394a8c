/** Without a mouse and without touch: a keyboard, a switch, a reader whose hands do not point. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { answer, openCalculator } from './form.ts';
import { focused, press, tabTo } from './keys.ts';
import { finding, note, openSheet, plain } from './sheet.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

test('the first Tab reaches the skip link, which can be seen, and it leads past the header into the page', async () => {
  const { page } = tab;
  await page.goto(server.at('/calculators/ideal-body-weight/'));
  await page.keyboard.press('Tab');
  expect((await focused(page)).words).toBe('Skip to content');
  const box = await page.locator('.skip').boundingBox();
  expect(box !== null && box.x >= 0 && box.y >= 0 && box.width > 24 && box.height >= 24).toBe(true);
  await page.keyboard.press('Enter');
  await page.waitForURL(/#main$/);
  await page.keyboard.press('Tab');
  expect(await page.evaluate(() => document.querySelector('main')?.contains(document.activeElement))).toBe(true);
});

test('an ideal body weight, by Tab, arrows and digits alone, from the top of the page to the result', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await tabTo(page, ({ name }) => name.endsWith('-sex'));
  await page.keyboard.press('Space');
  await page.keyboard.press('ArrowDown');
  expect(await page.locator('.calculator input[value="male"]').isChecked()).toBe(true);
  await tabTo(page, ({ id }) => id.endsWith('-height'));
  await page.keyboard.type('175');
  await page.keyboard.press('Tab');
  await answer(page).waitFor();
  // By hand: 50 + 0.91 x (175 - 152.4) = 70.566
  expect(plain(await answer(page).textContent())).toContain('70.6 kg');
});

test('on the visit sheet, Space answers a question and the arrow keys change the answer', async () => {
  const { page } = tab;
  await openSheet(page, server.at('/visit/'));
  await tabTo(page, ({ id }) => id === 'visit-disease');
  await page.keyboard.type('ALS');
  await page.keyboard.press('Enter');
  expect(await page.getByLabel('Disease').inputValue()).toBe('als');
  await tabTo(page, ({ id }) => id === 'visit-age');
  await page.keyboard.type('61');
  await tabTo(page, ({ id, name }) => `${id} ${name}`.includes('visit-respiratory-infection'));
  await page.keyboard.press('Space');
  const inputs = page.locator('[data-measure="respiratory-infection"] input');
  expect([await inputs.nth(0).isChecked(), await inputs.nth(1).isChecked()]).toEqual([true, false]);
  await page.keyboard.press('ArrowRight');
  expect([await inputs.nth(0).isChecked(), await inputs.nth(1).isChecked()]).toEqual([false, true]);
  await page.keyboard.press('ArrowLeft');
  expect([await inputs.nth(0).isChecked(), await inputs.nth(1).isChecked()]).toEqual([true, false]);
  // The first in the list of symptoms that a criterion is about by itself: a tick is a yes.
  await page.locator('[data-measure="breathlessness"] input').focus();
  await tabTo(page, ({ id, name }) => `${id} ${name}`.includes('visit-orthopnoea'));
  await page.keyboard.press('Space');
  expect(await page.locator('[data-measure="orthopnoea"] input').isChecked()).toBe(true);
  expect(await finding(page, 'aan-als-orthopnoea').locator('.result-mark').textContent()).toBe('Met');
});

test('from a reading to the note in the clipboard, by keyboard alone', async () => {
  const { page, context } = tab;
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openSheet(page, server.at('/visit/'));
  await tabTo(page, ({ id }) => id === 'visit-disease');
  await page.keyboard.type('ALS');
  await tabTo(page, ({ id, tag }) => tag === 'INPUT' && id === 'visit-snip');
  await page.keyboard.type('38');
  await press(page, 'Copy the note');
  await page.getByRole('status').filter({ hasText: 'Copied' }).waitFor();
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  expect(copied).toBe(await note(page));
  expect(plain(copied)).toMatch(/SNIP.*38 cmH2O/);
});

test('a clinic sets a threshold of its own, by keyboard alone', async () => {
  const { page } = tab;
  await page.goto(server.at('/agree/'));
  await page.locator('form.agree > fieldset:enabled').waitFor();
  await tabTo(page, ({ id }) => id === 'agree-decision');
  await page.keyboard.type('Night');
  await press(page, /^Sniff pressure/);
  const place = page.locator('[data-decision="night-ventilation"] [data-measure="snip"]');
  await press(page, 'Set another value');
  await tabTo(page, ({ tag, id }) => tag === 'INPUT' && id.endsWith('-value'));
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type('45');
  await tabTo(page, ({ id }) => id.endsWith('-reason'));
  await page.keyboard.type('Machines take three weeks to come');
  await press(page, 'Add this criterion');
  await place.locator('.own').waitFor({ state: 'detached' });
  expect(plain(await place.textContent())).toContain('45 cmH2O');
  // The keyboard goes on from where it was, not from the top of the page.
  expect(
    await page.evaluate(() => document.activeElement?.closest('[data-decision="night-ventilation"]') !== null),
  ).toBe(true);
});

test('search, by keyboard alone: type, Tab to the first result, Enter', async () => {
  const { page } = tab;
  await page.goto(server.at('/search/'));
  await page.keyboard.type('sniff');
  const first = '/measuring/sniff-pressure/';
  await page.locator(`#results li:first-child a[href="${first}"]`).waitFor();
  await tabTo(page, ({ id }) => id !== 'q');
  for (
    let presses = 0;
    presses < 10 && (await page.evaluate(() => document.activeElement?.closest('#results') === null));
    presses += 1
  )
    await page.keyboard.press('Tab');
  expect(await page.evaluate(() => document.activeElement?.getAttribute('href'))).toBe(first);
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.pathname === first);
});

describe('whatever has the focus can be seen, not hidden behind a bar', () => {
  const longEnough = 400;

  /** What has the focus, when none of the part of it that is on the screen can be seen; undefined when no element has it. */
  const coveredFocus = (page: Page): Promise<{ covered: string | undefined } | undefined> =>
    page.evaluate(async () => {
      const element = document.activeElement;
      if (element === null || element === document.body) return undefined;
      // A radio button or box is seen by the label it is drawn in.
      const shown = element.closest('label.chip') ?? element;
      const inView = () => {
        const { left, right, top, bottom } = shown.getBoundingClientRect();
        // Formulas can be taller than the screen: what is on it counts.
        return {
          left,
          width: right - left,
          top: Math.max(0, top),
          height: Math.min(innerHeight, bottom) - Math.max(0, top),
        };
      };
      const isOpen = (): boolean => {
        const box = inView();
        return [0.1, 0.5, 0.9].some((x) =>
          [0.15, 0.5, 0.85].some((y) => {
            const top = document.elementFromPoint(box.left + box.width * x, box.top + box.height * y);
            return top !== null && (shown.contains(top) || top.contains(shown));
          }),
        );
      };
      // A busy browser brings what has the focus into view a few frames later.
      for (let frame = 0; !isOpen() && frame < 30; frame += 1) await new Promise((next) => requestAnimationFrame(next));
      const box = inView();
      const over = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
      return {
        covered: isOpen()
          ? undefined
          : `${element.tagName} ${element.id} ${(element.textContent ?? '').trim().slice(0, 40)} under ${over?.tagName} ${over?.className}, at ${Math.round(shown.getBoundingClientRect().top)}`,
      };
    });

  /** Tab through the whole page; every stop that is covered, with what covers it. */
  async function coveredStops(page: Page): Promise<{ stops: number; covered: string[] }> {
    const covered: string[] = [];
    for (let stops = 0; stops < longEnough; stops += 1) {
      await page.keyboard.press('Tab');
      const seen = await coveredFocus(page);
      if (seen === undefined) return { stops, covered };
      if (seen.covered !== undefined) covered.push(seen.covered);
    }
    throw new Error(`More than ${longEnough} stops`);
  }

  test.each([
    '/',
    '/calculators/ideal-body-weight/',
    '/calculators/predicted-vital-capacity/',
    '/search/',
    '/urgent/',
    '/measuring/vital-capacity/',
  ])('%s, forwards and back', async (path) => {
    const { page } = tab;
    await page.goto(server.at(path));
    // With a person in hand, the line at the top sticks too.
    await page.evaluate(() =>
      sessionStorage.setItem(
        'tidemark:person',
        JSON.stringify({ until: Date.now() + 1e6, data: { disease: 'als', ageYears: 61, sex: 'female' } }),
      ),
    );
    await page.goto(server.at(path));
    await page.locator('[data-person]').waitFor();
    const { stops, covered } = await coveredStops(page);
    expect(covered).toEqual([]);
    expect(stops).toBeGreaterThan(5);
    const back: string[] = [];
    for (let press = 0; press < stops; press += 1) {
      await page.keyboard.press('Shift+Tab');
      const covered = (await coveredFocus(page))?.covered;
      if (covered !== undefined) back.push(covered);
    }
    expect(back).toEqual([]);
  });

  test('the visit sheet with every part opened', async () => {
    const { page } = tab;
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.evaluate(() => {
      for (const part of document.querySelectorAll<HTMLDetailsElement>('details.part')) part.open = true;
      (document.activeElement as HTMLElement | null)?.blur();
      scrollTo(0, 0);
    });
    expect((await coveredStops(page)).covered).toEqual([]);
  });
});
