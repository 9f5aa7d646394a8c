/** What an automatic accessibility check has against a page as it stands. It sees a minority of faults: the keyboard, zoom and print tests stand beside it. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright-core';

const standards = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'];

/**
 * One line a fault: the rule broken, how often, the first place.
 *
 * @param within  selector of the part to look at; the whole page where none is named
 */
export async function accessFaults(page: Page, within?: string): Promise<string[]> {
  await unstick(page);
  await settle(page);
  // No frames here, so the older way of running, without a second page, sees the same.
  // What passed is not written up. (Options first: they would take the tags away again.)
  const check = new AxeBuilder({ page })
    .options({ resultTypes: ['violations'] })
    .withTags(standards)
    .setLegacyMode();
  const { violations } = await (within === undefined ? check : check.include(within)).analyze();
  return violations.map(({ id, help, nodes }) => `${id} (${nodes.length}): ${help}: ${nodes[0]?.html.slice(0, 160)}`);
}

/** What sticks while the page scrolls covers whatever lies under it at one moment; the check leaves out fixed parts for that reason, and these by this. */
const unstick = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const element of document.querySelectorAll<HTMLElement>('body *'))
      if (getComputedStyle(element).position === 'sticky') element.style.position = 'static';
  });

/** A link or button whose colour is on its way from one set of colours to another has a contrast that nobody reads. */
const settle = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    for (let frame = 0; frame < 2; frame += 1) await new Promise((next) => requestAnimationFrame(next));
    const turning = document.getAnimations().filter((one) => one instanceof CSSTransition);
    await Promise.allSettled(turning.map((one) => one.finished));
  });

/** How many pixels the page is wider than its window: above zero, a reader has to scroll sideways. */
export const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) - innerWidth);

/** Everything folded away, opened: what is hidden is checked too. */
export const unfold = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true;
  });
