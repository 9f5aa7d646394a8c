/**
 * The criteria printed on every decision page of a disease and on every pocket sheet are those that the evaluator shows
 * to someone with that disease: the pages as they were written to disk, no browser needed.
 */
import { expect, test } from 'vitest';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { type Disease, diseases } from '../../calculators/domain/person.ts';
import { criteriaSheets, leadsOnSheet, sheetParts } from '../../src/learn/pocket-criteria.ts';
import { shownTo } from '../calculators/evaluate/shown-to.ts';
import { readDecisions, readEvidence, readSources } from '../read-content.ts';
import { htmlOf, some } from './built.ts';

const evidence = readEvidence();
const known = new Map<Disease, Set<string>>();
/** What the evaluator shows in this disease; found once. */
function shown(disease: Disease): Set<string> {
  const found = known.get(disease) ?? shownTo(disease, evidence);
  known.set(disease, found);
  return found;
}

/** Every criterion in a list of a page, by the link to where it stands in full. */
const printed = (html: string): string[] => [
  ...new Set(
    [...html.matchAll(/<details class="mark".*?<\/details>/gs)].flatMap(([mark]) =>
      [...mark.matchAll(/href="[^"]*\/sources\/[a-z0-9-]+\/#([a-z0-9-]+)"/g)].map((found) => found[1] ?? ''),
    ),
  ),
];

const isDisease = (name: string): name is Disease => (diseases as readonly string[]).includes(name);
const decisionPages = some(/^\/decisions\/[^/]+\/[^/]+\/$/).map((page) => {
  const [, , decision = '', disease = ''] = page.split('/');
  if (!isDisease(disease)) throw new Error(`${page}: no disease "${disease}"`);
  return { page, decision, disease };
});

test('there are such pages', () => {
  expect(decisionPages.length).toBeGreaterThan(20);
});

test.each(decisionPages)('$page', ({ page, decision, disease }) => {
  const expected = evidence.criteria.filter(
    ({ id, support }) => evidence.decisionOf(support) === decision && shown(disease).has(id),
  );
  expect(printed(htmlOf(page)).sort()).toEqual(expected.map(({ id }) => id).sort());
});

/** The lines of a sheet without their sources, as text. */
const linesOn = (html: string): string[] =>
  [...html.matchAll(/<li[^>]*>([^<]*)<span class="by"/g)].map((found) => plain(found[1] ?? '')).sort();
const entities: Record<string, string> = { '&lt;': '<', '&gt;': '>', '&amp;': '&', '&quot;': '"', '&#39;': "'" };
const plain = (text: string): string =>
  text
    .replace(/&(?:lt|gt|amp|quot|#39);/g, (entity) => entities[entity] ?? entity)
    .replace(/\s+/g, ' ')
    .trim();

test.each(Object.entries(criteriaSheets))('/learn/pocket/criteria-%s/', (id, sheet) => {
  const expected = sheet.diseases.flatMap((disease) => {
    const may = (row: Criterion) =>
      shown(disease).has(row.id) && leadsOnSheet(row) && (sheet.children || row.population !== 'child');
    // Nothing of a person is named here: the rows were chosen by the evaluator already.
    const chosen = evidence.criteria.filter(may).map((row): Criterion => ({ ...row, disease, notFor: undefined }));
    const parts = sheetParts(
      { ...sheet, diseases: [disease], children: true },
      { ...evidence, criteria: chosen, decisions: readDecisions(), sources: readSources() },
    );
    return parts.flatMap(({ lines }) => lines.map(({ words }) => plain(words)));
  });
  expect(expected.length).toBeGreaterThan(5);
  expect(linesOn(htmlOf(`/learn/pocket/marks-${id}/`))).toEqual(expected.sort());
});
