/** Pictures of the real site: those in the README, and contact sheets of all kinds of pages. `npm run pictures` after a build. */
import { mkdir } from 'node:fs/promises';
import { launch, openTab } from './browser.ts';
import { contactSheets } from './contact-sheets.ts';
import { serve } from './server.ts';

const folder = 'tests/site/pictures';
await mkdir(folder, { recursive: true });
const server = await serve(process.argv[2] ?? 'dist');
const browser = await launch();
const { page } = await openTab(browser, server.root);

await page.goto(server.at('/measuring/vital-capacity/'));
await page.locator('.gauge').first().scrollIntoViewIfNeeded();
await page.evaluate(() => document.querySelector('.gauge')?.scrollIntoView({ block: 'start' }));
await page.screenshot({ path: `${folder}/vital-capacity-phone.png` });

await page.goto(server.at('/search/'));
await page.locator('#q').fill('sniff 38 als');
await page.locator('#q').press('Enter');
await page.locator('.instant').waitFor();
await page.screenshot({ path: `${folder}/typed-reading-phone.png` });

for (const sheet of await contactSheets(browser, server, '.cache/sheets')) console.log(sheet);
await browser.close();
await server.stop();
