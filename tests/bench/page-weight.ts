/**
 * What pages weigh on the wire. Brotli 5 is what a server does on the fly; bytes repeat exactly from run to run, which
 * times do not. Paint ratios can stand beside these later: they need the same server and browser.
 */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, constants } from 'node:zlib';
import type { Browser, Response } from 'playwright-core';
import { openTab, wake } from '../site/browser.ts';
import type { Server } from '../site/server.ts';

export const brotli = (content: Uint8Array): number =>
  brotliCompressSync(content, {
    params: { [constants.BROTLI_PARAM_QUALITY]: 5, [constants.BROTLI_PARAM_SIZE_HINT]: content.length },
  }).length;

const alreadySmall = /\.(png|woff2|pagefind|pf_\w+)$/;

/** Bytes of one built file as sent. */
function wireSize(file: string): number {
  const content = readFileSync(file);
  return alreadySmall.test(file) ? content.length : Math.min(content.length, brotli(content));
}

export const fileOf = (dist: string, page: string): string =>
  join(dist, page.endsWith('/') ? `${page}index.html` : page);
export const htmlWeight = (dist: string, page: string): number => wireSize(fileOf(dist, page));

export const filesOf = (dist: string): string[] =>
  globSync('**/*', { cwd: dist, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));

/** Everything that the offline worker saves: its own list, as it stands in the built worker. */
export function savedOffline(dist: string): { files: number; bytes: number } {
  const list = /const files[^=]*= (\[.*?\]);/s.exec(readFileSync(join(dist, 'sw.js'), 'utf8'))?.[1];
  if (list === undefined) throw new Error(`No file list in ${join(dist, 'sw.js')}`);
  const files: { url: string }[] = JSON.parse(list);
  return { files: files.length, bytes: files.reduce((sum, { url }) => sum + wireSize(join(dist, url)), 0) };
}

interface ScriptWeight {
  /** loaded by the page on its own, before the reader does anything */
  atOnce: number;
  /** with every calculator on the page brought into view */
  inAll: number;
  requests: number;
}

/** Scripts that a page loads on a phone, counted as they arrive. Inline scripts are part of the HTML. */
export async function scriptWeight(browser: Browser, server: Server, page: string): Promise<ScriptWeight> {
  const { context, page: tab } = await openTab(browser, server.root);
  const sizes: Promise<number>[] = [];
  let requests = 0;
  const count = (response: Response) => {
    requests += 1;
    if (response.request().resourceType() === 'script') sizes.push(response.body().then(brotli));
  };
  tab.on('response', count);
  const sum = async (): Promise<number> => (await Promise.all(sizes)).reduce((all, size) => all + size, 0);
  await tab.goto(server.at(page), { waitUntil: 'networkidle' });
  const atOnce = await sum();
  await wake(tab);
  await tab.waitForLoadState('networkidle');
  tab.off('response', count);
  const inAll = await sum();
  await context.close();
  return { atOnce, inAll, requests };
}
