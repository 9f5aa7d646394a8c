/** A copy on the home screen: its shortcuts, a file that the system opens with it, and the licences that go with it. */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab, wake } from './browser.ts';
import { dist, htmlOf, pages } from './built.ts';

const manifest = JSON.parse(readFileSync(join(dist, 'manifest.webmanifest'), 'utf8'));

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

test('the shortcuts lead to the search, the visit sheet and urgent help, from wherever the site is served', () => {
  const places: string[] = manifest.shortcuts.map(({ url }: { url: string }) => url);
  expect(places).toEqual(['search/', 'visit/', 'urgent/']);
  expect(places.filter((place) => !pages.includes(`/${place}`))).toEqual([]);
});

describe('a file that the system opens with the installed copy', () => {
  const visits = {
    format: 'tidemark-visits',
    version: 1,
    person: { disease: 'dmd', ageYears: 16 },
    visits: [],
  };

  /** As the system hands a file over: by the launch queue, and not by the address. */
  async function launch(page: Page, text: string): Promise<void> {
    await page.addInitScript((content) => {
      Object.defineProperty(globalThis, 'launchQueue', {
        value: {
          setConsumer: (take: (given: object) => void) =>
            take({ files: [{ getFile: async () => new File([content], 'visits.json') }] }),
        },
      });
    }, text);
    await page.goto(server.at(`/${manifest.file_handlers[0].action}`));
    await wake(page);
  }

  test('is opened on the visit sheet, and nothing of it is asked from the server', async () => {
    const { page } = tab;
    server.log.length = 0;
    await launch(page, JSON.stringify(visits));
    await page.getByText(/visits? opened/).waitFor();
    expect(await page.getByLabel('Disease').inputValue()).toBe('dmd');
    expect(server.log.filter((line) => !line.startsWith('GET ') || /dmd|visits\.json/.test(line))).toEqual([]);
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });

  test('that is a clinic agreement leads to the page that opens agreements, with the file behind the "#"', async () => {
    const { page } = tab;
    const text = readFileSync(join(dist, 'data', 'demonstration-agreement.json'), 'utf8');
    await launch(page, text);
    const link = page.getByRole('link', { name: 'Look at the agreement' });
    await link.waitFor();
    server.log.length = 0;
    await link.tap();
    await page.getByText(JSON.parse(text).clinic).first().waitFor();
    expect(new URL(page.url()).pathname).toBe('/agree/open/');
    expect(server.log.filter((line) => !line.startsWith('GET ') || /#|tern/i.test(line))).toEqual([]);
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });

  test('that is no file of ours changes nothing, and says why', async () => {
    const { page } = tab;
    await launch(page, '{"format":"something-else"}');
    await page.getByText('Nothing was changed').waitFor();
    expect(await page.evaluate(() => Object.keys(sessionStorage))).toEqual([]);
  });
});

describe('licences', () => {
  test('of everything that reaches a reader are on one page, our own first', () => {
    const { components } = JSON.parse(readFileSync(join(dist, 'sbom.cdx.json'), 'utf8'));
    const served: string[] = components
      .filter(({ scope }: { scope: string }) => scope === 'required')
      .map(({ name }: { name: string }) => name);
    const html = htmlOf('/licences/');
    const named = [...html.matchAll(/<h2[^>]*>([^<]+)<\/h2>/g)].map(([, name]) => name);
    expect(named[0]).toBe('Tidemark');
    expect(named.slice(1).sort()).toEqual(served.sort());
    for (const text of html.match(/<pre[^>]*>.*?<\/pre>/gs) ?? []) expect(text).toMatch(/copyright/i);
  });

  test('go with the archive and with the saved copy', () => {
    const archive = unzipSync(readFileSync(join(dist, 'tidemark.zip')), {
      filter: ({ name }) => name.includes('licences'),
    });
    expect(Object.keys(archive)).toEqual(['tidemark/licences/index.html']);
    expect(readFileSync(join(dist, 'sw.js'), 'utf8')).toContain('"licences/index.html"');
  });
});

test('no other site can frame a page: the browser refuses it where the host sends the headers', async () => {
  const { page } = tab;
  const other = createServer((request, response) =>
    response
      .writeHead(200, { 'content-type': 'text/html' })
      .end(
        request.url === '/plain'
          ? '<h1>Plain</h1>'
          : `<iframe src="${decodeURIComponent(request.url?.slice(2) ?? '')}"></iframe>`,
      ),
  );
  await new Promise<void>((ready) => other.listen(0, '127.0.0.1', ready));
  const { port } = other.address() as AddressInfo;
  const framed = async (address: string, heading: string): Promise<number> => {
    await page.goto(`http://127.0.0.1:${port}/?${encodeURIComponent(address)}`);
    return page.frameLocator('iframe').locator('h1', { hasText: heading }).count();
  };
  expect(await framed(`http://127.0.0.1:${port}/plain`, 'Plain')).toBe(1);
  expect(await framed(server.at('/urgent/'), 'Urgent help')).toBe(0);
  await new Promise((done) => other.close(done));
});

test('what is saved as a file is JSON and no table, whatever was typed: a spreadsheet finds no formula in it', async () => {
  const { page } = tab;
  await page.goto(server.at('/visit/'));
  await wake(page);
  const line = '=HYPERLINK("http://x.example","y")\t@SUM(1)<script>alert(1)</script>';
  await page.getByRole('textbox', { name: 'Asked of the physician' }).fill(line);
  await page.getByLabel('Disease').selectOption('als');
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save as a file' }).click();
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/^visits-\d{4}-\d\d-\d\d\.json$/);
  expect(JSON.parse(readFileSync(await download.path(), 'utf8')).format).toBe('tidemark-visits');
});
