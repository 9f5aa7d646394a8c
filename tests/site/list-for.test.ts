/** Lists of criteria narrowed to one disease: to what the evaluator shows in it, for this visit only, and all without a script. */
import type { Page } from 'playwright-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { type Disease, diseases } from '../../calculators/domain/diseases.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { readEvidence } from '../read-content.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';

const evidence = readEvidence();
const page = '/decisions/night-ventilation/';
const ofPage = { decision: 'night-ventilation' };
let tab: Tab;
beforeEach(async () => {
  await tab?.context.close();
  tab = await openTab(browser, server.root);
  await tab.page.goto(server.at(page));
});

/** The criteria whose words a reader can reach: folded ones count, hidden ones do not. */
const reached = (on: Page): Promise<string[]> =>
  on.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('.criteria .more')]
      .filter((part) => part.closest('[hidden]') === null)
      .map((part) => part.querySelector('a[href*="/sources/"]')?.getAttribute('href')?.split('#')[1] ?? '')
      .sort(),
  );
const choose = (on: Page, disease: string) => on.locator('.for select').selectOption(disease);
const shownIn = (disease: Disease | undefined): string[] =>
  criteriaFor({ disease }, evidence, ofPage)
    .map(({ id }) => id)
    .sort();

test('all are shown until a disease is chosen, and again when it is taken back', async () => {
  const all = shownIn(undefined);
  expect(await reached(tab.page)).toEqual(all);
  await choose(tab.page, 'dmd');
  expect((await reached(tab.page)).length).toBeLessThan(all.length);
  await choose(tab.page, '');
  expect(await reached(tab.page)).toEqual(all);
});

test.each(diseases)('%s: exactly what the evaluator shows in it, and no empty row or heading', async (disease) => {
  await choose(tab.page, disease);
  const expected = shownIn(disease);
  expect(await reached(tab.page)).toEqual(expected);
  expect(await tab.page.locator('.for [role=status]').textContent()).toContain(`${expected.length} of `);
  const rows = await tab.page
    .locator('.criteria .mark:visible')
    .evaluateAll(
      (marks) =>
        marks.filter((mark) => [...mark.querySelectorAll('.by')].every((by) => by.hasAttribute('hidden'))).length,
    );
  expect(rows).toBe(0);
  const headings = await tab.page
    .locator('.criteria > .group:visible')
    .evaluateAll((groups) => groups.filter((group) => !group.querySelector('.mark:not([hidden])')).length);
  expect(headings).toBe(0);
});

describe('the choice', () => {
  test('is there on the next page, in this tab alone, and goes with the person', async () => {
    const { page: on, context } = tab;
    await choose(on, 'als');
    await on.goto(server.at('/measuring/vital-capacity/'));
    expect(await on.locator('.for select').inputValue()).toBe('als');
    expect(await on.evaluate(() => localStorage.length)).toBe(0);
    expect(await on.locator('[data-person]').isVisible()).toBe(false);
    const other = await context.newPage();
    await other.goto(server.at(page));
    expect(await other.locator('.for select').inputValue()).toBe('');
    await on.evaluate(() => {
      const until = Date.now() + 3_600_000;
      sessionStorage.setItem('tidemark:person', JSON.stringify({ until, data: { disease: 'dmd' } }));
    });
    await on.reload();
    // Another person's disease: the choice made before says nothing about them.
    expect(await on.locator('.for select').inputValue()).toBe('dmd');
    await on.locator('[data-person] button.clears').click();
    await on.getByRole('button', { name: 'Clear and start the next person' }).click();
    await expect.poll(() => on.locator('.for select').inputValue()).toBe('');
  });

  test('is the disease of the current person where nothing was chosen', async () => {
    const { page: on } = tab;
    await on.evaluate(() => {
      const until = Date.now() + 3_600_000;
      sessionStorage.setItem('tidemark:person', JSON.stringify({ until, data: { disease: 'mg' } }));
    });
    await on.reload();
    expect(await on.locator('.for select').inputValue()).toBe('mg');
    expect(await reached(on)).toEqual(shownIn('mg'));
  });
});

test('without a script all is shown, and nothing asks for a disease', async () => {
  const { context, page: on } = await openTab(browser, server.root, { javaScriptEnabled: false });
  await on.goto(server.at(page));
  expect(await on.locator('.for').isVisible()).toBe(false);
  expect(await on.locator('.criteria > .group').count()).toBe(await on.locator('.criteria > .group:visible').count());
  await context.close();
});
