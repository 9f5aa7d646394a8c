/** A team's year: draft, meeting, dissent, signing, other phones by file and link, evidence that changes, review, new version. */
import { readFileSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { accessFaults, overflow } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { printedText } from './pdf.ts';
import { chip, openParts, openSheet, plain, type } from './sheet.ts';

const ready = (page: Page) => page.locator('form.agree > fieldset:enabled').waitFor();
const line = (page: Page) => page.locator('[data-agreement-line]');
const digestIn = /digest ((?:[0-9a-f]{4} ){7}[0-9a-f]{4})/i;
const digestAt = async (page: Page, place: string): Promise<string> => {
  const found = page.locator(place).filter({ hasText: digestIn }).first();
  await found.waitFor();
  return digestIn.exec(plain(await found.textContent()))?.[1] ?? 'none';
};
const fieldset = (page: Page, legend: string) =>
  page.locator('fieldset', { has: page.locator('legend', { hasText: legend }) }).last();
const block = (page: Page, measure: string) => page.locator(`.decision [data-measure="${measure}"]`);
const decide = (page: Page, decision: string) => page.locator('#agree-decision').selectOption(decision);

/** A file that the page hands out: its name and its text. */
async function handedOut(page: Page, button: string): Promise<{ name: string; text: string }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.locator('.checked').getByRole('button', { name: button }).tap(),
  ]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
}

/** A year later: one published number is another, and the site has been built anew. */
async function aYearLater(context: BrowserContext): Promise<void> {
  await context.route('**/data/published.json', async (route) => {
    const response = await route.fetch();
    const data = await response.json();
    for (const row of data.criteria) if (row.id === 'aan-als-fvc-lt-50') row.value = 55;
    await route.fulfill({ response, json: data });
  });
  await context.route('**/', async (route) => {
    const response = await route.fetch();
    const text = (await response.text()).replace(/data-built="[^"]*"/, 'data-built="2027-11-29"');
    await route.fulfill({ response, body: text });
  });
}

let tab: Tab;
let file: { name: string; text: string };
let link: string;
let digest: string;
beforeAll(async () => {
  tab = await openTab(browser, server.root, {
    permissions: ['clipboard-read', 'clipboard-write'],
    acceptDownloads: true,
  });
  await tab.page.goto(server.at('/agree/'));
  await ready(tab.page);
});
afterAll(() => tab.context.close());

describe('the meeting', () => {
  test('goes decision by decision, with the thresholds that open the conversation beside each', async () => {
    const { page } = tab;
    await page.getByLabel('Name of the clinic').fill('Tern Valley');
    await chip(fieldset(page, 'Who was present'), 'Nurse').tap();
    for (const role of ['Physician', 'Respiratory therapist'])
      await chip(fieldset(page, 'Who was present'), role).tap();
    const agreed = fieldset(page, 'Who agreed');
    await agreed.getByRole('button', { name: 'Everyone who was present' }).tap();
    expect(await agreed.getByRole('checkbox', { checked: true }).count()).toBe(3);
    await chip(agreed, 'Nurse').tap();
    expect(await page.locator('section.decision').count()).toBe(1);
    await decide(page, 'night-ventilation');
    const title = page.locator('#decision-title');
    expect(plain(await title.textContent())).toMatch(/^Night ventilation decision \d+ of \d+/);
    // A threshold without its condition and its people would say something else.
    expect(
      plain(
        await page
          .locator('.opening li', { hasText: /^FVC below 80/ })
          .first()
          .textContent(),
      ),
    ).toMatch(/only if .*symptoms.*ALS\/MND.*NICE/);
    // The usual measures stand first, the others are folded.
    const first = page.locator('.decision .measure').first();
    expect(await page.locator('.less-usual .measure').first().isVisible()).toBe(false);
    expect(await first.isVisible()).toBe(true);
    await page.getByRole('button', { name: 'Next decision' }).tap();
    expect(plain(await title.textContent())).not.toContain('Night ventilation');
    expect(await title.evaluate((heading) => heading === document.activeElement)).toBe(true);
    await page.locator('nav.steps').getByRole('button', { name: 'Back' }).tap();
    expect(plain(await title.textContent())).toContain('Night ventilation');
  });

  test('keeps a published criterion and gives its reason in place', async () => {
    const { page } = tab;
    const place = block(page, 'fvc-percent');
    await place.locator('> summary').tap();
    // The scale is drawn when a measure is opened: the page has to have its styles, or its lines are not there.
    const line = place.locator('.gauge .staff');
    expect(await line.evaluate((drawn) => getComputedStyle(drawn).stroke)).not.toBe('none');
    await place
      .locator('.offered > li', { hasText: 'AAN 2009' })
      .first()
      .getByRole('button', { name: 'Keep this' })
      .tap();
    await place.getByRole('button', { name: 'Change, or give a reason' }).tap();
    await place.locator('.own').getByLabel('Reason').fill('We read the newer studies and keep it');
    await place.locator('.own').getByRole('button', { name: 'Save the change' }).tap();
    const kept = page.locator('.checked .agreed-list > li').first();
    await kept.getByText('We read the newer studies').waitFor();
    expect(plain(await kept.textContent())).toContain('Kept as published: AAN 2009');
  });

  test('goes on where it stopped after a break', async () => {
    const { page } = tab;
    await page.getByLabel('Published criteria for').selectOption('als');
    await page.waitForTimeout(500);
    await page.reload();
    await ready(page);
    await page.locator('#decision-title', { hasText: 'Night ventilation' }).waitFor();
    expect(await page.getByLabel('Published criteria for').inputValue()).toBe('als');
    await page.getByLabel('Published criteria for').selectOption('');
    await block(page, 'fvc-percent').locator('> summary').tap();
  });

  test('sets one threshold for several diseases at once', async () => {
    const { page } = tab;
    const place = block(page, 'fvc-percent');
    await place.getByRole('button', { name: 'Set a criterion of our own' }).tap();
    const form = place.locator('.own');
    await form.getByLabel('For whom').selectOption('als');
    await form.locator('.also-for > summary').tap();
    await chip(form.locator('.also-for'), 'Spinal muscular atrophy').tap();
    await chip(form, 'below').tap();
    await form.locator('input[inputmode="decimal"]').fill('65');
    await form.getByLabel('Reason').fill('Machines take three weeks to come');
    await form.getByRole('button', { name: 'Add this criterion' }).tap();
    await page.locator('.checked .agreed-list > li').nth(2).waitFor();
    expect(await page.locator('.checked .agreed-list > li', { hasText: 'FVC below 65' }).count()).toBe(2);
  });

  test('asks whether two thresholds for the same people are both meant', async () => {
    const { page } = tab;
    const asked = page.locator('.twice li', { hasText: 'FVC below 50' }).filter({ hasText: 'FVC below 65' });
    await asked.first().waitFor();
    while ((await page.locator('.twice').count()) > 0)
      await page.locator('.twice').getByRole('button', { name: 'Both are intended' }).first().tap();
    expect(await page.locator('.checked .agreed-list > li').count()).toBe(3);
  });

  test('keeps a criterion that was begun, over another decision and over a reload, until it is cancelled', async () => {
    const { page } = tab;
    const place = block(page, 'fvc-percent');
    const form = place.locator('.own');
    const value = form.locator('input[inputmode="decimal"]');
    await place.getByRole('button', { name: 'Set a criterion of our own' }).tap();
    await chip(form, 'below').tap();
    await value.fill('47.5');
    await form.getByLabel('Reason').fill('Half a rea');
    await page.getByRole('button', { name: 'Next decision' }).tap();
    await page.locator('nav[aria-label="Decisions"]').getByRole('button', { name: 'Back' }).tap();
    await place.getByText('one begun and not added').waitFor();
    expect(await value.inputValue()).toBe('47.5');
    await page.reload();
    await ready(page);
    await value.waitFor();
    expect(await value.inputValue()).toBe('47.5');
    expect(await form.getByLabel('Reason').inputValue()).toBe('Half a rea');
    await form.getByRole('button', { name: 'Cancel' }).tap();
    await page.getByRole('button', { name: 'Next decision' }).tap();
    await page.locator('nav[aria-label="Decisions"]').getByRole('button', { name: 'Back' }).tap();
    await place.waitFor();
    expect(await place.getByText('one begun and not added').count()).toBe(0);
    expect(await form.count()).toBe(0);
    await place.locator('> summary').tap();
  });

  test('asks for a reason in words where it is less cautious than everything published', async () => {
    const { page } = tab;
    const place = block(page, 'fvc-percent');
    await place.getByRole('button', { name: 'Set a criterion of our own' }).tap();
    const form = place.locator('.own');
    await chip(form, 'below').tap();
    await form.locator('input[inputmode="decimal"]').fill('30');
    await form.getByLabel('Reason').fill('no');
    await form.getByRole('button', { name: 'Add this criterion' }).tap();
    await form.getByText('Give the reason in at least 4 words').waitFor();
    await form.getByRole('button', { name: 'Cancel' }).tap();
  });

  test('writes down dissent and open questions, and they are in the minutes', async () => {
    const { page } = tab;
    await page.getByRole('button', { name: 'Add dissent' }).tap();
    await page.getByLabel('Role, dissent 1').fill('Nurse');
    await page.getByLabel('What was said, dissent 1').fill('Would have preferred 60');
    await page.getByRole('button', { name: 'Add an open question' }).tap();
    await page.getByLabel('What was said, question 1').fill('How long does the supplier take?');
    await page.locator('.checked .other-forms > summary').tap();
    // What is typed counts a moment after the last key.
    await page.waitForTimeout(600);
    await page.locator('.checked').getByRole('button', { name: 'Copy the minutes as text' }).tap();
    await page.getByText('The minutes are copied').waitFor();
    const minutes = await page.evaluate(() => navigator.clipboard.readText());
    for (const words of [
      'Present\n- Nurse, Physician, Respiratory therapist',
      'Night ventilation. Nurse: Would have preferred 60',
      'How long does the supplier take?',
      'DRAFT: not agreed.',
    ])
      expect(minutes).toContain(words);
  });

  test('looks at the form of a phone number', async () => {
    const { page } = tab;
    await page.getByRole('button', { name: 'Add a phone' }).tap();
    await page.getByLabel('Who, and when 1').fill('Ventilation service');
    await page.getByLabel('Number 1').fill('960');
    await page.getByText('This number has only 3 digits').waitFor();
    await page.getByLabel('Number 1').fill('(01632) 960 101');
    await page.getByText('This number has only 3 digits').waitFor({ state: 'detached' });
  });

  test('the screen has no access faults and fits 320 pixels', async () => {
    const { page } = tab;
    expect(await accessFaults(page)).toEqual([]);
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    await page.setViewportSize({ width: 390, height: 844 });
  });
});

describe('from draft to signed', () => {
  test('a draft says DRAFT on the screen, in its file and its name, and on paper', async () => {
    const { page } = tab;
    await page.locator('.checked .draft-word').waitFor();
    await page.getByText('3 criteria, complete').waitFor();
    const draft = await handedOut(page, 'Save as a file');
    expect(draft.name).toMatch(/^tern-valley-\d{4}-\d\d-\d\d-DRAFT\.json$/);
    expect(JSON.parse(draft.text).status).toBe('draft');
    await page.goto(server.at('/agree/sign/#draft'));
    digest = await digestAt(page, '.paper > .small');
    expect(printedText(await page.pdf({ format: 'A4' }))).toMatch(/DRAFT.*TernValley/);
    await page.goto(server.at('/agree/'));
    await ready(page);
  });

  test('agreed and then signed, its text and its digest stay the same', async () => {
    const { page } = tab;
    await chip(page.locator('.checked'), 'Agreed in the meeting').tap();
    expect(await digestAt(page, '.checked .small')).toBe(digest);
    await chip(page.locator('.checked'), 'Signed').tap();
    await page.locator('.checked .draft-word').waitFor({ state: 'detached' });
    await page.waitForTimeout(500);
    expect(await digestAt(page, '.checked .small')).toBe(digest);
    file = await handedOut(page, 'Save as a file');
    expect(file.name).not.toContain('DRAFT');
    expect(JSON.parse(file.text)).toMatchObject({
      status: 'signed',
      signed: { by: ['Physician', 'Respiratory therapist'] },
      minutes: { dissent: [{ by: 'Nurse' }] },
    });
    await page.locator('.checked').getByRole('button', { name: 'Copy a link' }).tap();
    await page.getByText('The link is copied').waitFor();
    link = await page.evaluate(() => navigator.clipboard.readText());
  });

  test('other forms: a table, a document, the review in a calendar', async () => {
    const { page } = tab;
    await page.locator('.checked .other-forms:not([open]) > summary').tap();
    const table = await handedOut(page, 'Save as a spreadsheet');
    expect(table.text).toContain(`Digest,${digest}`);
    expect(table.text).toContain('(01632) 960 101');
    const minutes = await handedOut(page, 'Save the minutes as a document');
    expect(minutes.name).toMatch(/-minutes\.html$/);
    expect(minutes.text).toContain('Would have preferred 60');
    const day = await handedOut(page, 'Save the review date for a calendar');
    expect(day.text).toContain('BEGIN:VEVENT');
  });

  test('one page holds code, digest, phones and signatures; a list is there to tick off every phone', async () => {
    const { page } = tab;
    await page.goto(server.at('/agree/sign/#draft'));
    await page.locator('.paper').waitFor();
    await chip(page, 'One page: code, digest, phones, signatures').tap();
    await page.locator('.hand-paper .code svg path').waitFor();
    await page.locator('.hand-paper .digest', { hasText: digest }).waitFor();
    const pdf = await page.pdf({ format: 'A4' });
    const paper = printedText(pdf);
    for (const words of [digest, '(01632) 960 101', 'Signed for the clinic', 'Respiratory therapist'])
      expect(paper).toContain(words.replace(/\s/g, ''));
    await chip(page, 'Tick list: every phone shows the same digest').tap();
    await page.locator('.phones-paper .digest', { hasText: digest }).waitFor();
    expect(await page.locator('.ticks tbody tr').count()).toBe(18);
    await chip(page, 'For the meeting: one decision a page').tap();
    expect(await page.locator('.meeting-paper section.page').count()).toBeGreaterThan(10);
    expect(await page.locator('.meeting-paper', { hasText: 'Nurse: Would have preferred 60' }).count()).toBe(1);
  });
});

describe('other phones', () => {
  test('by file and by a pasted message with a full stop after the link: both show the same digest', async () => {
    const byFile = await openTab(browser, server.root);
    await byFile.page.goto(server.at('/agree/open/'));
    await ready(byFile.page);
    await byFile.page
      .locator('#agree-file')
      .setInputFiles({ name: file.name, mimeType: 'application/json', buffer: Buffer.from(file.text) });
    expect(await digestAt(byFile.page, 'section[aria-labelledby="opened-title"] > p')).toBe(digest);
    await byFile.page.getByText('Signed on').waitFor();
    await byFile.context.close();

    const byLink = await openTab(browser, server.root);
    await byLink.page.goto(server.at('/agree/open/'));
    await ready(byLink.page);
    await byLink.page.locator('#agree-paste').fill(`Here is our agreement: ${link}.`);
    await byLink.page.getByRole('button', { name: 'Look at it' }).tap();
    expect(await digestAt(byLink.page, 'section[aria-labelledby="opened-title"] > p')).toBe(digest);
    await byLink.page.goto(`${link}.`);
    await byLink.page.reload();
    expect(await digestAt(byLink.page, 'section[aria-labelledby="opened-title"] > p')).toBe(digest);
    await byLink.page.locator('#agree-paste').fill('no link here');
    await byLink.page.getByRole('button', { name: 'Look at it' }).tap();
    await byLink.page.getByText('This is not a clinic agreement. Look for the right file or link.').waitFor();
    await byLink.context.close();
  });
});

/** A phone whose browser reads codes: the reader and the camera are stood in for, the way from one to the other is real. */
const withCamera = (code: string | undefined) => {
  const looks = { pictures: 0, off: 0 };
  Object.assign(globalThis, {
    cameraLooks: looks,
    BarcodeDetector: class {
      static async getSupportedFormats(): Promise<string[]> {
        return ['qr_code'];
      }
      detect = async (video: HTMLVideoElement) => {
        looks.pictures += 1;
        return code !== undefined && looks.pictures > 2 && video.srcObject ? [{ rawValue: code }] : [];
      };
    },
  });
  Object.defineProperty(navigator, 'mediaDevices', {
    value: {
      getUserMedia: async () => {
        const canvas = document.createElement('canvas');
        const stream = canvas.captureStream();
        // A camera's pictures keep coming.
        const draw = () => canvas.getContext('2d')?.fillRect(0, 0, 10, 10);
        setInterval(draw, 50);
        for (const track of stream.getTracks()) {
          const stop = track.stop.bind(track);
          track.stop = () => {
            if (track.readyState === 'live') looks.off += 1;
            stop();
          };
        }
        return stream;
      },
    },
  });
};

describe('by the camera', () => {
  test('a code is read, the camera is off again, and nothing is in force before the question', async () => {
    const { page, context, faults } = await openTab(browser, server.root);
    await page.addInitScript(withCamera, link);
    await page.goto(server.at('/agree/open/'));
    await ready(page);
    await page.getByRole('button', { name: 'Read a QR code with the camera' }).tap();
    await page.getByLabel('What the camera sees').waitFor();
    expect(await digestAt(page, 'section[aria-labelledby="opened-title"] > p')).toBe(digest);
    await page.getByLabel('What the camera sees').waitFor({ state: 'detached' });
    const looks = await page.evaluate(() => (globalThis as unknown as { cameraLooks: object }).cameraLooks);
    expect(looks).toEqual({ pictures: 3, off: 1 });
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).waitFor();
    expect(await line(page).isVisible()).toBe(false);
    expect(faults).toEqual({ errors: [], policy: [], elsewhere: [] });
    await context.close();
  });

  test('another code is refused; switching off stops the camera; without a reader of codes there is no button', async () => {
    const { page, context } = await openTab(browser, server.root);
    await page.addInitScript(withCamera, 'https://example.org/menu');
    await page.goto(server.at('/agree/open/'));
    await ready(page);
    await page.getByRole('button', { name: 'Read a QR code with the camera' }).tap();
    await page.getByText('This is not a clinic agreement.').waitFor();
    await context.close();

    const left = await openTab(browser, server.root);
    await left.page.addInitScript(withCamera, undefined);
    await left.page.goto(server.at('/agree/open/'));
    await ready(left.page);
    await left.page.getByRole('button', { name: 'Read a QR code with the camera' }).tap();
    await left.page.waitForFunction(
      () => (globalThis as unknown as { cameraLooks: { pictures: number } }).cameraLooks.pictures > 3,
    );
    await left.page.getByRole('button', { name: 'Switch the camera off' }).tap();
    await left.page.getByLabel('What the camera sees').waitFor({ state: 'detached' });
    await left.page.waitForFunction(
      () => (globalThis as unknown as { cameraLooks: { off: number } }).cameraLooks.off === 1,
    );
    await left.context.close();

    const without = await openTab(browser, server.root);
    await without.page.addInitScript(() => Reflect.deleteProperty(globalThis, 'BarcodeDetector'));
    await without.page.goto(server.at('/agree/open/'));
    await ready(without.page);
    expect(await without.page.getByRole('button', { name: 'Read a QR code with the camera' }).count()).toBe(0);
    await without.context.close();
  });
});

describe('a year later, when one published number is another', () => {
  test('every page and the note say that the evidence has changed', async () => {
    const { page, context } = tab;
    await page.goto(server.at('/agree/open/#draft'));
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Tern Valley').waitFor();
    expect(await line(page).evaluate((place) => place.classList.contains('care'))).toBe(false);
    await aYearLater(context);
    // Counted on the first page that needs the evidence anyhow; from then on every page says it.
    await page.goto(server.at('/measuring/vital-capacity/'));
    await line(page).getByText('has changed').waitFor();
    await page.goto(server.at('/about/'));
    await line(page).getByText('The evidence under 2 of its criteria has changed.').waitFor();
    expect(await line(page).evaluate((place) => place.classList.contains('care'))).toBe(true);
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.getByLabel('Age', { exact: true }).fill('61');
    await openParts(page);
    await type(page, 'fvc-percent', '60');
    await page.locator('.found .finding.met', { hasText: 'Agreed by Tern Valley' }).first().waitFor();
    const note = plain(await page.locator('#note-text').inputValue());
    expect(note).toContain(`(digest ${digest}; the published evidence behind 2 of its criteria has changed)`);
  });

  test('the revision keeps the list, before and after, until each is ticked', async () => {
    const { page } = tab;
    await page.goto(server.at('/agree/'));
    await ready(page);
    page.once('dialog', (dialog) => void dialog.accept());
    await page.getByRole('button', { name: 'Revise the one in force' }).tap();
    const list = page.locator('.checked .changed-evidence');
    await list.waitFor();
    expect(await page.locator('.checked .draft-word').count()).toBe(1);
    expect(plain(await list.locator('.before').first().textContent())).toContain('Before: FVC below 50 % predicted');
    expect(plain(await list.locator('.after').first().textContent())).toContain('Now: FVC below 55 % predicted');
    await page.reload();
    await ready(page);
    await list.waitFor();
    await chip(list, 'Evidence reviewed').first().tap();
    await list.getByText('For the team to review: one criterion').waitFor();
    await chip(list, 'Evidence reviewed').first().tap();
    await list.waitFor({ state: 'detached' });
  });

  test('the revision asks anew who was present and who agreed', async () => {
    const { page } = tab;
    for (const who of ['Who was present', 'Who agreed'])
      expect(await fieldset(page, who).getByRole('checkbox', { checked: true }).count()).toBe(0);
    await page.getByText('Who agreed: to be filled in').waitFor();
    for (const role of ['Physician', 'Respiratory therapist']) await chip(fieldset(page, 'Who agreed'), role).tap();
  });

  test('the new version is dated today and numbered; comparing says what the two share', async () => {
    const { page } = tab;
    await chip(page.locator('.checked'), 'Agreed in the meeting').tap();
    await page.waitForTimeout(500);
    const next = await handedOut(page, 'Save as a file');
    const today = await page.evaluate(() => new Date().toLocaleDateString('sv'));
    expect(JSON.parse(next.text)).toMatchObject({ revision: 2, agreed: today, status: 'agreed' });
    expect(next.name).toBe(`tern-valley-${today}-revision-2.json`);
    await page.locator('.checked').getByRole('link', { name: 'Put in force on this device' }).tap();
    await page.locator('.recorded').waitFor();
    expect(plain(await page.locator('.recorded').textContent())).toContain(
      'The thresholds are the same; the evidence recorded for them differs (2)',
    );
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Tern Valley').waitFor();
    await page.goto(server.at('/about/'));
    await line(page).getByText('revision 2, agreed').waitFor();
    await page.waitForTimeout(500);
    expect(await line(page).evaluate((place) => place.classList.contains('care'))).toBe(false);
  });

  test('the old one stays on the device: a switch asks first, and undo takes it back', async () => {
    const { page } = tab;
    await page.goto(server.at('/agree/'));
    await ready(page);
    await page.locator('.shelf > summary').tap();
    expect(plain(await page.locator('.shelf').textContent())).toContain(`Digest ${digest}`);
    await page.locator('.shelf').getByRole('link', { name: 'Switch to this one' }).tap();
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Tern Valley').waitFor();
    await line(page).getByText('revision 2').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText('Undone').waitFor();
    await line(page).getByText('revision 2').waitFor();
  });

  test('nothing went wrong on the way, and nothing was sent anywhere', () => {
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});
