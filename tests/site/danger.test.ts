/**
 * The danger table on the built site, on a phone: every situation is opened on the visit sheet as a file, and its typed line
 * is asked in search. What must lead is in the first view, the notes and the card say it, and nothing says what it must not.
 */
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { seriesFormat, seriesVersion } from '../../calculators/criteria/series.ts';
import { type Danger, evidence, readDangers, visitOf, whatIsSaid } from '../reference/danger.ts';
import { launch, openTab, type Tab } from './browser.ts';
import { dist } from './built.ts';
import { type Server, serve } from './server.ts';
import { openSheet, plain } from './sheet.ts';

let server: Server;
let browser: Browser;
let tab: Tab;

beforeAll(async () => {
  server = await serve(dist);
  browser = await launch();
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

/** The file that a therapist would open: the same visit, as typed. */
function fileOf(danger: Danger): string {
  const { disease, sex, ageYears, heightCm } = danger.person;
  const readings = Object.entries(danger.readings ?? {}).map(([id, { value, flags, ...how }]) => [
    id,
    { text: String(value), ...how, ...(flags ? { flags: [...flags] } : {}) },
  ]);
  return JSON.stringify({
    format: seriesFormat,
    version: seriesVersion,
    person: { ...(disease ? { disease } : {}), ...(sex ? { sex } : {}) },
    visits: [
      {
        date: today(),
        ...(ageYears === undefined ? {} : { ageYears }),
        ...(heightCm === undefined ? {} : { heightCm }),
        readings: Object.fromEntries(readings),
        signs: danger.signs ?? {},
        supports: Object.fromEntries(Object.entries(danger.supports ?? {}).map(([id, status]) => [id, { status }])),
        wishes: danger.wishes ?? [],
        notDone: {},
        prediction: { set: 'gli-2022-global' },
        answers: '',
        asked: '',
        plan: [],
      },
    ],
  });
}

const today = (): string => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
};

/** Text that can be read without scrolling, above what stays at the foot of the screen. */
const firstView = (page: Page): Promise<string> =>
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
const seen = async (part: Locator): Promise<string> => plain(await part.innerText());

const lacking = (patterns: readonly string[], text: string): string[] =>
  patterns.filter((one) => !new RegExp(one, 'i').test(text));
const saying = (patterns: readonly string[], text: string): string[] =>
  patterns.filter((one) => new RegExp(one, 'i').test(text));

const titles = { emergency: 'Emergency', 'same-day': 'Same day', 'within-1-week': 'Within a week' } as const;

describe.each(readDangers('danger-table').map((danger) => [`${danger.id} ${danger.situation}`, danger] as const))(
  '%s',
  (_, danger) => {
    test('on the visit sheet', async () => {
      tab = await openTab(browser, server.root);
      const { page } = tab;
      await openSheet(page, `${server.root}visit/`);
      await page.locator('#series-file').setInputFiles({
        name: 'visit.json',
        mimeType: 'application/json',
        buffer: Buffer.from(fileOf(danger)),
      });
      await page.getByText('1 visit opened').waitFor();
      await page.locator('.tally a').tap();
      const first = await firstView(page);
      // A range is met by the urgency that the evaluator gives; the fast tests hold that against its ends.
      const { highest } = whatIsSaid(danger);
      const faults: unknown[] = [];
      if (highest === 'emergency' || highest === 'same-day' || highest === 'within-1-week') {
        if (!first.includes(titles[highest]))
          faults.push(`first view lacks "${titles[highest]}": ${first.slice(0, 300)}`);
        const lead = await seen(page.locator('.found :is(.alarm, .soon)').first());
        const beside = plain((await page.locator('.found > .care').allTextContents()).join(' '));
        faults.push(...lacking(danger.leads, `${lead} ${beside}`).map((one) => `the lead lacks /${one}/`));
      } else {
        faults.push(
          ...lacking(danger.leads, await seen(page.locator('.found'))).map((one) => `findings lack /${one}/`),
        );
      }
      const note = plain(await page.locator('#note-text').inputValue());
      await page.getByText('The person and family, in plain words').tap();
      const family = plain(await page.locator('#note-text').inputValue());
      faults.push(...lacking(danger.note, note).map((one) => `the note lacks /${one}/`));
      faults.push(...lacking(danger.plain, family).map((one) => `the plain version lacks /${one}/`));
      const card = plain(await page.locator('article.sheet').textContent());
      if (highest === 'emergency' || highest === 'same-day')
        faults.push(...lacking([danger.leads.at(-1) ?? ''], card).map((one) => `the card lacks /${one}/`));
      const open = await seen(page.locator('.found'));
      faults.push(
        ...saying(danger.never, `${open} ${note} ${family} ${card}`).map(
          (one) =>
            `says /${one}/: ${new RegExp(`.{0,60}(?:${one}).{0,40}`, 'i').exec(`${open} ${note} ${family} ${card}`)?.[0]}`,
        ),
      );
      await tab.context.close();
      expect(faults).toEqual([]);
    });

    test.runIf(danger.line)('typed in search', async () => {
      tab = await openTab(browser, server.root);
      const { page } = tab;
      await page.goto(`${server.root}search/`);
      const field = page.locator('main input[type="search"]');
      await field.fill(danger.line ?? '');
      await field.press('Enter');
      await page.locator('.instant').first().waitFor();
      await page.waitForTimeout(300);
      const first = await firstView(page);
      const all = await seen(page.locator('main'));
      await tab.context.close();
      expect({
        lacks: lacking(danger.lineLeads ?? [], first),
        says: saying(danger.never, all),
        first: lacking(danger.lineLeads ?? [], first).length > 0 ? first : '',
      }).toEqual({ lacks: [], says: [], first: '' });
    });
  },
);

test('the table opened as a file is the visit that the fast tests hold', () => {
  for (const danger of readDangers('danger-table'))
    for (const [id, { unit }] of Object.entries(visitOf(danger).readings))
      expect([danger.id, id, evidence.measures[id]?.kind, unit]).toEqual([danger.id, id, 'number', unit]);
});
