/** Sums as they are typed on a phone: commas, feet, minus signs, pasted text, the wrong unit. */
import { beforeAll, describe, expect, test } from 'vitest';
import { calculators } from '../../calculators/index.ts';
import { show } from '../../calculators/quantity.ts';
import { accessFaults } from './access.ts';
import { browser, server } from './at-hand.ts';
import { openTab, type Tab } from './browser.ts';
import { answer, examplesOf, field, fill, openCalculator, problem, status, unitOf } from './form.ts';
import { plain } from './sheet.ts';

let tab: Tab;
beforeAll(async () => {
  tab = await openTab(browser, server.root);
});

/** A calculator with nothing in hand from the one before. */
async function fresh(id: string): Promise<Tab['page']> {
  const { page } = tab;
  if (page.url().startsWith(server.root)) await page.evaluate(() => sessionStorage.clear());
  await openCalculator(page, server, id);
  return page;
}
const result = async (): Promise<string> => plain(await answer(tab.page).textContent());
const leave = () => tab.page.locator('h1').tap();

describe.each(Object.keys(calculators))('%s', (id) => {
  const calculator = calculators[id];
  const worked = examplesOf(id).find((example) => example.gives !== undefined);
  const refused = examplesOf(id).find((example) => example.refuses !== undefined);

  test('the first worked example, typed in, gives on screen what the sum gives', async () => {
    if (!calculator || !worked) throw new Error(`${id} has no worked example`);
    const page = await fresh(id);
    await fill(page, id, worked.given);
    const outcome = calculator.calculate(worked.given);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    await answer(page).waitFor();
    const shown = await result();
    for (const [name, { value, unit, low, high }] of Object.entries(outcome.results)) {
      const spec = calculator.results[name];
      if (!spec) continue;
      expect(shown).toContain(spec.label);
      const only = low === undefined || (value !== low && value !== high);
      for (const number of only ? [value] : [low, high ?? low])
        expect(shown).toContain(plain(show(number, unit, spec.decimals)));
    }
    if (outcome.working.length > 0) {
      await page.getByText('Working, with these numbers').tap();
      expect(await page.locator('.working').count()).toBe(outcome.working.length);
    }
    expect(await accessFaults(page, '.calculator')).toEqual([]);
  });

  if (refused?.refuses === undefined) return;
  const { given, refuses } = refused;

  test(`${refused.name}: no result, and a message at the field`, async () => {
    const outcome = calculator?.calculate(given);
    const expected = outcome?.ok === false ? outcome.problems.find((one) => one.field === refuses)?.message : undefined;
    if (expected === undefined) throw new Error(`${id} does not refuse this`);
    const page = await fresh(id);
    await fill(page, id, given);
    // A field left empty is only asked for, without a message that blames.
    if (given[refuses] === undefined) await page.locator('.waiting', { hasText: 'Still needed' }).waitFor();
    else await page.locator('.calculator .problem').getByText(expected).waitFor();
    expect(await answer(page).count()).toBe(0);
  });
});

describe('numbers as they are typed', () => {
  test('4,5 litres a second is 270 litres a minute: the comma is a decimal sign', async () => {
    const page = await fresh('peak-cough-flow');
    await unitOf(page, 'flow').selectOption('L/s');
    await field(page, 'flow').fill('4,5');
    await leave();
    await answer(page).waitFor();
    expect(await result()).toContain('270 L/min');
  });

  test('1,234 is asked about: thousands or a decimal', async () => {
    const page = await fresh('peak-cough-flow');
    await field(page, 'flow').fill('1,234');
    await leave();
    expect(await problem(page, 'flow').textContent()).toContain('could be read two ways');
    expect(await answer(page).count()).toBe(0);
  });

  test(`5'8 is 172.7 cm`, async () => {
    const page = await fresh('ideal-body-weight');
    await page.locator('.calculator').getByText('Male', { exact: true }).tap();
    await field(page, 'height').fill(`5'8`);
    await leave();
    await answer(page).waitFor();
    // ARDS Network line by hand: 50 + 0.91 x (172.72 - 152.4) = 68.49
    expect(await result()).toContain('68.5 kg');
  });

  test('a sniff typed as -38 and as 38 is the same sniff', async () => {
    const answers: string[] = [];
    for (const typed of ['38', '-38', '\u221238']) {
      const page = await fresh('sniff-pressure');
      await fill(page, 'sniff-pressure', { sex: 'female', age: 61 });
      await field(page, 'measured').fill(typed);
      await leave();
      await answer(page).waitFor();
      answers.push(await result());
    }
    expect(answers[0]).toContain('38 cmH2O');
    expect(new Set(answers).size).toBe(1);
  });

  test('text pasted with spaces and its unit is read, and a unit that is not the chosen one counts', async () => {
    const page = await fresh('gas-units');
    const name =
      Object.keys(calculators['gas-units']?.fields ?? {}).find(
        (one) => calculators['gas-units']?.fields[one]?.kind === 'number',
      ) ?? '';
    await field(page, name).fill('\u00a0 6 kPa ');
    await leave();
    await answer(page).waitFor();
    // UCUM: 6 kPa = 45.0037 mmHg
    expect(await result()).toMatch(/45(\.0)? mmHg/);
  });

  test('an empty form asks for what it needs and shows no result and no message of blame', async () => {
    const page = await fresh('ideal-body-weight');
    expect(await page.locator('.calculator .waiting').textContent()).toBe(
      'Still needed: sex used for the prediction, height.',
    );
    expect(await page.locator('.calculator .problem').count()).toBe(0);
    expect(await answer(page).count()).toBe(0);
  });

  test('1.72 typed as centimetres asks whether it is in metres, at the field, and keeps what else was typed', async () => {
    const page = await fresh('ideal-body-weight');
    await page.locator('.calculator').getByText('Male', { exact: true }).tap();
    await field(page, 'perKilogram').fill('8');
    await field(page, 'height').fill('1.72');
    await leave();
    expect(plain(await problem(page, 'height').textContent())).toBe('Height is between 50 and 250 cm. Is 1.72 in m?');
    expect(await field(page, 'height').getAttribute('aria-invalid')).toBe('true');
    const described = await field(page, 'height').getAttribute('aria-describedby');
    expect(described?.split(' ')).toContain(await problem(page, 'height').getAttribute('id'));
    expect([await field(page, 'height').inputValue(), await field(page, 'perKilogram').inputValue()]).toEqual([
      '1.72',
      '8',
    ]);
    expect(await page.locator('.calculator input[value="male"]').isChecked()).toBe(true);
    expect(await answer(page).count()).toBe(0);
    expect(await accessFaults(page)).toEqual([]);
    await unitOf(page, 'height').selectOption('m');
    await answer(page).waitFor();
    // By hand: 50 + 0.91 x (172 - 152.4) = 67.836
    expect(await result()).toContain('67.8 kg');
  });

  test('a number out of range takes the result away and says the range', async () => {
    const page = await fresh('ideal-body-weight');
    await fill(page, 'ideal-body-weight', { sex: 'male', height: 175 });
    await answer(page).waitFor();
    await field(page, 'height').fill('1750');
    await answer(page).waitFor({ state: 'detached' });
    await leave();
    expect(plain(await problem(page, 'height').textContent())).toBe(
      'Height is between 50 and 250 cm. 1750 is outside that',
    );
  });

  test('no message shows while a number is still being typed', async () => {
    const page = await fresh('ideal-body-weight');
    await field(page, 'height').pressSequentially('17');
    expect(await page.locator('.calculator .problem').count()).toBe(0);
  });

  test('letters are answered with an example of what to type', async () => {
    const page = await fresh('ideal-body-weight');
    await field(page, 'height').fill('tall');
    await leave();
    expect(await problem(page, 'height').textContent()).toContain('Type digits, such as 4.5');
  });

  test('the working shows the formula with the reader\u2019s own numbers', async () => {
    const page = await fresh('ideal-body-weight');
    await fill(page, 'ideal-body-weight', { sex: 'male', height: 175 });
    await page.getByText('Working, with these numbers').tap();
    expect(plain(await page.locator('.working').first().textContent())).toContain(
      '= 50 + 0.91 \u00d7 (175 \u2212 152.4) = 70.566 kg',
    );
  });

  test('a column copied from a spreadsheet fills the rows below the cell it is pasted into', async () => {
    const page = await fresh('niv-hours');
    await page
      .locator('fieldset.series input')
      .first()
      .evaluate((input) => {
        const clipboard = new DataTransfer();
        clipboard.setData('text', '7\n8\n0\n6\n3\n4\n7\n');
        input.dispatchEvent(new ClipboardEvent('paste', { clipboardData: clipboard, bubbles: true, cancelable: true }));
      });
    await answer(page).waitFor();
    // By hand: 35 hours in seven nights
    expect(await result()).toContain('5.0 h');
    expect(await page.locator('fieldset.series tbody tr').count()).toBe(7);
  });

  test('a screen reader hears the result once, after the typing has stopped', async () => {
    const page = await fresh('ideal-body-weight');
    await page.clock.install();
    await openCalculator(page, server, 'ideal-body-weight');
    await status(page).evaluate((region) => {
      const heard: string[] = [];
      Object.assign(globalThis, { heard });
      new MutationObserver(() => heard.push(region.textContent ?? '')).observe(region, {
        childList: true,
        characterData: true,
        subtree: true,
      });
    });
    await page.locator('.calculator').getByText('Male', { exact: true }).tap();
    await field(page, 'height').pressSequentially('175', { delay: 10 });
    await leave();
    await page.clock.runFor(5000);
    expect(
      await page.evaluate(() =>
        (globalThis as unknown as { heard: string[] }).heard
          .filter((words) => words !== '')
          .map((words) => words.replace(/\s/g, ' ')),
      ),
    ).toEqual(['Ideal body weight: 70.6 kg']);
  });

  test('nothing went wrong on the way, and nothing was sent anywhere', () => {
    expect(tab.faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});
