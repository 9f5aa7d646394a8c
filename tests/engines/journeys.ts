/** What readers do most, in an engine that is not Chromium's. Each journey is a reader of its own, with nothing stored. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { dist } from '../site/built.ts';
import { printedText } from '../site/pdf.ts';
import { type Server, serve } from '../site/server.ts';
import { signal, twoVersions } from '../site/versions.ts';
import { enter, type Screen, screenOf } from './client.ts';
import type { Engine } from './engine.ts';

export function journeys(engine: Engine): void {
  describe.skipIf(!engine.found())(engine.name, () => {
    let engines: Awaited<ReturnType<Engine['start']>>;
    let server: Server;
    let reader: Screen;
    beforeAll(async () => {
      engines = await engine.start();
    });
    afterAll(() => engines?.stop());
    beforeEach(async () => {
      server = await serve(dist);
      reader = screenOf(await engines.open());
    });
    afterEach(async () => {
      await reader.close();
      await server.stop();
    });

    test('home: a typed line is answered in place, and its link opens the calculator with the numbers', async () => {
      await reader.go(server.root);
      await reader.sees('An emergency', 'nav.doors a');
      await reader.type('#q', `height 158 female ibw${enter}`);
      // Devine's line for women, 45.5 + 0.91 x (158 - 152.4) kg
      await reader.sees('50.6 kg', '#instant');
      await reader.click('#instant a', 'the calculator with these numbers');
      await reader.sees('50.6 kg', '.calculator .result');
    });

    test('search: a line with a reading is compared with the criteria, and a word finds its page', async () => {
      await reader.go(server.at('/search/'));
      await reader.type('#q', `als sniff 38${enter}`);
      await reader.sees('AAN 2009', '#instant');
      await reader.type('#q', 'sniff');
      await reader.click('#results a[href$="/measuring/sniff-pressure/"]');
      await reader.until(() => location.pathname === '/measuring/sniff-pressure/');
      await reader.sees('SNIP', 'main');
    });

    test('a calculator gives its result, takes it back for an impossible height, and says why', async () => {
      await reader.go(server.at('/calculators/ideal-body-weight/'));
      await calculate(reader);
      await reader.type(height, '17500');
      await reader.click('h1');
      await reader.until(() => document.querySelector('.calculator [aria-invalid="true"]') !== null);
      expect(await reader.run(() => document.querySelector('.calculator .result dl') === null)).toBe(true);
    });

    test('a visit leads to its note, which outlives a reload of the tab', async () => {
      await reader.go(server.at('/visit/'));
      await enterVisit(reader);
      await reader.go(server.at('/visit/'));
      await noteSays(reader, 'SNIP 38');
    });

    test('Back brings a visit as it was typed; after "Next person" it brings an empty sheet', async () => {
      await reader.go(server.at('/visit/'));
      await enterVisit(reader);
      await reader.go(server.at('/glossary/'));
      await goBackTo(reader, '/visit/');
      await reader.until(hasTyped, '38');
      await reader.go(server.at('/glossary/'));
      await reader.click('[data-person] button', 'Next person');
      await reader.click('[role=alertdialog] button', 'Clear and start the next person');
      await goBackTo(reader, '/visit/');
      await reader.until(() => !document.querySelector<HTMLFieldSetElement>('.visit fieldset')?.disabled);
      expect(await reader.until(hasNothingTyped)).toBe(true);
      expect(await reader.run(diseaseOnSheet)).toBe('');
    });

    test('an agreement from a link shows what it would change, is put in force, and stands beside the published criteria', async () => {
      await reader.go(server.at(`/agree/open/${agreementLink}`));
      await reader.sees('Tern Valley Neuromuscular Clinic (invented)', '#opened-title');
      expect(await reader.run(() => localStorage.getItem('tidemark:agreement'))).toBe(null);
      await reader.click('button.main', 'Yes, put it in force on this device');
      await reader.sees('In force on this device: Tern Valley Neuromuscular Clinic', '[role=status]');
      await reader.go(server.at('/measuring/sniff-pressure/'));
      await reader.sees('Tern Valley Neuromuscular Clinic', '[data-agreement-line]');
    });

    test('a visit is saved as a file, and the file opens on an empty sheet', async () => {
      await reader.go(server.at('/visit/'));
      await enterVisit(reader);
      await reader.click('.keeping button', 'Save as a file');
      // The browser makes the file first and fills it then.
      await expect
        .poll(() => JSON.parse(readFileSync(savedFile(reader.downloads), 'utf8')), { timeout: 30_000 })
        .toMatchObject({ format: 'tidemark-visits', person: { disease: 'als' } });
      await reader.run(() => sessionStorage.clear());
      await reader.go(server.at('/visit/'));
      await sheetReady(reader);
      expect(await reader.run(diseaseOnSheet)).toBe('');
      await reader.choose('#series-file', savedFile(reader.downloads));
      await reader.sees('1 visit opened', '.opening');
      expect(await reader.run(diseaseOnSheet)).toBe('als');
    });

    test('with the server gone, everything goes on: pages, search, a calculator, the visit sheet', async () => {
      await reader.go(server.root);
      await reader.sees('Saved on this device for use offline.', '[data-offline]');
      await server.stop();
      await reader.go(server.at('/urgent/guillain-barre/'));
      // Soon after it answers: WebKit may still be making it ready.
      await reader.until(() => navigator.serviceWorker.controller?.state === 'activated');
      await reader.go(server.at('/search/'));
      await reader.type('#q', 'sniff');
      await reader.click('#results a[href$="/measuring/sniff-pressure/"]');
      await reader.until(() => location.pathname === '/measuring/sniff-pressure/');
      await reader.go(server.at('/calculators/ideal-body-weight/'));
      await calculate(reader);
      await reader.go(server.at('/visit/'));
      await enterVisit(reader);
    });

    test('a newer version is offered, changes nothing until it is taken, and is then whole without a signal', async () => {
      const site = await twoVersions(dist);
      try {
        await reader.go(site.server.at('/about/'));
        await reader.until(() => navigator.serviceWorker.controller !== null);
        await reader.go(site.server.at('/about/'));
        await reader.sees('Saved on this device', '[data-offline]');
        site.give('two');
        await reader.until(newerIsWaiting);
        await reader.sees('A newer version is ready', '.notice');
        await reader.go(site.server.at('/urgent/'));
        expect(await reader.until(versionShown)).toBe('one');
        signal(site.server, 0);
        await reader.click('.notice button', 'Use it now');
        await reader.until(() => document.querySelector('[data-version]')?.textContent === 'two');
        await reader.go(site.server.at('/glossary/'));
        expect(await reader.until(versionShown)).toBe('two');
      } finally {
        await site.stop();
      }
    });

    test('by the rules for paper, the visit sheet shows its note and not its form', async () => {
      await reader.go(server.at('/visit/'));
      await enterVisit(reader);
      expect(await reader.run(shownOfSheet)).toEqual({ note: false, form: true, field: true, keep: true });
      await reader.run(asOnPaper);
      expect(await reader.run(shownOfSheet)).toEqual({ note: true, form: false, field: false, keep: false });
      expect(await reader.run(() => document.querySelector('.note .printed')?.textContent)).toContain('SNIP 38');
    });

    // WebKitWebDriver 2.50 has no command for printing, so WebKit has the rules above only.
    if (engine.prints)
      test('printed, the note of the visit is on the paper', async () => {
        await reader.go(server.at('/visit/'));
        await enterVisit(reader);
        const pdf = await reader.print?.();
        expect(pdf?.subarray(0, 5).toString()).toBe('%PDF-');
        expect(printedText(pdf ?? Buffer.alloc(0))).toContain('SNIP38');
      });
  });
}

export const agreementLink = readFileSync('tests/calculators/agreement/made-with-0.2.0-link.txt', 'utf8').trim();
const height = '.calculator [id$="-height"]';

/** A man of 175 cm. By hand: 50 + 0.91 x (175 - 152.4) = 70.566 */
async function calculate(reader: Screen): Promise<void> {
  await reader.click('.calculator label:has(input[name$="-sex"][value="male"])');
  await reader.type(height, '175');
  await reader.click('h1');
  await reader.sees('70.6 kg', '.calculator .result dl');
}

const sheetReady = (reader: Screen) => reader.until(() => document.querySelector('.visit fieldset:enabled') !== null);
const diseaseOnSheet = () => document.querySelector<HTMLSelectElement>('#visit-disease')?.value;

/** ALS and a sniff of 38 cmH2O, as far as the note. */
export async function enterVisit(reader: Screen): Promise<void> {
  await sheetReady(reader);
  await reader.pick('#visit-disease', 'als');
  await reader.run(openFolds);
  await reader.type('[data-measure="snip"] input[type="text"]', '38');
  await noteSays(reader, 'SNIP 38');
}

function openFolds(): void {
  for (const fold of document.querySelectorAll('details.part, details.part .more')) fold.setAttribute('open', '');
}

const noteSays = (reader: Screen, words: string) =>
  reader.until(
    (wanted) => document.querySelector<HTMLTextAreaElement>('#note-text')?.value.replace(/\s+/g, ' ').includes(wanted),
    words,
  );

const savedFile = (folder: string): string => {
  const name = readdirSync(folder).find((one) => /^visits-\d{4}-\d\d-\d\d\.json$/.test(one));
  return join(folder, name ?? 'nothing was saved');
};

/** Asks once more each time, as one look can be told of what an earlier one had begun to fetch. */
async function newerIsWaiting(): Promise<boolean> {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration?.update().catch(() => undefined);
  return registration?.waiting != null;
}

const versionShown = () => document.querySelector('[data-version]')?.textContent;

const shownOfSheet = () => {
  const shown = (selector: string) => document.querySelector(selector)?.checkVisibility() ?? 'missing';
  return {
    note: shown('.note .printed'),
    form: shown('.visit form'),
    field: shown('#note-text'),
    keep: shown('.keeping button'),
  };
};

/** What is meant for paper applies on the screen, and what is meant for the screen does not. */
function asOnPaper(): void {
  const turn = (rules: CSSRuleList) => {
    for (const rule of rules) {
      if (rule instanceof CSSMediaRule && /print/.test(rule.media.mediaText)) rule.media.mediaText = 'all';
      else if (rule instanceof CSSMediaRule && /screen/.test(rule.media.mediaText)) rule.media.mediaText = 'not all';
      if (rule instanceof CSSGroupingRule) turn(rule.cssRules);
    }
  };
  for (const sheet of document.styleSheets) turn(sheet.cssRules);
}

/** As a thumb goes back: an engine may bring the page from its back-forward cache or load it again. */
async function goBackTo(reader: Screen, path: string): Promise<void> {
  await reader.run(() => setTimeout(() => history.back(), 0));
  await reader.until((wanted) => location.pathname === wanted && document.querySelector('.visit') !== null, path);
}

const hasTyped = (text: string): boolean =>
  [...document.querySelectorAll<HTMLInputElement>('.visit input[type="text"]')].some(({ value }) => value === text);
const hasNothingTyped = (): boolean =>
  [...document.querySelectorAll<HTMLInputElement>('.visit input[type="text"]')].every(({ value }) => value === '');
