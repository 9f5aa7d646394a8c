import { launch, openTab } from './browser.ts';
import { serve } from './server.ts';

const server = await serve('.cache/dist');
const browser = await launch();
const { page, faults } = await openTab(browser, server.root);
const shot = async (name: string, full = false) => page.screenshot({ path: `/tmp/shot-${name}.png`, fullPage: full });
await page.goto(server.at('/agree/open/#demonstration'));
await page.getByRole('button', { name: 'Yes, put it in force' }).waitFor();
await shot('open');
await page.getByRole('button', { name: 'Yes, put it in force' }).tap();
await page.getByText('In force on this device').waitFor();
await shot('done');
await page.evaluate(() => {
  const k = 'tidemark:agreement';
  const n = JSON.parse(localStorage.getItem(k)!);
  n.agreement.review = '2026-01-01';
  n.agreement.agreed = '2025-01-01';
  n.agreement.marks[1].beside = 'abc';
  n.agreement.marks[1].was = {
    'aan-als-fvc-lt-50': 'FVC below 55 % predicted; ALS/MND; adults',
    'old-row': 'FVC below 70 % predicted; ALS/MND; adults; not yet checked',
  };
  delete n.changed;
  localStorage.setItem(k, JSON.stringify(n));
});
await page.goto(server.at('/measuring/vital-capacity/'));
await page.waitForTimeout(1500);
await shot('line');
await page.goto(server.at('/agree/'));
await page.locator('form.agree > fieldset:enabled').waitFor();
await page.getByRole('button', { name: 'Revise the one in force' }).tap();
await page.waitForTimeout(1200);
await shot('agree', true);
await page.locator('#agree-decision').selectOption('night-ventilation');
await page.locator('#decision-title').scrollIntoViewIfNeeded();
await page.locator('[data-measure="fvc-percent"] > summary').tap();
await page.locator('[data-measure="fvc-percent"] .agreed-list button').first().tap();
await page.waitForTimeout(300);
await page.locator('.decision').screenshot({ path: '/tmp/shot-decision.png' });
await page.goto(server.at('/agree/sign/#draft'));
await page.locator('.paper').waitFor();
await page.waitForTimeout(800);
await shot('sign');
await page.locator('label', { hasText: 'One page' }).first().tap();
await page.waitForTimeout(1200);
await shot('hand', true);
console.log(JSON.stringify(faults), await page.locator('[data-agreement-line]').textContent());
await browser.close();
await server.stop();
