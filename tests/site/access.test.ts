/** The check that every page goes through can fail. */
import { expect, test } from 'vitest';
import { accessFaults } from './access.ts';
import { launch, openTab } from './browser.ts';

const faulty = `<html lang="en"><title>Faulty</title><main><h1>Faulty</h1>
  <img src="data:,"><p style="color: #999; background: #fff">pale</p><p><button></button></p></main></html>`;

test('a picture without words, pale text and a button without a name are each found', async () => {
  const browser = await launch();
  try {
    const { page } = await openTab(browser, 'http://localhost/');
    await page.setContent(faulty);
    const found = (await accessFaults(page)).map((line) => line.replace(/ .*/, ''));
    expect(found.sort()).toEqual(['button-name', 'color-contrast', 'image-alt']);
  } finally {
    await browser.close();
  }
});
