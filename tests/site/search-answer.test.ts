/** The answer to a typed line as it is used: calculations in place, what was understood changed by a tap, the visit sheet opened with it. */
import type { Page, Route } from 'playwright-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';

let tab: Tab;
beforeEach(async () => {
  await tab?.context.close();
  tab = await openTab(browser, server.root);
});

async function type(line: string, from = '/search/'): Promise<Page> {
  const { page } = tab;
  await page.goto(server.at(from));
  await page.locator('#q').fill(line);
  await page.keyboard.press('Enter');
  await page.locator('#instant .instant').waitFor();
  return page;
}

const text = async (page: Page, selector = '#instant'): Promise<string> =>
  (await page.locator(selector).allInnerTexts()).join(' ').replace(/\s+/g, ' ');

describe('a calculation', () => {
  // Devine's line for women, 45.5 + 0.91 x (158 - 152.4) kg, as the calculator's own examples have it.
  test('is done in place, and its calculator opens with the same numbers', async () => {
    const page = await type('height 158 female ibw');
    await page.getByText('50.6 kg').first().waitFor();
    await page.getByRole('link', { name: 'the calculator with these numbers' }).click();
    await page.locator('.result dd.main').first().waitFor();
    expect(await text(page, '.result')).toContain('50.6 kg');
  });

  test('asks for what is missing, and takes the answer in place', async () => {
    const page = await type('ulna 24 cm');
    await page.getByRole('button', { name: 'Female', exact: true }).tap();
    await page.getByLabel(/^Age/).fill('50');
    await page.getByLabel(/^Age/).press('Enter');
    // 24 cm, women under 65: 162 cm in the table of the calculator
    await page.getByText('162 cm').first().waitFor();
    expect(await text(page)).not.toContain('cmH2O');
  });

  test('says first what must be known before an oxygen flow is used', async () => {
    const page = await type('nasal cannula 2 L fio2');
    await page.getByText('28 %').first().waitFor();
    const answer = await text(page);
    expect(answer.indexOf('hypoventilation')).toBeGreaterThan(0);
    expect(answer.indexOf('hypoventilation')).toBeLessThan(answer.indexOf('28 %'));
  });
});

describe('what was understood', () => {
  test('a sign can be turned round, and the answer follows', async () => {
    const page = await type('als drowsy sats 95 on air');
    expect(await text(page)).toContain('Emergency');
    await page.getByRole('button', { name: /drows.*: change/i }).tap();
    await page.getByRole('button', { name: 'No', exact: true }).tap();
    await page.getByRole('button', { name: /^No .*drows/i }).waitFor();
    expect(await text(page)).not.toContain('Emergency');
  });

  test('opens in the visit sheet', async () => {
    const page = await type('als 62 woman sniff 38 sleepy by day');
    await page.getByRole('button', { name: 'Open in the visit sheet' }).tap();
    await page.waitForURL(/visit/);
    await page.waitForFunction(() => [...document.querySelectorAll('input')].some(({ value }) => value === '62'));
    // Dated as a sheet that was opened by hand.
    expect(await page.locator('#note-text').inputValue()).toMatch(/^Respiratory visit on \d/);
    await page.waitForFunction(() => /sniff|SNIP/i.test(document.body.textContent ?? ''));
  });

  test('someone on the sheet is never mixed with someone else without a word', async () => {
    let page = await type('als 62 woman sniff 38');
    await page.getByRole('button', { name: 'Open in the visit sheet' }).tap();
    await page.waitForURL(/visit/);
    page = await type('dmd 16 fvc 44');
    await page.getByRole('button', { name: 'Open in the visit sheet' }).tap();
    await page.getByText('Is this the same person?').waitFor();
    await page.getByRole('button', { name: /Someone else/ }).tap();
    await page.waitForURL(/visit/);
    await page.waitForFunction(() => [...document.querySelectorAll('input')].some(({ value }) => value === '16'));
    expect(await page.evaluate(() => JSON.stringify(sessionStorage))).not.toContain('"ageYears":62');
  });
});

describe('what was typed', () => {
  test('is in no address, reaches no server on a reload, and the field gives up the keyboard', async () => {
    const page = await type('fvc 48 als');
    expect(await page.evaluate(() => document.activeElement?.id)).not.toBe('q');
    expect([new URL(page.url()).search, new URL(page.url()).hash]).toEqual(['', '']);
    server.asked.length = 0;
    await page.reload();
    await page.locator('#instant .instant').waitFor();
    expect(await page.locator('#q').inputValue()).toBe('fvc 48 als');
    expect(server.asked.filter((path) => /fvc|als|q=/.test(path))).toEqual([]);
  });

  test('goes from a measuring page to the search page in no address, before the page\u2019s own script is there', async () => {
    const { page } = tab;
    await page.route(/hold-form/, (route) => route.abort());
    await page.goto(server.at('/measuring/sniff-pressure/'));
    server.asked.length = 0;
    await page.locator('#hold').fill('38');
    await page.keyboard.press('Enter');
    await page.waitForURL(/search/);
    await expect.poll(() => page.locator('#q').inputValue()).toContain('38');
    expect([new URL(page.url()).search, new URL(page.url()).hash]).toEqual(['', '']);
    expect(server.asked.filter((path) => path.includes('?'))).toEqual([]);
  });
});

describe('entered on the home page before the part that answers is there', () => {
  const enterWith = async (page: Page, coming: (route: Route) => Promise<void>): Promise<void> => {
    await page.goto(server.root);
    await page.route(/\/page\.[^/]*\.js/, coming, { times: 1 });
    await page.locator('#q').fill('fvc 48 als');
    await page.keyboard.press('Enter');
  };

  test('the line is answered there once it has come', async () => {
    const { page } = tab;
    await enterWith(page, async (route) => {
      await new Promise((done) => setTimeout(done, 700));
      await route.continue();
    });
    await page.locator('#instant .instant').waitFor();
    expect(page.url()).toBe(server.root);
    expect(await page.evaluate(() => document.activeElement?.id)).not.toBe('q');
  });

  test('where it does not come, the line goes to the search page', async () => {
    const { page } = tab;
    await enterWith(page, (route) => route.abort());
    await page.waitForURL(/search/);
    await page.locator('#instant .instant').waitFor();
    expect(await page.locator('#q').inputValue()).toBe('fvc 48 als');
  });
});

describe('the first view', () => {
  const order = async (page: Page, first: string, then: string): Promise<void> => {
    await expect.poll(() => text(page)).toContain(then);
    const answer = await text(page);
    expect(answer).toContain(first);
    expect(answer.indexOf(first)).toBeLessThan(answer.indexOf(then));
  };

  test('what a reading meets comes before what only follows from it', async () => {
    await order(await type('pcf 2.5 L/s als'), 'Peak cough flow below 270 L/min', 'Worked out');
  });

  test('starting ventilation comes before filling the chest', async () => {
    await order(await type('als 64 man fvc 48'), 'Start night NIV', 'Lung function is reduced');
  });

  test('with the emergency number called, what depends on the disease is folded and still there', async () => {
    const page = await type('choking');
    await page.getByText('Also urgent, depending on who it is').tap();
    await order(page, 'Call the emergency number now', 'If this is Guillain-Barr\u00e9');
  });

  test('sleepy on oxygen without ventilation: whom to call if it is new comes before every criterion', async () => {
    const page = await type('als sats 91 on 2 l sleepy');
    const shown = await text(page);
    const act = shown.indexOf('If the sleepiness is new or worse Call the emergency number now.');
    expect(act).toBeGreaterThan(0);
    expect(shown.indexOf('Meets')).toBeGreaterThan(act);
    // By day, without oxygen, it is a symptom; drowsy is an emergency already.
    for (const line of ['als sats 91 sleepy', 'als sats 91 on 2 l drowsy'])
      expect(await text(await type(line))).not.toContain('If the sleepiness is new or worse');
  });

  test('without its disease, a reading may meet criteria', async () => {
    const shown = await text(await type('fvc 48'));
    expect(shown).toMatch(/May meet \d+ criteria, depending on the person/);
    expect(shown).not.toMatch(/\bMeets \d/);
    expect(await text(await type('fvc 48 als'))).toMatch(/\bMeets \d+ criteria/);
  });

  test('what common practice asks for is named where nothing is met', async () => {
    const page = await type('bicarb 30 lgmd');
    await order(page, '27 mmol/L', 'Ask for a');
    expect(await text(page)).not.toContain('No published criterion');
  });

  test('the question that decides is asked in place', async () => {
    const page = await type('sats 93 on air mnd');
    await page.getByText('Is it true that lung disease is known?').waitFor();
    await page.locator('.only-if').getByRole('button', { name: 'No', exact: true }).first().tap();
    await page.locator('.purpose', { hasText: 'at or below 94 %' }).waitFor();
  });

  test('a sex is asked for only where a criterion turns on it', async () => {
    const page = await type('als fvc 48');
    expect(await page.getByRole('button', { name: /^Sex/ }).count()).toBe(0);
    expect(await (await type('sniff 38')).getByRole('button', { name: /^Sex/ }).count()).toBe(1);
  });

  test('a bare number is offered as an age, and can be taken back', async () => {
    const page = await type('als 64 fvc 48');
    await page.getByRole('button', { name: /64 years\?/ }).tap();
    await page.getByRole('button', { name: 'That is not the age' }).tap();
    await page.getByRole('button', { name: /An adult/ }).waitFor();
    expect(await text(page)).not.toContain('64 years');
  });
});

describe('the full text', () => {
  const results = (page: Page) =>
    page.locator('#results a').evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).href));

  test('leads to the section, and to papers last', async () => {
    const { page } = tab;
    await page.goto(`${server.at('/search/')}#q=anemia`);
    await page.locator('#results a[href*="#"]').first().waitFor();
    const all = await results(page);
    const place = (what: RegExp) => all.findIndex((one) => what.test(one));
    const lastSection = all.findLastIndex((one) => one.includes('#') && !/\/(?:sources|evidence)\//.test(one));
    const papers = place(/\/(?:sources|evidence)\/.*#/);
    expect(papers < 0 || papers > lastSection).toBe(true);
  });

  test('finds nothing, offers near words, and leads to all pages', async () => {
    const { page } = tab;
    await page.goto(`${server.at('/search/')}#q=zyzzyva`);
    await page.locator('main a', { hasText: 'All pages' }).waitFor();
    expect(await results(page)).toEqual([]);
  });
});

test('on a slow signal an emergency stands while per cent of predicted is still worked out', async () => {
  const { page } = tab;
  let go = () => {};
  const signal = new Promise<void>((done) => {
    go = done;
  });
  await page.route('**/_astro/derive.*.js', async (route) => {
    await signal;
    await route.continue();
  });
  await type('als man 60 height 175 cm vc 1.2 l grey and drowsy');
  await page.locator('#instant', { hasText: 'Working out per cent of predicted' }).waitFor();
  expect(await text(page)).toMatch(/call the emergency number/i);
  expect(await text(page)).not.toContain('% predicted is below');
  go();
  await page.locator('#instant p', { hasText: 'Working out per cent' }).waitFor({ state: 'detached' });
  expect(await text(page)).toMatch(/FVC \d+ % predicted|FVC below 50 % predicted/);
  expect(await text(page)).toMatch(/call the emergency number/i);
});

test('a value asleep meets no criterion about a whole night: its study figures are not called met', async () => {
  const page = await type('sma 2 age 6 petco2 52 asleep');
  await page.getByText('Study figures on this').waitFor();
  expect(await text(page)).not.toContain('Study figures met');
});
