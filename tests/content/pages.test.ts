/** The handbook's floor: what every page must have, and what none may hold. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { calculators } from '../../calculators/index.ts';
import { standings } from '../../calculators/standing.ts';
import { readCriteria, readDecisions, readFacts, readGlossary, readMeasures, readSources } from '../read-content.ts';

const tags = [
  'Criteria',
  'Calculator',
  'Quantity',
  'Ref',
  'Term',
  'Caution',
  'Steps',
  'Figure',
  'Question',
  'Moving',
  'WorkedSum',
  'ByDisease',
];

interface Page {
  id: string;
  data: Record<string, unknown> & {
    sources: string[];
    related?: string[];
    calculators?: string[];
    synonyms?: unknown[];
  };
  body: string;
  /** prose without tags */
  prose: string;
  used: { tag: string; attributes: Record<string, string> }[];
}

const attributesOf = (text: string): Record<string, string> =>
  Object.fromEntries([...text.matchAll(/([a-zA-Z]+)="([^"]*)"/g)].map((found) => [found[1], found[2]]));

function readPage(file: string): Page {
  const found = /^---\n([\s\S]*?)\n---\n([\s\S]*)$/.exec(readFileSync(file, 'utf8'));
  if (!found) throw new Error(`${file}: no frontmatter`);
  const body = found[2] ?? '';
  return {
    id: file.replace('content/handbook/', '').replace('.mdx', ''),
    data: parse(found[1] ?? ''),
    body,
    prose: body.replace(/<[^>]+>/g, ' '),
    used: [...body.matchAll(/<([A-Za-z][A-Za-z0-9]*)([^>]*)>/g)].map((tag) => ({
      tag: tag[1] ?? '',
      attributes: attributesOf(tag[2] ?? ''),
    })),
  };
}

const pages = globSync('content/handbook/**/*.mdx').sort().map(readPage);
const ids = new Set(pages.map((page) => page.id));
const criteria = readCriteria();
const criterionIds = new Set(criteria.map((row) => row.id));
const facts = readFacts();
const glossary = readGlossary();
const sources = readSources();
const decisions = readDecisions();
const measures = readMeasures();

/** A figure with a clinical unit typed by hand: it would not follow the data when the data change. */
const typedNumber = (text: string): string | undefined =>
  /\d[\d.,]*\s*(?:to\s*\d+\s*)?(?:%|per cent|cmH2O|mmHg|kPa|L\b|mL|L\/min|L\/s|litres?|kg|min\b|minutes?|hours?|h\b|seconds?|months?|weeks?|days?|years?)/i.exec(
    text,
  )?.[0];

const wordsOf = (text: string): string[] => text.split(/\s+/).filter((word) => /[a-z]/i.test(word));

test('the check for typed numbers sees one, and lets plain words be', () => {
  expect(typedNumber('below 40 cmH2O')).toBe('40 cmH2O');
  expect(typedNumber('2 to 3 months')).toBe('2 to 3 months');
  expect(typedNumber('three questions and two people')).toBeUndefined();
});

describe.each(pages.map((page) => [page.id, page] as const))('%s', (_, page) => {
  test('uses known tags, and every id it names exists', () => {
    const wrong: string[] = [];
    for (const { tag, attributes } of page.used) {
      const { fact, criterion, id, source, is, measure, decision } = attributes;
      if (!tags.includes(tag)) wrong.push(`<${tag}>`);
      if (fact !== undefined && !facts[fact]) wrong.push(`fact ${fact}`);
      if (criterion !== undefined && !criterionIds.has(criterion)) wrong.push(`criterion ${criterion}`);
      if (tag === 'Term' && !glossary[id ?? '']) wrong.push(`term ${id}`);
      if (tag === 'Calculator' && !calculators[id ?? '']) wrong.push(`calculator ${id}`);
      if (source !== undefined && !sources[source]) wrong.push(`source ${source}`);
      if (tag === 'Ref' && !(standings as readonly string[]).includes(is ?? '')) wrong.push(`standing ${is}`);
      if (measure !== undefined && !measures[measure]) wrong.push(`measure ${measure}`);
      if (decision !== undefined && !decisions[decision]) wrong.push(`decision ${decision}`);
    }
    for (const related of page.data.related ?? []) if (!ids.has(related)) wrong.push(`related ${related}`);
    for (const calculator of page.data.calculators ?? [])
      if (!calculators[calculator]) wrong.push(`calculator ${calculator}`);
    expect(wrong).toEqual([]);
  });

  test('names at least one source, and lists every source its claims name', () => {
    const named = new Set(
      page.used.flatMap(({ tag, attributes }) => (tag === 'Ref' && attributes.source ? [attributes.source] : [])),
    );
    expect(page.data.sources.length).toBeGreaterThan(0);
    expect([...named].filter((source) => !page.data.sources.includes(source))).toEqual([]);
  });

  test('types no clinical number in its prose', () => {
    expect(typedNumber(page.prose)).toBeUndefined();
    expect(typedNumber(String(page.data.answer))).toBeUndefined();
  });

  test('has at least 250 words of its own, in at least three sections', () => {
    expect(wordsOf(page.prose).length).toBeGreaterThanOrEqual(250);
    expect((page.body.match(/^## /gm) ?? []).length).toBeGreaterThanOrEqual(3);
  });

  test('says how well its claims are known', () => {
    expect(page.used.filter(({ tag }) => tag === 'Ref').length).toBeGreaterThanOrEqual(4);
  });

  test('gives no order, and imports nothing', () => {
    expect(page.prose).not.toMatch(
      /\b(start NIV|must be started|must start|give oxygen|increase the pressure|turn up the)\b/i,
    );
    expect(page.body).not.toMatch(/^(import|export) /m);
  });
});

test('no paragraph stands on two pages', () => {
  const seen = new Map<string, string>();
  const twice: string[] = [];
  for (const page of pages)
    for (const paragraph of page.prose.split(/\n{2,}/).map((text) => text.replace(/\s+/g, ' ').trim())) {
      if (wordsOf(paragraph).length < 12) continue;
      const before = seen.get(paragraph);
      if (before !== undefined && before !== page.id) twice.push(`${before} and ${page.id}: ${paragraph.slice(0, 60)}`);
      seen.set(paragraph, page.id);
    }
  expect(twice).toEqual([]);
});

test('every measure that names a page has it', () => {
  const missing = Object.entries(measures).filter(
    ([, measure]) => measure.page !== undefined && !ids.has(measure.page.replace(/^\/|\/$/g, '')),
  );
  expect(missing.map(([id, { page }]) => `${id}: ${page}`)).toEqual([]);
});

/** Items under "What goes wrong", without their tags. */
const wrongItems = (body: string): string[] =>
  body
    .split(/^(?=## )/m)
    .filter((section) => section.startsWith('## What goes wrong'))
    .flatMap((section) => section.split('\n').filter((line) => line.startsWith('- ')))
    .map((line) =>
      line
        .slice(2)
        .replace(/<[^>]+>/g, '')
        .trim(),
    );

const labelled = (item: string): boolean => /^\**(?:Mistake: |Do not |Never )/.test(item);
/** More than the mistake: a second sentence, or what comes after the bold words. */
const goesOn = (item: string): boolean =>
  /[.:?!"”]\**\s+\S+ \S+|\*\*.+\*\*\s*\S+/.test(item.replace(/^\**Mistake: /, ''));

test('under "What goes wrong" each item is labelled as a mistake, and goes on to say what to do', () => {
  const items = pages.flatMap(({ id, body }) => wrongItems(body).map((item) => ({ id, item })));
  expect(items.length).toBeGreaterThan(200);
  expect(items.filter(({ item }) => !labelled(item)).map(({ id, item }) => `${id}: ${item}`)).toEqual([]);
  expect(items.filter(({ item }) => !goesOn(item)).map(({ id, item }) => `${id}: ${item}`)).toEqual([]);
});

test('an item that reads as advice to do the wrong thing is seen', () => {
  const body =
    '## What goes wrong\n\n- Oxygen at home by itself.\n- **Mistake: oxygen alone.** Measure carbon dioxide.\n';
  expect(wrongItems(body).map((item) => [labelled(item), goesOn(item)])).toEqual([
    [false, false],
    [true, true],
  ]);
});

/** Automated readability index on the prose alone. */
function readingGrade(prose: string): number {
  const sentences = prose
    .split(/[.?!:](?=\s|$)|\n\s*(?:[-*]|\d+\.|#+)\s|\n\n/)
    .filter((part) => wordsOf(part).length > 0).length;
  const words = wordsOf(prose);
  const letters = words.reduce((sum, word) => sum + word.replace(/[^a-z]/gi, '').length, 0);
  return (4.71 * letters) / words.length + (0.5 * words.length) / Math.max(1, sentences) - 21.43;
}

const mean = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;

test('the hardest page reads no harder than grade 8, about age 13 to 14', () => {
  const rows = pages
    .map(({ id, prose }) => ({ id, section: id.split('/')[0] ?? '', grade: readingGrade(prose) }))
    .sort((a, b) => b.grade - a.grade);
  const bySection = [...Map.groupBy(rows, ({ section }) => section)].map(([section, own]) => ({
    section,
    words: `${section} ${mean(own.map(({ grade }) => grade)).toFixed(1)} (hardest ${own[0]?.id} ${own[0]?.grade.toFixed(1)})`,
    grade: mean(own.map(({ grade }) => grade)),
  }));
  bySection.sort((a, b) => b.grade - a.grade);
  console.log(
    [
      `Reading grade: mean ${mean(rows.map(({ grade }) => grade)).toFixed(1)} over ${rows.length} pages`,
      ...bySection.map(({ words }) => words),
    ].join('\n  '),
  );
  expect(rows.length).toBeGreaterThan(80);
  expect(bySection.length).toBeGreaterThanOrEqual(10);
  expect(rows.filter(({ grade }) => grade >= 8).map(({ id, grade }) => `${id} ${grade.toFixed(1)}`)).toEqual([]);
});

test('the reading grade tells a plain sentence from a heavy one', () => {
  expect(readingGrade('Look at the person. Call the team today.')).toBeLessThan(3);
  expect(
    readingGrade('Individualised interprofessional consideration of contraindications necessitates authorisation.'),
  ).toBeGreaterThan(20);
});
