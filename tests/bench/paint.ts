/**
 * What a reader waits for, in a real browser on a phone's screen: first paint against the same text as bare HTML, tasks
 * that hold the page up, and search from a cold start without a signal.
 *
 * Single times wander by 100 ms on a shared machine. What is compared is opened in turn, in one run, and the middle of the
 * ratios counts. The browser's slowing of the processor does not reach workers: the full-text search runs in one.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { brotliCompressSync, constants } from 'node:zlib';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { installed, launch, phone, startOptions } from '../site/browser.ts';
import { contentTypes, serve } from '../site/server.ts';
import { fileOf } from './page-weight.ts';

export const middle = (list: readonly number[]): number =>
  [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? Number.NaN;

const bareStyle =
  'body{max-width:46rem;margin:0 auto;padding:0 1rem;font:106%/1.55 system-ui,sans-serif;color:#15212b;background:#fbfaf5}table{border-collapse:collapse;width:100%}th,td{text-align:left;padding:.4rem}nav a{margin-right:1rem}';

/** The same text, links and structure, with a style of one line: no drawing, no script, no class. */
export function bareOf(html: string): string {
  const title = /<title>(.*?)<\/title>/s.exec(html)?.[1] ?? '';
  const body = (/<body[^>]*>(.*)<\/body>/s.exec(html)?.[1] ?? '')
    .replace(/<(script|style|svg|template)\b.*?<\/\1>/gs, '')
    .replace(/<!--.*?-->/gs, '')
    .replace(/<\/?(astro-island|astro-slot|span|div|button)\b[^>]*>/g, '')
    .replace(/<([a-z][\w-]*)\b[^>]*?(\shref="[^"]*")?[^>]*?>/g, (tag, name: string) => {
      const href = /\shref="[^"]*"/.exec(tag)?.[0] ?? '';
      return `<${name}${href}>`;
    });
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>${title}</title><style>${bareStyle}</style></head><body>${body}</body></html>`;
}

interface Pair {
  root: string;
  stop: () => Promise<void>;
}

/** Slow 4G as browsers' own tools define it. The server keeps to it: a browser's own brake does not reach its workers. */
const slow4g = { latency: 150, bytesPerSecond: 200_000 };

/** The built site, and under `/bare` each of its pages as bare HTML; compressed, as a host sends them. */
async function servePair(dist: string): Promise<Pair> {
  /** when the line is free again: everything on its way shares it */
  let free = 0;
  const onTheLine = async (bytes: number): Promise<void> => {
    const start = Math.max(free, performance.now() + slow4g.latency);
    free = start + (bytes / slow4g.bytesPerSecond) * 1000;
    await new Promise((done) => setTimeout(done, free - performance.now()));
  };
  const server = createServer(async (request, response) => {
    const path = new URL(request.url ?? '/', 'http://localhost').pathname;
    const bare = path.startsWith('/bare/');
    const file = fileOf(dist, bare ? path.slice('/bare'.length) : path);
    try {
      const content = await readFile(file);
      const body = bare ? Buffer.from(bareOf(content.toString())) : content;
      const packed = brotliCompressSync(body, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } });
      await onTheLine(packed.length);
      response
        .writeHead(200, {
          'content-type': contentTypes[extname(file)] ?? 'application/octet-stream',
          'content-encoding': 'br',
          'cache-control': 'no-store',
        })
        .end(packed);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  return {
    root: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    stop: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

/** A processor so many times slower, on the page's own thread. */
async function slowDown(page: Page, rate: number): Promise<void> {
  await (await page.context().newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate });
}

/** First contentful paint of a page that was never opened before, in ms from the start of its loading. */
async function firstPaint(browser: Browser, address: string, cpu: number): Promise<number> {
  const context = await browser.newContext({ ...phone, serviceWorkers: 'block' });
  const page = await context.newPage();
  await slowDown(page, cpu);
  await page.goto(address, { waitUntil: 'load' });
  const time = await page.waitForFunction(() => performance.getEntriesByName('first-contentful-paint')[0]?.startTime);
  const value = (await time.jsonValue()) as number;
  await context.close();
  return value;
}

export interface Paint {
  ours: number;
  bare: number;
  /** the middle of the pairs' own ratios */
  ratio: number;
  /** of the quickest of each */
  best: number;
}

/** First paint of a page against its own text as bare HTML, opened in turn. */
export async function paintAgainstBare(
  browser: Browser,
  dist: string,
  page: string,
  pairs: number,
  cpu = 4,
): Promise<Paint> {
  const server = await servePair(dist);
  try {
    // What a browser does once, it does before.
    await firstPaint(browser, `${server.root}/bare${page}`, cpu);
    const times: [number, number][] = [];
    for (let pair = 0; pair < pairs; pair += 1)
      times.push([
        await firstPaint(browser, server.root + page, cpu),
        await firstPaint(browser, `${server.root}/bare${page}`, cpu),
      ]);
    return {
      ours: middle(times.map(([ours]) => ours)),
      bare: middle(times.map(([, bare]) => bare)),
      ratio: middle(times.map(([ours, bare]) => ours / bare)),
      best: Math.min(...times.map(([ours]) => ours)) / Math.min(...times.map(([, bare]) => bare)),
    };
  } finally {
    await server.stop();
  }
}

/** The longest task of a page at a processor four times slower, ms, while it loads and its calculators start. */
async function longestTask(browser: Browser, dist: string, path: string, runs: number): Promise<number> {
  const server = await serve(dist);
  const longest: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const context = await browser.newContext({ ...phone, serviceWorkers: 'block' });
    await context.addInitScript(() => {
      const tasks: number[] = [];
      Object.assign(globalThis, { tasks });
      new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({ duration }) => duration))).observe({
        type: 'longtask',
        buffered: true,
      });
    });
    const page = await context.newPage();
    await slowDown(page, 4);
    await page.goto(server.at(path), { waitUntil: 'networkidle' });
    await page.evaluate(() => document.querySelector('astro-island')?.scrollIntoView());
    await page.waitForFunction(() => document.querySelector('astro-island')?.hasAttribute('ssr') !== true);
    await page.waitForLoadState('networkidle');
    longest.push(Math.max(0, ...(await page.evaluate(() => (globalThis as unknown as { tasks: number[] }).tasks))));
    await context.close();
  }
  await server.stop();
  return middle(longest);
}

export interface Found {
  /** from the start of loading the page to the criteria on the screen, typed as soon as there is a field */
  openToMarks: number;
  /** from the last key to the answer, everything loaded before */
  warmAnswer: number;
  /** from the last key to the first page found in the full text */
  warmText: number;
}

/** In the page, before anything of it runs: note when something first stands there after the last key. */
const watch = () => {
  const times = { typed: 0, answer: 0, text: 0 };
  Object.assign(globalThis, { times });
  addEventListener(
    'input',
    () => {
      Object.assign(times, { typed: performance.now(), answer: 0, text: 0 });
    },
    true,
  );
  const look = () => {
    const asked = document.querySelector<HTMLInputElement>('#q')?.value ?? '';
    if (times.answer === 0 && asked !== '' && document.querySelector('#instant h2')) times.answer = performance.now();
    if (times.text === 0 && asked !== '' && document.querySelector('#results mark')) times.text = performance.now();
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
};

/** In the page: a reading stands in the field as soon as there is one. A driver that types from outside runs its own script first, slowed as well. */
const typeAtOnce = () => {
  const look = () => {
    const field = document.querySelector<HTMLInputElement>('#q');
    if (!field) return requestAnimationFrame(look);
    field.value = 'sniff 38';
    return field.dispatchEvent(new Event('input', { bubbles: true }));
  };
  look();
};
/** Longer than the answer may take, so that nothing is asked of the page before. */
const patience = 2000;

interface Times {
  typed: number;
  answer: number;
  text: number;
}
const timesOf = (page: Page): Promise<Times> => page.evaluate(() => (globalThis as unknown as { times: Times }).times);

const typed = async (page: Page, words: string): Promise<void> => {
  await page.locator('#q').fill('');
  await page.waitForFunction(() => document.querySelectorAll('#instant > *, #results > *').length === 0);
  await page.locator('#q').fill(words);
};

async function warmTimes(page: Page, textOnly: readonly string[]): Promise<Pick<Found, 'warmAnswer' | 'warmText'>> {
  const answers: number[] = [];
  for (const words of ['fvc 48', 'co2 52', 'snip 41', 'pcf 160', 'mip 35']) {
    await typed(page, words);
    await page.waitForFunction(() => (globalThis as unknown as { times: Times }).times.answer > 0);
    const at = await timesOf(page);
    answers.push(at.answer - at.typed);
  }
  const texts: number[] = [];
  for (const words of textOnly) {
    await typed(page, words);
    await page.waitForFunction(() => (globalThis as unknown as { times: Times }).times.text > 0);
    const at = await timesOf(page);
    texts.push(at.text - at.typed);
  }
  return { warmAnswer: middle(answers), warmText: middle(texts) };
}

/** Saved by one browser, which is closed; then a new browser process, no server, a processor four times slower. */
export async function findOffline(dist: string, runs: number): Promise<Found> {
  const folder = mkdtempSync(join(tmpdir(), 'tidemark-bench-'));
  const open = (): Promise<BrowserContext> => chromium.launchPersistentContext(folder, { ...startOptions(), ...phone });
  const server = await serve(dist);
  const found: Found[] = [];
  try {
    const first = await open();
    const page = await first.newPage();
    await page.goto(server.at('/'));
    await installed(page);
    await first.close();
    await server.stop();
    for (let run = 0; run < runs; run += 1) {
      const context = await open();
      await context.setOffline(true);
      await context.addInitScript(watch);
      await context.addInitScript(typeAtOnce);
      const tab = context.pages()[0] ?? (await context.newPage());
      await slowDown(tab, 4);
      await tab.goto(server.at('/search/'), { waitUntil: 'commit' });
      await tab.waitForTimeout(patience);
      await tab.waitForFunction(() => (globalThis as unknown as { times: Times }).times.answer > 0);
      const openToMarks = (await timesOf(tab)).answer;
      await tab.waitForFunction(() => document.querySelector('#search-status')?.textContent !== '');
      found.push({ openToMarks, ...(await warmTimes(tab, wordsOfTextOnly(dist, 5))) });
      await context.close();
    }
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
  return {
    openToMarks: middle(found.map((one) => one.openToMarks)),
    warmAnswer: middle(found.map((one) => one.warmAnswer)),
    warmText: middle(found.map((one) => one.warmText)),
  };
}

/** On slow 4G, never opened before: from opening the search page to the first page found in the full text. */
async function firstFullText(browser: Browser, dist: string, runs: number): Promise<number> {
  const server = await servePair(dist);
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const context = await browser.newContext({ ...phone, serviceWorkers: 'block' });
    await context.addInitScript(watch);
    const page = await context.newPage();
    await page.goto(`${server.root}/search/?q=${wordsOfTextOnly(dist, 1)[0]}`, { waitUntil: 'commit' });
    await page.waitForFunction(() => (globalThis as unknown as { times: Times }).times.text > 0);
    times.push((await timesOf(page)).text);
    await context.close();
  }
  await server.stop();
  return middle(times);
}

/** Words of a handbook page that the list of titles, answers and search words does not hold: only the full text finds them. */
function wordsOfTextOnly(dist: string, count: number): string[] {
  const listed = readFileSync(join(dist, 'data/pages.json'), 'utf8').toLowerCase();
  const text = readFileSync(fileOf(dist, '/breathing/mouthpiece-ventilation/'), 'utf8')
    .replace(/<(script|style|svg)\b.*?<\/\1>/gs, ' ')
    .replace(/<[^>]*>/g, ' ');
  const words = [...new Set(text.match(/\b[a-z]{6,}\b/g) ?? [])].filter((one) => !listed.includes(one.slice(0, 5)));
  if (words.length < count) throw new Error('The list of pages holds nearly every word of the page');
  return words.slice(0, count);
}

/** All of it. Alone, on the build that is there: `node tests/bench/paint.ts`; part of `npm run bench` as well. */
export async function paintFigures(
  browser: Browser,
  dist: string,
  pairs = 9,
  runs = 5,
): Promise<Record<string, number>> {
  const figures: Record<string, number> = {};
  for (const page of ['/cough/mi-e-session/', '/measuring/sniff-pressure/', '/']) {
    const { ours, bare, ratio } = await paintAgainstBare(browser, dist, page, pairs);
    figures[`${page} first paint, slow 4G, 4x slower`] = ours;
    figures[`${page} as bare HTML`] = bare;
    figures[`${page} first paint against bare HTML`] = ratio;
  }
  for (const page of ['/calculators/ideal-body-weight/', '/calculators/predicted-vital-capacity/'])
    if (existsSync(fileOf(dist, page)))
      figures[`${page} longest task, 4x slower`] = await longestTask(browser, dist, page, runs);
  const { openToMarks, warmAnswer, warmText } = await findOffline(dist, runs);
  figures['offline, fresh process, 4x slower: from opening to the marks of "sniff 38"'] = openToMarks;
  figures['answer to a typed reading, warm, 4x slower'] = warmAnswer;
  figures['full text, warm, 4x slower (its worker is not slowed)'] = warmText;
  figures['full text, very first, slow 4G'] = await firstFullText(browser, dist, runs);
  return figures;
}

if (import.meta.main) {
  const browser = await launch();
  console.table(await paintFigures(browser, process.env.TIDEMARK_DIST ?? '.cache/dist'));
  await browser.close();
}
