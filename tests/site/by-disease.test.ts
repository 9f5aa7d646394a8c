/** The table of cough assistance by disease: it holds every criterion that may lead, a caution as a caution, and nothing unread. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { categoryOf } from '../../calculators/evaluate/group.ts';
import { readCriteria, readDecisions, readSources } from '../read-content.ts';
import { dist } from './built.ts';

const decisions = readDecisions();
const sources = readSources();
const supports = ['cough-help', 'lung-volume-recruitment'].flatMap((id) => decisions[id]?.supports ?? []);
const rows = readCriteria().filter((row) => supports.includes(row.support));
const leads = rows.filter((row) => ['acting', 'study'].includes(categoryOf(row)));

const html = readFileSync(join(dist, 'cough/help-by-disease/index.html'), 'utf8');
const groups = [...html.matchAll(/<tbody>([\s\S]*?)<\/tbody>/g)].map(([, body = '']) => body);
const words = (part: string): string => part.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
const groupOf = (name: string): string => groups.find((body) => words(body).includes(name)) ?? '';
const listed = (body: string): number => (body.match(/<b>Caution: <\/b>|<td>/g) ?? []).length;

test('each disease with criteria of its own has one line for each of them', () => {
  for (const [disease, name] of [
    ['any', 'Any slowly progressive neuromuscular disease'],
    ['als', 'ALS'],
    ['dmd', 'Duchenne'],
    ['sma', 'Spinal muscular atrophy'],
  ] as const) {
    const own = leads.filter((row) => row.disease === disease);
    expect(own.length).toBeGreaterThan(0);
    const cells = listed(groupOf(name));
    const cautions = own.filter(({ use }) => use === 'caution').length;
    // A caution is one cell across both columns, any other row is two.
    expect([name, cells]).toEqual([name, 2 * (own.length - cautions) + cautions]);
  }
});

test('a caution says that it is one, with its source', () => {
  const cautions = leads.filter(({ use }) => use === 'caution');
  expect(cautions.length).toBeGreaterThan(1);
  for (const { source } of cautions)
    expect(words(html)).toMatch(new RegExp(`Caution: [^<]*${sources[source]?.short ?? source}`));
});

test('Guillain-Barré and myasthenia have no criterion here, and lead to their urgent pages', () => {
  const body = groupOf('Guillain-Barré syndrome');
  expect(words(body)).toContain('The criteria for slowly progressive disease are not used');
  expect(body).toContain('/urgent/guillain-barre/');
  expect(body).toContain('/urgent/myasthenia/');
  expect(words(body)).not.toMatch(/L\/min|cmH2O|% predicted/);
});

test('no number from memory stands in the table', () => {
  const unread = rows.filter(({ standing }) => standing === 'from-memory');
  expect(unread.length).toBeGreaterThan(3);
  expect(groups.join('')).not.toContain('not yet checked</');
});
