/** The main job: one visit entered on a phone, read back as findings and a note. Without a signal: `visit-cases.test.ts`. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { accessFaults, overflow, unfold } from './access.ts';
import { launch, openTab, type Tab } from './browser.ts';
import { dist } from './built.ts';
import { type Server, serve } from './server.ts';
import { caseA, chip, enterCaseA, finding, measure, note, openParts, openSheet, plain, ready, type } from './sheet.ts';

const sniffMark = 'nice-mnd-snip-or-mip-lt-40';
const vitalCapacityMark = 'nice-mnd-fvc-lt-80-with-symptoms';
const bloodGasMark = 'nice-mnd-paco2-gt-6-kpa-within-1-week';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser.close());

describe('Case A, entered on a phone: woman, 61, ALS, three pillows, a sniff of 38 and a leaking vital capacity of 68', () => {
  let server: Server;
  let tab: Tab;
  beforeAll(async () => {
    server = await serve(dist);
    tab = await openTab(browser, server.root);
    await openSheet(tab.page, server.at('/visit/'));
    await enterCaseA(tab.page);
  });
  afterAll(async () => {
    await tab.context.close();
    await server.stop();
  });

  test('a sniff typed as -38 is below the 40 of NICE NG42, in one sentence with its source beside it', async () => {
    const found = finding(tab.page, sniffMark);
    expect(plain(await found.locator('.said').textContent())).toBe(
      'Met The better of SNIP and MIP (38 cmH2O) is below 40 cmH2O.',
    );
    expect(plain(await found.textContent())).toContain('NICE NG42');
    expect(plain(await found.textContent())).toContain('read at source');
  });

  test('the vital capacity is below 80 per cent, and its leak stands in the same sentence', async () => {
    expect(plain(await finding(tab.page, vitalCapacityMark).locator('.said').textContent())).toBe(
      'Met FVC 68 % predicted reads below 80 % predicted (flagged: leak at mask or mouthpiece, which reads low; the true value may be higher), and there are symptoms or signs of respiratory impairment (orthopnoea, unrefreshing sleep, morning headache, ineffective cough).',
    );
  });

  test('a blood gas that nobody took is useful to measure next, and its criterion cannot be told', async () => {
    const more = tab.page.locator('.found section', {
      has: tab.page.getByRole('heading', { name: 'Most useful to measure or ask next' }),
    });
    expect(plain(await more.textContent())).toContain('PaCO2');
    expect(plain(await finding(tab.page, bloodGasMark).locator('.said').textContent())).toMatch(
      /^Cannot tell PaCO2 was not measured/,
    );
  });

  test.each(caseA.expected.met)('%s is shown as met, as the teaching case expects', async (mark) => {
    expect(
      await finding(tab.page, mark).evaluateAll((found) => found.map((one) => one.classList.contains('met'))),
    ).toEqual([true]);
  });

  test.each(caseA.expected.unknown)('%s is shown as cannot tell, as the teaching case expects', async (mark) => {
    expect(
      await finding(tab.page, mark).evaluateAll((found) => found.map((one) => one.classList.contains('cannot-tell'))),
    ).toEqual([true]);
  });

  test('the note carries the readings, the leak, both criteria with their source, and what is missing', async () => {
    const text = plain(await note(tab.page));
    expect(text).toContain('Woman, 61 years, ALS / motor neurone disease');
    expect(text).toMatch(/Measured: .*FVC 68 % predicted[^;]*leak at mask or mouthpiece/);
    expect(text).toMatch(/the better of SNIP and MIP \(38 cmH2O\) is below 40 cmH2O[^;]*\[NICE NG42/);
    expect(text).toMatch(
      /FVC 68 % predicted reads below 80 % predicted \(flagged: leak[^)]*\), with symptoms or signs of respiratory impairment \[NICE NG42/,
    );
    expect(text).toMatch(/Measured: .*SpO2 95 %[^;]*room air/);
    expect(text).toMatch(/Most useful to measure or ask next: .*PaCO2/);
    expect(text).toContain('not a decision');
  });

  test('a screen reader is told how many criteria are met', async () => {
    // What acts and is met stands open, each criterion as a link to its source; payer rules are folded, and no clinical need.
    const met = await tab.page.locator('.found :is(.alarm, .soon, section.decision) .finding.met a.source').count();
    expect(met).toBeGreaterThan(0);
    await tab.page
      .locator('.found > [role=status]', { hasText: new RegExp(`^${met} criteria met`) })
      .waitFor({ state: 'attached' });
    expect(plain(await tab.page.locator('.tally').textContent())).toMatch(
      new RegExp(`^Findings: ${met} criteria met.*, \\d+ of \\d+ decided$`),
    );
  });

  test('an accessibility check has nothing against the filled sheet, by day and by night, and it fits 320 pixels', async () => {
    await unfold(tab.page);
    expect(await accessFaults(tab.page)).toEqual([]);
    await tab.page.emulateMedia({ colorScheme: 'dark' });
    expect(await accessFaults(tab.page)).toEqual([]);
    await tab.page.emulateMedia({ colorScheme: 'light' });
    await tab.page.setViewportSize({ width: 320, height: 640 });
    expect(await overflow(tab.page)).toBeLessThanOrEqual(0);
    await tab.page.setViewportSize({ width: 390, height: 844 });
  });

  test('a reload keeps what was typed', async () => {
    const before = await note(tab.page);
    await tab.page.reload();
    await ready(tab.page);
    await tab.page.waitForFunction(
      (text) => document.querySelector<HTMLTextAreaElement>('#note-text')?.value === text,
      before,
    );
    expect(await measure(tab.page, 'snip').locator('input').first().inputValue()).toBe('-38');
  });

  test('nothing went wrong on the way, and nothing was sent anywhere', () => {
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});

describe('what a reading must not be made to say', () => {
  let server: Server;
  let tab: Tab;
  beforeAll(async () => {
    server = await serve(dist);
    tab = await openTab(browser, server.root);
    await openSheet(tab.page, server.at('/visit/'));
    await tab.page.getByLabel('Disease').selectOption('als');
    await tab.page.getByLabel('Age', { exact: true }).fill('61');
    await openParts(tab.page);
  });
  afterAll(async () => {
    await tab.context.close();
    await server.stop();
  });

  test('an untouched sheet has no criterion met, and none not met by a missing reading', async () => {
    expect(await tab.page.locator('.found .finding.met').count()).toBe(0);
    const notMet = await tab.page.locator('.found .finding.not-met').allTextContents();
    for (const text of notMet) expect(text).not.toMatch(/SNIP|FVC|SpO2|PaCO2|cough flow/);
  });

  test('a saturation with no word about what was breathed cannot be told; on oxygen neither', async () => {
    const mark = 'nice-mnd-spo2-le-94-blood-gas';
    await type(tab.page, 'spo2', '93');
    expect(plain(await finding(tab.page, mark).locator('.said').textContent())).toContain(
      'not recorded whether this SpO2 was taken on room air',
    );
    await chip(measure(tab.page, 'spo2'), 'On oxygen').tap();
    expect(plain(await finding(tab.page, mark).locator('.said').textContent())).toContain('taken on oxygen');
    expect(await finding(tab.page, mark).locator('.result-mark').textContent()).toBe('Cannot tell');
  });

  test('a number beyond belief stays in its field with a message, and out of the findings and the note', async () => {
    await type(tab.page, 'fvc-percent', '680');
    await tab.page.locator('#visit-fvc-percent-problem', { hasText: '680' }).waitFor();
    expect(await measure(tab.page, 'fvc-percent').locator('input').first().getAttribute('aria-invalid')).toBe('true');
    expect(await note(tab.page)).not.toContain('680');
    expect(await finding(tab.page, 'nice-mnd-fvc-lt-50').locator('.result-mark').textContent()).toBe('Cannot tell');
    await type(tab.page, 'fvc-percent', '');
  });

  test('PaCO2 of 6.1 kPa is above 6 kPa, told in both units; of 45 mmHg it is not', async () => {
    await type(tab.page, 'paco2', '6.1 kPa');
    expect(plain(await finding(tab.page, bloodGasMark).first().locator('.said').textContent())).toContain(
      'is above 6 kPa',
    );
    await type(tab.page, 'paco2', '45');
    expect(await finding(tab.page, bloodGasMark).locator('.result-mark').textContent()).toBe('Not met');
  });

  test('a second tap takes an answer back: not known again, not no', async () => {
    const yes = measure(tab.page, 'orthopnoea').locator('label.chip');
    await yes.tap();
    await finding(tab.page, 'aan-als-orthopnoea').and(tab.page.locator('.met')).waitFor();
    await yes.tap();
    await finding(tab.page, 'aan-als-orthopnoea').and(tab.page.locator('.cannot-tell')).waitFor({ state: 'attached' });
    expect(await measure(tab.page, 'orthopnoea').locator('input:checked').count()).toBe(0);
  });

  test('an adult criterion is not shown for a child', async () => {
    expect(await finding(tab.page, sniffMark).count()).toBe(1);
    await tab.page.getByLabel('Age', { exact: true }).fill('9');
    // An age counts when its field is left: a 9 on the way to 94 is nobody's age.
    await tab.page.keyboard.press('Tab');
    await tab.page.locator('[data-person]', { hasText: 'child: adult criteria hidden' }).waitFor();
    expect(await finding(tab.page, sniffMark).count()).toBe(0);
  });
});
