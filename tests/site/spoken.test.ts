/** What a screen reader is given: the browser's own accessibility tree, where a page answers, refuses and draws. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { field, openCalculator } from './form.ts';
import { answerSign, openParts, openSheet, plain, type } from './sheet.ts';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

interface Heard {
  role: string;
  name: string;
  description: string;
  /** invalid, expanded, checked, level, live... as the browser tells them */
  states: Record<string, unknown>;
}

/** In the order of reading; what only lays out is left out. */
async function heard(page: Page): Promise<Heard[]> {
  const inspector = await page.context().newCDPSession(page);
  const { nodes } = await inspector.send('Accessibility.getFullAXTree');
  await inspector.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const ordered: typeof nodes = [];
  const walk = (id: string | undefined): void => {
    const node = id === undefined ? undefined : byId.get(id);
    if (!node) return;
    ordered.push(node);
    for (const child of node.childIds ?? []) walk(child);
  };
  walk(nodes[0]?.nodeId);
  return ordered
    .filter(({ ignored, role }) => !ignored && !/^(generic|none|InlineTextBox)$/.test(String(role?.value)))
    .map(({ role, name, description, properties = [] }) => ({
      role: String(role?.value ?? ''),
      name: plain(String(name?.value ?? '')),
      description: plain(String(description?.value ?? '')),
      states: Object.fromEntries(properties.map((one) => [one.name, one.value.value])),
    }));
}

const named = (all: readonly Heard[], role: string, name: string | RegExp): Heard | undefined =>
  all.find((one) => one.role === role && (typeof name === 'string' ? one.name === name : name.test(one.name)));
const placeOf = (all: readonly Heard[], role: string, name: string | RegExp): number =>
  all.indexOf(named(all, role, name) as Heard);

describe('a typed reading', () => {
  test('is answered under a heading, criterion by criterion with its source, and told once', async () => {
    const { page } = tab;
    await page.goto(server.at('/search/'));
    await page.locator('#q').fill('sniff 38');
    await page.waitForFunction(() => document.querySelector('#search-status')?.textContent !== '');
    const all = await heard(page);
    expect(named(all, 'searchbox', 'A reading, a sign or a whole line')?.states.focused).toBe(true);
    const answer = placeOf(all, 'heading', 'SNIP 38 cmH2O');
    const crossed = placeOf(all, 'heading', /^May meet \d+ criteria, depending on the person/);
    const source = placeOf(all, 'link', 'NICE NG42');
    expect([answer > 0, crossed > answer, source > crossed]).toEqual([true, true, true]);
    expect(
      all
        .slice(crossed, source)
        .map(({ name }) => name)
        .join(' '),
    ).toContain('below 40 cmH2O');
    const told = all.filter(({ role, states }) => role === 'status' && states.live === 'polite');
    expect(told.length).toBeGreaterThan(0);
    expect(
      all.filter(({ name, role }) => role === 'StaticText' && /^SNIP 38 cmH2O\. \d+ pages found\.$/.test(name)),
    ).toHaveLength(1);
  });
});

describe('a calculator', () => {
  test('each field has its name, its help and its unit; a refusal is on the field that caused it', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'ideal-body-weight');
    const before = await heard(page);
    expect(named(before, 'radiogroup', /^Sex/) ?? named(before, 'group', /^Sex/)).toBeDefined();
    expect(named(before, 'radio', 'Female')).toBeDefined();
    expect(named(before, 'textbox', 'Height')?.states.invalid).not.toBe('true');
    expect(named(before, 'combobox', 'Unit of Height')).toBeDefined();
    await field(page, 'height').fill('17');
    await page.locator('h1').click();
    const after = await heard(page);
    const height = named(after, 'textbox', 'Height');
    expect(height?.states.invalid).toBe('true');
    expect(height?.description).toMatch(/17/);
    expect(named(after, 'radio', 'Female')?.states.invalid).not.toBe('true');
  });

  test('a formula is there as a plain line, whatever a reader makes of the set one', async () => {
    const { page } = tab;
    await openCalculator(page, server, 'ideal-body-weight');
    const all = await heard(page);
    expect(all.some(({ role, name }) => role === 'StaticText' && /ideal weight = /.test(name))).toBe(true);
  });
});

describe('a gauge', () => {
  test('is one picture with words, its ticks are not read one by one, and a list says the same', async () => {
    const { page } = tab;
    await page.goto(server.at('/measuring/sniff-pressure/'));
    const all = await heard(page);
    const pictures = all.filter(
      ({ role, name }) => /^(image|img|graphics-document)$/.test(role) && /criteria|thresholds/i.test(name),
    );
    expect(pictures.length).toBeGreaterThan(0);
    expect(all.filter(({ role, name }) => /^(image|img)$/.test(role) && name === '')).toEqual([]);
    expect(all.some(({ role, name }) => role === 'StaticText' && name.includes('below 40'))).toBe(true);
  });
});

describe('the visit sheet', () => {
  test('a finding is told by a word before its rule, and what stays open is told as open', async () => {
    const { page } = tab;
    await openSheet(page, server.at('/visit/'));
    await page.getByLabel('Disease').selectOption('als');
    await page.getByLabel('Age', { exact: true }).fill('61');
    await openParts(page);
    await type(page, 'snip', '38');
    await answerSign(page, 'orthopnoea', 'Yes');
    await answerSign(page, 'respiratory-infection', 'Yes');
    await page.locator('.found .finding.met').first().waitFor();
    const all = await heard(page);
    const said = all.filter(({ role }) => role === 'StaticText').map(({ name }) => name);
    expect(said.filter((words) => words === 'Met').length).toBeGreaterThan(0);
    const yes = all.filter(({ role, name, states }) => role === 'radio' && name === 'Yes' && states.checked === 'true');
    expect(yes).toHaveLength(1);
    // Each question is the name of its group of answers.
    expect(named(all, 'group', /chest infection/i) ?? named(all, 'radiogroup', /chest infection/i)).toBeDefined();
    // A symptom in the list to tick has its name, and the list its own.
    expect(named(all, 'checkbox', /lying flat/i)?.states.checked).toBe('true');
    expect(named(all, 'group', /tick what is present/i)).toBeDefined();
    expect(named(all, 'textbox', 'Sniff pressure (SNIP)')).toBeDefined();
  });
});

describe('every page', () => {
  test('has its landmarks by name, and the bar says where one is', async () => {
    const { page } = tab;
    await page.goto(server.at('/calculators/'));
    const all = await heard(page);
    for (const role of ['banner', 'main', 'contentinfo'])
      expect([role, all.filter((one) => one.role === role).length]).toEqual([role, 1]);
    const bars = all.filter(({ role }) => role === 'navigation');
    expect(bars.length).toBeGreaterThan(0);
    expect(bars.filter(({ name }) => name === '')).toEqual([]);
    expect(named(all, 'link', /^Calculators/)).toBeDefined();
  });
});
