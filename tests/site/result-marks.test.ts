/** The marks of results: told apart by shape alone, the same wherever a result is shown, on paper and in a reader's own colours. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { resultBox, resultShapes } from '../../src/components/result-shapes.ts';
import { browser, server } from './at-hand.ts';
import { openTab, wake } from './browser.ts';
import { some } from './built.ts';

type Result = keyof typeof resultShapes;
const results = Object.keys(resultShapes) as Result[];

/** The mark as a grid of one bit a point, as high as small print draws it. */
const pointsOf = (page: Page, shape: string): Promise<string> =>
  page.evaluate(
    async ([box, d]) => {
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="20" height="12" viewBox="${box}"><path d="${d}"/></svg>`;
      const image = new Image();
      image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
      await image.decode();
      const canvas = Object.assign(document.createElement('canvas'), { width: 20, height: 12 });
      const context = canvas.getContext('2d') as CanvasRenderingContext2D;
      context.fillStyle = '#fff';
      context.fillRect(0, 0, 20, 12);
      context.drawImage(image, 0, 0);
      const { data } = context.getImageData(0, 0, 20, 12);
      return Array.from({ length: 240 }, (_, at) => ((data[at * 4] ?? 255) < 128 ? '1' : '0')).join('');
    },
    [resultBox, shape] as const,
  );

const inked = (points: string): number => points.replaceAll('0', '').length;
const apart = (a: string, b: string): number => [...a].filter((point, at) => point !== b[at]).length;

test('in one bit and twelve points high, each differs from each other, and what is met has the most ink', async () => {
  const { context, page } = await openTab(browser, server.root);
  const drawn = Object.fromEntries(
    await Promise.all(results.map(async (result) => [result, await pointsOf(page, resultShapes[result])] as const)),
  ) as Record<Result, string>;
  for (const a of results) for (const b of results) if (a !== b) expect(apart(drawn[a], drawn[b])).toBeGreaterThan(10);
  expect(inked(drawn.met)).toBeGreaterThan(2 * inked(drawn['not-met']));
  expect(inked(drawn.met)).toBeGreaterThan(2 * inked(drawn['cannot-tell']));
  await context.close();
});

/** Every mark that is seen: its result, what is drawn, its word, and how it sits beside it. */
const marksOn = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('.result-mark')]
      .filter((mark) => mark.checkVisibility())
      .map((mark) => {
        const path = mark.querySelector('path');
        const box = mark.querySelector('svg')?.getBoundingClientRect();
        const range = document.createRange();
        range.selectNodeContents(mark.lastChild as Node);
        const words = range.getBoundingClientRect();
        return {
          result: mark.classList[1],
          shape: path?.getAttribute('d'),
          word: mark.textContent?.trim(),
          fill: path ? getComputedStyle(path).fill : '',
          color: getComputedStyle(mark).color,
          height: (box?.height ?? 0) / Number.parseFloat(getComputedStyle(mark).fontSize),
          inLine: box !== undefined && box.top >= words.top && box.bottom <= words.bottom,
        };
      }),
  );

const caseAt = some(/^\/learn\/cases\/./, 1)[0] ?? '';

async function showCase(page: Page): Promise<void> {
  await page.goto(server.at(caseAt));
  await wake(page);
  // A reader sees them after the last answer: here the marks alone are looked at.
  await page.evaluate(() => {
    for (const part of document.querySelectorAll<HTMLDetailsElement>('[data-findings], [data-reasons], .answers')) {
      part.hidden = false;
      part.open = true;
    }
  });
}

async function ask(page: Page): Promise<void> {
  await page.goto(server.at('/search/'));
  await page.locator('#q').fill('als fvc 45 upright');
  await page.keyboard.press('Enter');
  await page.locator('#instant .result-mark').first().waitFor();
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll('#instant details')) fold.setAttribute('open', '');
  });
}

describe.each([
  ['a case', showCase],
  ['the answer to a typed line', ask],
] as const)('%s', (_, open) => {
  test.each([
    ['on a screen', {}, 'screen'],
    ['on paper', {}, 'print'],
    ['in forced colours', { forcedColors: 'active' as const }, 'screen'],
  ] as const)(
    '%s has the same marks, each with its word, as high as a capital letter',
    async (_where, options, media) => {
      const { context, page } = await openTab(browser, server.root, options);
      await open(page);
      await page.emulateMedia({ media });
      const marks = await marksOn(page);
      expect(marks.length).toBeGreaterThan(1);
      for (const { result, shape, word, fill, color, height, inLine } of marks) {
        expect(shape).toBe(resultShapes[result as Result]);
        expect(word).toMatch(/^(Met|Not met|Criterion met|Criterion not met|Cannot tell|Due|Not due|Within|Outside)$/);
        expect(fill).toBe(color);
        expect(height).toBeGreaterThan(0.68);
        expect(height).toBeLessThan(0.78);
        expect(inLine).toBe(true);
      }
      await context.close();
    },
  );
});

test('what is met is in the colour of a warning, and in an alarm in the colour of danger', async () => {
  const { context, page } = await openTab(browser, server.root);
  await page.goto(server.at('/search/'));
  await page.locator('#q').fill('als drowsy fvc 45');
  await page.keyboard.press('Enter');
  await page.locator('#instant .alarm .result-mark').first().waitFor();
  const [danger, warning] = await page.evaluate(() =>
    ['.alarm .result-mark.met', '.result-mark.met'].map((selector) => {
      const mark = [...document.querySelectorAll(`#instant ${selector}`)].find(
        (one) => selector.startsWith('.alarm') || !one.closest('.alarm'),
      );
      return mark && getComputedStyle(mark).color;
    }),
  );
  const tokens = await page.evaluate(() =>
    ['--alarm', '--care'].map((token) => {
      const probe = document.body.appendChild(
        Object.assign(document.createElement('i'), { style: `color:var(${token})` }),
      );
      return getComputedStyle(probe).color;
    }),
  );
  expect([danger, warning]).toEqual(tokens);
  await context.close();
});
