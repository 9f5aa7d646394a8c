/** The visit sheet as a therapist fills it, one thumb on a phone. */
import { readFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { parse } from 'yaml';
import { readMeasures } from '../read-content.ts';

export interface TeachingCase {
  case: string;
  title: string;
  inputs: Record<string, string | number>;
  expected: { met: string[]; not_met?: string[]; unknown?: string[]; out_of_scope?: string[]; show_first?: string[] };
}

export const cases: TeachingCase[] = parse(readFileSync('tests/reference/open-cases.yaml', 'utf8'));

/** Case A: woman, 61, ALS, bulbar onset, three pillows; spirometry with a leak, a good sniff, no blood gas. */
export const caseA = cases.find((one) => one.case === 'A') as TeachingCase & { expected: { unknown: string[] } };

export async function openSheet(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await ready(page);
}

export const ready = (page: Page): Promise<void> =>
  page.locator('.visit fieldset').first().and(page.locator(':enabled')).waitFor();

export const measure = (page: Page, id: string): Locator => page.locator(`[data-measure="${id}"]`);
export const chip = (within: Locator | Page, words: string): Locator =>
  within.locator('label.chip', { hasText: new RegExp(`^${words}$`) });

/** The page's own folds opened, so that each field can be reached with a tap. */
export async function openParts(page: Page): Promise<void> {
  // From the outside in: 'Add more' of a part can be tapped once its part is open.
  const folded = page.locator('details.part:not([open]) > summary, details.part[open] > .more:not([open]) > summary');
  while ((await folded.count()) > 0) await folded.first().tap();
}

export async function type(page: Page, id: string, text: string): Promise<void> {
  const field = measure(page, id).locator('input[type="text"]');
  await field.tap();
  await field.fill(text);
}

/** What Case A's record holds: numbers with their quality and gas, then every sign the sheet asks for. */
export async function enterCaseA(page: Page): Promise<void> {
  const { inputs } = caseA;
  await page.getByLabel('Disease').selectOption('als');
  await page.getByLabel('Age', { exact: true }).fill(String(inputs.age_years));
  await chip(page, 'Female').tap();
  await openParts(page);
  await type(page, 'fvc-percent', String(inputs['fvc-percent']));
  await chip(measure(page, 'fvc-percent'), 'Leak at mask or mouthpiece').tap();
  await type(page, 'snip', `-${inputs['snip-cmh2o']}`);
  await type(page, 'peak-cough-flow', String(inputs['pcf-l-min']));
  await type(page, 'spo2', String(inputs['spo2-percent']));
  await chip(measure(page, 'spo2'), 'Room air').tap();
  for (const [id, answer] of Object.entries(inputs)) {
    // A sign that follows from others is not asked again: none of its parts is there when it is absent.
    if (answer === 'absent') for (const part of partsOf(id)) await answerSign(page, part, 'No');
    if (answer === 'present' && (await measure(page, id).count()) > 0) await answerSign(page, id, 'Yes');
  }
  // The story's words for the sleep symptoms that the record sums up.
  for (const id of ['unrefreshing-sleep', 'morning-headache']) await answerSign(page, id, 'Yes');
}

const measures = readMeasures();
function partsOf(id: string): string[] {
  const found = measures[id];
  return found?.kind === 'sign' && found.anyOf ? found.anyOf.flatMap(partsOf) : [id];
}

/** A question, or a symptom in the list to tick; what is settled by something else is not asked. */
export async function answerSign(page: Page, id: string, answer: 'Yes' | 'No'): Promise<void> {
  const asked = measure(page, id);
  if ((await asked.count()) === 0) return;
  const question = chip(asked, answer);
  if ((await question.count()) > 0) await question.tap();
  else if (answer === 'Yes') await asked.locator('label.chip').tap();
  else {
    // A single no: the list to tick stands as questions.
    await page.locator('.ticks').filter({ has: asked }).getByRole('button', { name: 'Answer one by one' }).tap();
    await chip(asked, 'No').tap();
  }
}

/** A finding by its criterion: the link to the criterion's row on its source's page names it. */
export const finding = (page: Page, mark: string): Locator =>
  page.locator('.found .finding').filter({ has: page.locator(`a[href$="#${mark}"]`) });

/** The header's button, or the sheet's own: what was entered is asked about, and the answer is to clear it. */
export async function nextPerson(page: Page, from: 'header' | 'sheet' = 'sheet'): Promise<void> {
  const button = from === 'sheet' ? 'Next person: clear everything typed' : 'Next person';
  await page.getByRole('button', { name: button, exact: true }).tap();
  const clear = page.getByRole('button', { name: 'Clear and start the next person' });
  // Asked only where something was entered; the part that asks is there already when the sheet is.
  if (from === 'header' || (await clear.isVisible())) await clear.tap();
}

export const note = (page: Page): Promise<string> => page.locator('#note-text').inputValue();

/** Pages of a PDF, counted in its own text. */
export const paperPages = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

/** Text as read, with each no-break space an ordinary one. */
export const plain = (text: string | null): string => (text ?? '').replace(/\s+/g, ' ').trim();

/** Every finding on the sheet by its criterion: met, not met or cannot tell. A criterion shown twice must say the same twice. */
export const shown = (page: Page): Promise<Record<string, string>> =>
  page.locator('.found').evaluate((found) => {
    const results: Record<string, string> = {};
    for (const finding of found.querySelectorAll('.finding')) {
      const result = ['met', 'not-met', 'cannot-tell'].find((one) => finding.classList.contains(one)) ?? '';
      // One line holds every source that says the same.
      for (const source of finding.querySelectorAll<HTMLAnchorElement>('a.source')) {
        const mark = source.href.split('#')[1] ?? '';
        results[mark] = results[mark] === undefined || results[mark] === result ? result : 'two results';
      }
    }
    return results;
  });

/** One thumb: what it taps, the keys it presses and how far it scrolls are counted. A list to choose from takes two taps. */
export class Thumb {
  taps = 0;
  keys = 0;
  /** pixels of the page that went past the eye, up or down */
  travel = 0;
  private last = 0;
  private readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  /** Scroll as a reader does: nothing while it can be seen between the bars, else until it stands in the middle. */
  async show(target: Locator): Promise<void> {
    this.travel += await target.first().evaluate((element) => {
      const { top, bottom } = element.getBoundingClientRect();
      const bars = [...document.querySelectorAll('nav, .tally')]
        .map((bar) => bar.getBoundingClientRect())
        .filter((bar) => bar.height > 0 && bar.top > innerHeight / 2);
      const floor = Math.min(innerHeight, ...bars.map((bar) => bar.top)) - 8;
      const ceiling = (document.querySelector('[data-person]')?.getBoundingClientRect().bottom ?? 0) + 8;
      if (top >= ceiling && bottom <= floor) return 0;
      const before = scrollY;
      scrollBy({ top: (top + bottom) / 2 - (ceiling + floor) / 2, behavior: 'instant' });
      return Math.abs(scrollY - before);
    });
  }

  async tap(target: Locator): Promise<void> {
    this.taps += 1;
    await this.show(target);
    // No thumb is quicker, and the browser takes two taps in less for a double tap, which answers nothing.
    await this.page.waitForTimeout(Math.max(0, this.last + 350 - Date.now()));
    await target.tap();
    this.last = Date.now();
  }

  async choose(list: Locator, option: string | { label: string }): Promise<void> {
    this.taps += 2;
    await this.show(list);
    await list.selectOption(option);
  }

  async type(field: Locator, text: string): Promise<void> {
    await this.tap(field);
    this.keys += text.length;
    // Put in at once: two fields tapped faster than any thumb are a double tap to the browser, which leaves no caret.
    await field.fill(text);
  }

  /** A measure's number, after its folds have been opened. */
  async read(id: string, text: string): Promise<void> {
    await this.reach(id);
    await this.type(measure(this.page, id).locator('input[type="text"]'), text);
  }

  async answer(id: string, words: string): Promise<void> {
    await this.reach(id);
    await this.tap(chip(measure(this.page, id), words));
  }

  /** A symptom in the list to tick. */
  async tick(id: string): Promise<void> {
    await this.reach(id);
    await this.tap(measure(this.page, id).locator('label.chip'));
  }

  async none(): Promise<void> {
    await this.tap(this.page.locator('.ticks label.none'));
  }

  /** Open the folds that something is in, from the outside in, unless they are open. */
  async reach(id: string): Promise<void> {
    const folded = this.page.locator('details:is(.part, .more):not([open])').filter({ has: measure(this.page, id) });
    while ((await folded.count()) > 0) await this.tap(folded.first().locator('> summary'));
  }

  /** From the last field down to the findings, by the bar at the foot of the screen. */
  async lookAtFindings(): Promise<void> {
    const before = await this.page.evaluate(() => scrollY);
    this.taps += 1;
    await this.page.locator('.tally a').tap();
    await this.page.waitForFunction((was) => scrollY !== was, before, { timeout: 3000 }).catch(() => undefined);
    this.travel += Math.abs((await this.page.evaluate(() => scrollY)) - before);
  }
}
