/**
 * Ten times the handbook: some 700 pages and 2,000 criteria made out of those there are. Building it may take in
 * proportion, and a reader who searches may not wait longer for it than a finger notices.
 */
import { globSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { findOffline } from '../bench/paint.ts';
import { build, copyForBuild } from './build.ts';

const once = '.cache/deep/once';
const tenfold = '.cache/deep/tenfold';
const folder = copyForBuild();
const pagesIn = (out: string) => globSync('**/*.html', { cwd: out }).length;
const seconds = { once: 0, tenfold: 0 };
let marks = 0;
let texts = 0;

/** Pages and criteria again under other names. Lessons have a fixed order and stay single. */
function multiply(): void {
  const handbook = join(folder, 'content/handbook');
  const files = globSync('**/*.mdx', { cwd: handbook });
  texts = files.length;
  for (const file of files.filter((one) => !one.startsWith('learn/')))
    for (let copy = 2; texts < 700 && copy <= 8; copy += 1) {
      const text = readFileSync(join(handbook, file), 'utf8')
        .replace(/^title: (.*)$/m, (_, title) => `title: ${JSON.stringify(`${title}, once more (${copy})`)}`)
        // A page of a decision or a measure is the page of it: the copies are plain text pages.
        .replace(/^(decision|measure): .*\n/gm, '');
      writeFileSync(join(handbook, file.replace('.mdx', `-again-${copy}.mdx`)), text);
      texts += 1;
    }
  for (const file of globSync('content/criteria/*.yaml', { cwd: folder })) {
    const rows: { id: string }[] = parse(readFileSync(join(folder, file), 'utf8'));
    const all = Array.from({ length: 9 }, (_, copy) =>
      rows.map((row) => (copy === 0 ? row : { ...row, id: `${row.id}-again-${copy + 1}` })),
    ).flat();
    marks += all.length;
    writeFileSync(join(folder, file), stringify(all));
  }
}

beforeAll(async () => {
  mkdirSync('.cache/deep', { recursive: true });
  multiply();
  seconds.once = await build('.', once);
  seconds.tenfold = await build(folder, tenfold);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('it is as large as that', () => {
  expect(texts).toBeGreaterThanOrEqual(600);
  expect(marks).toBeGreaterThanOrEqual(2000);
});

test('the build takes no more than in proportion to its pages', () => {
  const pages = { once: pagesIn(once), tenfold: pagesIn(tenfold) };
  console.log(
    `build: ${pages.once} pages in ${seconds.once.toFixed(1)} s, ${pages.tenfold} pages in ${seconds.tenfold.toFixed(1)} s`,
  );
  // Nine times the criteria are printed into some of the pages: twice what the pages alone would take is still in
  // proportion.
  expect(seconds.tenfold / seconds.once).toBeLessThan((2 * pages.tenfold) / pages.once);
});

test('a typed reading and a word are still found offline while the finger lifts', async () => {
  const [small, large] = [await findOffline(once, 3), await findOffline(tenfold, 3)];
  console.log(`search offline, ms: ${JSON.stringify(small)}; ten times as much: ${JSON.stringify(large)}`);
  // Nine times the criteria, 2.7 times the pages; a finger notices 0.3 s.
  expect(large.openToMarks).toBeLessThan(small.openToMarks * 2);
  expect(large.warmAnswer).toBeLessThan(300);
  expect(large.warmText).toBeLessThan(Math.max(300, small.warmText * 2));
});
