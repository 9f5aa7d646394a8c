/** Files of content/ are found in any folder, and never silently not. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { contentFiles } from '../../src/build/content-files.ts';

let root = '';
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'dossier d\u2019\u00e9t\u00e9 100 % '));
  mkdirSync(join(root, 'content/criteria'), { recursive: true });
  for (const name of ['b.yaml', 'a.yaml']) writeFileSync(join(root, 'content/criteria', name), '[]');
});
afterAll(() => rmSync(root, { recursive: true }));

test('in a folder with a space, an accent and a per cent sign they are found, in order', () => {
  const asConfigured = fileURLToPath(new URL('.', pathToFileURL(join(root, 'x'))));
  expect(contentFiles('content/criteria/*.yaml', asConfigured)).toEqual([
    'content/criteria/a.yaml',
    'content/criteria/b.yaml',
  ]);
});

test('a pattern that finds nothing is an error that names the pattern and the folder', () => {
  expect(() => contentFiles('content/criterion/*.yaml', root)).toThrow(
    `No file matches content/criterion/*.yaml in ${root}: the site cannot be built without it`,
  );
});
