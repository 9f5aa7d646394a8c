/** Where the browser for the tests is; and, on a bare Debian machine, how it gets there. */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const usualPlaces = [
  '/usr/bin',
  '/usr/local/bin',
  '/snap/bin',
  '/opt/google/chrome',
  '/Applications/Google Chrome.app/Contents/MacOS',
  '/Applications/Chromium.app/Contents/MacOS',
];
const usualNames = [...names, 'chrome', 'Google Chrome', 'Chromium'];

const howToInstall =
  'No Chromium found. Install it (Debian, Ubuntu: apt-get install chromium) or name one: CHROMIUM=/path/to/chromium npm test';

export function findChromium(): string | undefined {
  const named = process.env.CHROMIUM;
  if (named !== undefined && named !== '') {
    if (!runs(named)) throw new Error(`CHROMIUM is "${named}", which is not a program that can be run`);
    return named;
  }
  const onPath = (process.env.PATH ?? '').split(delimiter).flatMap((folder) => names.map((name) => join(folder, name)));
  return [...onPath, ...usualPlaces.flatMap((folder) => usualNames.map((name) => join(folder, name)))].find(runs);
}

/** The browser, installed first where that can be done without asking anybody: Debian, as root. */
export function needChromium(): string {
  const found = findChromium() ?? (install(['chromium']) ? findChromium() : undefined);
  if (found === undefined) throw new Error(howToInstall);
  return found;
}

/** @returns whether this machine is one on which packages can be installed without asking anybody; they may still be missing afterwards */
export function install(packages: string[]): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return false;
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', ...packages]])
    spawnSync('apt-get', args, { stdio: ['ignore', 'inherit', 'inherit'], env });
  return true;
}

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
