/** What is on a phone's screen, and what a reader sees of a part of the page. */
import type { Locator, Page } from 'playwright-core';
import { plain } from './sheet.ts';

/** Text that can be read without scrolling, above what stays at the foot of the screen. */
export const firstView = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const bars = [...document.querySelectorAll('nav, .tally')]
      .map((bar) => bar.getBoundingClientRect())
      .filter(({ top, bottom, height }) => height > 0 && top > innerHeight / 2 && bottom >= innerHeight - 80);
    const floor = Math.min(innerHeight, ...bars.map(({ top }) => top));
    const words: string[] = [];
    const walk = document.createTreeWalker(document.querySelector('main') as Node, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode() as Text | null; node; node = walk.nextNode() as Text | null) {
      if (!node.data.trim() || !node.parentElement?.checkVisibility()) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const box = range.getBoundingClientRect();
      if (box.width > 0 && box.height > 0 && box.top < floor - 8 && box.bottom > 0) words.push(node.data);
    }
    return words.join(' ').replace(/\s+/g, ' ');
  });

/** What a reader sees: folded text is not among it. */
// biome-ignore lint/performance/useDomNodeTextContent: a fold that is closed says nothing
export const seen = async (part: Locator): Promise<string> => plain(await part.innerText());

export const lacking = (patterns: readonly string[], text: string): string[] =>
  patterns.filter((one) => !new RegExp(one, 'i').test(text));
export const saying = (patterns: readonly string[], text: string): string[] =>
  patterns.filter((one) => new RegExp(one, 'i').test(text));

export const urgencyHeadings = {
  emergency: 'Emergency',
  'same-day': 'Same day',
  'within-1-week': 'Within a week',
} as const;
