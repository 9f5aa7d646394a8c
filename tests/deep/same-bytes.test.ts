/** Who builds the same commit gets the same files, byte for byte: a clinic can hold its copy against anybody's. */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { build, copyForBuild, hashes } from './build.ts';

const folder = copyForBuild();
const here = '.cache/deep/here';
const there = join(folder, 'out');

beforeAll(async () => {
  await build('.', here);
  // Another folder, another day's clock zone, another language: none of it may show.
  await build(folder, there, { TZ: 'Pacific/Kiritimati', LANG: 'de_DE.UTF-8', LC_ALL: 'de_DE.UTF-8' });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('two builds in two places, time zones and languages are the same, file by file', () => {
  const [one, other] = [hashes(here), hashes(there)];
  expect(Object.keys(one).length).toBeGreaterThan(500);
  expect(other).toEqual(one);
});
