/** A build of its own for a deep test, in a folder that the test names. */
import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, globSync, mkdtempSync, readFileSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';

/** What a build reads, in a new folder for temporary files; its packages are those of this copy. */
export function copyForBuild(): string {
  const folder = mkdtempSync(join(tmpdir(), 'tidemark-deep-'));
  for (const part of [
    'src',
    'content',
    'calculators',
    'astro.config.mjs',
    'package.json',
    'package-lock.json',
    'tsconfig.json',
  ])
    cpSync(part, join(folder, part), { recursive: true });
  symlinkSync(resolve('node_modules'), join(folder, 'node_modules'));
  return folder;
}

/** @returns seconds it took */
export async function build(from: string, out: string, more: Record<string, string> = {}): Promise<number> {
  rmSync(out, { recursive: true, force: true });
  const start = performance.now();
  await promisify(execFile)(resolve('node_modules/.bin/astro'), ['build'], {
    cwd: from,
    maxBuffer: 1 << 28,
    env: {
      ...process.env,
      ASTRO_TELEMETRY_DISABLED: '1',
      TIDEMARK_AGREEMENT: 'none',
      // The day a page's checks fall due is counted from the day of building: the same day for all.
      SOURCE_DATE_EPOCH: '1790000000',
      TIDEMARK_OUT: resolve(out),
      NODE_ENV: 'production',
      ...more,
    },
  });
  return (performance.now() - start) / 1000;
}

/** Every file below a folder by a short hash of its bytes. */
export const hashes = (folder: string): Record<string, string> =>
  Object.fromEntries(
    globSync('**/*', { cwd: folder })
      .filter((name) => statSync(join(folder, name)).isFile())
      .sort()
      .map((name) => [
        name,
        createHash('sha256')
          .update(readFileSync(join(folder, name)))
          .digest('hex')
          .slice(0, 16),
      ]),
  );
