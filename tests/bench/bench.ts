/**
 * `npm run bench`: how fast the calculations run and how large the pages are, beside the figures committed last.
 * `npm run bench -- --write` keeps the new figures; `-- --no-build` measures the build that is there.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { Visit } from '../../calculators/domain/visit.ts';
import { derive } from '../../calculators/evaluate/derive.ts';
import { type Evidence, evaluate } from '../../calculators/evaluate/evaluate.ts';
import { percentPredictedOf } from '../../calculators/spirometry/expected.ts';
import { forcedSets } from '../../calculators/spirometry/reference-sets.ts';
import { readEvidence } from '../read-content.ts';
import { launch } from '../site/browser.ts';
import { serve } from '../site/server.ts';
import { fileOf, filesOf, htmlWeight, savedOffline, scriptWeight } from './page-weight.ts';
import { paintFigures } from './paint.ts';

/** What a figure is, and whether more of it is better. */
interface Figure {
  value: number;
  unit: string;
  better: 'more' | 'less' | 'neither';
}
type Figures = Record<string, Figure>;

const store = 'tests/bench/figures.json';
const dist = process.env.TIDEMARK_DIST ?? '.cache/dist';
const figures: Figures = {};
const put = (name: string, value: number, unit: string, better: Figure['better'] = 'less') => {
  figures[name] = { value: Number(value.toPrecision(4)), unit, better };
};

/** Milliseconds a call: the best of many short rounds, since whatever else the machine does only ever adds. */
function time(work: () => void, rounds = 150, milliseconds = 8): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round += 1) {
    let calls = 0;
    let spent = 0;
    const start = performance.now();
    while (spent < milliseconds) {
      work();
      calls += 1;
      if (calls % 8 === 0 || spent === 0) spent = performance.now() - start;
    }
    best = Math.min(best, spent / calls);
  }
  return best;
}

function caseA(): Visit {
  const cases: { case: string; inputs: Record<string, unknown> }[] = parse(
    readFileSync('tests/reference/open-cases.yaml', 'utf8'),
  );
  const inputs = cases.find((one) => one.case === 'A')?.inputs ?? {};
  const signs = Object.fromEntries(
    Object.entries(inputs).filter(
      (entry): entry is [string, 'present' | 'absent'] => entry[1] === 'present' || entry[1] === 'absent',
    ),
  );
  return {
    disease: 'als',
    ageYears: 61,
    sex: 'female',
    signs,
    readings: {
      'fvc-percent': { value: 68, unit: '%', flags: ['leak'] },
      snip: { value: -38, unit: 'cm[H2O]' },
      'peak-cough-flow': { value: 210, unit: 'L/min' },
      spo2: { value: 95, unit: '%', gas: 'air' },
    },
  };
}

function measureSums(): void {
  const evidence = readEvidence();
  const tenfold: Evidence = { ...evidence, criteria: Array.from({ length: 10 }, () => evidence.criteria).flat() };
  const visit = derive(caseA(), { set: 'gli-2022-global' });
  const once = time(() => evaluate(visit, evidence));
  const ten = time(() => evaluate(visit, tenfold));
  put('criteria', evidence.criteria.length, '', 'neither');
  put('visit against every criterion', once, 'ms');
  put('visits a second', 1000 / once, '/s', 'more');
  put('visit against ten times the criteria', ten, 'ms');
  put('ten times the criteria cost', ten / once, 'times');
  let age = 18;
  const set = forcedSets['gli-2022-global'];
  const gli = time(() => {
    // Another person each time, so that nothing remembered answers.
    age = age >= 90 ? 18 : age + 0.37;
    const expected = set.expected('FVC', { sex: 'female', age, height: 165 });
    if (!('problems' in expected)) percentPredictedOf(expected, 2.4);
  });
  put('GLI Global FVC evaluations a second', 1000 / gli, '/s', 'more');
}

function measureBuild(): void {
  if (process.argv.includes('--no-build')) return;
  rmSync(dist, { recursive: true, force: true });
  const start = performance.now();
  const { status } = spawnSync('npx', ['astro', 'build'], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, TIDEMARK_OUT: dist, ASTRO_TELEMETRY_DISABLED: '1' },
  });
  if (status !== 0) throw new Error('The site does not build: see `npm run build`');
  put('build', (performance.now() - start) / 1000, 's');
}

async function measurePages(): Promise<void> {
  // Read after the build, which makes what it lists.
  const { pages } = await import('../site/built.ts');
  put('pages', pages.length, '', 'neither');
  put('files in the build', filesOf(dist).length, '', 'neither');
  const saved = savedOffline(dist);
  put('files saved offline', saved.files, '', 'neither');
  put('saved offline', saved.bytes / 1024, 'KB');
  put('saved offline, a page', saved.bytes / 1024 / pages.length, 'KB');

  const isHandbook = (page: string) => existsSync(`content/handbook${page.replace(/\/$/, '')}.mdx`);
  const hasSum = (page: string) => readFileSync(fileOf(dist, page), 'utf8').includes('<astro-island');
  const kinds: Record<string, string[]> = {
    home: ['/'],
    'text page': pages.filter((page) => isHandbook(page) && !page.startsWith('/measuring/') && !hasSum(page)),
    'measure page': pages.filter((page) => page.startsWith('/measuring/')),
    'calculator page': pages.filter((page) => /^\/calculators\/[^/]+\/$/.test(page)),
    'visit sheet': ['/visit/'],
    search: ['/search/'],
    source: pages.filter((page) => /^\/sources\/[^/]+\/$/.test(page)),
  };
  const server = await serve(dist);
  const browser = await launch();
  for (const [kind, list] of Object.entries(kinds)) {
    const weighed = list.map((page) => ({ page, html: htmlWeight(dist, page) })).sort((a, b) => a.html - b.html);
    const middle = weighed[Math.floor(weighed.length / 2)];
    const largest = weighed.at(-1);
    if (!middle || !largest) continue;
    put(`${kind}: HTML`, middle.html / 1024, 'KB');
    if (list.length > 1) put(`${kind}: largest HTML (${largest.page})`, largest.html / 1024, 'KB');
    const { atOnce, inAll, requests } = await scriptWeight(browser, server, middle.page);
    put(`${kind}: scripts loaded at once`, atOnce / 1024, 'KB');
    if (inAll > atOnce) put(`${kind}: scripts with each sum in view`, inAll / 1024, 'KB');
    put(`${kind}: requests`, requests, '');
  }
  let heaviest = { page: '', bytes: 0 };
  for (const page of kinds['calculator page'] ?? []) {
    const { inAll } = await scriptWeight(browser, server, page);
    put(`scripts of ${page}`, inAll / 1024, 'KB');
    if (inAll > heaviest.bytes) heaviest = { page, bytes: inAll };
  }
  put(`largest calculator's scripts (${heaviest.page})`, heaviest.bytes / 1024, 'KB');
  for (const [name, value] of Object.entries(await paintFigures(browser, dist)))
    put(name, value, name.includes('against') ? 'times' : 'ms');
  await browser.close();
  await server.stop();
}

function print(before: Figures): void {
  const rows = Object.entries(figures).map(([name, { value, unit, better }]) => {
    const last = before[name]?.value;
    const change =
      last === undefined || last === 0 ? '' : `${value >= last ? '+' : ''}${((value / last - 1) * 100).toFixed(1)} %`;
    const worse =
      last !== undefined && better !== 'neither' && (better === 'less' ? value > last * 1.1 : value < last / 1.1);
    return [name, `${value} ${unit}`.trim(), last === undefined ? '-' : String(last), change, worse ? 'worse' : ''];
  });
  const header = ['', 'now', 'last', 'change', ''];
  const widths = header.map((_, column) => Math.max(...[header, ...rows].map((row) => row[column]?.length ?? 0)));
  for (const row of [header, ...rows])
    console.log(
      row
        .map((cell, column) => (column === 0 ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0)))
        .join('  ')
        .trimEnd(),
    );
}

if (process.argv.includes('--write') && process.argv.includes('--no-build'))
  throw new Error('Figures that are kept need a build of their own: leave out --no-build');
measureSums();
measureBuild();
await measurePages();
print(existsSync(store) ? JSON.parse(readFileSync(store, 'utf8')) : {});
if (process.argv.includes('--write')) writeFileSync(store, `${JSON.stringify(figures, null, 2)}\n`);
