/** Ten thousand changes in one tab that is never closed: a day's work many times over. Memory must not climb with them. */
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { browser, server } from '../site/at-hand.ts';
import { openTab, type Tab } from '../site/browser.ts';
import { answer, examplesOf, fill, openCalculator } from '../site/form.ts';
import { measure, openParts, openSheet } from '../site/sheet.ts';

let tab: Tab;
let page: Page;
let inspector: CDPSession;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  page = tab.page;
  inspector = await tab.context.newCDPSession(page);
});
afterAll(async () => {
  expect(tab.faults.errors).toEqual([]);
});

interface MemoryUse {
  heap: number;
  nodes: number;
  listeners: number;
}

/** What the page still holds after everything that can be let go was let go. */
async function memoryUse(): Promise<MemoryUse> {
  await inspector.send('HeapProfiler.enable');
  for (let round = 0; round < 3; round += 1) await inspector.send('HeapProfiler.collectGarbage');
  const { metrics } = await inspector.send('Performance.enable').then(() => inspector.send('Performance.getMetrics'));
  const of = (name: string) => metrics.find((metric) => metric.name === name)?.value ?? Number.NaN;
  return { heap: of('JSHeapUsedSize'), nodes: of('Nodes'), listeners: of('JSEventListeners') };
}

/** As fast as the page can draw: another number in the field, time after time, each one seen by the page. */
const change = (selector: string, from: number, times: number, spread: number): Promise<void> =>
  page.evaluate(
    async ({ selector, from, times, spread }) => {
      for (let at = 0; at < times; at += 1) {
        const input = document.querySelector<HTMLInputElement>(selector);
        if (!input) throw new Error(`No field ${selector}`);
        input.value = String(from + (at % spread));
        input.dispatchEvent(new Event('input', { bubbles: true }));
        // Blank and broken entries belong to a day as well.
        if (at % 97 === 0) {
          input.value = at % 2 === 0 ? '' : 'about 12';
          input.dispatchEvent(new Event('input', { bubbles: true }));
        }
        input.dispatchEvent(new Event('change', { bubbles: true }));
        await new Promise<void>((next) => setTimeout(next));
      }
    },
    { selector, from, times, spread },
  );

/** Growth from after the first tenth, when everything that is loaded once has been loaded. */
async function soak(selector: string, from: number, spread: number): Promise<{ before: MemoryUse; after: MemoryUse }> {
  await change(selector, from, 1000, spread);
  const before = await memoryUse();
  await change(selector, from, 9000, spread);
  const after = await memoryUse();
  console.log(
    `${selector}: ${Math.round(before.heap / 1024)} to ${Math.round(after.heap / 1024)} KB, ${before.nodes} to ${after.nodes} nodes, ${before.listeners} to ${after.listeners} listeners`,
  );
  return { before, after };
}

const steady = ({ before, after }: { before: MemoryUse; after: MemoryUse }): void => {
  expect(after.heap - before.heap).toBeLessThan(400 * 1024);
  expect(after.nodes - before.nodes).toBeLessThan(50);
  expect(after.listeners - before.listeners).toBeLessThan(20);
};

test('10,000 changes of a calculator leave no more behind than 1,000', async () => {
  await openCalculator(page, server, 'predicted-vital-capacity');
  const [example] = examplesOf('predicted-vital-capacity');
  await fill(page, 'predicted-vital-capacity', example?.given ?? {});
  await answer(page).waitFor({ state: 'attached' });
  steady(await soak('.calculator [id$="-age"]', 20, 60));
});

test('nor do 10,000 changes of a reading on the visit sheet', async () => {
  await openSheet(page, server.at('/visit/'));
  await page.getByLabel('Disease').selectOption('als');
  await openParts(page);
  await measure(page, 'snip').locator('input[type="text"]').fill('43');
  steady(await soak('[data-measure="snip"] input[type="text"]', 20, 60));
});

test('nor do 10,000 readings typed into the search field', async () => {
  await page.goto(server.at('/search/'));
  await page.locator('#q').fill('sniff 38');
  await page.locator('#instant h2').waitFor();
  await typeReadings(1000);
  const before = await memoryUse();
  await typeReadings(9000);
  const after = await memoryUse();
  console.log(`search: ${Math.round(before.heap / 1024)} to ${Math.round(after.heap / 1024)} KB`);
  steady({ before, after });
});

const typeReadings = (times: number): Promise<void> =>
  page.evaluate(async (times) => {
    const input = document.querySelector<HTMLInputElement>('#q');
    if (!input) throw new Error('No field to search in');
    const words = ['sniff', 'fvc', 'co2', 'pcf', 'mip', 'sats'];
    for (let at = 0; at < times; at += 1) {
      input.value = `${words[at % words.length]} ${20 + (at % 70)}`;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise<void>((next) => setTimeout(next));
    }
  }, times);
