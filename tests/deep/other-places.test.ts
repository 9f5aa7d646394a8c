/** The fast tests once more where the clock, the day and the decimal comma are others: nothing may hang on the machine. */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'tidemark-places-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Report {
  numPassedTests: number;
  testResults: { name: string; status: string; assertionResults: { status: string; fullName: string }[] }[];
}

test.each([
  ['east of the date line, a day ahead', { TZ: 'Pacific/Kiritimati', LC_ALL: 'C.UTF-8' }],
  ['half an hour off, summer time, commas', { TZ: 'America/St_Johns', LC_ALL: 'de_DE.UTF-8', LANG: 'de_DE.UTF-8' }],
  ['where a day ends last, dotless i', { TZ: 'Pacific/Pago_Pago', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' }],
])('the fast tests pass %s', async (_, place) => {
  const file = join(folder, `${place.TZ.replace('/', '-')}.json`);
  await new Promise<void>((done) => {
    const words = ['run', '--config', 'tests/vitest.config.ts', '--reporter=json', `--outputFile=${file}`];
    // What fails is in the report.
    execFile('node_modules/.bin/vitest', words, { maxBuffer: 1 << 28, env: { ...process.env, ...place } }, () =>
      done(),
    );
  });
  const { numPassedTests, testResults }: Report = JSON.parse(readFileSync(file, 'utf8'));
  const failed = testResults.flatMap(({ name, status, assertionResults }) => {
    const tests = assertionResults.filter((one) => one.status === 'failed').map((one) => one.fullName);
    return status === 'failed' && tests.length === 0 ? [name] : tests;
  });
  expect(failed).toEqual([]);
  expect(numPassedTests).toBeGreaterThan(5000);
});
