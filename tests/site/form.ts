/** A calculator's form as a reader meets it. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { parse } from 'yaml';
import type { Field, RawEntry, RawInput, RawInputs } from '../../calculators/calculator.ts';
import { calculators } from '../../calculators/index.ts';
import { wake } from './browser.ts';
import type { Server } from './server.ts';

export interface Example {
  name: string;
  given: RawInputs;
  gives?: Record<string, number>;
  refuses?: string;
}

const files = new Map(
  globSync('calculators/**/*.examples.yaml').map((file) => [basename(file, '.examples.yaml'), file]),
);
export const examplesOf = (id: string): Example[] => {
  const file = files.get(id);
  return file === undefined ? [] : parse(readFileSync(file, 'utf8'));
};

export async function openCalculator(page: Page, server: Server, id: string): Promise<void> {
  await page.goto(server.at(`/calculators/${id}/`));
  await wake(page);
  await page.locator('.calculator form > fieldset:enabled').waitFor();
}

/** The field of that name: the id of each ends in it. */
export const field = (page: Page, name: string): Locator => page.locator(`.calculator [id$="-${name}"]`);
export const unitOf = (page: Page, name: string): Locator =>
  page.locator(`.calculator .entry:has([id$="-${name}"]) select[aria-label]`);
export const problem = (page: Page, name: string): Locator => page.locator(`.calculator [id$="-${name}-problem"]`);
export const answer = (page: Page): Locator => page.locator('.calculator .result dl');
/** Spoken to a screen reader. */
export const status = (page: Page): Locator => page.locator('.calculator form > [role=status]');

export async function fill(page: Page, id: string, given: RawInputs): Promise<void> {
  for (const [name, value] of Object.entries(given)) {
    const declared = calculators[id]?.fields[name];
    if (!declared) throw new Error(`${id} has no field "${name}"`);
    await fillField(page, name, declared, value);
  }
  await page.locator('h1').click();
}

async function fillField(page: Page, name: string, declared: Field, value: RawInput): Promise<void> {
  if (declared.kind === 'choice') {
    const option = declared.options.find((one) => one.value === value)?.label ?? '';
    if (declared.options.length > 4) await field(page, name).selectOption(option);
    else await page.locator(`.calculator input[name$="-${name}"][value="${value}"]`).check();
  } else if (declared.kind === 'number') await fillNumber(field(page, name), unitOf(page, name), value as RawEntry);
  else {
    const table = page.locator('.calculator fieldset.series').filter({ hasText: declared.label });
    for (const [at, row] of (value as readonly Record<string, RawEntry>[]).entries()) {
      while ((await table.locator('tbody tr').count()) <= at)
        await table.getByRole('button', { name: 'Add a row' }).click();
      for (const column of declared.columns)
        if (row[column.name] !== undefined)
          await fillNumber(
            table
              .locator('tbody tr')
              .nth(at)
              .getByLabel(`${column.label}, ${declared.row.toLowerCase()} ${at + 1}`, { exact: true }),
            table.getByLabel(`Unit of ${column.label}`),
            row[column.name],
          );
    }
  }
}

async function fillNumber(input: Locator, unit: Locator, entry: RawEntry): Promise<void> {
  if (typeof entry === 'object' && entry !== null) {
    await unit.selectOption(entry.unit);
    await input.fill(String(entry.value));
  } else await input.fill(String(entry ?? ''));
}
