/** What the browser and the host can spoil under the saved copy: an entry of the browser's own cache, and a file's type. */
import type { Page } from 'playwright-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { savedCopy, stopWorkers } from './saved-copy.ts';
import { install, signal, versionShown, versionsSeen } from './versions.ts';

const here = savedCopy('by-hand');
let page: Page;
beforeEach(async () => {
  page = await here.context.newPage();
  await page.goto(here.site.server.at('/about/'));
});

const fetched = (path: string): Promise<string> =>
  page.evaluate((from) => fetch(from, { cache: 'no-cache' }).then((response) => response.text()), path);

/** Put a wrong body into the browser's cache, with the ETag that the host gives the right one. */
async function spoilEntry(path: string): Promise<void> {
  here.site.server.spoiled.set(path, '{"version":"spoiled"}');
  expect(await fetched(path)).toContain('spoiled');
  here.site.server.spoiled.clear();
  // It stays: the host says that nothing has changed, and the browser gives out what it has.
  here.site.server.unchanged.length = 0;
  expect(await fetched(path)).toContain('spoiled');
  expect(here.site.server.unchanged).toEqual([path]);
  here.site.server.asked.length = 0;
}

describe('an entry of the browser\u2019s cache that is spoiled', () => {
  const path = '/parts/5.json';

  test('on the first visit: the file is asked for once more past that cache, and the copy is whole', async () => {
    await spoilEntry(path);
    expect(await install(page)).toBe('installed');
    expect(here.site.server.asked.filter((asked) => asked === path)).toHaveLength(2);
    signal(here.site.server, 0);
    await page.goto(here.site.server.at('/urgent/'));
    expect(await versionsSeen(page, here.site.files.one)).toEqual(['one']);
  });

  test('while an update is fetched: the newer version comes whole', async () => {
    expect(await install(page)).toBe('installed');
    here.site.give('two');
    // The worker answers this page's own requests: the entry comes from an update that was spoiled on its way.
    here.site.server.spoiled.set(path, '{"version":"spoiled"}');
    expect(await install(page)).toBe('failed');
    here.site.server.spoiled.clear();
    here.site.server.asked.length = 0;
    here.site.server.unchanged.length = 0;
    expect(await install(page)).toBe('installed');
    expect(here.site.server.unchanged).toContain(path);
    expect(here.site.server.asked.filter((asked) => asked === path)).toHaveLength(2);
  });

  test('a host that goes on sending another content is asked twice and no more, and nothing is saved', async () => {
    here.site.server.spoiled.set(path, '{"version":"spoiled"}');
    here.site.server.asked.length = 0;
    expect(await install(page)).toBe('failed');
    expect(here.site.server.asked.filter((asked) => asked === path)).toHaveLength(2);
  });

  test('a good entry costs no second request, and no body', async () => {
    await fetched(path);
    here.site.server.unchanged.length = 0;
    here.site.server.asked.length = 0;
    expect(await install(page)).toBe('installed');
    expect(here.site.server.unchanged).toContain(path);
    expect(here.site.server.asked.filter((asked) => asked === path)).toHaveLength(1);
  });
});

describe('a host that sends a wrong type', () => {
  const kinds = (): Promise<string[]> =>
    page.evaluate(async () => {
      const name = (await caches.keys()).find((one) => !one.endsWith(':state')) ?? '';
      const cache = await caches.open(name);
      const copies = await cache.matchAll();
      const endings = (await cache.keys()).map(({ url }) => url.replace(/.*\./, ''));
      return [...new Set(copies.map(({ headers }, at) => `${endings[at]}: ${headers.get('content-type')}`))].sort();
    });
  const asTheyAre = [
    'html: text/html; charset=utf-8',
    'js: text/javascript; charset=utf-8',
    'json: application/json',
    'svg: image/svg+xml',
    'webmanifest: application/manifest+json',
  ];
  const wrong = (type: string) => ({ '.html': type, '.js': type, '.json': type, '.svg': type, '.webmanifest': type });

  /** With the signal gone: pages are pages, and their scripts run. */
  async function rendersOffline(): Promise<void> {
    signal(here.site.server, 0);
    for (const path of ['/urgent/', '/offline/']) {
      await page.goto(here.site.server.at(path));
      expect(await page.evaluate(() => document.contentType)).toBe('text/html');
      expect(await versionShown(page)).toBe('one');
    }
    await page
      .locator('[data-kept-state]', { hasText: 'Saved. The handbook works on this device without a signal.' })
      .waitFor();
  }

  test.each(['text/plain', 'application/octet-stream'])(
    '%s for everything: the copy has the type of each ending',
    async (type) => {
      here.site.server.types = wrong(type);
      expect(await install(page)).toBe('installed');
      expect(await kinds()).toEqual(asTheyAre);
      await rendersOffline();
    },
  );

  test('a copy that an earlier version stored as plain text is not called saved; it is put right without a signal', async () => {
    expect(await install(page)).toBe('installed');
    // As the earlier worker stored what such a host sent.
    await page.evaluate(async () => {
      const name = (await caches.keys()).find((one) => !one.endsWith(':state')) ?? '';
      const cache = await caches.open(name);
      for (const request of await cache.keys()) {
        const copy = await cache.match(request);
        if (!copy) continue;
        const headers = new Headers(copy.headers);
        headers.set('content-type', 'text/plain');
        await cache.put(request, new Response(await copy.arrayBuffer(), { headers }));
      }
    });
    await stopWorkers(page);
    signal(here.site.server, 0);
    /** What the worker answers to a question of a page. */
    const ask = (question: 'state' | 'check'): Promise<boolean> =>
      page.evaluate(async (asked) => {
        const answer = new Promise<boolean>((done) => {
          navigator.serviceWorker.addEventListener('message', ({ data }) => data.kind === 'state' && done(data.ready));
        });
        navigator.serviceWorker.startMessages();
        (await navigator.serviceWorker.getRegistration())?.active?.postMessage(asked);
        return answer;
      }, question);
    expect(await ask('state')).toBe(false);
    expect(await ask('check')).toBe(true);
    expect(await kinds()).toEqual(asTheyAre);
    await rendersOffline();
  });
});

/** Note what stands in the worker's place at the moment when the page says that it is saved. */
function watchSaved(): void {
  const watched = globalThis as { stateAtSaved?: string; registration?: ServiceWorkerRegistration };
  const register = navigator.serviceWorker.register.bind(navigator.serviceWorker);
  navigator.serviceWorker.register = async (...given) => {
    watched.registration = await register(...given);
    return watched.registration;
  };
  new MutationObserver(() => {
    const says = document.querySelector('[data-offline]')?.textContent ?? '';
    if (says.startsWith('Saved on this device')) watched.stateAtSaved ??= watched.registration?.active?.state ?? 'none';
  }).observe(document, { childList: true, subtree: true, characterData: true });
}

test('"Saved" is said once the worker answers for pages, and not some moments before', async () => {
  const first = await here.context.newPage();
  await first.addInitScript(() => localStorage.setItem('tidemark:save', 'yes'));
  await first.addInitScript(watchSaved);
  await first.goto(here.site.server.at('/about/'));
  await first.waitForFunction(() => (globalThis as { stateAtSaved?: string }).stateAtSaved);
  expect(await first.evaluate(() => (globalThis as { stateAtSaved?: string }).stateAtSaved)).toBe('activated');
});
