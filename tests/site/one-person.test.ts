/** One person at a time: nothing typed for one can colour the next one's findings, and a slip of the thumb loses nobody. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { accessFaults, overflow } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { answer, field, fill, openCalculator } from './form.ts';
import { focused, press, tabTo } from './keys.ts';
import { answerSign, chip, measure, nextPerson, note, openParts, openSheet, plain, ready, type } from './sheet.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

const strip = (page: Page) => page.locator('[data-person]');
const question = (page: Page) => page.getByRole('alertdialog');
const undo = (page: Page) => page.getByRole('button', { name: /^Undo: bring back the person cleared at \d\d:\d\d$/ });
const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
async function asked(page: Page): Promise<string[]> {
  await question(page).waitFor();
  return (await question(page).locator('li').allTextContents()).map(plain);
}
const spoken = (page: Page) => page.locator('body > [role=status]');

/** Everything the browser keeps for this site, in whatever kind of storage, as text. */
const kept = (page: Page): Promise<string[]> =>
  page.evaluate(async () => [
    ...Object.entries(sessionStorage).map(String),
    ...Object.entries(localStorage).map(String),
    document.cookie,
    ...(await indexedDB.databases()).map(({ name }) => name ?? ''),
    ...(await caches.keys()),
    JSON.stringify(history.state),
    window.name,
  ]);
const keptPerson = (page: Page): Promise<Record<string, unknown>> =>
  page.evaluate(() =>
    Object.fromEntries(
      Object.entries(sessionStorage).flatMap(([key, text]) =>
        key.startsWith('tidemark:person') ? [[key, JSON.parse(String(text)).data]] : [],
      ),
    ),
  );

/** A page of words, with someone in hand as after the visit sheet: quicker to open than the sheet. */
async function holdSomeone(page: Page, data: object = { disease: 'als', ageYears: 61 }): Promise<void> {
  await page.goto(server.at('/about/'));
  await put(page, data);
  await page.reload();
  await strip(page).filter({ hasText: 'years' }).waitFor();
}
const put = (page: Page, data: object): Promise<void> =>
  page.evaluate(
    (held) => sessionStorage.setItem('tidemark:person', JSON.stringify({ until: Date.now() + 3_600_000, data: held })),
    data,
  );

/** A woman of 61 with ALS whose sniff was 38. */
async function enterSomeone(page: Page): Promise<void> {
  await openSheet(page, server.at('/visit/'));
  await page.getByLabel('Disease').selectOption('als');
  await page.getByLabel('Age', { exact: true }).fill('61');
  await chip(page, 'Female').tap();
  await openParts(page);
  await type(page, 'snip', '38');
}

test('height, age and sex typed for one sum are there for the next, and a line at the top says whose they are', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await page.locator('.calculator').getByText('Male', { exact: true }).tap();
  await strip(page).filter({ hasText: '175\u00a0cm' }).filter({ hasText: 'male' }).waitFor();
  await openCalculator(page, server, 'body-surface-area');
  expect(await field(page, 'height').inputValue()).toBe('175');
});

test('"Next person" on a calculator empties its fields, its answer and the line at the top', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await page.locator('.calculator').getByText('Male', { exact: true }).tap();
  await page.locator('.result dl').waitFor();
  await nextPerson(page, 'header');
  await page.locator('.result dl').waitFor({ state: 'detached' });
  expect(await field(page, 'height').inputValue()).toBe('');
  expect(await page.locator('.calculator input:checked').count()).toBe(0);
  expect(plain(await strip(page).textContent())).not.toMatch(/175|male/);
});

test('"Next person" at the top of one page clears the visit sheet too', async () => {
  const { page } = tab;
  await enterSomeone(page);
  await page.goto(server.at('/calculators/'));
  await nextPerson(page, 'header');
  await openSheet(page, server.at('/visit/'));
  expect(
    await measure(page, 'snip')
      .locator('input')
      .first()
      .inputValue()
      .catch(() => ''),
  ).toBe('');
  expect(await note(page)).not.toContain('38');
  expect(await page.evaluate(() => Object.keys(sessionStorage))).toEqual([]);
  // When it was pressed, and nothing else: for a page that the browser keeps for the Back button.
  expect(await page.evaluate(() => Object.entries(localStorage))).toEqual([
    ['tidemark:next', expect.stringMatching(/^\d{13}$/)],
  ]);
});

test('a note changed by hand goes with its person', async () => {
  const { page } = tab;
  await enterSomeone(page);
  await page.locator('#note-text').fill('Seen at home. Sniff 38.');
  await nextPerson(page, 'header');
  await undo(page).waitFor();
  expect(await note(page)).not.toContain('Seen at home');
  expect(plain(await strip(page).textContent())).not.toMatch(/ALS|61|female/);
});

describe('before anything is cleared', () => {
  test('it asks, and says what goes: person, readings, edited note, earlier visits, search line', async () => {
    const { page } = tab;
    await enterSomeone(page);
    await page.getByRole('textbox', { name: 'Asked of the physician' }).fill('A blood gas?');
    await page.locator('#note-text').fill('Seen at home. Sniff 38.');
    await page.locator('#visit-date').fill('2026-01-12');
    await button(page, "Keep this visit as an earlier one and begin today's").tap();
    await openParts(page);
    await type(page, 'snip', '33');
    await answerSign(page, 'orthopnoea', 'Yes');
    const before = await keptPerson(page);
    await button(page, 'Next person: clear everything typed').tap();
    expect(await asked(page)).toEqual([
      'the person: ALS/MND \u00b7 61 years \u00b7 female',
      expect.stringMatching(/^the visit of \d{4}-\d\d-\d\d: 1 reading, 1 answer$/),
      'the note you edited',
      '1 earlier visit on the sheet (2026-01-12)',
    ]);
    await button(page, 'Keep this person').tap();
    expect(await question(page).count()).toBe(0);
    expect(await keptPerson(page)).toEqual(before);
    expect(await measure(page, 'snip').locator('input').first().inputValue()).toBe('33');

    await page.goto(server.at('/search/?q=sniff+38'));
    await page.locator('#instant h2, #instant p').first().waitFor();
    await button(page, 'Next person').tap();
    expect((await asked(page)).at(-1)).toBe('the search line: \u201csniff 38\u201d');
    expect(await keptPerson(page)).toEqual(before);
  });

  test('what is kept on the device on purpose stays, and it says so', async () => {
    const { page } = tab;
    await enterSomeone(page);
    await button(page, 'Keep on this device').tap();
    await page.locator('.keeping [role=status]', { hasText: '1 visit kept on this device' }).waitFor();
    await button(page, 'Next person').tap();
    const savedToo = page.getByRole('checkbox', { name: /^Clear the visits kept on this device too/ });
    expect(await savedToo.isChecked()).toBe(false);
    await button(page, 'Clear and start the next person').tap();
    expect(await page.evaluate(() => Object.keys(localStorage).sort())).toEqual([
      'tidemark:kept-series',
      'tidemark:next',
    ]);
    // Nothing is entered now, and the visits are still offered to be cleared.
    await button(page, 'Next person: clear everything typed').tap();
    await savedToo.check();
    await button(page, 'Clear and start the next person').tap();
    expect(await page.evaluate(() => Object.keys(localStorage))).toEqual(['tidemark:next']);
    expect(await button(page, 'Clear what is kept here').count()).toBe(0);
  });

  test('with nothing entered it clears without a question, and there is nothing to undo', async () => {
    const { page } = tab;
    await openSheet(page, server.at('/visit/'));
    await button(page, 'Next person: clear everything typed').tap();
    expect(await question(page).count()).toBe(0);
    expect(await undo(page).count()).toBe(0);
    // Readings alone, with no disease given, are something.
    await openParts(page);
    await type(page, 'snip', '38');
    await button(page, 'Next person: clear everything typed').tap();
    expect(await asked(page)).toEqual([expect.stringMatching(/: 1 reading$/)]);
  });

  test('what is entered while it asks closes the question and clears nothing', async () => {
    const { page } = tab;
    await enterSomeone(page);
    await button(page, 'Next person').tap();
    await question(page).waitFor();
    await page.locator('#note-text').fill('One more line');
    await question(page).waitFor({ state: 'detached' });
    expect(await measure(page, 'snip').locator('input').first().inputValue()).toBe('38');
  });

  test('by keyboard: Escape keeps, the focus goes on where it makes sense, and each step is spoken', async () => {
    const { page } = tab;
    await openSheet(page, server.at('/visit/'));
    await tabTo(page, ({ id }) => id === 'visit-disease');
    await page.keyboard.type('ALS');
    await press(page, 'Next person: clear everything typed');
    expect((await focused(page)).words).toBe('Keep this person');
    const dialog = page.getByRole('alertdialog', { name: 'Clear this person and start the next?' });
    expect(await dialog.count()).toBe(1);
    const described = await dialog.getAttribute('aria-describedby');
    expect(plain(await page.locator(`[id="${described}"]`).textContent())).toMatch(
      /^This clears: ?the person: ALS\/MND ?You can undo this for 5 minutes/,
    );
    await page.keyboard.press('Escape');
    expect(await dialog.count()).toBe(0);
    expect((await focused(page)).words).toBe('Next person: clear everything typed');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect((await focused(page)).words).toBe('Clear and start the next person');
    await page.keyboard.press('Enter');
    // The next person is entered from here on; what happened is spoken, with the way back.
    expect((await focused(page)).id).toBe('visit-disease');
    await spoken(page).filter({ hasText: 'Everything was cleared. You can undo this' }).waitFor({ state: 'attached' });
    await page.keyboard.press('Shift+Tab');
    for (let presses = 0; presses < 20 && !/^Undo/.test((await focused(page)).words); presses += 1)
      await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Enter');
    await spoken(page).filter({ hasText: 'Brought back: ALS/MND.' }).waitFor({ state: 'attached' });
    expect(await page.evaluate(() => document.activeElement?.matches('[data-person]'))).toBe(true);
    expect(await page.getByLabel('Disease').inputValue()).toBe('als');

    await page.goto(server.at('/about/'));
    await tabTo(page, ({ words }) => words === 'Next person');
    await page.keyboard.press('Enter');
    await question(page).waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect((await focused(page)).words).toMatch(/^Undo: bring back the person cleared at/);
  });

  test('an automatic check finds no fault in the question and the way back, and both fit 320 pixels', async () => {
    const { page } = tab;
    await holdSomeone(page);
    await page.setViewportSize({ width: 320, height: 640 });
    await button(page, 'Next person').tap();
    await question(page).waitFor();
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    const { bottom } = (await question(page).evaluate((panel) => panel.getBoundingClientRect())) as DOMRect;
    expect(bottom).toBeLessThanOrEqual(640);
    expect(await accessFaults(page, '.person')).toEqual([]);
    await button(page, 'Clear and start the next person').tap();
    await undo(page).waitFor();
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(await accessFaults(page, '.person')).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await accessFaults(page, '.person')).toEqual([]);
  });

  test('where the part that asks does not load, a second press clears, and the first says so', async () => {
    const { page } = tab;
    await page.route(/\/next\.[^/]*\.js/, (route) => route.abort());
    await page.goto(server.at('/about/'));
    await put(page, { ageYears: 61 });
    await page.reload();
    await strip(page).filter({ hasText: 'This device holds entries for one person' }).waitFor();
    await button(page, 'Next person').tap();
    await button(page, 'Clear: no undo').waitFor();
    expect(Object.keys(await keptPerson(page))).toEqual(['tidemark:person']);
    await button(page, 'Clear: no undo').tap();
    await strip(page).waitFor({ state: 'hidden' });
    expect(await keptPerson(page)).toEqual({});
  });
});

describe('for five minutes it can be undone', () => {
  test('all of it comes back; until then it is in no storage, and its page is empty', async () => {
    const { page } = tab;
    await enterSomeone(page);
    await page.locator('#visit-answers').fill('eye board');
    await page.locator('#note-text').fill('Seen at home. Sniff 38.');
    const [before, text] = [await keptPerson(page), await note(page)];
    await nextPerson(page);
    expect((await kept(page)).filter((one) => /38|als|eye board|Seen/i.test(one))).toEqual([]);
    expect(await keptPerson(page)).toEqual({});
    expect(await page.locator('.found .finding.met').count()).toBe(0);
    await undo(page).tap();
    expect(await keptPerson(page)).toEqual(before);
    await expect.poll(() => note(page)).toBe(text);
    expect(await page.getByLabel('Disease').inputValue()).toBe('als');
    expect(await page.getByLabel('Age', { exact: true }).inputValue()).toBe('61');
    expect(await measure(page, 'snip').locator('input').first().inputValue()).toBe('38');
    await strip(page).filter({ hasText: 'ALS/MND' }).waitFor();
    expect(await undo(page).count()).toBe(0);
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });

  test('the time is the one on the clock, and after five minutes it is gone', async () => {
    const { page } = tab;
    await page.clock.install({ time: new Date('2026-11-29T13:55:00') });
    await holdSomeone(page);
    await page.clock.pauseAt(new Date('2026-11-29T14:02:30'));
    await nextPerson(page, 'header');
    await button(page, 'Undo: bring back the person cleared at 14:02').waitFor();
    await page.clock.runFor('04:55');
    expect(await undo(page).count()).toBe(1);
    await page.clock.runFor('00:06');
    expect(await undo(page).count()).toBe(0);
    expect(await strip(page).isVisible()).toBe(false);
    expect(await keptPerson(page)).toEqual({});
  });

  test('a page that slept through the five minutes does not offer it when it wakes', async () => {
    const { page } = tab;
    await page.clock.install();
    await holdSomeone(page);
    await nextPerson(page, 'header');
    await undo(page).waitFor();
    // The clock went on, the timers did not: as a phone in a pocket.
    await page.clock.setSystemTime(Date.now() + 6 * 60_000);
    await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
    expect(await undo(page).count()).toBe(0);
  });

  test.each<[string, (page: Page) => Promise<unknown>]>([
    ['a disease is chosen', (page) => page.getByLabel('Disease').selectOption('dmd')],
    ['the first figure of an age is typed', (page) => page.getByLabel('Age', { exact: true }).fill('1')],
    ['a question is answered', (page) => page.locator('.sign').first().locator('label.chip').first().tap()],
    [
      'a file is opened',
      (page) =>
        page.setInputFiles('#series-file', {
          name: 'visits.json',
          mimeType: 'application/json',
          buffer: Buffer.from(
            JSON.stringify({ format: 'tidemark-visits', version: 1, person: { disease: 'dmd' }, visits: [] }),
          ),
        }),
    ],
  ])('when %s for the next person it is gone: two people never mix', async (_, enter) => {
    const { page } = tab;
    await enterSomeone(page);
    await nextPerson(page);
    await undo(page).waitFor();
    await enter(page);
    await undo(page).waitFor({ state: 'detached' });
    await spoken(page)
      .filter({ hasText: 'The person cleared before can no longer be brought back.' })
      .waitFor({ state: 'attached' });
    expect(JSON.stringify(await keptPerson(page))).not.toMatch(/als|38/);
  });

  test('pressed in the moment when something of the next person is there, it brings nobody back', async () => {
    const { page } = tab;
    await holdSomeone(page);
    await nextPerson(page, 'header');
    await put(page, { disease: 'dmd', ageYears: 9 });
    await undo(page).tap();
    expect(await keptPerson(page)).toEqual({ 'tidemark:person': { disease: 'dmd', ageYears: 9 } });
  });

  test('another page, or the same one loaded again, has nothing to bring back', async () => {
    const { page } = tab;
    await enterSomeone(page);
    await nextPerson(page);
    await undo(page).waitFor();
    await page.reload();
    await ready(page);
    expect(await undo(page).count()).toBe(0);
    await holdSomeone(page);
    await nextPerson(page, 'header');
    await undo(page).waitFor();
    // A browser that keeps the whole page, script and all, when the reader leaves it.
    await page.evaluate(() => dispatchEvent(new PageTransitionEvent('pagehide', { persisted: true })));
    expect(await undo(page).count()).toBe(0);
    expect(await keptPerson(page)).toEqual({});
  });

  test('a calculator is filled again, units and all, with its answer; the person held is the same to the last figure', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'predicted-vital-capacity');
    await fill(page, 'predicted-vital-capacity', {
      sex: 'male',
      age: { value: 130, unit: 'mo' },
      height: { value: 1.41, unit: 'm' },
    });
    await answer(page).waitFor();
    const [before, held] = [plain(await answer(page).textContent()), await keptPerson(page)];
    await button(page, 'Next person').tap();
    expect(await asked(page)).toEqual([
      expect.stringMatching(/^the person: 10 years .*male \u00b7 141 cm$/),
      'what was typed in the calculator on this page',
    ]);
    await button(page, 'Clear and start the next person').tap();
    await answer(page).waitFor({ state: 'detached' });
    await undo(page).tap();
    await expect.poll(() => field(page, 'age').inputValue()).toBe('130');
    await expect.poll(() => field(page, 'height').inputValue()).toBe('1.41');
    await expect.poll(async () => plain(await answer(page).textContent())).toBe(before);
    expect(await keptPerson(page)).toEqual(held);
  });

  test('a table with rows added is filled again', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'ideal-body-weight');
    await field(page, 'height').fill('175');
    await field(page, 'height').blur();
    await openCalculator(page, server, 'decline-rate');
    const cells = page.locator('.calculator .series tbody input');
    const start = await cells.count();
    await button(page, 'Add a row').tap();
    await button(page, 'Add a row').tap();
    const all = await cells.count();
    expect(all).toBeGreaterThan(start);
    for (let at = 0; at < all; at += 1) await cells.nth(at).fill(String(90 - at));
    const values = () => cells.evaluateAll((inputs) => inputs.map((input) => (input as HTMLInputElement).value));
    const before = await values();
    await nextPerson(page, 'header');
    await expect.poll(async () => (await values()).join('')).toBe('');
    await undo(page).tap();
    await expect.poll(values).toEqual(before);
  });

  test('a search line comes back with what it found; the field on a measuring page too', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'ideal-body-weight');
    await field(page, 'height').fill('175');
    await field(page, 'height').blur();
    await page.goto(server.at('/search/?q=sniff+38'));
    await page.locator('#instant .findings').first().waitFor();
    await nextPerson(page, 'header');
    await expect.poll(() => page.locator('#instant').textContent()).toBe('');
    expect(await page.locator('#q').inputValue()).toBe('');
    await undo(page).tap();
    await page.locator('#instant .findings').first().waitFor();
    expect(await page.locator('#q').inputValue()).toBe('sniff 38');

    await page.goto(server.at('/measuring/sniff-pressure/'));
    await page.locator('#hold').fill('38');
    await page.locator('.held .findings').first().waitFor();
    await button(page, 'Next person').tap();
    expect((await asked(page)).at(-1)).toBe('the reading typed on this page: \u201c38\u201d');
    await button(page, 'Clear and start the next person').tap();
    await expect.poll(() => page.locator('.held').textContent()).toBe('');
    await undo(page).tap();
    await page.locator('.held .findings').first().waitFor();
    expect(await page.locator('#hold').inputValue()).toBe('38');
  });
});

test('another tab knows nothing of this one', async () => {
  await enterSomeone(tab.page);
  const other = await tab.context.newPage();
  await openSheet(other, server.at('/visit/'));
  expect(await other.getByLabel('Disease').inputValue()).toBe('');
  expect(await strip(other).isVisible()).toBe(false);
});

test('readings without a disease have the line at the top of other pages, and its button', async () => {
  const { page } = tab;
  await openSheet(page, server.at('/visit/'));
  await openParts(page);
  await type(page, 'snip', '38');
  await page.goto(server.at('/about/'));
  await strip(page).filter({ hasText: 'Visit sheet started; disease and age not given' }).waitFor();
  await nextPerson(page, 'header');
  expect(await keptPerson(page)).toEqual({});
});

test('a page found again with the Back button after "Next person" no longer shows the last one', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'ideal-body-weight');
  await field(page, 'height').fill('175');
  await field(page, 'height').blur();
  // What a browser does that keeps the whole page, script and all, and wakes it: the person was cleared elsewhere meanwhile.
  await page.evaluate(() => {
    sessionStorage.clear();
    dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }));
  });
  await page.waitForFunction(
    () => document.querySelector<HTMLInputElement>('.calculator input[type="text"]')?.value === '',
  );
});

test('a sheet left open overnight is empty in the morning', async () => {
  const { page } = tab;
  await page.clock.install();
  await enterSomeone(page);
  expect(await note(page)).toContain('38');
  await page.clock.fastForward('13:00:00');
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.clock.runFor(1000);
  expect(await note(page)).not.toContain('38');
  expect(await page.getByLabel('Disease').inputValue()).toBe('');
  // That was nobody's slip of the thumb: there is no way back.
  expect(await undo(page).count()).toBe(0);
});

test('nothing typed is written to any storage that outlives the tab', async () => {
  await enterSomeone(tab.page);
  expect(await tab.page.evaluate(() => [localStorage.length, document.cookie, sessionStorage.length > 0])).toEqual([
    0,
    '',
    true,
  ]);
});
