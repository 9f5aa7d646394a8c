/** What the tests of the saved copy begin with: a browser, a small site of two versions, and a fresh reader for each test. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import { launch, phone } from './browser.ts';
import { dist } from './built.ts';
import { signal, twoVersions, type Versions } from './versions.ts';

export interface SavedCopy {
  browser: Browser;
  site: Versions;
  /** this test's reader */
  context: BrowserContext;
  /** close this test's reader and go on with another, who has not been here before */
  anotherReader: (options?: Parameters<Browser['newContext']>[0]) => Promise<BrowserContext>;
}

/**
 * Version one is given out, with a signal, at the start of each test.
 *
 * @param saving  `by-itself` as for any reader; `by-hand` where the test says at which moment saving starts
 */
export function savedCopy(saving: 'by-itself' | 'by-hand'): SavedCopy {
  const here = {} as SavedCopy;
  const open = async (options = {}): Promise<BrowserContext> => {
    here.context = await here.browser.newContext({ ...phone, ...options });
    if (saving === 'by-hand') await here.context.addInitScript(() => localStorage.setItem('tidemark:save', 'no'));
    return here.context;
  };
  here.anotherReader = async (options) => {
    await here.context.close();
    return open(options);
  };
  beforeAll(async () => {
    here.browser = await launch();
    here.site = await twoVersions(dist);
  });
  afterAll(async () => {
    await here.browser.close();
    await here.site.stop();
  });
  beforeEach(async () => {
    here.site.give('one');
    signal(here.site.server, Number.POSITIVE_INFINITY);
    await open();
  });
  afterEach(async () => {
    here.site.server.spoiled.clear();
    here.site.server.types = {};
    await here.context.close();
  });
  return here;
}

/** Stop the workers as the browser does when it wants their memory. */
export async function stopWorkers(page: Page): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('ServiceWorker.enable');
  await devtools.send('ServiceWorker.stopAllWorkers');
  await devtools.detach();
}

/**
 * Open a page as a reader does: where nothing comes, ask for it again, three times at most. A navigation can fall into
 * the moment in which the browser stops the worker. The browser then asks the network instead, which is gone here, or
 * waits for the worker that it has just stopped. No code of a worker can prevent that, and the next try starts the
 * worker again. So one failed try is not compared with the copy; a copy that is still missing after four is.
 */
export async function openAsReader(page: Page, address: string): Promise<void> {
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

/** Say yes to the newer version, as its bar does, and wait until it is in use. */
export const takeOver = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    const told = new Promise<void>((done) => {
      navigator.serviceWorker.addEventListener('message', ({ data }) => data.kind === 'in-use' && done());
    });
    (registration?.waiting ?? registration?.active)?.postMessage('take-over');
    await told;
  });
