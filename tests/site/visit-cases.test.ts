/** Cases A to F as a therapist enters them on a phone with no signal; the file of each opens elsewhere with the same findings. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { installed, launch, openTab, type Tab } from './browser.ts';
import { dist } from './built.ts';
import { type Server, serve } from './server.ts';
import {
  cases,
  chip,
  measure,
  nextPerson,
  note,
  openSheet,
  paperPages,
  plain,
  ready,
  shown,
  type TeachingCase,
  Thumb,
} from './sheet.ts';

/** The record of each case in the order of the sheet, in the words of its story where the record sums up. */
const entering: Record<string, (thumb: Thumb, page: Page) => Promise<void>> = {
  A: async (thumb, page) => {
    await person(thumb, page, 'als', '61', 'Female');
    await thumb.answer('respiratory-infection', 'No');
    await thumb.answer('bulbar-dysfunction', 'Yes');
    await thumb.answer('severe-bulbar-impairment', 'No');
    await thumb.answer('severe-cognitive-impairment', 'No');
    await support(thumb, page, 'night-ventilation', 'none');
    for (const sign of ['orthopnoea', 'unrefreshing-sleep', 'morning-headache', 'ineffective-cough'])
      await thumb.tick(sign);
    await thumb.read('spo2', '95');
    await thumb.answer('spo2', 'Room air');
    await thumb.answer('known-lung-disease', 'No');
    await thumb.read('peak-cough-flow', '210');
    await thumb.read('fvc-percent', '68');
    await thumb.answer('fvc-percent', 'Leak at mask or mouthpiece');
    await thumb.read('snip', '38');
  },
  B: async (thumb, page) => {
    await person(thumb, page, 'als', '58', 'Male');
    await thumb.answer('respiratory-infection', 'No');
    await thumb.none();
    await thumb.read('spo2', '96');
    await thumb.answer('spo2', 'Room air');
    await thumb.answer('known-lung-disease', 'No');
    await thumb.read('paco2', '45');
    await thumb.read('peak-cough-flow', '270');
    await thumb.read('fvc-percent', '50');
    await thumb.read('snip', '40');
    await thumb.read('mip', '62');
  },
  C: async (thumb, page) => {
    await person(thumb, page, 'sma', '9', 'Female');
    await thumb.answer('respiratory-infection', 'No');
    await thumb.answer('non-ambulant', 'Yes');
    await thumb.answer('niv-start-question', 'Yes');
    await thumb.read('spo2', '97');
    await thumb.answer('spo2', 'Room air');
    await thumb.read('fvc-percent', '55');
    await thumb.read('peak-cough-flow', '150');
    await thumb.answer('nocturnal-oximetry-abnormal', 'Yes');
    await thumb.read('sleep-time-percent-co2-above-50', '12');
  },
  D: async (thumb, page) => {
    await person(thumb, page, 'dmd', '19', 'Male');
    await thumb.answer('acutely-unwell', 'Yes');
    await thumb.answer('respiratory-infection', 'Yes');
    await thumb.read('respiratory-rate', '26');
    await support(thumb, page, 'night-ventilation', 'in place');
    await thumb.tick('ineffective-cough');
    await thumb.tick('sputum-retention');
    await thumb.none();
    await thumb.read('spo2', '93');
    await thumb.answer('spo2', 'Room air');
    await thumb.read('awake-co2-any-method', '48');
    await thumb.read('peak-cough-flow', '165');
    await thumb.read('fvc-percent', '38');
    await thumb.read('vc-litres', '1.3');
    await thumb.read('mep', '32');
  },
  E: async (thumb, page) => {
    await person(thumb, page, 'gbs', '44', 'Male');
    await thumb.answer('bulbar-dysfunction', 'Yes');
    await thumb.answer('bifacial-weakness', 'Yes');
    await thumb.answer('acutely-unwell', 'Yes');
    await thumb.read('weight', '80');
    await thumb.read('vc-litres', '1.7');
    await thumb.read('vc-or-mip-or-mep-fall-from-baseline-percent', '34.6');
    await thumb.read('mip', '30');
    await thumb.read('mep', '38');
  },
  F: async (thumb, page) => {
    await person(thumb, page, 'als', '67', 'Male');
    await thumb.answer('respiratory-infection', 'No');
    await thumb.read('spo2', '92');
    await thumb.answer('spo2', 'Room air');
    await thumb.answer('known-lung-disease', 'Yes');
    await thumb.read('bicarbonate', '31');
    await thumb.read('peak-cough-flow', '4.0');
    await thumb.choose(measure(page, 'peak-cough-flow').getByLabel(/^Unit of/), { label: 'L/s' });
    await thumb.read('vc-litres', '1.9');
    await thumb.read('mip', '-35');
  },
};

async function person(thumb: Thumb, page: Page, disease: string, age: string, sex: string): Promise<void> {
  await thumb.choose(page.getByLabel('Disease', { exact: true }), disease);
  await thumb.type(page.getByLabel('Age', { exact: true }), age);
  await thumb.tap(chip(page, sex));
}

async function support(thumb: Thumb, page: Page, id: string, status: string): Promise<void> {
  await thumb.reach(`support:${id}`);
  await thumb.tap(chip(measure(page, `support:${id}`), status));
}

const expectedResults = ({ expected }: TeachingCase): Record<string, string> =>
  Object.fromEntries([
    ...expected.met.map((id) => [id, 'met']),
    ...(expected.not_met ?? []).map((id) => [id, 'not-met']),
    ...(expected.unknown ?? []).map((id) => [id, 'cannot-tell']),
    ...(expected.out_of_scope ?? []).map((id) => [id, 'not shown']),
  ]);

const download = async (page: Page, button: string): Promise<string> => {
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: button }).tap()]);
  return readFileSync(await file.path(), 'utf8');
};

const openFile = (page: Page, text: string, name = 'visits.json') =>
  page.setInputFiles('#series-file', { name, mimeType: 'application/json', buffer: Buffer.from(text) });

interface Entered {
  shown: Record<string, string>;
  note: string;
  file: string;
  bundle: string;
  thumb: Thumb;
}

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser.close());

const entered: Record<string, Entered> = {};

describe('with no signal and the server gone, one thumb on a phone', () => {
  let tab: Tab;
  beforeAll(async () => {
    const server = await serve(dist);
    tab = await openTab(browser, server.root, { serviceWorkers: 'allow', acceptDownloads: true });
    await openSheet(tab.page, server.at('/visit/'));
    await installed(tab.page);
    await server.stop();
    await tab.context.setOffline(true);
    await tab.page.reload();
    await ready(tab.page);
  });
  afterAll(() => tab.context.close());

  test.each(cases)('$title: the criteria are as the case expects', async (one) => {
    const { page } = tab;
    await nextPerson(page);
    const thumb = new Thumb(page);
    await page.evaluate(() => scrollTo(0, 0));
    await entering[one.case]?.(thumb, page);
    await thumb.lookAtFindings();
    const found = await shown(page);
    const expected = expectedResults(one);
    expect(Object.fromEntries(Object.keys(expected).map((id) => [id, found[id] ?? 'not shown']))).toEqual(expected);
    const urgent = await page
      .locator('.alarm .finding a')
      .evaluateAll((marks) => marks.map((mark) => (mark as HTMLAnchorElement).hash));
    expect(urgent).toEqual(expect.arrayContaining((one.expected.show_first ?? []).map((id) => `#${id}`)));
    entered[one.case] = {
      shown: found,
      note: await note(page),
      file: await download(page, 'Save as a file'),
      bundle: await download(page, 'Save for a health record (FHIR)'),
      thumb,
    };
  });

  test.each(cases.map((one) => one.case))('Case %s takes a thumb less than two minutes', (name) => {
    const { taps = Number.NaN, keys = Number.NaN } = entered[name]?.thumb ?? {};
    // From memory, after the keystroke-level model of Card, Moran and Newell: 1.35 s to think and 1.1 s to point for each
    // tap, 0.5 s for each key of a number pad.
    expect(taps * 2.45 + keys * 0.5).toBeLessThan(120);
  });

  test('at most 25 taps and 8,000 pixels of travel each, from the top of the page to the findings', () => {
    const rows = Object.entries(entered).map(([name, { thumb }]) => ({
      case: name,
      taps: thumb.taps,
      keys: thumb.keys,
      travel: Math.round(thumb.travel),
    }));
    console.table(rows);
    expect(rows.map((row) => row.case)).toEqual(cases.map((one) => one.case));
    expect(rows.filter(({ taps, travel }) => taps > 25 || travel > 8000)).toEqual([]);
    // Nobody enters a visit without going down the page: a nought would be a fault of the counting.
    expect(rows.filter(({ taps, travel }) => taps < 10 || travel < 1000)).toEqual([]);
  });

  test('then the next person starts clean', async () => {
    const { page, faults } = tab;
    await nextPerson(page);
    expect(
      await page
        .locator('.visit input[type="text"]')
        .evaluateAll((fields) => fields.filter((field) => (field as HTMLInputElement).value !== '').length),
    ).toBe(0);
    expect(await page.locator('.visit [data-measure] input:checked, .visit [name=visit-sex]:checked').count()).toBe(0);
    expect(await page.getByLabel('Disease', { exact: true }).inputValue()).toBe('');
    expect(await page.locator('.found .finding.met').count()).toBe(0);
    expect(plain(await note(page))).not.toMatch(/ALS|cmH2O|leak/);
    expect(plain(await page.locator('[data-person]').textContent())).toMatch(/^Undo: bring back the person cleared at/);
    expect(faults.policy.concat(faults.elsewhere)).toEqual([]);
  });
});

describe('the file of each case in a fresh browser', () => {
  let server: Server;
  let tab: Tab;
  beforeAll(async () => {
    server = await serve(dist);
    tab = await openTab(browser, server.root);
    await openSheet(tab.page, server.at('/visit/'));
  });
  afterAll(async () => {
    await tab.context.close();
    await server.stop();
  });

  test.each(cases.map((one) => one.case))(
    'Case %s: the same findings, one by one, and the same note, on one page of paper',
    async (name) => {
      const { page } = tab;
      await nextPerson(page);
      await openFile(page, entered[name]?.file ?? '');
      await page.locator('.opening [role=status]', { hasText: '1 visit opened' }).waitFor();
      await expect.poll(() => shown(page), { timeout: 15_000 }).toEqual(entered[name]?.shown);
      await expect.poll(() => note(page), { timeout: 15_000 }).toBe(entered[name]?.note);
      await page.evaluate(() => {
        document.body.dataset.paper = 'note';
      });
      expect(paperPages(await page.pdf({ format: 'A4' }))).toBe(1);
      await page.evaluate(() => delete document.body.dataset.paper);
    },
  );

  test('Case A as an HL7 FHIR bundle: the same findings, and what such a file does not hold is said', async () => {
    const { page } = tab;
    await nextPerson(page);
    await openFile(page, entered.A?.bundle ?? '', 'visits.fhir.json');
    const said = page.locator('.opening [role=status]', { hasText: '1 visit opened' });
    await said.waitFor();
    expect(await said.textContent()).toContain('The file does not contain the plan');
    await expect.poll(() => shown(page), { timeout: 15_000 }).toEqual(entered.A?.shown);
    expect(await page.getByText('items in the file were left out').count()).toBe(0);
  });
});
