/** No tab ever gets files of two versions: while a change of version goes on, and where the copy has a gap. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { openAsReader, savedCopy, stopWorkers, takeOver } from './saved-copy.ts';
import { install, signal, versionShown, versionsSeen } from './versions.ts';

const here = savedCopy('by-hand');

/** Version one saved whole, and in charge of the open page. */
async function savedTab(): Promise<Page> {
  const page = await here.context.newPage();
  await page.goto(here.site.server.at('/about/'));
  expect(await install(page)).toBe('installed');
  await page.goto(here.site.server.at('/about/'));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return page;
}

/** As the browser does that wants the room. */
const drop = (page: Page, ...paths: string[]): Promise<boolean[]> =>
  page.evaluate(async (gone) => {
    const name = (await caches.keys()).find((one) => !one.endsWith(':state')) ?? '';
    const cache = await caches.open(name);
    return Promise.all(gone.map((path) => cache.delete(path)));
  }, paths);

const textOf = (page: Page, path: string): Promise<string> =>
  page.evaluate(
    (from) =>
      fetch(from).then(
        (response) => response.text(),
        () => 'nothing',
      ),
    path,
  );

/** Each tab's page, and everything that it can ask for, is of one version. */
async function expectUnmixed(tabs: readonly Page[]): Promise<string[]> {
  const seen = await Promise.all(tabs.map(versionsOfTab));
  for (const versions of seen) expect(versions).toHaveLength(1);
  return seen.flat();
}

/** What a tab shows and what it gets. A file that does not come is of no version. */
async function versionsOfTab(tab: Page): Promise<string[]> {
  const shown = (await versionShown(tab)) as 'one' | 'two';
  const got = await versionsSeen(tab, here.site.files[shown]);
  return [...new Set([shown, ...got.filter((version) => !version.endsWith(': nothing'))])];
}

test.each([
  ['at once', 0],
  ['a few milliseconds apart', 4],
  ['further apart', 15],
])(
  'six tabs opened while the newer version takes over, %s: none is mixed, and the next is of the new one',
  async (_, apart) => {
    const asking = await savedTab();
    here.site.give('two');
    expect(await install(asking)).toBe('installed');
    const tabs = await Promise.all(Array.from({ length: 6 }, () => here.context.newPage()));
    signal(here.site.server, 0);
    const taken = takeOver(asking);
    await Promise.all(
      tabs.map(async (tab, at) => {
        await new Promise((later) => setTimeout(later, at * apart));
        await openAsReader(tab, here.site.server.at('/about/'));
      }),
    );
    // Under load Chromium can wait for minutes before it starts the new worker, and meanwhile asks the old one for nothing:
    // the worker cannot change that. What the tabs do get must not be mixed, then as otherwise.
    await Promise.race([taken, new Promise((later) => setTimeout(later, 8000))]);
    await expectUnmixed(tabs);
    // Nor when the worker has forgotten what it had in its memory.
    await stopWorkers(asking);
    await expectUnmixed(tabs);
    const next = await here.context.newPage();
    await openAsReader(next, here.site.server.at('/urgent/'));
    expect(await expectUnmixed([next])).toEqual(['two']);
  },
);

describe('a gap in the copy, and a host that has gone on to another version', () => {
  const part = '/parts/5.json';

  test('a data file of the other version does not come; with the right one again, it does', async () => {
    const page = await savedTab();
    here.site.give('two');
    expect(await drop(page, part)).toEqual([true]);
    expect(await textOf(page, part)).toBe('nothing');
    here.site.give('one');
    expect(await textOf(page, part)).toContain('"version":"one"');
  });

  test('a page of the other version comes with everything else from the host too, also after the worker was stopped', async () => {
    const page = await savedTab();
    here.site.give('two');
    expect(await drop(page, '/urgent/index.html')).toEqual([true]);
    await page.goto(here.site.server.at('/urgent/'));
    expect(await expectUnmixed([page])).toEqual(['two']);
    await stopWorkers(page);
    expect(await expectUnmixed([page])).toEqual(['two']);
    // The next page is in the copy, and is the copy's, gap and all.
    await page.goto(here.site.server.at('/about/'));
    expect(await versionShown(page)).toBe('one');
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one', 'urgent/index.html: nothing']);
  });

  test('a page of this version that comes from the host goes on with the copy', async () => {
    const page = await savedTab();
    expect(await drop(page, '/urgent/index.html')).toEqual([true]);
    await page.goto(here.site.server.at('/urgent/'));
    signal(here.site.server, 0);
    expect(await textOf(page, part)).toContain('"version":"one"');
  });
});
