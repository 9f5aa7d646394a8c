/** The fast tests once more where the clock, the day and the decimal comma are others': nothing may hang on the machine. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';

const places: Record<string, Record<string, string>> = {
  'east of the date line, a day ahead': { TZ: 'Pacific/Kiritimati', LC_ALL: 'C.UTF-8' },
  'half an hour off, summer time': { TZ: 'America/St_Johns', LC_ALL: 'de_DE.UTF-8', LANG: 'de_DE.UTF-8' },
  'the last place of a day': { TZ: 'Pacific/Pago_Pago', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' },
};

describe.each(Object.entries(places))('%s', (_, env) => {
  test('the fast tests pass', async () => {
    const { stdout } = await promisify(execFile)(
      'node_modules/.bin/vitest',
      ['run', '--config', 'tests/vitest.config.ts', '--reporter=json'],
      { maxBuffer: 1 << 28, env: { ...process.env, ...env, NODE_ENV: 'test' } },
    ).catch((error) => ({ stdout: String(error.stdout) }));
    const report = JSON.parse(stdout.slice(stdout.indexOf('{"num')));
    const failed = report.testResults.flatMap((file: { assertionResults: { status: string; fullName: string }[] }) =>
      file.assertionResults.filter((one) => one.status === 'failed').map((one) => one.fullName),
    );
    expect(failed).toEqual([]);
    expect(report.numPassedTests).toBeGreaterThan(5000);
  });
});
