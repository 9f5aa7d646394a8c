/**
 * The danger table on the built visit sheet, on a phone. Every situation is opened as a file; what must lead is in the first
 * view, the notes and the card say it, and nothing says what it must not.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { seriesFormat, seriesVersion } from '../../calculators/visit/series.ts';
import { type Danger, evidence, readDangers, shownFor, visitOf } from '../reference/danger.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { firstView, lacking, saying, seen, urgencyHeadings } from './first-view.ts';
import { openSheet, plain, ready } from './sheet.ts';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
  await openSheet(tab.page, server.at('/visit/'));
});
afterAll(() => tab?.context.close());

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

describe.each(readDangers('danger-table').map((danger) => [`${danger.id} ${danger.situation}`, danger] as const))(
  '%s',
  (_, danger) => {
    test('on the visit sheet', async () => {
      const { page } = tab;
      await page.evaluate(() => sessionStorage.clear());
      await page.reload();
      await ready(page);
      await page.locator('#series-file').setInputFiles({
        name: 'visit.json',
        mimeType: 'application/json',
        buffer: Buffer.from(fileOf(danger)),
      });
      await page.getByText('1 visit opened').waitFor();
      await page.locator('.tally a').tap();
      const first = await firstView(page);
      // A range is met by the urgency that the evaluator gives; the fast tests hold that against its ends.
      const { highest } = shownFor(danger);
      const faults: string[] = [];
      const want = (where: string, patterns: readonly string[], text: string) =>
        faults.push(...lacking(patterns, text).map((one) => `${where} lacks /${one}/`));
      const found = await seen(page.locator('.found'));
      if (highest === 'none' || highest === 'routine') want('the findings', danger.leads, found);
      else {
        if (!first.includes(urgencyHeadings[highest])) faults.push(`first view: ${first.slice(0, 300)}`);
        const beside = (await page.locator('.found > .care').allTextContents()).join(' ');
        want(
          'the lead',
          danger.leads,
          `${await seen(page.locator('.found :is(.alarm, .soon)').first())} ${plain(beside)}`,
        );
      }
      const note = plain(await page.locator('#note-text').inputValue());
      want('the note', danger.note, note);
      await page.getByText('The person and family, in plain words').tap();
      const family = plain(await page.locator('#note-text').inputValue());
      want('the plain version', danger.plain, family);
      const card = plain(await page.locator('article.sheet').textContent());
      if (highest === 'emergency' || highest === 'same-day') want('the card', danger.leads.slice(-1), card);
      const all = `${found} ${note} ${family} ${card}`;
      faults.push(
        ...saying(danger.never, all).map((one) => `says ${new RegExp(`.{0,60}(?:${one}).{0,40}`, 'i').exec(all)?.[0]}`),
      );
      expect(faults).toEqual([]);
    });
  },
);

test('the table opened as a file is the visit that the fast tests hold', () => {
  for (const danger of readDangers('danger-table'))
    for (const [id, { unit }] of Object.entries(visitOf(danger).readings))
      expect([danger.id, id, evidence.measures[id]?.kind, unit]).toEqual([danger.id, id, 'number', unit]);
});
