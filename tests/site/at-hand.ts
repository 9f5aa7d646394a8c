/**
 * A browser and the built site, for the tests of the file that asks for them: started before its first test, gone after its
 * last. What a file opens in them (a tab, a person) is its own.
 */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launch } from './browser.ts';
import { dist } from './built.ts';
import { type Server, serve } from './server.ts';

export let browser: Browser;
export let server: Server;

beforeAll(async () => {
  browser = await launch();
  server = await serve(dist);
});
afterAll(async () => {
  await browser?.close();
  await server?.stop();
});
