/** Contact sheets of all kinds of pages, to be looked at: each page's first screens, side by side, in four forms. */
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { openTab } from './browser.ts';
import { type Kind, kinds } from './page-kinds.ts';
import type { Server } from './server.ts';

interface Form {
  name: string;
  options: BrowserContextOptions;
  print?: true;
  /** pictures in a row of its sheet, and their width there */
  row: number;
  width: number;
}

const paper = { width: 794, height: 1123 };
const forms: readonly Form[] = [
  { name: 'phone', options: { viewport: { width: 390, height: 1688 } }, row: 7, width: 390 },
  { name: 'phone-dark', options: { viewport: { width: 390, height: 1688 }, colorScheme: 'dark' }, row: 7, width: 390 },
  { name: 'wide', options: { viewport: { width: 1280, height: 1600 }, isMobile: false }, row: 4, width: 640 },
  { name: 'paper', options: { viewport: paper, isMobile: false }, print: true, row: 5, width: 500 },
];
const onOneSheet = 14;

/** @returns the sheets' files */
export async function contactSheets(browser: Browser, server: Server, folder: string): Promise<string[]> {
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  const made: string[] = [];
  for (const form of forms) {
    const taken: { name: string; file: string }[] = [];
    for (const [at, kind] of kinds.entries()) {
      const file = resolve(folder, `${form.name}-${String(at + 1).padStart(2, '0')}.png`);
      await take(browser, server, kind, form, file);
      taken.push({ name: kind.name, file });
    }
    for (let from = 0; from < taken.length; from += onOneSheet) {
      const sheet = join(folder, `sheet-${form.name}-${from / onOneSheet + 1}.png`);
      await compose(browser, taken.slice(from, from + onOneSheet), form, sheet);
      made.push(sheet);
    }
  }
  return made;
}

async function take(browser: Browser, server: Server, kind: Kind, form: Form, file: string): Promise<void> {
  const { page, context } = await openTab(browser, server.root, form.options);
  await page.goto(server.at(kind.path));
  await kind.prepare?.(page);
  if (form.print) await page.emulateMedia({ media: 'print' });
  await settle(page);
  await page.screenshot({ path: file });
  await context.close();
}

/** Whatever was about to be drawn is drawn. */
const settle = (page: Page): Promise<void> => page.waitForTimeout(300);

async function compose(
  browser: Browser,
  pictures: readonly { name: string; file: string }[],
  { row, width }: Form,
  file: string,
): Promise<void> {
  const page = await browser.newPage({ viewport: { width: row * (width + 12) + 12, height: 600 } });
  const html = resolve(`${file}.html`);
  const figures = pictures.map(
    (one) =>
      `<figure><figcaption>${one.name}</figcaption><img src="${pathToFileURL(one.file)}" width="${width}"></figure>`,
  );
  await writeFile(
    html,
    `<meta charset="utf-8"><style>body{margin:12px;display:flex;flex-wrap:wrap;gap:12px;background:#888;font:16px sans-serif}figure{margin:0;width:${width}px}img{display:block}</style>${figures.join('')}`,
  );
  await page.goto(String(pathToFileURL(html)));
  await page.screenshot({ path: file, fullPage: true });
  await page.close();
  await rm(html);
}
