/**
 * The signal goes at every moment of saving and of updating. Either the whole of a version is in use, or the whole of the
 * one before; never a mixture, never an error page where there was a copy, and what has come so far is not fetched again.
 */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, phone } from './browser.ts';
import { dist } from './built.ts';
import { install, signal, twoVersions, type Versions, versionShown, versionsSeen } from './versions.ts';

let browser: Browser;
let site: Versions;
beforeAll(async () => {
  browser = await launch();
  site = await twoVersions(dist);
});
afterAll(async () => {
  await browser.close();
  await site.stop();
});

const back = Number.POSITIVE_INFINITY;

/** A fresh reader. Saving starts when the test says so and not with the page, so that each cut falls where it is meant to. */
async function reader(path = '/about/'): Promise<{ context: BrowserContext; page: Page }> {
  signal(site.server, back);
  site.give('one');
  const context = await browser.newContext(phone);
  await context.addInitScript(() => localStorage.setItem('tidemark:save', 'no'));
  const page = await context.newPage();
  await page.goto(site.server.at(path));
  return { context, page };
}

/** Version one saved whole, and in charge of the open page. */
async function saved(): Promise<{ context: BrowserContext; page: Page }> {
  const opened = await reader();
  expect(await install(opened.page)).toBe('installed');
  await opened.page.goto(site.server.at('/about/'));
  await opened.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return opened;
}

const activeWorkers = (page: Page): Promise<boolean> =>
  page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.active != null);

/** Say yes to the newer version, as its bar does. */
const takeOver = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    const told = new Promise<void>((done) => {
      navigator.serviceWorker.addEventListener('message', ({ data }) => data.kind === 'in-use' && done());
    });
    (registration?.waiting ?? registration?.active)?.postMessage('take-over');
    await told;
  });

const listed = () => site.files.one.length;
const moments = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.ceil((to - from) / step) }, (_, at) => from + at * step);

describe('saving for the first time', () => {
  // The worker's own file is the first request, its list follows: 0 is a signal gone before, the last is gone after all.
  test.each([...moments(0, 10, 1), ...moments(10, 37, 3)])('the signal goes after %i requests', async (left) => {
    const { context, page } = await reader();
    expect(listed()).toBeGreaterThan(36);
    signal(site.server, left);
    expect(await install(page)).toBe('failed');
    expect(await activeWorkers(page)).toBe(false);

    signal(site.server, back);
    site.server.asked.length = 0;
    expect(await install(page)).toBe('installed');
    // What had come is not fetched again. Six are on their way at a time: those that were cut may have come or not.
    const again = site.server.asked.filter((path) => path !== '/sw.js').length;
    expect(again).toBeLessThanOrEqual(listed() - Math.max(0, left - 1) + 6);
    signal(site.server, 0);
    await page.goto(site.server.at('/urgent/'));
    expect(await versionsSeen(page, site.files.one)).toEqual(['one']);
    await context.close();
  });
});

describe('updating', () => {
  test('there are enough changed files to be cut between', () => {
    expect(site.changed.length).toBeGreaterThanOrEqual(18);
  });

  test.each(moments(0, 19, 1))('the signal goes after %i requests', async (left) => {
    const { context, page } = await saved();
    site.give('two');
    signal(site.server, left);
    await install(page);
    signal(site.server, 0);
    expect(await versionsSeen(page, site.files.one)).toEqual(['one']);
    await page.goto(site.server.at('/urgent/'));
    expect(await versionShown(page)).toBe('one');

    signal(site.server, back);
    site.server.asked.length = 0;
    expect(await install(page)).toBe('installed');
    const again = site.server.asked.filter((path) => path !== '/sw.js');
    // Files that did not change are copied on the device, and those that had come are not fetched again.
    expect(again.filter((path) => !site.changed.includes(path.slice(1)))).toEqual([]);
    expect(again.length).toBeLessThanOrEqual(site.changed.length - Math.max(0, left - 1) + 6);
    signal(site.server, 0);
    // Whole, and still nothing changes before the reader's yes.
    await page.goto(site.server.at('/about/'));
    expect(await versionsSeen(page, site.files.one)).toEqual(['one']);
    await takeOver(page);
    await page.goto(site.server.at('/about/'));
    expect(await versionsSeen(page, site.files.two)).toEqual(['two']);
    await context.close();
  });
});

describe('the browser stops the worker', () => {
  const stopWorkers = async (page: Page) => {
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('ServiceWorker.enable');
    await devtools.send('ServiceWorker.stopAllWorkers');
    await devtools.detach();
  };

  /**
   * Open a page as a reader does: where nothing comes, ask for it again, three times at most. A navigation can fall into
   * the moment in which the browser stops the worker. The browser then asks the network instead, which is gone here, or
   * waits for the worker that it has just stopped. No code of a worker can prevent that, and the next try starts the
   * worker again. So one failed try is not compared with the copy; a copy that is still missing after four is.
   */
  async function openAsReader(page: Page, address: string): Promise<void> {
    for (let left = 3; ; left -= 1) {
      try {
        await page.goto(address, { timeout: 8000 });
        return;
      } catch (problem) {
        if (left === 0) throw problem;
        await page.waitForTimeout(250);
      }
    }
  }

  test.each([3, 12, 24])('while it saves for the first time, after %i requests', async (left) => {
    const { context, page } = await reader();
    site.server.asked.length = 0;
    const going = install(page);
    while (site.server.asked.length < left) await new Promise((done) => setTimeout(done, 1));
    await stopWorkers(page);
    await Promise.race([going, page.waitForTimeout(3000)]);
    await page.reload();
    expect(await install(page)).toBe('installed');
    signal(site.server, 0);
    await page.goto(site.server.at('/about/'));
    expect(await versionsSeen(page, site.files.one)).toEqual(['one']);
    await context.close();
  });

  test.each([0, 1, 5, 20, 60])('%i ms after the yes, with the signal gone as well', async (after) => {
    const { context, page } = await saved();
    site.give('two');
    expect(await install(page)).toBe('installed');
    signal(site.server, 0);
    await page.evaluate(async () => {
      (await navigator.serviceWorker.getRegistration())?.waiting?.postMessage('take-over');
    });
    await page.waitForTimeout(after);
    await stopWorkers(page);
    const next = await context.newPage();
    await openAsReader(next, site.server.at('/about/'));
    const shown = (await versionShown(next)) as 'one' | 'two';
    expect(['one', 'two']).toContain(shown);
    expect(await versionsSeen(next, site.files[shown])).toEqual([shown]);
    await context.close();
  });
});

test('nobody said yes: after every tab was closed and the browser starts the new worker by itself, the old version is still in use', async () => {
  const { context, page } = await saved();
  site.give('two');
  expect(await install(page)).toBe('installed');
  signal(site.server, 0);
  const holder = await context.newPage();
  await page.close();
  await holder.goto('about:blank');
  const later = await context.newPage();
  await later.goto(site.server.at('/about/'));
  const waiting = () => later.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting !== null);
  // The browser swaps workers when it likes: until it has, and once more after it.
  for (let turn = 0; turn < 10 && (await waiting()); turn += 1) {
    expect(await versionsSeen(later, site.files.one)).toEqual(['one']);
    await later.goto('about:blank');
    await later.waitForTimeout(1000);
    await later.goto(site.server.at('/about/'));
  }
  expect(await waiting()).toBe(false);
  expect(await versionShown(later)).toBe('one');
  expect(await versionsSeen(later, site.files.one)).toEqual(['one']);
  await takeOver(later);
  await later.goto(site.server.at('/urgent/'));
  expect(await versionsSeen(later, site.files.two)).toEqual(['two']);
  await context.close();
});
