/**
 * Colours as a reader gets them, in every mode: computed by a browser from the site's own style sheet, and held to WCAG's
 * contrast ratios (1.4.3: text 4.5 to one; 1.4.11: parts of controls and drawings 3 to one; for sun on the screen 1.4.6,
 * text 7 to one). And no page shows first in other colours than it keeps.
 */
import { globSync, readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Theme, themeKey } from '../../src/theme/theme.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';

/** Any of these colours may stand as text on any of these grounds. */
const texts = ['ink', 'soft', 'accent', 'alarm', 'care', 'unread'];
const grounds = ['paper', 'card', 'wash', 'alarm-wash', 'care-wash', 'unread-wash'];
/** The one ground with a text colour of its own. */
const filled = ['on-accent', 'accent'] as const;
/** Outlines of fields, buttons and findings, and what the drawings are drawn with. */
const parts = ['edge', 'accent', 'ink', 'soft', 'alarm', 'care', 'unread'];
/** Rules between lines of a table or a list: nothing is told by them, and they need no contrast. */
const decoration = ['line'];
/** Widths and corners of borders: no colours. */
const widths = ['bar', 'round'];

const modes: {
  name: string;
  media: Parameters<Page['emulateMedia']>[0];
  tapped?: Exclude<Theme, 'auto'>;
  text: number;
}[] = [
  { name: 'day, by the system', media: { colorScheme: 'light', contrast: 'no-preference' }, text: 4.5 },
  { name: 'night, by the system', media: { colorScheme: 'dark', contrast: 'no-preference' }, text: 4.5 },
  { name: 'strong contrast, by the system', media: { colorScheme: 'light', contrast: 'more' }, text: 7 },
  { name: 'strong contrast at night, by the system', media: { colorScheme: 'dark', contrast: 'more' }, text: 7 },
  {
    name: 'day, tapped at night',
    media: { colorScheme: 'dark', contrast: 'no-preference' },
    tapped: 'light',
    text: 4.5,
  },
  {
    name: 'night, tapped by day',
    media: { colorScheme: 'light', contrast: 'no-preference' },
    tapped: 'dark',
    text: 4.5,
  },
  {
    name: 'sun, tapped at night',
    media: { colorScheme: 'dark', contrast: 'no-preference' },
    tapped: 'outdoor',
    text: 7,
  },
  {
    name: 'night, tapped in strong contrast',
    media: { colorScheme: 'light', contrast: 'more' },
    tapped: 'dark',
    text: 4.5,
  },
];

type Colour = readonly [number, number, number];

/** Relative luminance of sRGB, as WCAG 2.2 defines it. */
const luminance = (colour: Colour): number => {
  const [red = 0, green = 0, blue = 0] = colour.map((byte) => {
    const part = byte / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};
const contrast = (one: Colour, other: Colour): number => {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
};

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await tab.page.goto(server.at('/about/'));
});

/** What each name comes to on the page that is open. */
const colours = async (page: Page, names: readonly string[]): Promise<Record<string, Colour>> => {
  const computed = await page.evaluate(
    (wanted) =>
      wanted.map((name) => {
        const probe = document.createElement('i');
        probe.style.color = `var(--${name}, transparent)`;
        document.body.append(probe);
        const { color } = getComputedStyle(probe);
        probe.remove();
        return [name, color] as const;
      }),
    names,
  );
  return Object.fromEntries(
    computed.map(([name, text]) => {
      const [, red, green, blue] = /^rgb\((\d+), (\d+), (\d+)\)$/.exec(text) ?? [];
      if (blue === undefined) throw new Error(`--${name} is not a plain colour: ${text}`);
      return [name, [Number(red), Number(green), Number(blue)]];
    }),
  );
};

test('the ratio is the one that WCAG defines: 21 for black on white, 4.48 for #777 on white', () => {
  expect(contrast([0, 0, 0], [255, 255, 255])).toBeCloseTo(21, 5);
  // As named in WCAG's own explanation of rounding: #777777 on white is 4.47:1 and fails.
  expect(contrast([119, 119, 119], [255, 255, 255])).toBeCloseTo(4.478, 3);
});

test('no colour is used in a way that is not tested below, and none is written past the names', () => {
  const unknown: string[] = [];
  for (const file of globSync('src/**/*.{css,astro}')) {
    const whole = readFileSync(file, 'utf8');
    const css = (
      file.endsWith('.css') ? [whole] : [...whole.matchAll(/<style>(.*?)<\/style>/gs)].map(([, text = '']) => text)
    )
      .join('\n')
      .replace(/\/\*.*?\*\//gs, '');
    for (const [, property = '', value = ''] of css.matchAll(/(?<![\w-])([a-z-]+):\s*([^;{}]+)[;}]/g)) {
      const names = [...value.matchAll(/var\(--([a-z-]+)\)/g)].map(([, name = '']) => name);
      const allowed =
        property === 'color'
          ? [...texts, 'on-accent']
          : /^background(-color)?$/.test(property)
            ? [...grounds, 'accent']
            : /^(border|outline)/.test(property)
              ? [...parts, ...decoration, 'wash', ...widths]
              : /^(fill|stroke)$/.test(property)
                ? [...parts, ...decoration, ...grounds]
                : /^accent-color$/.test(property)
                  ? parts
                  : undefined;
      if (allowed !== undefined)
        unknown.push(...names.filter((name) => !allowed.includes(name)).map((name) => `${file}: ${property} ${name}`));
      if (
        /^(color|background(-color)?|fill|stroke|border(-\w+)?-color)$/.test(property) &&
        /#[0-9a-f]{3,8}\b|\brgba?\(/i.test(value)
      )
        unknown.push(`${file}: ${property}: ${value}`);
    }
  }
  expect(unknown).toEqual([]);
});

describe.each(modes)('$name', ({ media, tapped, text }) => {
  let found: Record<string, Colour>;
  beforeAll(async () => {
    await tab.page.emulateMedia(media);
    await tab.page.evaluate((theme) => {
      if (theme === undefined) delete document.documentElement.dataset.theme;
      else document.documentElement.dataset.theme = theme;
    }, tapped);
    found = await colours(tab.page, [...new Set([...texts, ...grounds, ...filled, ...parts])]);
  });
  const short = (pairs: [string, string][], least: number): string[] =>
    pairs
      .map(([one, other]): [string, number] => [
        `${one} on ${other}`,
        contrast(found[one] ?? [0, 0, 0], found[other] ?? [0, 0, 0]),
      ])
      .filter(([, ratio]) => ratio < least)
      .map(([pair, ratio]) => `${pair}: ${ratio.toFixed(2)}, needs ${least}`);
  const pairs = (ones: readonly string[], others: readonly string[]): [string, string][] =>
    ones.flatMap((one) => others.map((other): [string, string] => [one, other]));

  test('every text can be read on every ground', () => {
    expect(short([...pairs(texts, grounds), [...filled]], text)).toEqual([]);
  });

  test('outlines and drawings can be told from every ground', () => {
    expect(short(pairs(parts, grounds), 3)).toEqual([]);
  });
});

describe('no flash', () => {
  const cases: [Theme, 'light' | 'dark'][] = [
    ['auto', 'dark'],
    ['dark', 'light'],
    ['light', 'dark'],
    ['outdoor', 'dark'],
  ];

  test.each(cases)(
    'chosen %s, the system on %s: the first thing drawn has the colours that stay',
    async (theme, colorScheme) => {
      const { context, page } = await openTab(browser, server.root, { colorScheme });
      await context.addInitScript(
        ({ key, chosen }) => {
          if (chosen !== 'auto') localStorage.setItem(key, chosen);
          const seen: string[] = [];
          Object.assign(globalThis, { seen });
          // As soon as there is a body there is something to draw, and after every frame until the page is whole.
          const look = () => {
            if (document.body) seen.push(getComputedStyle(document.body).backgroundColor);
          };
          new MutationObserver((_, watch) => {
            look();
            if (seen.length > 0) watch.disconnect();
          }).observe(document, { childList: true, subtree: true });
          const frame = () => {
            look();
            if (document.readyState !== 'complete') requestAnimationFrame(frame);
          };
          requestAnimationFrame(frame);
        },
        { key: themeKey, chosen: theme },
      );
      for (const path of ['/', '/search/', '/calculators/ideal-body-weight/', '/urgent/']) {
        await page.goto(server.at(path));
        await page.locator('[data-theme-tap]').waitFor();
        const [seen, final] = await page.evaluate(() => [
          [...new Set((globalThis as unknown as { seen: string[] }).seen)],
          getComputedStyle(document.body).backgroundColor,
        ]);
        expect([path, seen]).toEqual([path, [final]]);
      }
      const paper = (await colours(page, ['paper'])).paper ?? [0, 0, 0];
      const dark = theme === 'dark' || (theme === 'auto' && colorScheme === 'dark');
      expect(luminance(paper) < 0.1).toBe(dark);
      await context.close();
    },
  );
});
