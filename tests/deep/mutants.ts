/**
 * `npm run mutants`: do tests notice a change in a calculation? The mutation tester changes the code of `calculators/`
 * in one place at a time and runs the tests that come past that place; a change that no test notices is listed. In a
 * copy of its own, since the tool brings some 170 packages that nobody else needs. Takes hours for all of it:
 *
 *   npm run mutants                         one block of lines in twenty, another choice each day
 *   npm run mutants -- 1                    all
 *   npm run mutants -- 0.1 7                one in ten, the choice that 7 stands for
 *   npm run mutants -- 1 1 cough,oxygen     all of these folders
 */
import { execFileSync } from 'node:child_process';
import { globSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const version = '10.1.1';
const [share = '0.05', seed = String(Math.floor(Date.now() / 864e5)), only = ''] = process.argv.slice(2);
const copy = join(tmpdir(), 'tidemark-mutants');
const linesInABlock = 15;

/** Numbers that only look like chance: the same blocks for the same seed. */
function* chance(from: number): Generator<number, never> {
  for (let state = from | 0; ; ) {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed);
    yield ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }
}

/** Blocks of lines as the tool takes them: `file:first-last`. */
function chosen(): string[] {
  const dice = chance(Number(seed));
  const folders = only === '' ? ['*'] : only.split(',');
  return globSync(
    folders.map((folder) => `calculators/${folder}/*.ts`),
    { cwd: '.' },
  )
    .sort()
    .flatMap((file) => {
      const lines = readFileSync(file, 'utf8').split('\n').length;
      if (Number(share) >= 1) return [file];
      return Array.from({ length: Math.ceil(lines / linesInABlock) }, (_, at) => at * linesInABlock + 1)
        .filter(() => dice.next().value < Number(share))
        .map((first) => `${file}:${first}-${Math.min(first + linesInABlock - 1, lines)}`);
    });
}

const run = (command: string, words: string[]): void => {
  execFileSync(command, words, { cwd: copy, stdio: ['ignore', 'inherit', 'inherit'] });
};

rmSync(copy, { recursive: true, force: true });
execFileSync('git', ['clone', '--quiet', '--depth', '1', `file://${resolve('.')}`, copy]);
run('npm', ['ci', '--no-audit', '--no-fund', '--prefer-offline']);
run('npm', [
  'install',
  '--no-save',
  '--no-audit',
  '--no-fund',
  `@stryker-mutator/core@${version}`,
  `@stryker-mutator/vitest-runner@${version}`,
]);
// What looks at the text of the code itself would notice every change.
writeFileSync(
  join(copy, 'tests/mutants.config.ts'),
  `import { defineConfig } from 'vitest/config';
export default defineConfig({
  test: {
    include: ['tests/{calculators,reference}/**/*.test.ts', 'tests/content/{criteria,decisions,learning,measures}.test.ts'],
    exclude: ['**/architecture.test.ts'],
    root: '.',
    testTimeout: 30_000,
  },
});
`,
);
writeFileSync(
  join(copy, 'stryker.conf.json'),
  JSON.stringify({
    testRunner: 'vitest',
    vitest: { configFile: 'tests/mutants.config.ts' },
    plugins: ['@stryker-mutator/vitest-runner'],
    mutate: chosen(),
    // Words are read by people, not by tests; what runs once when a file is loaded would need every test each time.
    mutator: { excludedMutations: ['StringLiteral'] },
    ignoreStatic: true,
    coverageAnalysis: 'perTest',
    concurrency: 2,
    timeoutMS: 20_000,
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName: 'mutants.json' },
    allowEmpty: true,
  }),
);
run(join('node_modules', '.bin', 'stryker'), ['run', 'stryker.conf.json']);

interface Mutant {
  status: string;
  mutatorName: string;
  replacement: string;
  location: { start: { line: number } };
}
const report: { files: Record<string, { mutants: Mutant[] }> } = JSON.parse(
  readFileSync(join(copy, 'mutants.json'), 'utf8'),
);
const counts: Record<string, number> = {};
for (const [file, { mutants }] of Object.entries(report.files))
  for (const { status, mutatorName, replacement, location } of mutants) {
    counts[status] = (counts[status] ?? 0) + 1;
    if (status === 'Survived' || status === 'NoCoverage')
      console.log(
        `${file}:${location.start.line}  ${status}  ${mutatorName}: ${replacement.replace(/\s+/g, ' ').slice(0, 100)}`,
      );
  }
const of = (...names: string[]) => names.reduce((sum, name) => sum + (counts[name] ?? 0), 0);
const noticed = of('Killed', 'Timeout');
const tried = noticed + of('Survived', 'NoCoverage');
console.log(
  `${noticed} of ${tried} changes noticed: ${((100 * noticed) / tried).toFixed(1)} %. ${JSON.stringify(counts)}`,
);
