/** What a reading is called in an export, and whether it may carry the code of a forced capacity. */
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../../calculators/domain/visit.ts';
import { loinc, toFhir } from '../../../calculators/exchange/fhir.ts';
import { loincRules } from '../../../calculators/exchange/fhir-codes.ts';
import { readMeasures } from '../../read-content.ts';

const measures = readMeasures();

function codeOf(id: string, reading: Reading) {
  const bundle = toFhir([{ date: '2026-11-25', visit: { readings: { [id]: reading }, signs: {} } }], measures);
  const found = (bundle.entry ?? [])
    .flatMap(({ resource }) => (resource.resourceType === 'Observation' ? [resource.code] : []))
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

describe('a code that names how the reading was taken', () => {
  const codeFor = (id: string, reading: Reading) =>
    codeOf(id, reading).coding?.find(({ system }) => system === loinc)?.code;

  test.each([
    ['paco2', 'arterial', '2019-8'],
    ['paco2', 'capillary', '2020-6'],
    ['paco2', undefined, '11557-6'],
    ['paco2', 'venous', undefined],
    ['vc-litres', 'forced', '19868-9'],
    ['vc-litres', 'slow', '19866-3'],
    ['vc-litres', undefined, undefined],
    ['bicarbonate', 'arterial', '1960-4'],
    ['bicarbonate', 'serum', '1963-8'],
    ['bicarbonate', undefined, undefined],
  ] as const)('%s, %s: %s', (id, method, code) => {
    const unit = { paco2: 'kPa', 'vc-litres': 'L', bicarbonate: 'mmol/L' } as const;
    expect(codeFor(id, { value: 3, unit: unit[id], ...(method ? { method } : {}) })).toBe(code);
  });

  test('breathing rate has the code of the vital signs profile, and each code its check digit', () => {
    expect(codeFor('respiratory-rate', { value: 20, unit: '/min' })).toBe('9279-1');
    for (const { code } of loincRules) {
      const [body = '', check] = code.split('-');
      const sum = [...body].reverse().reduce((total, digit, place) => {
        const value = Number(digit) * (place % 2 === 0 ? 2 : 1);
        return total + Math.floor(value / 10) + (value % 10);
      }, 0);
      expect([code, (10 - (sum % 10)) % 10]).toEqual([code, Number(check)]);
    }
  });
});
