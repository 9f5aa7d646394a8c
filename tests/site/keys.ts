/** A reader with a keyboard alone: on with Tab, until what is wanted has the focus. */
import type { Page } from 'playwright-core';

export interface Focused {
  tag: string;
  id: string;
  name: string;
  value: string;
  /** what it is called, or holds */
  words: string;
}

export const focused = (page: Page): Promise<Focused> =>
  page.evaluate(() => {
    const element = document.activeElement;
    const of = (name: string) => element?.getAttribute(name) ?? '';
    const words = of('aria-label') || (element === document.body ? '' : (element?.textContent ?? '').trim());
    return { tag: element?.tagName ?? '', id: element?.id ?? '', name: of('name'), value: of('value'), words };
  });

/** Tab on until it is reached; a reader gives up some time. */
export async function tabTo(page: Page, reached: (on: Focused) => boolean): Promise<void> {
  for (let presses = 0; presses < 300; presses += 1) {
    await page.keyboard.press('Tab');
    if (reached(await focused(page))) return;
  }
  throw new Error(`Not reached in 300 presses of Tab; last on ${JSON.stringify(await focused(page))}`);
}

/** On to a button or a fold of that name, and press it. */
export async function press(page: Page, name: string | RegExp): Promise<void> {
  await tabTo(
    page,
    ({ tag, words }) =>
      /^(BUTTON|SUMMARY|A)$/.test(tag) && (typeof name === 'string' ? words === name : name.test(words)),
  );
  await page.keyboard.press('Enter');
}
