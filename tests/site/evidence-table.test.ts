/** The ledger's table as it is built: its numbers are those of the data, and it stays inside a phone's screen. */
import { expect, test } from 'vitest';
import { countByDisease } from '../../src/evidence/criteria-by-disease.ts';
import { readDecisions, readEvidence } from '../read-content.ts';
import { htmlOf } from './built.ts';

const { criteria, decisionOf } = readEvidence();
const html = htmlOf('/evidence/');

test('every cell of the table shows the count of the data, and "none" for nothing', () => {
  const cells = [...html.matchAll(/<tr data-disease="([^"]+)"[^>]*>(.*?)<\/tr>/gs)].flatMap(([, disease, row]) =>
    [...(row ?? '').matchAll(/<td data-decision="([^"]+)"[^>]*>(.*?)<\/td>/gs)].map(
      ([, decision, cell]) => [`${disease} ${decision}`, (cell ?? '').replace(/<[^>]*>/g, '').trim()] as const,
    ),
  );
  const expected = countByDisease(criteria, decisionOf, Object.keys(readDecisions())).flatMap(
    ({ disease, counts, all }) => [
      [`${disease} all`, `${all}`] as const,
      ...Object.entries(counts).map(([id, count]) => [`${disease} ${id}`, count === 0 ? 'none' : `${count}`] as const),
    ],
  );
  expect(cells.length).toBe(expected.length);
  expect(Object.fromEntries(cells)).toEqual(Object.fromEntries(expected));
});

test('every "none" leads to its words, and the table is reached from the head of the page', () => {
  const targets = [...html.matchAll(/href="#(none-[a-z0-9-]+)"/g)].map(([, target]) => target);
  expect(targets.length).toBeGreaterThan(0);
  for (const target of new Set(targets)) expect(html).toContain(`id="${target}"`);
  expect(html.indexOf('href="#by-disease"')).toBeLessThan(html.indexOf('<table'));
});
