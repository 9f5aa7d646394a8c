/**
 * Everything that `npm test` runs, in order: types, lint, the fast tests, two builds, the tests in a real browser, the main
 * journeys in two other engines.
 * A step that fails does not stop the next unless the next needs it. The last line counts tests: the type check, lint and
 * builds are steps, and a step adds to it only when it fails.
 *
 *   node tests/run.ts         all of it
 *   node tests/run.ts unit    the fast tests alone
 *   node tests/run.ts site    both builds and the browser tests
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { missingEngines } from './engines/need.ts';
import { needChromium } from './site/chromium.ts';
import { builtInFile, subBase } from './site/sub-base.ts';

interface Counts {
  passed: number;
  failed: number;
  skipped: number;
}

const cache = '.cache';
const dist = join(cache, 'dist');
const subDist = join(cache, 'dist-sub');
const total: Counts = { passed: 0, failed: 0, skipped: 0 };
const summary: string[] = [];

const env = {
  ...process.env,
  PATH: [join('node_modules', '.bin'), process.env.PATH].join(delimiter),
  ASTRO_TELEMETRY_DISABLED: '1',
  CI: '1',
};

/** @returns whether the command ended well; its output goes straight to the reader, and it can ask nothing */
const run = (command: string, args: string[], extra: Record<string, string> = {}): Promise<boolean> =>
  new Promise((done) => {
    const child = spawn(command, args, { stdio: ['ignore', 'inherit', 'inherit'], env: { ...env, ...extra } });
    child.on('error', (error) => {
      console.error(`${command}: ${error.message}`);
      done(false);
    });
    child.on('close', (code) => done(code === 0));
  });

async function step(name: string, work: () => Promise<Counts>): Promise<Counts> {
  console.log(`\n=== ${name}`);
  const start = performance.now();
  const counts = await work();
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  const tests = counts.passed + counts.skipped > 0 ? `, ${countWords(counts)}` : '';
  summary.push(`${counts.failed === 0 ? 'ok  ' : 'FAIL'}  ${name}: ${seconds} s${tests}`);
  console.log(`--- ${name}: ${seconds} s`);
  for (const key of ['passed', 'failed', 'skipped'] as const) total[key] += counts[key];
  return counts;
}

/** A step without tests of its own passes nothing; where it fails, the run must not end on '0 failed'. */
const noTests = (succeeded: boolean): Counts => ({ passed: 0, failed: Number(!succeeded), skipped: 0 });
const countWords = ({ passed, failed, skipped }: Counts): string =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;

/** Vitest with its own counts read back from a file. */
async function vitest(config: string, report: string, extra: Record<string, string> = {}): Promise<Counts> {
  const file = join(cache, report);
  rmSync(file, { force: true });
  const passed = await run(
    'vitest',
    ['run', '--config', config, '--reporter=default', '--reporter=json', `--outputFile.json=${file}`],
    extra,
  );
  const counts = countsOf(file);
  // A file that could not be loaded, or an error outside any test, fails without a test of its own to show it.
  return !passed && counts.failed === 0 ? { ...counts, failed: 1 } : counts;
}

interface Report {
  testResults: { status: string; assertionResults: { status: string }[] }[];
}

function countsOf(file: string): Counts {
  let report: Report;
  try {
    report = JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
  const counts: Counts = { passed: 0, failed: 0, skipped: 0 };
  for (const { status, assertionResults } of report.testResults) {
    for (const { status: result } of assertionResults)
      counts[result === 'passed' ? 'passed' : result === 'failed' ? 'failed' : 'skipped'] += 1;
    if (status === 'failed' && !assertionResults.some((one) => one.status === 'failed')) counts.failed += 1;
  }
  return counts;
}

const build =
  (outDir: string, extra: Record<string, string> = {}) =>
  async (): Promise<Counts> => {
    rmSync(outDir, { recursive: true, force: true });
    return noTests(await run('astro', ['build'], { TIDEMARK_OUT: outDir, ...extra }));
  };

/** The one build is the handbook alone, the other as a clinic hosts it: in a folder, with an agreement built in. */
async function site(): Promise<void> {
  const built = await step('build', build(dist, { TIDEMARK_AGREEMENT: 'none' }));
  const builtSub = await step(
    `build for a folder of a larger site (${subBase}), with an agreement built in`,
    build(subDist, { TIDEMARK_BASE: subBase, TIDEMARK_AGREEMENT: builtInFile }),
  );
  await step('browser tests', async () => {
    if (built.failed + builtSub.failed > 0) {
      console.error('Not run: they need both builds');
      return noTests(false);
    }
    try {
      const chromium = needChromium();
      return await vitest('tests/site/vitest.config.ts', 'site.json', {
        CHROMIUM: chromium,
        TIDEMARK_DIST: dist,
        TIDEMARK_DIST_SUB: subDist,
      });
    } catch (error) {
      console.error(error instanceof Error ? error.message : error);
      return noTests(false);
    }
  });
  await step('main journeys in Firefox and WebKit', async () => {
    if (built.failed > 0) {
      console.error('Not run: they need the first build');
      return noTests(false);
    }
    for (const line of missingEngines()) console.warn(line);
    return vitest('tests/engines/vitest.config.ts', 'engines.json', { TIDEMARK_DIST: dist });
  });
}

const unit = () =>
  step('calculators, content and reference values', () => vitest('tests/vitest.config.ts', 'unit.json'));

const asked = process.argv[2] ?? 'all';
if (!['all', 'unit', 'site'].includes(asked)) {
  console.error(`Nothing called "${asked}": unit, site, or nothing for all`);
  process.exit(2);
}
mkdirSync(cache, { recursive: true });
const start = performance.now();
if (asked === 'all') {
  await step('type check', async () => noTests(await run('npm', ['run', '--silent', 'check'])));
  await step('lint and format', async () => noTests(await run('npm', ['run', '--silent', 'lint'])));
}
if (asked !== 'site') await unit();
if (asked !== 'unit') await site();
console.log(`\n${summary.join('\n')}\nIn all ${((performance.now() - start) / 1000).toFixed(0)} s\n`);
console.log(countWords(total));
process.exitCode = total.failed === 0 && total.passed > 0 ? 0 : 1;
