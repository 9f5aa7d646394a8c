/**
 * What is handed out: with content/agreement/clinic.* there, the clinic's own archive beside the others, and a warning when
 * its review is overdue. The real script runs in a folder of its own. Only the builder is stood in for, by one that writes
 * down which agreement it was asked to build in: a real build with an agreement is tests/site/built-in-agreement.test.ts.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { stringify } from 'yaml';
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import pkg from '../../package.json' with { type: 'json' };
import { archiveName, materialsName } from '../../src/build/offline.ts';
import { agreement } from '../calculators/agreement/agreement-setup.ts';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

const builder = `#!/bin/sh
mkdir -p "$TIDEMARK_OUT"
echo "built with $TIDEMARK_AGREEMENT" > "$TIDEMARK_OUT/${archiveName}"
echo "{}" > "$TIDEMARK_OUT/${materialsName}"
`;

/** A copy of the project as far as the release needs it, with the clinic's agreement in it or without. */
function folderWith(name?: string, clinic?: Agreement): string {
  const folder = mkdtempSync(join(tmpdir(), 'tidemark release '));
  folders.push(folder);
  mkdirSync(join(folder, 'node_modules', '.bin'), { recursive: true });
  mkdirSync(join(folder, 'content', 'agreement'), { recursive: true });
  const astro = join(folder, 'node_modules', '.bin', 'astro');
  writeFileSync(astro, builder);
  chmodSync(astro, 0o755);
  cpSync('CHANGELOG.md', join(folder, 'CHANGELOG.md'));
  if (name && clinic) {
    const text = name.endsWith('.json') ? JSON.stringify(clinic) : stringify(clinic);
    writeFileSync(join(folder, 'content', 'agreement', name), text);
  }
  const git = (...words: string[]) => execFileSync('git', words, { cwd: folder, stdio: 'ignore' });
  git('init', '-q');
  git('add', 'CHANGELOG.md');
  git('-c', 'user.name=A', '-c', 'user.email=a@example.org', 'commit', '-q', '-m', 'First');
  return folder;
}

function release(folder: string) {
  const ran = spawnSync(process.execPath, [resolve('src/build/release.ts')], { cwd: folder, encoding: 'utf8' });
  const out = join(folder, '.cache', 'release');
  const read = (file: string) => readFileSync(join(out, file));
  return { ...ran, files: ran.status === 0 ? readdirSync(out).sort() : [], read };
}

const stem = `tidemark-${pkg.version}`;
const always = [`${stem}.zip`, `${stem}.${materialsName}`, `${stem}-demonstration.zip`, 'NOTES.md', 'SHA256SUMS'];
const overdue = agreement({ agreed: '2020-01-10', review: '2021-01-10' });
const current = agreement({ agreed: '2026-01-10', review: '2199-01-10' });

describe('npm run release', () => {
  test('is this script', () => {
    expect(pkg.scripts.release).toContain('src/build/release.ts');
  });

  test('without an agreement of the clinic: the site and the demonstration, and no warning', () => {
    const { status, files, stderr, read } = release(folderWith());
    expect({ status, stderr: stderr.replace(/.*ExperimentalWarning.*\n.*trace-warnings.*\n/g, '') }).toEqual({
      status: 0,
      stderr: '',
    });
    expect(files).toEqual([...always].sort());
    expect(String(read(`${stem}.zip`))).toBe('built with none\n');
    expect(String(read(`${stem}-demonstration.zip`))).toContain('demo-tern-valley.yaml');
  });

  test.each([
    ['clinic.yaml', current, `${stem}-tern-valley-2026-01-10.zip`],
    ['clinic.yml', current, `${stem}-tern-valley-2026-01-10.zip`],
    ['clinic.json', { ...current, status: 'draft' as const }, `${stem}-tern-valley-2026-01-10-DRAFT.zip`],
  ])(
    'with %s: the archive of the clinic too, named by clinic, day and draft, in the checksums',
    (name, clinic, archive) => {
      const { files, read } = release(folderWith(name, clinic));
      expect(files).toEqual([...always, archive].sort());
      expect(String(read(archive))).toBe(`built with content/agreement/${name}\n`);
      const sum = createHash('sha256').update(read(archive)).digest('hex');
      expect(String(read('SHA256SUMS'))).toContain(`${sum}  ${archive}`);
    },
  );

  test('warns of a review that is overdue, and builds all the same', () => {
    const late = release(folderWith('clinic.yaml', overdue));
    expect(late.stderr).toMatch(/Warning: content\/agreement\/clinic\.yaml: .*review.*2021-01-10/i);
    expect(late.files).toContain(`${stem}-tern-valley-2020-01-10.zip`);
    expect(release(folderWith('clinic.yaml', current)).stderr).not.toMatch(/Warning: content/);
  });

  test('stops at a file that is no agreement, and hands out nothing half done', () => {
    const folder = folderWith('clinic.yaml', { clinic: 'Tern Valley' } as Agreement);
    const { status, stderr } = release(folder);
    expect(status).not.toBe(0);
    expect(stderr).toContain('content/agreement/clinic.yaml is not an agreement');
    expect(readdirSync(join(folder, '.cache', 'release'))).toEqual([]);
  });
});
