/** What stands beside a sum on the screen: the pacer that follows a cough session, and the chart of a decline. */
import type { Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { accessFaults, overflow } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { answer, field, fill, openCalculator } from './form.ts';
import { plain } from './sheet.ts';

let tab: Tab;
/** The pacer's page has a clock that the test moves; the rest runs by the real one. */
let paced: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  paced = await openTab(browser, server.root, { reducedMotion: 'reduce' });
});

/** Two sets of two, a second in, a second out, no pause, ten seconds of rest: 18 s in all. */
const order = { sets: 2, cycles: 2, timeIn: 1, timeOut: 1, pause: 0, rest: 10 };
const pacer = (page: Page): Locator => page.locator('.pacer');
const tapOn = (page: Page, name: string): Promise<void> => pacer(page).getByRole('button', { name, exact: true }).tap();
const shown = async (page: Page): Promise<string[]> => [
  plain(await pacer(page).locator('.phase').textContent()),
  plain(await pacer(page).locator('.place').textContent()),
];

async function openPacer(): Promise<Page> {
  const { page } = paced;
  await page.goto(server.at('/404.html'));
  await page.evaluate(() => sessionStorage.clear());
  await page.clock.install();
  await openCalculator(page, server, 'cough-session-plan');
  return page;
}

describe('the pacer', () => {
  test('is not there until every number of the order is entered, and a length left out is asked for', async () => {
    const page = await openPacer();
    const { pause: _, ...withoutPause } = order;
    await fill(page, 'cough-session-plan', withoutPause);
    expect(await page.locator('.calculator .waiting').textContent()).toBe('Still needed: pause in seconds.');
    expect(await pacer(page).count()).toBe(0);
    await field(page, 'pause').fill('0');
    await pacer(page).waitFor();
    expect(await pacer(page).locator('.phase').count()).toBe(0);
    for (const sign of ['light-headed', 'distress', 'hyperventilation'])
      expect(await pacer(page).textContent()).toContain(sign);
  });

  test('one tap starts it; it goes through breaths, rest and sets by the clock, and says each change once', async () => {
    const { page } = paced;
    await page.clock.pauseAt(new Date(Date.now() + 60_000));
    const heard = await pacer(page)
      .locator('[role=status]')
      .evaluateHandle((region) => {
        const all: string[] = [];
        new MutationObserver(() => all.push(region.textContent ?? '')).observe(region, {
          childList: true,
          characterData: true,
          subtree: true,
        });
        return all;
      });
    await tapOn(page, 'Start the session');
    await page.clock.runFor(200);
    expect(await shown(page)).toEqual(['In', 'Breath 1 of 2, set 1 of 2']);
    await page.clock.runFor(1000);
    expect(await shown(page)).toEqual(['Out', 'Breath 1 of 2, set 1 of 2']);
    await page.clock.runFor(1000);
    expect(await shown(page)).toEqual(['In', 'Breath 2 of 2, set 1 of 2']);
    await page.clock.runFor(4300);
    expect(await shown(page)).toEqual(['Rest', '8 seconds left. Then set 2 of 2']);
    expect((await heard.jsonValue()).filter((words) => words !== '')).toEqual([
      'Set 1. Breath 1: in',
      'Out',
      'Breath 2: in',
      'Out',
      'Rest, 10 seconds',
    ]);
  });

  test('a screen that was covered comes back at the right place, with no tick in between', async () => {
    const { page } = paced;
    // One late tick after eight seconds, as a phone gives it when another app was in front.
    await page.clock.fastForward(8000);
    await page.clock.runFor(100);
    expect(await shown(page)).toEqual(['In', 'Breath 1 of 2, set 2 of 2']);
  });

  test('pause holds it for as long as is wanted, and going on begins that breath again', async () => {
    const { page } = paced;
    await page.clock.runFor(900);
    expect((await shown(page))[0]).toBe('Out');
    await tapOn(page, 'Pause');
    await page.clock.runFor(60_000);
    expect(await shown(page)).toEqual(['Out (paused)', 'Breath 1 of 2, set 2 of 2']);
    await pacer(page).getByRole('button', { name: 'Go on' }).focus();
    await page.keyboard.press('Enter');
    await page.clock.runFor(200);
    expect(await shown(page)).toEqual(['In', 'Breath 1 of 2, set 2 of 2']);
    await page.clock.runFor(4000);
    expect(await pacer(page).locator('.phase').textContent()).toBe('Done');
  });

  test('stop is one tap, and a changed order is another session', async () => {
    const { page } = paced;
    await tapOn(page, 'Start again');
    await page.clock.runFor(500);
    await tapOn(page, 'Stop');
    expect(await pacer(page).locator('.phase').count()).toBe(0);
    await tapOn(page, 'Start the session');
    await page.clock.runFor(500);
    await field(page, 'timeIn').fill('2');
    await pacer(page).locator('.phase').waitFor({ state: 'detached' });
    expect(await overflow(page)).toBeLessThanOrEqual(0);
  });
});

test('an accessibility check has nothing against the pacer, waiting or under way', async () => {
  const { page } = tab;
  await openCalculator(page, server, 'cough-session-plan');
  await fill(page, 'cough-session-plan', { ...order, rest: 600 });
  await pacer(page).waitFor();
  expect(await accessFaults(page)).toEqual([]);
  await tapOn(page, 'Start the session');
  await pacer(page).locator('.phase').waitFor();
  expect(await accessFaults(page)).toEqual([]);
  await tapOn(page, 'Stop');
});

describe('the chart of a decline', () => {
  const readings = [
    { time: 0, value: 80 },
    { time: 60, value: 75 },
    { time: 120, value: 69 },
    { time: 180, value: 62 },
  ];
  const chart = (page: Page): Locator => page.locator('.decline svg');

  test('shows readings, line, interval, threshold and both days, and says the same in words', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'decline-rate');
    await fill(page, 'decline-rate', { test: 'vc-percent', sameMethod: 'yes', readings, threshold: 50 });
    await chart(page).waitFor();
    expect(await page.locator('.decline .dot').count()).toBe(4);
    expect(await page.locator('.decline .band').count()).toBe(1);
    expect(await page.locator('.decline .day').count()).toBe(2);
    expect(plain(await page.locator('.decline .named').first().textContent())).toBe('threshold 50 %');
    const words = plain(await chart(page).getAttribute('aria-label'));
    const told = plain(await answer(page).textContent());
    for (const days of words.matchAll(/at the threshold: (\d+) days/g)) expect(told).toContain(`${days[1]} days`);
    expect(words).toContain('4 readings, from 80 % to 62 %');
    expect(await page.locator('.decline tbody tr').count()).toBe(4);
    expect(await accessFaults(page)).toEqual([]);
  });

  test('the unit of the chosen test stands beside the readings and the threshold', async () => {
    const { page } = tab;
    const column = page.locator('fieldset.series thead th').nth(2);
    expect(plain(await column.textContent())).toBe('Reading %');
    await page.locator('.calculator select[id$="-test"]').selectOption('cough-flow');
    expect(plain(await column.textContent())).toBe('Reading L/min');
    expect(plain(await page.locator('.entry:has([id$="-threshold"]) .unit').textContent())).toBe('L/min');
  });

  test('two readings have a line, called weak, and no interval and no day', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'decline-rate');
    await fill(page, 'decline-rate', {
      test: 'vc-percent',
      sameMethod: 'yes',
      readings: readings.slice(0, 2),
      threshold: 50,
    });
    await chart(page).waitFor();
    expect(await page.locator('.decline .band, .decline .day').count()).toBe(0);
    expect(await page.locator('.decline figcaption').textContent()).toContain('uncertain');
    await page.emulateMedia({ media: 'print' });
    expect(await chart(page).isVisible()).toBe(true);
    await page.emulateMedia({ media: 'screen' });
  });
});

test('nothing went wrong on the way, and other sums load neither', async () => {
  const { page } = tab;
  const scripts: string[] = [];
  page.on('request', (request) => scripts.push(request.url()));
  await openCalculator(page, server, 'ideal-body-weight');
  await fill(page, 'ideal-body-weight', { sex: 'male', height: 175 });
  await answer(page).waitFor();
  expect(scripts.filter((url) => /SessionPacer|DeclineChart|paced|decline/.test(url))).toEqual([]);
  for (const { faults } of [tab, paced]) expect(faults).toEqual({ errors: [], policy: [], elsewhere: [] });
});
