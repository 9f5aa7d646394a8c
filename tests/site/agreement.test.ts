/** A clinic agrees on its criteria, signs them, hands them on, and a phone without a signal shows them. */
import { createHash } from 'node:crypto';
import { correction, generate } from 'lean-qr';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import pkg from '../../package.json' with { type: 'json' };
import { accessFaults, overflow } from './access.ts';
import { browser, server } from './at-hand.ts';
import { installed, openTab, phone, startOptions, type Tab } from './browser.ts';
import { dist } from './built.ts';
import { printedText } from './pdf.ts';
import { serve } from './server.ts';
import { chip, openParts, openSheet, plain, type } from './sheet.ts';

const ready = (page: Page) => page.locator('form.agree > fieldset:enabled').waitFor();
const block = (page: Page, decision: string, measure: string) =>
  page.locator(`[data-decision="${decision}"] [data-measure="${measure}"]`);
const held = (page: Page) => page.evaluate(() => localStorage.getItem('tidemark:agreement'));
/** The text of a place, with no-break spaces as spaces. */
const textOf = async (page: Page, place: string) => plain(await page.locator(place).first().textContent());
/** Eight groups of four, as on the screen and on paper. */
const digestIn = /digest ((?:[0-9a-f]{4} ){7}[0-9a-f]{4});/i;
const line = (page: Page) => page.locator('[data-agreement-line]');

async function open(page: Page, decision: string, measure: string): Promise<void> {
  const inner = block(page, decision, measure);
  await page.locator('#agree-decision').selectOption(decision);
  const folded = page.locator('.less-usual:not([open])', { has: page.locator(`[data-measure="${measure}"]`) });
  if ((await folded.count()) > 0) await folded.locator('> summary').tap();
  if ((await inner.getAttribute('open')) === null) await inner.locator('> summary').tap();
}

/** Keep the published criterion of a source as it is. */
async function keepPublished(page: Page, decision: string, measure: string, source: string): Promise<void> {
  await open(page, decision, measure);
  await block(page, decision, measure)
    .locator('.offered > li', { hasText: source })
    .first()
    .getByRole('button', { name: 'Keep this' })
    .tap();
}

/** Start from a source's criterion, or from none, and set another value with a reason. */
async function setOwn(
  page: Page,
  decision: string,
  measure: string,
  source: string | undefined,
  value: string,
  reason: string,
  side?: string,
): Promise<void> {
  await open(page, decision, measure);
  const place = block(page, decision, measure);
  if (source === undefined) await place.getByRole('button', { name: 'Set a criterion of our own' }).tap();
  else
    await place
      .locator('.offered > li', { hasText: source })
      .first()
      .getByRole('button', { name: 'Set another value' })
      .tap();
  const form = place.locator('.own');
  if (side !== undefined) await chip(form, side).tap();
  await form.locator('input[inputmode="decimal"]').fill(value);
  await form.getByLabel('Reason').fill(reason);
  await form.getByRole('button', { name: 'Add this criterion' }).tap();
  await form.waitFor({ state: 'detached' });
}

/** The fields of each object by name, without spaces: written anew here, so that the program's own form is compared with another. */
const sorted = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(sorted).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const fields = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${fields.map(([name, part]) => `${JSON.stringify(name)}:${sorted(part)}`).join(',')}}`;
};

const tenCriteria = [
  'FVC below 50 % predicted',
  'FVC below 65 % predicted',
  'SNIP below 40 cmH2O',
  'PaCO2 at or above 45 mmHg',
  'peak cough flow below 270 L/min',
  'peak cough flow below 200 L/min',
  'ventilator hours: more than 14 h/day',
  'bicarbonate at or above 27 mmol/L',
  'SpO2 at or below 93 %',
  'orthopnoea present',
];

async function agreeOnTen(page: Page): Promise<void> {
  await page.getByLabel('Name of the clinic').fill('Tern Valley');
  const who = page.locator('fieldset', { has: page.locator('legend', { hasText: 'Who agreed' }) }).last();
  await chip(who, 'Physician').tap();
  await chip(who, 'Respiratory therapist').tap();
  await chip(page, 'ECSC 1993').tap();
  await page.getByRole('button', { name: 'Add a phone' }).tap();
  await page.getByLabel('Who, and when 1').fill('Ventilation service, weekdays');
  await page.getByLabel('Number 1').fill('(01632) 960 101');
  await page.getByRole('button', { name: 'Add a wait' }).tap();
  await page.getByLabel('What 1').fill('MI-E device');
  await page.getByLabel('Weeks 1').fill('6');
  await keepPublished(page, 'night-ventilation', 'fvc-percent', 'AAN 2009');
  await setOwn(page, 'night-ventilation', 'fvc-percent', 'AAN 2009', '65', 'Machines take three weeks to come');
  await keepPublished(page, 'night-ventilation', 'snip', 'AAN 2009');
  await keepPublished(page, 'night-ventilation', 'paco2', 'ACI Australia 2012');
  await keepPublished(page, 'night-ventilation', 'orthopnoea', 'AAN 2009');
  await keepPublished(page, 'cough-help', 'peak-cough-flow', 'AARC 2013');
  await setOwn(page, 'cough-help', 'peak-cough-flow', undefined, '200', 'The device takes six weeks', 'below');
  await setOwn(page, 'dependency', 'niv-hours', 'US expert panel 2021', '14', 'Power cuts in winter');
  await keepPublished(page, 'watching-closer', 'bicarbonate', 'Common practice');
  await setOwn(page, 'watching-closer', 'spo2', undefined, '93', 'The laboratory is next door', 'at or below');
}

describe('a team on a phone, starting from nothing', () => {
  let tab: Tab;
  let link: string;
  /** the address in the QR code */
  let scanned: string;
  beforeAll(async () => {
    tab = await openTab(browser, server.root, { permissions: ['clipboard-read', 'clipboard-write'] });
    await tab.page.goto(server.at('/agree/'));
    await ready(tab.page);
    await agreeOnTen(tab.page);
    await chip(tab.page, 'Agreed in the meeting').tap();
    await tab.page.getByText('10 criteria, complete').waitFor();
  }, 120_000);
  afterAll(() => tab.context.close());

  test('agrees on ten criteria, each with its people, its source and its reason', async () => {
    const list = (await tab.page.locator('.checked .agreed-list > li').allTextContents()).map(plain);
    expect(list).toHaveLength(10);
    for (const criterion of tenCriteria) expect(list.filter((item) => item.includes(criterion))).toHaveLength(1);
    expect(list.find((item) => item.includes('FVC below 65'))).toContain(
      'Changed from AAN 2009, figure 1, algorithm for respiratory management, which says below 50 % predicted',
    );
    expect(list.find((item) => item.includes('ventilator hours'))).toContain(
      'Outside the range of the published criteria, on the more cautious side (published: 18 h/day)',
    );
  });

  test('a criterion less cautious than every source says so before it is added, and asks for a reason', async () => {
    await open(tab.page, 'night-ventilation', 'fvc-percent');
    const place = block(tab.page, 'night-ventilation', 'fvc-percent');
    await place.getByRole('button', { name: 'Set a criterion of our own' }).tap();
    const form = place.locator('.own');
    await chip(form, 'below').tap();
    await form.locator('input[inputmode="decimal"]').fill('30');
    expect(plain(await form.locator('.care').textContent())).toContain(
      'Less cautious than every published criterion for the same measure (published: 50 to 80 %)',
    );
    await form.getByRole('button', { name: 'Add this criterion' }).tap();
    expect(plain(await form.locator('.problem').last().textContent())).toContain('Give the reason');
    expect(await tab.page.locator('.checked .agreed-list > li').count()).toBe(10);
    await form.getByRole('button', { name: 'Cancel' }).tap();
  });

  test('an unchecked number can only be taken by saying who read its source', async () => {
    const place = block(tab.page, 'night-ventilation', 'fvc-percent');
    await place.locator('details.unread > summary').tap();
    const item = place.locator('.unread .offered > li').first();
    expect(await item.getByRole('button', { name: 'Keep this' }).count()).toBe(0);
    await item.getByRole('button', { name: 'We have read its source' }).tap();
    await item.getByRole('button', { name: 'Add this criterion' }).tap();
    expect(plain(await item.locator('.problem').last().textContent())).toContain(
      'Say who read the source, when, and where in the source',
    );
    await item.getByRole('button', { name: 'Cancel' }).tap();
  });

  test('nothing is in force before someone says so, and a reload keeps the draft', async () => {
    expect(await held(tab.page)).toBeNull();
    expect(await line(tab.page).isVisible()).toBe(false);
    await tab.page.reload();
    await ready(tab.page);
    await tab.page.getByText('10 criteria, complete').waitFor();
  });

  test('the screen has no access faults and fits 320 pixels', async () => {
    expect(await accessFaults(tab.page)).toEqual([]);
    await tab.page.setViewportSize({ width: 320, height: 640 });
    expect(await overflow(tab.page)).toBeLessThanOrEqual(0);
    await tab.page.setViewportSize({ width: 390, height: 844 });
  });

  test('the printed paper holds all ten, their reasons, the phone number, a line for each role, and the digest', async () => {
    await tab.page.getByRole('link', { name: 'Sign-off paper' }).last().tap();
    await tab.page.locator('.paper .code svg path').waitFor();
    await tab.page.locator('.paper > .small', { hasText: 'digest' }).waitFor();
    const digest = digestIn.exec(await textOf(tab.page, '.paper > .small'))?.[1] ?? 'none';
    const edition = await tab.page.locator('.foot time').first().textContent();
    const paper = printedText(await tab.page.pdf({ format: 'A4' }));
    const squeezed = (text: string) => text.normalize('NFKC').replace(/\s+/g, '');
    for (const criterion of tenCriteria) expect(paper).toContain(squeezed(criterion));
    for (const text of [
      'Machines take three weeks to come',
      'Kept as published: AARC 2013',
      'Ventilation service, weekdays: (01632) 960 101',
      'Role Signature Date Physician Respiratory therapist',
      `digest ${digest}; handbook ${pkg.version}, built ${edition}.`,
    ])
      expect(paper).toContain(squeezed(text));
    await tab.page.goBack();
    await ready(tab.page);
  });

  test('the link says its size, carries everything after the #, and opens as it was', async () => {
    await tab.page.getByText('10 criteria, complete').waitFor();
    await tab.page.getByRole('button', { name: 'Copy a link' }).tap();
    await tab.page.getByText('The link is copied').waitFor();
    link = await tab.page.evaluate(() => navigator.clipboard.readText());
    expect(link.startsWith(server.at('/agree/open/#1.'))).toBe(true);
    expect(await textOf(tab.page, '.checked .small >> text=link')).toContain(
      `link ${link.length.toLocaleString('en-GB')} characters`,
    );
  });

  test('the QR code opens the same agreement', async () => {
    await tab.page.getByRole('button', { name: 'Show a QR code' }).tap();
    const picture = tab.page.locator('.checked .code svg');
    scanned = (await picture.getAttribute('data-address')) ?? '';
    // What is drawn, square by square with the white margin, is the code of that address and no other.
    const squares = await picture.evaluate(async (svg) => {
      const size = Number(svg.getAttribute('viewBox')?.split(' ')[2]);
      const image = new Image(size, size);
      const copy = svg.cloneNode(true) as SVGElement;
      copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
      copy.setAttribute('width', String(size));
      copy.setAttribute('height', String(size));
      image.src = `data:image/svg+xml;base64,${btoa(copy.outerHTML)}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = size;
      canvas.height = size;
      const context = canvas.getContext('2d');
      context?.drawImage(image, 0, 0, size, size);
      const pixels = context?.getImageData(0, 0, size, size).data ?? [];
      return Array.from({ length: size }, (_, y) =>
        Array.from({ length: size }, (_, x) => ((pixels[(y * size + x) * 4] ?? 255) < 128 ? '#' : '.')).join(''),
      );
    });
    const code = generate(scanned, { minCorrectionLevel: correction.L });
    // Squares of unequal width are what a camera fails on: each is a whole number of the screen's dots, whatever the screen.
    for (const width of [320, 390, 412]) {
      await tab.page.setViewportSize({ width, height: 844 });
      await vi.waitFor(async () => {
        const room = await tab.page.locator('.checked .code').evaluate((figure) => figure.clientWidth);
        const across = Math.floor(room / (code.size + 8)) * (code.size + 8);
        expect(await picture.evaluate((svg) => [svg.clientWidth, svg.clientHeight])).toEqual([across, across]);
      });
    }
    await tab.page.setViewportSize({ width: 390, height: 844 });
    expect(squares).toEqual(
      Array.from({ length: code.size + 8 }, (_, y) =>
        Array.from({ length: code.size + 8 }, (_, x) => (code.get(x - 4, y - 4) ? '#' : '.')).join(''),
      ),
    );
    const digestOf = async (from: string) => {
      const { context, page } = await openTab(browser, server.root);
      await page.goto(from);
      const place = page.locator('section[aria-labelledby="opened-title"] > p', { hasText: digestIn });
      const words = plain(await place.textContent());
      await context.close();
      return digestIn.exec(words)?.[1];
    };
    expect(await digestOf(scanned)).toMatch(/^[0-9a-f]{4}( [0-9a-f]{4}){7}$/);
    expect(await digestOf(scanned)).toBe(await digestOf(link));
  });

  test('a phone that scanned the code sees what it would change, says yes, and without a signal sees its criteria beside the published ones', async () => {
    const own = await serve(dist);
    const { context, page, faults } = await openTab(browser, own.root, { serviceWorkers: 'allow' });
    await page.goto(own.at(`/agree/open/${new URL(scanned).hash}`));
    await page.getByRole('heading', { name: 'What it changes on this device' }).waitFor();
    const phones = await textOf(page, '.difference');
    expect(phones).toContain('Phone numbers (1)');
    expect(phones).toContain('Ventilation service, weekdays: (01632) 960 101');
    expect(await page.locator('.difference', { hasText: 'Criteria (10)' }).locator('.changes > li').count()).toBe(10);
    expect(await held(page)).toBeNull();
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await page.getByText('In force on this device: Tern Valley').waitFor();
    // Nothing of it went to the server, in any part of any address.
    expect(
      own.asked.filter((asked) => asked.includes('#') || asked.includes(new URL(scanned).hash.slice(20, 50))),
    ).toEqual([]);
    await installed(page);
    await context.setOffline(true);
    await own.stop();

    await page.goto(own.at('/measuring/vital-capacity/'));
    expect(plain(await line(page).textContent())).toContain('Shown beside the published criteria: Tern Valley, agreed');
    const local = page.locator('.criteria [data-local="criteria"]').first();
    await local.locator('details').first().waitFor();
    const words = plain(await local.textContent());
    expect(words).toContain('FVC below 50 % predicted');
    expect(words).toContain('FVC below 65 % predicted');
    expect(words).toContain('Agreed by Tern Valley');
    const published = page.locator('.criteria').first().locator('.mark', { hasText: 'AAN 2009' }).first();
    expect(await published.isVisible()).toBe(true);
    const gauge = page.locator('svg[data-gauge="fvc-percent"]').first();
    expect((await gauge.locator('[data-notch] text').allTextContents()).map(plain)).toEqual([
      'Local',
      '< 65',
      'Local',
      '< 50',
    ]);
    expect(await gauge.getAttribute('aria-label')).toContain('Agreed by Tern Valley');

    await page.locator('#hold').tap();
    await page.locator('#hold').fill('60');
    const answer = page.locator('.held .finding', { hasText: 'Agreed by Tern Valley' });
    await answer.first().waitFor();
    expect((await answer.locator('.said').allTextContents()).map(plain)).toContainEqual(
      expect.stringMatching(/FVC below 65 % predicted$/),
    );

    await openSheet(page, own.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.getByLabel('Age', { exact: true }).fill('61');
    await openParts(page);
    expect(await page.locator('input[name="visit-set"]:checked').getAttribute('value')).toBe('ecsc-1993');
    await type(page, 'fvc-percent', '60');
    const found = page.locator('.found .finding', { hasText: 'Agreed by Tern Valley' });
    await found.first().waitFor();
    const met = page.locator('.found .finding.met', { hasText: 'Agreed by Tern Valley' });
    expect((await met.locator('.said').allTextContents()).map(plain)).toEqual([
      'Met FVC 60 % predicted is below 65 % predicted.',
    ]);
    expect(await page.locator('.found .finding a[href$="#aan-als-fvc-lt-50"]').count()).toBeGreaterThan(0);
    const note = plain(await page.locator('#note-text').inputValue());
    expect(note).toContain(
      'Night ventilation, criteria of Tern Valley: FVC 60 % predicted is below 65 % predicted [agreed by Tern Valley',
    );

    await page.goto(own.at('/urgent/'));
    expect(await page.locator('[data-phones] a').getAttribute('href')).toBe('tel:01632960101');

    const second = await context.newPage();
    await second.goto(own.at('/measuring/vital-capacity/'));
    await second.locator('.criteria [data-local="criteria"] details').first().waitFor();
    await line(page).getByRole('button', { name: 'Switch off' }).tap();
    await page.getByText('The clinic agreement is off').waitFor();
    expect(await page.locator('[data-phones]').isVisible()).toBe(false);
    await second.locator('.criteria [data-local="criteria"]').first().waitFor({ state: 'hidden' });
    await second.close();
    await page.goto(own.at('/measuring/vital-capacity/'));
    expect(await line(page).isVisible()).toBe(false);
    expect(await page.locator('.criteria [data-local="criteria"]').first().isVisible()).toBe(false);
    expect(await page.locator('[data-notch] *').count()).toBe(0);
    expect({ ...faults, errors: faults.errors.filter((error) => !error.includes('ERR_')) }).toEqual({
      errors: [],
      policy: [],
      elsewhere: [],
    });
    await context.close();
  }, 120_000);

  test('nothing went wrong on the way, and nothing was sent anywhere', () => {
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});

describe('the demonstration', () => {
  let context: BrowserContext;
  let first: Page;
  beforeAll(async () => {
    const tab = await openTab(browser, server.root);
    context = tab.context;
    first = tab.page;
  });
  afterAll(() => context.close());

  const demonstrate = async (page: Page) => {
    await page.goto(server.at('/agree/'));
    await page.getByRole('link', { name: /Look at a demonstration agreement/ }).tap();
    await page.getByRole('button', { name: 'Yes, put it in force on this device' }).waitFor();
  };

  test('is never in force by itself, says that it is invented, and no changes nothing', async () => {
    await demonstrate(first);
    expect(await textOf(first, '#opened-title')).toContain('demonstration, invented');
    expect(await held(first)).toBeNull();
    await first.getByRole('button', { name: 'No, change nothing' }).tap();
    await first.getByText('Nothing has changed.').waitFor();
    expect(await held(first)).toBeNull();
    await first.reload();
    await ready(first);
    expect(await first.locator('#opened-title').count()).toBe(0);
  });

  test('put in force in one tab, it is so in the other; switched off in the other, it is off in both', async () => {
    const second = await context.newPage();
    await second.goto(server.at('/measuring/vital-capacity/'));
    expect(await line(second).isVisible()).toBe(false);
    await demonstrate(first);
    await first.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    await line(second).waitFor();
    await second.locator('.criteria [data-local="criteria"] details').first().waitFor();
    await first.goto(server.at('/measuring/vital-capacity/'));
    await first.locator('.criteria [data-local="criteria"] details').first().waitFor();
    await line(second).getByRole('button', { name: 'Switch off' }).tap();
    await first.locator('.criteria [data-local="criteria"]').first().waitFor({ state: 'hidden' });
    await first.getByText('The clinic agreement is off').waitFor();
    await line(first).getByRole('button', { name: 'Switch on again' }).tap();
    await second.locator('.criteria [data-local="criteria"] details').first().waitFor();
    await second.close();
  });

  test.each<[string, string, string]>([
    [
      'cut short',
      '{"format": "tidemark-agreement", "version": 1, "clinic": "X"',
      'clinic-agreement.json, line 1: the text ends here, where a comma or } should follow: the file was cut short',
    ],
    [
      'of another version',
      '{"format": "tidemark-agreement", "version": 7}',
      'clinic-agreement.json, version (line 1): expected 1, found 7: the file is newer than this copy of the handbook',
    ],
    ['too large', ' '.repeat(200_001), 'clinic-agreement.json: expected at most 200,000 characters, found 200,001'],
    ['a page of the web', '<img src=x onerror=alert(1)>', 'clinic-agreement.json, line 1: expected a value, found "<"'],
  ])('a file %s is refused with its place, and what is in force stays', async (_, text, message) => {
    const before = await held(first);
    expect(before).toContain('Tern Valley');
    await first.goto(server.at('/agree/open/'));
    await ready(first);
    await first
      .locator('#agree-file')
      .setInputFiles({ name: 'clinic-agreement.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await first.getByRole('heading', { name: 'This cannot be used' }).waitFor();
    expect((await first.locator('.problems li').allTextContents()).map(plain)).toEqual([message]);
    expect(await textOf(first, '[role="alert"]')).toContain(
      'The agreement of Tern Valley Neuromuscular Clinic (demonstration, invented) stays in force',
    );
    expect(await held(first)).toBe(before);
  });

  test('a link that lost its end is refused, and what is in force stays', async () => {
    const before = await held(first);
    await first.goto(server.at('/agree/open/#1.abcdefg.q1bKTFGyMq'));
    await first.getByText('Part of the agreement is missing. Ask the sender to send it again, as a file.').waitFor();
    expect(await held(first)).toBe(before);
  });

  test('its digest is stored with it, is on the pocket sheet with the edition, and is the SHA-256 of its fields in order', async () => {
    const { agreement, digest } = JSON.parse((await held(first)) ?? '{}');
    expect(digest).toMatch(/^[0-9a-f]{4}( [0-9a-f]{4}){7}$/);
    // Left out: what each published criterion beside it said (decision 0026).
    for (const criterion of agreement.marks) delete criterion.was;
    expect(digest.replaceAll(' ', '')).toBe(createHash('sha256').update(sorted(agreement)).digest('hex').slice(0, 32));
    await first.goto(server.at('/learn/pocket/marks-als/'));
    await first.locator('[data-local="line"] p').waitFor();
    const words = await textOf(first, '[data-local="line"]');
    expect(words).toContain(`digest ${digest}; handbook ${pkg.version}, built `);
    await first.emulateMedia({ media: 'print' });
    expect(await first.locator('[data-local="line"]').isVisible()).toBe(true);
    await first.emulateMedia({ media: null });
  });

  test('an agreement that the version before stored without its digest is in force as before, and gets it', async () => {
    const before = JSON.parse((await held(first)) ?? '{}');
    await first.evaluate(
      (old) => localStorage.setItem('tidemark:agreement', old),
      JSON.stringify({ on: true, since: before.since, agreement: before.agreement }),
    );
    await first.goto(server.at('/learn/pocket/marks-als/'));
    await first.locator('[data-local="line"] p', { hasText: `digest ${before.digest};` }).waitFor();
    expect(JSON.parse((await held(first)) ?? '{}')).toEqual(before);
    await line(first).waitFor();
  });

  test('an overdue review is said on every page, and an agreement of another version of the site is not guessed at', async () => {
    const change = (how: string) =>
      first.evaluate((what) => {
        const now = JSON.parse(localStorage.getItem('tidemark:agreement') ?? '');
        if (what === 'overdue') now.agreement.review = '2020-01-01';
        else now.agreement.version = 9;
        localStorage.setItem('tidemark:agreement', JSON.stringify(now));
      }, how);
    await change('overdue');
    await first.goto(server.at('/about/'));
    expect(plain(await line(first).textContent())).toContain('review was due 2020-01-01');
    await change('version');
    await first.goto(server.at('/measuring/vital-capacity/'));
    await first.getByText('does not fit this version of the site. Open its file again').waitFor();
    expect(await first.locator('.criteria [data-local="criteria"]').first().isVisible()).toBe(false);
  });

  test('markup in any field is shown as text, on every page that shows it', async () => {
    const response = await first.request.get(server.at('/data/demonstration-agreement.json'));
    const agreement = await response.json();
    const markup = '<img src=x onerror="document.title=1"><b>bold</b>';
    agreement.clinic = `${markup} clinic`;
    agreement.agreedBy = [markup];
    agreement.phones = [{ label: markup, number: '555 0100' }];
    agreement.waits = [{ what: markup, weeks: 2 }];
    for (const criterion of agreement.marks) if (criterion.reason) criterion.reason = markup;
    await first.goto(server.at('/agree/open/'));
    await ready(first);
    await first
      .locator('#agree-file')
      .setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(agreement)) });
    await first.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
    for (const page of [
      '/agree/open/',
      '/measuring/vital-capacity/',
      '/decisions/night-ventilation/als/',
      '/urgent/',
      '/agree/compare/',
      '/agree/sign/',
      '/visit/',
    ]) {
      await first.goto(server.at(page));
      await first.locator('[data-agreement-line]', { hasText: '<b>bold</b>' }).waitFor();
      if (/measuring|decisions/.test(page)) await first.locator('[data-local] details').first().waitFor();
      if (/compare|sign/.test(page)) await first.locator('.agreed-list').first().waitFor();
      expect(await first.locator('img, b:text-is("bold")').count()).toBe(0);
    }
  });
});

test('over plain http the agreement opens and is used, and no digest is shown, neither a made-up one', async () => {
  // Not this computer by name: an origin that the browser takes for any host of the network.
  const start = startOptions();
  const other = await chromium.launch({
    ...start,
    args: [...(start.args ?? []), '--host-resolver-rules=MAP clinic.test 127.0.0.1'],
  });
  const root = server.root.replace('127.0.0.1', 'clinic.test');
  const { page, context } = await openTab(other, root);
  await page.goto(`${root}agree/open/#demonstration`);
  expect(await page.evaluate(() => [isSecureContext, 'subtle' in crypto])).toEqual([false, false]);
  const shown = page.locator('section[aria-labelledby="opened-title"] > p', { hasText: 'No digest in this browser' });
  expect(plain(await shown.textContent())).toMatch(
    /^No digest in this browser over http; handbook [\d.]+, built \d{4}-\d{2}-\d{2}\.\s*$/,
  );
  await page.getByRole('button', { name: 'Yes, put it in force on this device' }).tap();
  await page.getByText('In force on this device: Tern Valley').waitFor();
  expect(JSON.parse((await held(page)) ?? '{}').digest).toBeUndefined();
  await page.goto(`${root}learn/pocket/marks-als/`);
  await page.locator('[data-local="line"] p', { hasText: 'no digest in this browser over http; handbook' }).waitFor();
  await page.goto(`${root}agree/sign/`);
  await page.locator('.paper > .small', { hasText: 'no digest in this browser over http' }).waitFor();
  await context.close();
  await other.close();
});

test('without a script the fields stay disabled, and the page says so', async () => {
  const { context, page } = await openTab(browser, server.root, { ...phone, javaScriptEnabled: false });
  for (const path of ['/agree/', '/agree/open/', '/agree/compare/', '/agree/sign/']) {
    await page.goto(server.at(path));
    expect(await page.locator('form.agree > fieldset:disabled').count()).toBe(1);
    expect(await textOf(page, 'form.agree .care')).toContain('needs JavaScript and the published criteria');
    expect(await page.locator('[data-agreement-line]').isVisible()).toBe(false);
  }
  await context.close();
});
