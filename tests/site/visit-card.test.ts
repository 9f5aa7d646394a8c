/** The emergency card: what a stranger has to know first, from today where it was asked and from the last visit where not. */
import type { ComponentChild, VNode } from 'preact';
import { describe, expect, test } from 'vitest';
import type { KeptVisit } from '../../calculators/visit/series.ts';
import { sayDate } from '../../src/browser/say-date.ts';
import { Card } from '../../src/islands/visit/Card.tsx';
import { cardLines } from '../../src/islands/visit/card-lines.ts';
import { type Entries, noEntries, toVisit } from '../../src/islands/visit/entries.ts';
import { lastForCard } from '../../src/islands/visit/last-time.ts';
import { readDecisions, readMeasures } from '../read-content.ts';
import { accessFaults, overflow } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab } from './browser.ts';
import { printedText } from './pdf.ts';
import { answerSign, openParts, openSheet, paperPages, plain, type } from './sheet.ts';

const [measures, decisions] = [readMeasures(), readDecisions()];

const visit = (date: string, more: Partial<KeptVisit> = {}): KeptVisit => ({
  date,
  readings: {},
  notDone: {},
  signs: {},
  supports: {},
  prediction: { set: 'gli-2022-global' },
  wishes: [],
  answers: '',
  asked: '',
  plan: [],
  ...more,
});
const spring = visit('2026-05-28', {
  wishes: ['no-invasive-ventilation'],
  answers: 'eye board; wife answers',
  signs: { orthopnoea: 'present' },
  supports: {
    'night-ventilation': { status: 'in-place', hours: '9', timeOff: '2 h, sitting' },
    'daytime-ventilation': { status: 'none' },
    'oral-suction': { status: 'ordered' },
  },
  card: { interface: 'nasal mask, medium', settings: 'as ordered on 2 May', contacts: 'ventilation service' },
});
/** A later visit that asked about none of it. */
const summer = visit('2026-08-24');

const linesOf = (before: readonly KeptVisit[], today: Partial<Entries> = {}) => {
  const entries = { ...noEntries(), date: '2026-11-23', ...today };
  return cardLines(toVisit({ disease: 'als' }, entries, measures), entries, decisions, lastForCard(before));
};

describe('what stands on it', () => {
  test('not asked today: the last visit that recorded it, with its date', () => {
    expect(linesOf([spring, summer])).toEqual({
      timeOff: ['Not asked today; on 2026-05-28: Night NIV: 2 h, sitting'],
      flat: 'Not asked today; on 2026-05-28: breathless lying flat, or no longer lies flat',
      communicates: 'Not asked today; on 2026-05-28: eye board; wife answers',
      wishes: ['Not asked today; on 2026-05-28: Does not want invasive ventilation'],
      supports: ['Not asked today; on 2026-05-28: Night NIV: in place, 9 h in 24; Oral suction: ordered'],
    });
  });

  test('asked today: today alone', () => {
    const lines = linesOf([spring, summer], {
      supports: { 'night-ventilation': 'in-place', 'oral-suction': 'in-place' },
      supportTimes: { 'night-ventilation': { hours: '12', timeOff: '40 min' } },
      signs: { orthopnoea: 'absent' },
      answers: 'speaks',
      wishes: ['comfort-only'],
    });
    expect(lines).toEqual({
      timeOff: ['Night NIV: 40 min'],
      flat: 'not breathless lying flat',
      communicates: 'speaks',
      wishes: ['Wants comfort only'],
      supports: ['Night NIV: in place, 12 h in 24', 'Oral suction: in place'],
    });
    expect(JSON.stringify(lines)).not.toContain('2026-05-28');
  });

  test('a part asked today leaves the other part with its date', () => {
    const lines = linesOf([spring], { supports: { 'night-ventilation': 'in-place' } });
    expect(lines.timeOff).toEqual(['Not asked today; on 2026-05-28: Night NIV: 2 h, sitting']);
    expect(lines.supports).toEqual(['Night NIV: in place', 'Not asked today; on 2026-05-28: Oral suction: ordered']);
  });

  test('a ventilator given up since then has no time off it', () => {
    expect(linesOf([spring], { supports: { 'night-ventilation': 'declined' } }).timeOff).toEqual(['not recorded: ask']);
    const declined = visit('2026-08-24', { supports: { 'night-ventilation': { status: 'declined' } } });
    expect(linesOf([spring, declined]).timeOff).toEqual(['not recorded: ask']);
    expect(linesOf([spring, declined]).supports).toEqual([
      'Not asked today; on 2026-08-24: Night NIV: declined',
      'Not asked today; on 2026-05-28: Oral suction: ordered',
    ]);
    expect(
      linesOf([spring], { supports: { 'night-ventilation': 'none', 'daytime-ventilation': 'none' } }).timeOff,
    ).toEqual(['no ventilator in place']);
  });

  test('what was never recorded is not known, and nothing reads as a no', () => {
    expect(linesOf([])).toEqual({
      timeOff: ['not recorded: ask'],
      flat: 'not recorded: ask before lying them flat',
      communicates: 'not recorded: ask, and give time to answer',
      wishes: ['not recorded: ask'],
      supports: ['not recorded: ask'],
    });
  });

  test('wishes not talked about do not hide one that was told before', () => {
    expect(linesOf([spring], { wishes: ['not-discussed'] }).wishes).toEqual([
      'Not talked about today; on 2026-05-28: Does not want invasive ventilation',
    ]);
    expect(linesOf([spring, visit('2026-08-24', { wishes: ['not-discussed'] })]).wishes).toEqual([
      'Not asked today; on 2026-05-28: Does not want invasive ventilation',
    ]);
    expect(linesOf([], { wishes: ['not-discussed'] }).wishes).toEqual(['Not discussed yet: ask']);
  });
});

/** The card's own markup, of elements and text alone. */
function markup(child: ComponentChild): string {
  if (Array.isArray(child)) return child.map(markup).join('');
  if (child === null || child === undefined || typeof child === 'boolean') return '';
  if (typeof child !== 'object') return String(child).replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  const { type: tag, props } = child as VNode<{ children?: ComponentChild; class?: string }>;
  if (typeof tag === 'function') return markup((tag as (all: object) => ComponentChild)(props));
  const inside = markup(props.children);
  return tag ? `<${tag} class="${props.class ?? ''}">${inside}</${tag}>` : inside;
}

const urgent = [
  'Call the emergency number now. SpO2 at rest 84 % is below 90 %, on oxygen.',
  'Same day: call the ventilation service. PaCO2 9.3 kPa is above 6 kPa.',
];
const cardOf = (found: readonly string[], entries: Entries) => {
  const whole = markup(
    Card({
      visit: toVisit({ disease: 'als' }, entries, measures),
      entries,
      measures,
      decisions,
      before: [spring, summer],
      urgent: found,
      onChange: () => undefined,
    }),
  );
  return { whole, sheet: /<article.*<\/article>/s.exec(whole)?.[0] ?? '' };
};

/** As full as a real one gets. */
const full: Entries = {
  ...noEntries(),
  date: '2026-11-23',
  readings: Object.fromEntries(
    [
      ['spo2', '84', '%'],
      ['fvc-percent', '31', '%'],
      ['peak-cough-flow', '140', 'L/min'],
      ['paco2', '9.3', 'kPa'],
      ['bicarbonate', '38', 'mmol/L'],
      ['weight', '52', 'kg'],
    ].map(([id, text, unit]) => [id, { text, unit, flags: [] }]),
  ) as unknown as Entries['readings'],
  supports: Object.fromEntries(
    Object.entries(decisions)
      .filter(([, { status }]) => status)
      .map(([id]) => [id, 'in-place']),
  ),
  supportTimes: {
    'night-ventilation': { hours: '10', timeOff: '40 min sitting, less when tired' },
    'daytime-ventilation': { hours: '9', timeOff: '20 min' },
  },
  wishes: ['no-invasive-ventilation', 'no-hospital'],
  answers: 'Eye board, slow. Looks up for yes and down for no. Her husband answers about machines, never about wishes.',
  card: {
    interface: 'Night: full face mask, medium. Day: mouthpiece on an arm. Spare of both in the side pocket of the bag.',
    settings:
      'Order of 2 November: volume-assured pressure support, target 420 mL, EPAP 5, pressure support 8 to 18 cmH2O, rate 14, inspiratory time 1.1 s. Second set for the mouthpiece: 900 mL, rate 0. MI-E +35/-40 cmH2O, five breaths, four rounds.',
    contacts:
      'Ventilation service, day and night: 01234 567890. Equipment supplier: 01234 567891. Husband: 07700 900123. Tern Valley Neuromuscular Clinic in office hours.',
  },
};

describe('its paper', () => {
  test('urgent findings of this visit stand near the top with their date, before anything measured', () => {
    const { sheet } = cardOf(urgent, full);
    const text = plain(sheet.replace(/<[^>]*>/g, ' '));
    expect(text).toContain(`Urgent at the visit on ${sayDate('2026-11-23')}`);
    for (const line of urgent) expect(text).toContain(line);
    expect(text.indexOf(urgent[0] ?? '?')).toBeGreaterThan(-1);
    expect(text.indexOf(urgent[1] ?? '?')).toBeLessThan(text.indexOf('Longest time off the ventilator'));
    expect(text.indexOf('Longest time off the ventilator')).toBeLessThan(
      text.indexOf(`Measured on ${sayDate('2026-11-23')}`),
    );
    expect(cardOf([], full).sheet).not.toContain('Urgent');
  });

  test('name, date of birth and allergies are lines for a pen, and no field asks for them', () => {
    const { whole, sheet } = cardOf([], noEntries());
    for (const label of ['Name', 'Date of birth', 'Allergies'])
      expect(sheet).toMatch(new RegExp(`${label} <span class="rule"></span>`));
    expect(whole).not.toMatch(/<label[^>]*>[^<]*(name|birth|allerg)/i);
    expect(whole).toContain('Who to call');
    expect(whole).not.toMatch(/\bring\b/);
  });

  test('an empty card, a full one, one with twelve urgent findings and all in between are one page each', async () => {
    const { context, page } = await openTab(browser, server.root);
    await openSheet(page, server.at('/visit/'));
    const twelve = Array.from({ length: 6 }, (_, at) => urgent.map((line) => `${at}. ${line}`)).flat();
    const sized = (settings: number, found: readonly string[]) =>
      [found, { ...full, card: { ...full.card, settings: 'IPAP 16 '.repeat(settings / 8) } }] as const;
    const cards: (readonly [readonly string[], Entries])[] = [
      [[], { ...noEntries(), date: '2026-11-23' }],
      [urgent, full],
      [twelve, full],
      ...[0, 80, 160, 240, 400, 800].flatMap((settings) => [sized(settings, []), sized(settings, urgent)]),
    ];
    for (const [found, entries] of cards) {
      await page.locator('.sheet').evaluate((sheet, html) => {
        sheet.outerHTML = html;
        document.body.dataset.paper = 'card';
      }, cardOf(found, entries).sheet);
      for (const format of ['A4', 'Letter']) {
        const pdf = await page.pdf({ format });
        expect({ found, settings: entries.card.settings, pages: paperPages(pdf) }).toMatchObject({ pages: 1 });
        const paper = printedText(pdf);
        for (const line of found) expect(paper).toContain(line.replace(/\s+/g, ''));
        for (const label of ['Name', 'Dateofbirth', 'Allergies', 'Whotocall']) expect(paper).toContain(label);
      }
    }
    await context.close();
  });
});

test('on the sheet: what today has goes in as it is typed, what it has not comes from the visit before', async () => {
  const { context, page, faults } = await openTab(browser, server.root);
  await openSheet(page, server.at('/visit/'));
  await page.locator('#visit-date').fill('2026-11-23');
  await page.setInputFiles('#series-file', {
    name: 'visits.json',
    mimeType: 'application/json',
    buffer: Buffer.from(
      JSON.stringify({ format: 'tidemark-visits', version: 1, person: { disease: 'als' }, visits: [spring, summer] }),
    ),
  });
  await page.locator('.opening [role=status]', { hasText: '2 visits opened' }).waitFor();
  await page.getByText('Emergency card for the hospital bag').tap();
  const row = async (title: RegExp) =>
    plain(await page.locator('.sheet dt', { hasText: title }).locator('xpath=following-sibling::dd[1]').textContent());
  expect(await row(/^Longest time off the ventilator$/)).toBe(
    'Not asked today; on 28 May 2026: Night NIV: 2 h, sitting',
  );
  expect(await row(/^Lying flat$/)).toMatch(/^Not asked today; on 28 May 2026: breathless lying flat/);
  await openParts(page);
  await answerSign(page, 'orthopnoea', 'No');
  expect(await row(/^Lying flat$/)).toBe('not breathless lying flat');
  await type(page, 'spo2', '93');
  expect(await row(/^Measured on 23 November 2026/)).toContain('SpO2 93 %');
  // What was written on the card two visits ago is offered, though the last visit wrote nothing.
  await page.getByRole('button', { name: 'Copy what was written on 28 May 2026' }).tap();
  expect(await page.getByLabel('Who to call').inputValue()).toBe('ventilation service');
  expect(await row(/^Who to call$/)).toBe('ventilation service');
  expect(await accessFaults(page, '.card')).toEqual([]);
  await page.setViewportSize({ width: 320, height: 640 });
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  expect(faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  await context.close();
}, 120_000);
