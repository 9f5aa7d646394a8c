/**
 * The signal goes at every moment of saving and of updating. Either the whole of a version is in use, or the whole of the
 * one before; never a mixture, never an error page where there was a copy, and what has come so far is not fetched again.
 */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { openAsReader, savedCopy, stopWorkers, takeOver } from './saved-copy.ts';
import { install, signal, versionShown, versionsSeen } from './versions.ts';

const here = savedCopy('by-hand');

const back = Number.POSITIVE_INFINITY;

async function reader(path = '/about/'): Promise<Page> {
  const page = await here.context.newPage();
  await page.goto(here.site.server.at(path));
  return page;
}

/** Version one saved whole, and in charge of the open page. */
async function saved(): Promise<Page> {
  const page = await reader();
  expect(await install(page)).toBe('installed');
  await page.goto(here.site.server.at('/about/'));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return page;
}

const activeWorkers = (page: Page): Promise<boolean> =>
  page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.active != null);

const listed = () => here.site.files.one.length;
const moments = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.ceil((to - from) / step) }, (_, at) => from + at * step);

describe('saving for the first time', () => {
  // The worker's own file is the first request, its list follows: 0 is a signal gone before, the last is gone after all.
  test.each([...moments(0, 10, 1), ...moments(10, 37, 3)])('the signal goes after %i requests', async (left) => {
    const page = await reader();
    expect(listed()).toBeGreaterThan(36);
    signal(here.site.server, left);
    expect(await install(page)).toBe('failed');
    expect(await activeWorkers(page)).toBe(false);

    signal(here.site.server, back);
    here.site.server.asked.length = 0;
    expect(await install(page)).toBe('installed');
    // What had come is not fetched again. Six are on their way at a time: those that were cut may have come or not.
    const again = here.site.server.asked.filter((path) => path !== '/sw.js').length;
    expect(again).toBeLessThanOrEqual(listed() - Math.max(0, left - 1) + 6);
    signal(here.site.server, 0);
    await page.goto(here.site.server.at('/urgent/'));
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
  });
});

describe('updating', () => {
  test('there are enough changed files to be cut between', () => {
    expect(here.site.changed.length).toBeGreaterThanOrEqual(18);
  });

  test.each(moments(0, 19, 1))('the signal goes after %i requests', async (left) => {
    const page = await saved();
    here.site.give('two');
    signal(here.site.server, left);
    await install(page);
    signal(here.site.server, 0);
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
    await page.goto(here.site.server.at('/urgent/'));
    expect(await versionShown(page)).toBe('one');

    signal(here.site.server, back);
    here.site.server.asked.length = 0;
    expect(await install(page)).toBe('installed');
    const again = here.site.server.asked.filter((path) => path !== '/sw.js');
    // Files that did not change are copied on the device, and those that had come are not fetched again.
    expect(again.filter((path) => !here.site.changed.includes(path.slice(1)))).toEqual([]);
    expect(again.length).toBeLessThanOrEqual(here.site.changed.length - Math.max(0, left - 1) + 6);
    signal(here.site.server, 0);
    // Whole, and still nothing changes before the reader's yes.
    await page.goto(here.site.server.at('/about/'));
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
    await takeOver(page);
    await page.goto(here.site.server.at('/about/'));
    expect(await versionsSeen(page, here.site.files.two)).toEqual(['two']);
  });
});

describe('the browser stops the worker', () => {
  test.each([3, 12, 24])('while it saves for the first time, after %i requests', async (left) => {
    const page = await reader();
    here.site.server.asked.length = 0;
    const going = install(page);
    while (here.site.server.asked.length < left) await new Promise((done) => setTimeout(done, 1));
    await stopWorkers(page);
    await Promise.race([going, page.waitForTimeout(3000)]);
    await page.reload();
    expect(await install(page)).toBe('installed');
    signal(here.site.server, 0);
    await page.goto(here.site.server.at('/about/'));
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
  });

  test.each([0, 1, 5, 20, 60])('%i ms after the yes, with the signal gone as well', async (after) => {
    const page = await saved();
    here.site.give('two');
    expect(await install(page)).toBe('installed');
    signal(here.site.server, 0);
    await page.evaluate(async () => {
      (await navigator.serviceWorker.getRegistration())?.waiting?.postMessage('take-over');
    });
    await page.waitForTimeout(after);
    await stopWorkers(page);
    const next = await here.context.newPage();
    await openAsReader(next, here.site.server.at('/about/'));
    const shown = (await versionShown(next)) as 'one' | 'two';
    expect(['one', 'two']).toContain(shown);
    expect(await versionsSeen(next, here.site.files[shown])).toEqual([shown]);
  });
});

test('nobody said yes: after every tab was closed and the browser starts the new worker by itself, the old version is still in use', async () => {
  const page = await saved();
  here.site.give('two');
  expect(await install(page)).toBe('installed');
  signal(here.site.server, 0);
  const holder = await here.context.newPage();
  await page.close();
  await holder.goto('about:blank');
  const later = await here.context.newPage();
  await later.goto(here.site.server.at('/about/'));
  const waiting = () => later.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting !== null);
  // The browser swaps workers when it likes: until it has, and once more after it.
  for (let turn = 0; turn < 10 && (await waiting()); turn += 1) {
    expect(await versionsSeen(later, here.site.files.one)).toEqual(['one']);
    await later.goto('about:blank');
    await later.waitForTimeout(1000);
    await later.goto(here.site.server.at('/about/'));
  }
  expect(await waiting()).toBe(false);
  expect(await versionShown(later)).toBe('one');
  expect(await versionsSeen(later, here.site.files.one)).toEqual(['one']);
  await takeOver(later);
  await later.goto(here.site.server.at('/urgent/'));
  expect(await versionsSeen(later, here.site.files.two)).toEqual(['two']);
});
