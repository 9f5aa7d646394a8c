/** Each drawing as a page shows it: on the narrowest phone, on paper, without motion. One page for each drawing. */
import { globSync } from 'node:fs';
import { basename } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab } from './browser.ts';
import { htmlOf, pages } from './built.ts';

const drawingsOf = (page: string): string[] =>
  [...htmlOf(page).matchAll(/<figure class="drawing"[\s\S]*?<title id="([\w-]+)-title"/g)].map(([, id]) => id ?? '');
/** the first page of each drawing; the page of questions asked again keeps its own out of sight until they are due */
const shownAt = new Map<string, string>();
for (const page of pages.filter((one) => one !== '/learn/again/'))
  for (const id of drawingsOf(page)) if (!shownAt.has(id)) shownAt.set(id, page);
const places = [...new Set(shownAt.values())];

async function at<T>(path: string, width: number, ask: (page: Page) => Promise<T>): Promise<T> {
  const { context, page } = await openTab(browser, server.root, {
    viewport: { width, height: 844 },
    reducedMotion: 'reduce',
  });
  await page.goto(server.at(path));
  // Questions that are asked one by one keep their drawings out of sight until their turn.
  await page.evaluate(() => {
    for (const drawing of document.querySelectorAll<HTMLElement>('.drawing'))
      for (let one: HTMLElement | null = drawing; one; one = one.parentElement)
        if (getComputedStyle(one).display === 'none') one.style.setProperty('display', 'block', 'important');
  });
  const found = await ask(page);
  await context.close();
  return found;
}

test('there are drawings to look at, and every one is on a page', () => {
  const drawings = globSync('src/figures/*.astro').map((file) => basename(file, '.astro'));
  expect(drawings.filter((id) => !shownAt.has(id))).toEqual([]);
});

/** Letters that leave their picture, or are too small on the screen to be read. */
const letters = (page: Page, smallest: number) =>
  page.evaluate(
    (least) =>
      [...document.querySelectorAll<SVGSVGElement>('.drawing > svg')].flatMap((picture) => {
        const box = picture.getBoundingClientRect();
        const scale = box.width / picture.viewBox.baseVal.width;
        return [...picture.querySelectorAll('text')].flatMap((text) => {
          const { left, right, top, bottom } = text.getBoundingClientRect();
          const size = Number.parseFloat(getComputedStyle(text).fontSize) * scale;
          const isOut =
            left < box.left - 0.5 || right > box.right + 0.5 || top < box.top - 0.5 || bottom > box.bottom + 0.5;
          const name = `${picture.querySelector('title')?.textContent}: ${text.textContent}`;
          return [
            ...(isOut ? [`${name} is cut off`] : []),
            ...(size < least ? [`${name} is ${size.toFixed(1)} px`] : []),
          ];
        });
      }),
    smallest,
  );

test.each(places)('%s: at 320 px no letter is cut off; at 390 px none is below 12 px', async (path) => {
  expect(await at(path, 320, (page) => letters(page, 11))).toEqual([]);
  expect(await at(path, 390, (page) => letters(page, 12))).toEqual([]);
});

test.each(places)('%s: two weights of line, and a text for each picture', async (path) => {
  const found = await at(path, 390, (page) =>
    page.evaluate(() =>
      [...document.querySelectorAll('.drawing')].flatMap((figure) => {
        // What is as wide as a tube or a finger says so on itself.
        const lines = [...figure.querySelectorAll('svg :is(path, rect, circle, ellipse):not([stroke-width])')];
        const widths = new Set(
          lines
            .map((line) => getComputedStyle(line))
            .filter(({ stroke }) => stroke !== 'none')
            .map(({ strokeWidth }) => strokeWidth),
        );
        const odd = [...widths].filter((width) => width !== '2.5px' && width !== '1.25px');
        const named = figure.querySelector('svg')?.getAttribute('aria-labelledby')?.split(' ') ?? [];
        const silent =
          named.length !== 2 || named.some((id) => (document.getElementById(id)?.textContent ?? '').length < 10);
        const words = figure.querySelector(':scope > details p')?.textContent ?? '';
        return [
          ...odd,
          ...(silent ? ['no text for the picture'] : []),
          ...(words.length < 120 ? ['not told in words'] : []),
        ];
      }),
    ),
  );
  expect(found).toEqual([]);
});

test.each(places)('%s: on paper the drawings are black, grey and white, and whole', async (path) => {
  const coloured = await at(path, 794, async (page) => {
    await page.emulateMedia({ media: 'print' });
    return page.evaluate(() =>
      [...document.querySelectorAll('.drawing svg :is(path, rect, circle, ellipse, text)')].flatMap((part) => {
        const { fill, stroke } = getComputedStyle(part);
        return [fill, stroke].filter((colour) => {
          const [red, green, blue] = colour.match(/[\d.]+/g)?.map(Number) ?? [0, 0, 0];
          return red !== green || green !== blue;
        });
      }),
    );
  });
  expect([...new Set(coloured)]).toEqual([]);
});

test('what moves moves only when asked, and is a still where motion is not wanted and on paper', async () => {
  const path = shownAt.get('belly-paradox') ?? '';
  const state = (page: Page) =>
    page.evaluate(() => ({
      moving: document.getAnimations().filter((one) => one.playState === 'running').length,
      still: getComputedStyle(document.querySelector('.still') as Element).visibility,
      asks: getComputedStyle(document.querySelector('.moves') as Element).display,
    }));
  const { context, page } = await openTab(browser, server.root, { reducedMotion: 'no-preference' });
  await page.goto(server.at(path));
  expect(await state(page)).toEqual({ moving: 0, still: 'visible', asks: 'flex' });
  await page.getByLabel('Let them breathe').check();
  const asked = await state(page);
  expect(asked.moving).toBeGreaterThanOrEqual(4);
  expect(asked.still).toBe('hidden');
  await page.emulateMedia({ media: 'print' });
  expect(await state(page)).toEqual({ moving: 0, still: 'visible', asks: 'none' });
  await page.emulateMedia({ media: 'screen', reducedMotion: 'reduce' });
  expect(await state(page)).toEqual({ moving: 0, still: 'visible', asks: 'none' });
  await context.close();
});
