/** A newer version as the reader meets it: offered, put off or taken; wrong answers, a full device, two tabs, an old copy. */
import { readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { dist, subDist } from './built.ts';
import { savedCopy } from './saved-copy.ts';
import { subBase } from './sub-base.ts';
import { latePart, signal, threadPart, twoVersions, versionShown, versionsSeen } from './versions.ts';

const here = savedCopy('by-itself');

const line = (page: Page) => page.locator('[data-offline]');
const state = (page: Page) => page.locator('[data-kept-state]');
const bar = (page: Page) => page.locator('.notice');

/** A tab whose page came from the saved copy of version one. */
async function savedTab(path = '/about/', at = here.site): Promise<Page> {
  const page = await here.context.newPage();
  await page.goto(at.server.at(path));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await page.goto(at.server.at(path));
  await line(page).getByText('Saved on this device').waitFor();
  return page;
}

/** Have the browser look for a newer version until it finds it: one look can be told of what an earlier one had begun to fetch. */
const look = (page: Page, at = here.site): Promise<void> => {
  at.give('two');
  return page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    let found = registration?.installing != null || registration?.waiting != null;
    registration?.addEventListener('updatefound', () => {
      found = true;
    });
    while (!found) {
      await registration?.update().catch(() => undefined);
      await new Promise((later) => setTimeout(later, 50));
    }
  });
};

/** Until the browser has fetched the newer version whole and the bar offers it. */
async function offered(page: Page, at = here.site): Promise<void> {
  await look(page, at);
  await bar(page).getByText('A newer version is ready').waitFor();
}

/** Start a thread in a tab and keep it, to ask it later which version it is answered with. */
const startThread = (page: Page, name: string): Promise<void> =>
  page.evaluate(
    ({ name, script }) => {
      Object.assign(globalThis, { [name]: new Worker(script) });
    },
    { name, script: `/${threadPart}` },
  );
const threadSees = (page: Page, name: string): Promise<string> =>
  page.evaluate((name) => {
    const thread = (globalThis as unknown as Record<string, Worker>)[name];
    return new Promise<string>((done) => {
      thread?.addEventListener('message', ({ data }) => done(data), { once: true });
      thread?.postMessage('which');
    });
  }, name);

const cacheNames = (page: Page): Promise<string[]> => page.evaluate(() => caches.keys());

describe('the page about it', () => {
  test('says not yet, how far, and then version, date and size', async () => {
    await here.context.addInitScript(() => {
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      navigator.serviceWorker.addEventListener('message', ({ data }) => {
        if (data.kind === 'installing') seen.push(`${data.done}/${data.of}`);
      });
    });
    const page = await here.context.newPage();
    await page.goto(here.site.server.at('/offline/'));
    await state(page).getByText('The handbook works on this device without a signal').waitFor();
    const seen = await page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen);
    expect(seen.length).toBeGreaterThan(3);
    const about = (await page.locator('[data-kept-about] > div').allTextContents())
      .map((text) => text.replace(/\s+/g, ' '))
      .join('; ');
    const bytes = here.site.files.one.reduce(
      (sum, { url }) => sum + readFileSync(join(here.site.folder('one'), url)).length,
      0,
    );
    expect(about).toContain('Versionone');
    expect(about).toContain('Built2026-01-01');
    expect(about).toContain(`Size${(bytes / 1e6).toFixed(1)} MB in ${here.site.files.one.length} files`);
    expect(await line(page).textContent()).toBe('Saved on this device for use offline.');
  });

  test('a copy that was removed is gone, stays away, and comes back when asked for', async () => {
    const page = await savedTab('/offline/');
    await page.getByRole('button', { name: 'Remove it from this device' }).tap();
    await state(page).getByText('Removed from this device').waitFor();
    expect(await cacheNames(page)).toEqual([]);
    await page.goto(here.site.server.at('/about/'));
    await line(page).getByText('Not saved on this device.').waitFor();
    expect(await page.evaluate(async () => (await navigator.serviceWorker.getRegistrations()).length)).toBe(0);
    await page.goto(here.site.server.at('/offline/'));
    await page.getByRole('button', { name: 'Save it now' }).tap();
    await state(page).getByText('The handbook works on this device without a signal').waitFor();
    signal(here.site.server, 0);
    await page.goto(here.site.server.at('/urgent/'));
    expect(await versionShown(page)).toBe('one');
  });

  test('single files that the browser dropped are fetched again', async () => {
    const page = await savedTab();
    await page.evaluate(async () => {
      const name = (await caches.keys()).find((one) => !one.endsWith(':state')) ?? '';
      const cache = await caches.open(name);
      for (const request of (await cache.keys()).slice(0, 7)) await cache.delete(request);
    });
    await page.goto(here.site.server.at('/offline/'));
    await state(page).getByText('The handbook works on this device without a signal').waitFor();
    signal(here.site.server, 0);
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
  });

  test('without service workers it says so and leads to the file to download', async () => {
    await here.context.addInitScript(() =>
      Object.defineProperty(Navigator.prototype, 'serviceWorker', { value: undefined }),
    );
    const page = await here.context.newPage();
    await page.goto(here.site.server.at('/offline/'));
    await state(page).getByText('stores nothing for sites').waitFor();
    expect(await line(page).textContent()).toBe('This browser cannot save the handbook.');
    expect(await page.getByRole('button', { name: 'Save it now' }).isVisible()).toBe(false);
    expect(await page.locator('a[download]').getAttribute('href')).toBe('/tidemark.zip');
  });
});

describe('a newer version', () => {
  test('is offered and changes nothing; put off, it is quiet for as long as the tab; taken, it keeps what was typed', async () => {
    const page = await savedTab();
    await page.evaluate(() => sessionStorage.setItem('tidemark:person:visit', 'entries'));
    await offered(page);
    expect(await versionShown(page)).toBe('one');
    await page.goto(here.site.server.at('/urgent/'));
    expect(await versionShown(page)).toBe('one');
    await bar(page).getByRole('button', { name: 'Later' }).tap();
    await page.goto(here.site.server.at('/about/'));
    await line(page).getByText('Saved on this device').waitFor();
    // The part that would draw the bar has come and has decided. As text, like the late part below.
    const part = await page.waitForFunction(
      () => performance.getEntriesByType('resource').find(({ name }) => name.includes('/notice.'))?.name,
    );
    await page.evaluate(`import('${await part.jsonValue()}').then(() => undefined)`);
    expect(await bar(page).count()).toBe(0);

    await page.goto(here.site.server.at('/offline/'));
    await page.getByRole('button', { name: 'Use the newer version' }).tap();
    await page.getByText('two', { exact: true }).first().waitFor();
    expect(await versionShown(page)).toBe('two');
    expect(await page.evaluate(() => sessionStorage.getItem('tidemark:person:visit'))).toBe('entries');
    expect(await versionsSeen(page, here.site.files.two)).toEqual(['two']);
  });

  test('two tabs: the one that said yes is on the new version, the other keeps every file of the old until it is loaded again', async () => {
    const left = await savedTab('/about/');
    const right = await savedTab('/urgent/');
    await startThread(right, 'early');
    expect(await threadSees(right, 'early')).toBe('one');
    await offered(left);
    signal(here.site.server, 0);
    await left.getByRole('button', { name: 'Use it now' }).tap();
    await left.getByText('two', { exact: true }).waitFor();
    expect(await versionsSeen(left, here.site.files.two)).toEqual(['two']);

    await bar(right).getByText('This page is out of date').waitFor();
    expect(await versionShown(right)).toBe('one');
    expect(await versionsSeen(right, here.site.files.one)).toEqual(['one']);
    // A part that the new version no longer has.
    // As text: a function would go through the test runner's own rewriting of imports.
    const late = await right.evaluate(`import('/${latePart}').then((module) => module.version)`);
    expect(late).toBe('one');
    await startThread(right, 'late');
    expect([await threadSees(right, 'early'), await threadSees(right, 'late')]).toEqual(['one', 'one']);
    expect((await cacheNames(left)).length).toBe(3);

    await bar(right).getByRole('button', { name: 'Load this page again' }).tap();
    await right.getByText('two', { exact: true }).waitFor();
    expect(await versionsSeen(right, here.site.files.two)).toEqual(['two']);
    // Nothing needs the old copy any more, and it goes.
    await expect
      .poll(
        async () => {
          // A thread that was started a moment ago may still be on its way: it goes with a page opened later.
          await right.reload();
          return cacheNames(right);
        },
        { timeout: 20_000, interval: 2000 },
      )
      .toHaveLength(2);
    expect(await versionsSeen(left, here.site.files.two)).toEqual(['two']);
  });
});

describe('a wrong answer in the middle', () => {
  const spoiled = 'parts/5.json';
  const spoil = {
    'a sign-in page that says 200': (file: string) =>
      writeFileSync(file, '<!doctype html><title>Sign in to this network</title>'),
    'half a file': (file: string) => truncateSync(file, 12),
    'no such file': (file: string) => rmSync(file),
    'a file of another version': (file: string) => writeFileSync(file, JSON.stringify({ version: 'three', at: 5 })),
  };

  test.each(Object.entries(spoil))(
    '%s: the update fails as a whole, the copy goes on, and the next visit mends it',
    async (_, harm) => {
      const file = join(here.site.folder('two'), spoiled);
      const before = readFileSync(file);
      const page = await savedTab();
      harm(file);
      await look(page);
      await line(page)
        .getByText('Saved; a newer version is not: saving continues the next time you open the handbook.')
        .waitFor();
      expect(await bar(page).count()).toBe(0);
      expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
      writeFileSync(file, before);
      await page.goto(here.site.server.at('/about/'));
      await offered(page);
      expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
    },
  );

  test('on the first visit nothing is saved, and the next visit saves it', async () => {
    const file = join(here.site.folder('one'), spoiled);
    const before = readFileSync(file);
    spoil['a sign-in page that says 200'](file);
    const page = await here.context.newPage();
    await page.goto(here.site.server.at('/about/'));
    await line(page).getByText('Not saved: saving continues the next time you open the handbook.').waitFor();
    expect(await page.evaluate(() => navigator.serviceWorker.controller)).toBe(null);
    writeFileSync(file, before);
    await page.goto(here.site.server.at('/about/'));
    await line(page).getByText('Saved on this device').waitFor();
  });
});

test('a device without room: it says so, the old version goes on, and with room the new one comes', async () => {
  const bulk = join(here.site.folder('two'), 'parts/0.json');
  const before = readFileSync(bulk);
  const page = await savedTab();
  const devtools = await here.context.newCDPSession(page);
  const origin = new URL(here.site.server.root).origin;
  const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: used + 20_000 });
  await look(page);
  await line(page).getByText('Saved; a newer version is not: no space on this device.').waitFor();
  expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
  await page.goto(here.site.server.at('/urgent/'));
  expect(await versionShown(page)).toBe('one');
  await devtools.send('Storage.overrideQuotaForOrigin', { origin });
  await offered(page);
  expect(readFileSync(bulk).equals(before)).toBe(true);
});

test('a first visit to a device without room says so, and the page reads as before', async () => {
  const page = await here.context.newPage();
  const devtools = await here.context.newCDPSession(page);
  await devtools.send('Storage.overrideQuotaForOrigin', {
    origin: new URL(here.site.server.root).origin,
    quotaSize: 30_000,
  });
  await page.goto(here.site.server.at('/about/'));
  await line(page).getByText('Not saved: no space on this device.').waitFor();
  expect(await versionShown(page)).toBe('one');
});

test('in a folder of a larger site an update leaves the neighbours\u2019 copies alone', async () => {
  const folder = await twoVersions(subDist(), subBase);
  try {
    const page = await savedTab('/about/', folder);
    await page.evaluate(async () => {
      await caches.open('tidemark:/:of-the-site-at-the-root');
      await caches.open('tidemark:/handbook-two/:of-a-neighbour');
      await caches.open('something-else');
    });
    await offered(page, folder);
    signal(folder.server, 0);
    await page.getByRole('button', { name: 'Use it now' }).tap();
    await page.getByText('two', { exact: true }).waitFor();
    expect(await versionsSeen(page, folder.files.two, subBase)).toEqual(['two']);
    expect(await cacheNames(page)).toEqual(
      expect.arrayContaining([
        'tidemark:/:of-the-site-at-the-root',
        'tidemark:/handbook-two/:of-a-neighbour',
        'something-else',
      ]),
    );
  } finally {
    await folder.stop();
  }
});

describe('an old copy', () => {
  const built = /data-built="(\d{4}-\d\d-\d\d)"/.exec(readFileSync(join(dist, 'about/index.html'), 'utf8'))?.[1] ?? '';
  const old = (page: Page) => page.locator('[data-built]');
  interface Agreed {
    on: boolean;
    months?: number;
  }
  /** A page as it was built on a day, opened at another moment, in a browser of some time zone. */
  const openAt = async (moment: string, zone = 'Europe/London', agreed?: Agreed, builtOn = built): Promise<Page> => {
    const context = await here.anotherReader({ timezoneId: zone, serviceWorkers: 'block' });
    const page = await context.newPage();
    await page.clock.setFixedTime(new Date(moment));
    await page.route('**/about/', async (route) => {
      const response = await route.fetch();
      await route.fulfill({ response, body: (await response.text()).replaceAll(built, builtOn) });
    });
    if (agreed !== undefined)
      await page.addInitScript(
        ({ on, months }) =>
          localStorage.setItem('tidemark:agreement', JSON.stringify({ on, agreement: { staleAfterMonths: months } })),
        agreed,
      );
    await page.goto(here.site.server.at('/about/'));
    // Made visible by the same script, after it has looked at the age.
    await page.locator('[data-theme-tap]').waitFor();
    return page;
  };
  const isSaid = async (...how: Parameters<typeof openAt>): Promise<boolean> => old(await openAt(...how)).isVisible();

  test('up to six months old it says nothing; from the next day on it says so with its date, and works on', async () => {
    expect(await isSaid('2026-05-25T12:00:00Z', 'UTC', undefined, '2025-11-25')).toBe(false);
    const page = await openAt('2026-05-26T12:00:00Z', 'UTC', undefined, '2025-11-25');
    expect(await old(page).isVisible()).toBe(true);
    expect(await old(page).textContent()).toContain('built on 2025-11-25 and is out of date');
    await page.getByRole('link', { name: 'Glossary' }).tap();
    await page.waitForURL(here.site.server.at('/glossary/'));
  });

  test('the day is the reader\u2019s own: east of Greenwich it comes sooner, west of it later', async () => {
    const moment = '2026-05-25T13:00:00Z';
    expect(await isSaid(moment, 'Pacific/Auckland', undefined, '2025-11-25')).toBe(true);
    expect(await isSaid(moment, 'Pacific/Honolulu', undefined, '2025-11-25')).toBe(false);
    expect(await isSaid('2026-05-26T05:00:00Z', 'Pacific/Honolulu', undefined, '2025-11-25')).toBe(false);
  });

  test('six months after the last day of August is the last day of February, leap year or not', async () => {
    expect(await isSaid('2028-02-29T20:00:00Z', 'UTC', undefined, '2027-08-31')).toBe(false);
    expect(await isSaid('2028-03-01T04:00:00Z', 'UTC', undefined, '2027-08-31')).toBe(true);
    expect(await isSaid('2027-03-01T04:00:00Z', 'UTC', undefined, '2026-08-31')).toBe(true);
  });

  test('a clinic\u2019s own limit holds instead, as long as its agreement is in force', async () => {
    const day = '2026-08-01T12:00:00Z';
    expect(await isSaid(day, 'UTC', { on: true, months: 12 }, '2025-11-25')).toBe(false);
    expect(await isSaid(day, 'UTC', { on: false, months: 12 }, '2025-11-25')).toBe(true);
    expect(await isSaid('2026-02-01T12:00:00Z', 'UTC', { on: true, months: 2 }, '2025-11-25')).toBe(true);
    expect(await isSaid('2026-02-01T12:00:00Z', 'UTC', { on: true }, '2025-11-25')).toBe(false);
  });
});
