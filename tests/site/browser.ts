/** A browser as the readers have it: a phone held upright, with touch; and what went wrong while it was open. */
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type LaunchOptions,
  type Page,
} from 'playwright-core';
import { needChromium } from './chromium.ts';

export const phone: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  hasTouch: true,
  isMobile: true,
  locale: 'en-GB',
};

export const startOptions = (): LaunchOptions => ({
  executablePath: needChromium(),
  args: [
    // Chromium's sandbox refuses to start as root, as containers are.
    ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});

export const launch = (): Promise<Browser> => chromium.launch(startOptions());

/** What no page may do, collected while it is open. */
export interface Faults {
  /** console errors and uncaught exceptions */
  errors: string[];
  /** breaches of the content security policy */
  policy: string[];
  /** requests to any other origin */
  elsewhere: string[];
}

export interface Tab {
  context: BrowserContext;
  page: Page;
  faults: Faults;
}

/** A fresh reader: nothing stored, nothing cached. The offline worker installs only where a test asks for it. */
export async function openTab(browser: Browser, root: string, options: BrowserContextOptions = {}): Promise<Tab> {
  const context = await browser.newContext({ ...phone, serviceWorkers: 'block', ...options });
  const faults: Faults = { errors: [], policy: [], elsewhere: [] };
  const { origin } = new URL(root);
  await context.exposeBinding('tellPolicy', (_source, told: string) => faults.policy.push(told));
  await context.addInitScript(() => {
    const { tellPolicy } = globalThis as unknown as { tellPolicy: (told: string) => void };
    document.addEventListener('securitypolicyviolation', (event) =>
      tellPolicy(`${event.effectiveDirective} ${event.blockedURI} ${event.sample}`.trim()),
    );
  });
  context.on('request', (request) => {
    const url = new URL(request.url());
    if (/^https?:$/.test(url.protocol) && url.origin !== origin) faults.elsewhere.push(request.url());
  });
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') faults.errors.push(message.text());
  });
  page.on('pageerror', (error) => faults.errors.push(error.message));
  return { context, page, faults };
}

/** Bring every island into view and wait until it runs. */
export async function wake(page: Page): Promise<void> {
  // All in the page: an island that wakes between two questions from outside would be waited for in vain.
  await page.evaluate(async () => {
    const asleep = () => document.querySelector('astro-island[ssr]');
    for (let island = asleep(); island; island = asleep()) {
      for (let folded = island.closest('details:not([open])'); folded; folded = island.closest('details:not([open])'))
        folded.setAttribute('open', '');
      (island.firstElementChild ?? island).scrollIntoView();
      while (island.hasAttribute('ssr')) await new Promise((later) => setTimeout(later, 20));
    }
    // An island that has just woken draws what it read from the page in its next frame.
    for (let frame = 0; frame < 3; frame += 1)
      await new Promise((later) => requestAnimationFrame(() => setTimeout(later)));
  });
}

/** Wait until the offline worker has saved the whole site. */
export async function installed(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
}
