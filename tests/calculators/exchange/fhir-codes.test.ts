/** What a reading is called in an export, and whether it may carry the code of a forced capacity. */
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../../calculators/domain/visit.ts';
import { loinc, toFhir } from '../../../calculators/exchange/fhir.ts';
import { readMeasures } from '../../read-content.ts';

const measures = readMeasures();

function codeOf(id: string, reading: Reading) {
  const bundle = toFhir([{ date: '2026-11-25', visit: { readings: { [id]: reading }, signs: {} } }], measures);
  const found = (bundle.entry ?? [])
    .map(({ resource }) => resource.code)
    .find(({ coding }) => coding?.some(({ code }) => code === id));
  if (!found) throw new Error(`no observation of ${id}`);
  return found;
}

const isLoinc = (id: string, reading: Reading): boolean =>
  codeOf(id, reading).coding?.some(({ system }) => system === loinc) === true;

test('a measure is called by its label, with what it is a part of only where there is such', () => {
  expect(codeOf('snip', { value: 43, unit: 'cm[H2O]' }).text).toBe(measures.snip?.label);
  expect(codeOf('fvc-percent', { value: 62, unit: '%' }).text).toBe(`${measures['fvc-percent']?.label}, predicted`);
});

describe('per cent worked out from litres', () => {
  const from = (method?: string): Reading => ({ value: 62, unit: '%', from: ['vc-litres'], method });

  test('that were blown by force has the code of a forced capacity', () => {
    expect(measures['fvc-percent']?.loinc).toBeDefined();
    expect(isLoinc('fvc-percent', from('forced'))).toBe(true);
  });

  test('that could have been slow has none, nor has what is known to be slow', () => {
    expect(isLoinc('fvc-percent', from())).toBe(false);
    expect(isLoinc('fvc-percent', from('slow'))).toBe(false);
  });
});
