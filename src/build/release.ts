/**
 * What is handed out of one commit, in .cache/release: the site as an archive, the same with the demonstration agreement
 * built in, the bill of materials, notes from the changelog, and a checksum of each. Where content/agreement/clinic.* is
 * there, the clinic's own archive too; a review that is overdue is said.
 *
 *   npm run release
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, globSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pkg from '../../package.json' with { type: 'json' };
import { archiveName, materialsName } from './offline.ts';
import { clinicRelease } from './release-clinic.ts';
import { releaseNotes } from './release-notes.ts';

const out = '.cache/release';
const builds = join('.cache', 'release-builds');
const demonstration = 'content/agreement/demo-tern-valley.yaml';

const git = (...words: string[]): string => execFileSync('git', words, { encoding: 'utf8' }).trim();

function build(name: string, agreement: string): string {
  const folder = join(builds, name);
  execFileSync(join('node_modules', '.bin', 'astro'), ['build'], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, TIDEMARK_OUT: folder, TIDEMARK_AGREEMENT: agreement, ASTRO_TELEMETRY_DISABLED: '1' },
  });
  return folder;
}

rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });
const commit = `${git('rev-parse', 'HEAD')}${git('status', '--porcelain') === '' ? '' : ', with changes that are not committed'}`;
const plain = build('site', 'none');
const clinicFile = globSync('content/agreement/clinic.{yaml,yml,json}')[0];
const clinic =
  clinicFile && clinicRelease(clinicFile, readFileSync(clinicFile, 'utf8'), new Date().toISOString().slice(0, 10));
const withDemonstration = build('demonstration', demonstration);
const name = `tidemark-${pkg.version}`;
copyFileSync(join(plain, archiveName), join(out, `${name}.zip`));
copyFileSync(join(plain, materialsName), join(out, `${name}.${materialsName}`));
copyFileSync(join(withDemonstration, archiveName), join(out, `${name}-demonstration.zip`));
const clinicArchive = clinic && `${name}-${clinic.stem}.zip`;
if (clinicArchive) copyFileSync(join(build('clinic', clinicFile ?? ''), archiveName), join(out, clinicArchive));
writeFileSync(join(out, 'NOTES.md'), releaseNotes(readFileSync('CHANGELOG.md', 'utf8'), pkg.version, commit));

const files = [
  `${name}.zip`,
  `${name}-demonstration.zip`,
  `${name}.${materialsName}`,
  'NOTES.md',
  ...(clinicArchive ? [clinicArchive] : []),
];
const sums = files.map(
  (file) =>
    `${createHash('sha256')
      .update(readFileSync(join(out, file)))
      .digest('hex')}  ${file}`,
);
writeFileSync(join(out, 'SHA256SUMS'), `${sums.join('\n')}\n`);
for (const file of files)
  console.log(`${(readFileSync(join(out, file)).length / 1e6).toFixed(2)} MB  ${join(out, file)}`);
for (const warning of (clinic || undefined)?.warnings ?? []) console.warn(`Warning: ${warning}`);
console.log(`Check with: cd ${out} && sha256sum -c SHA256SUMS`);
