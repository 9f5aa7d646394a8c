/**
 * The licence of everything whose code reaches a reader, our own included: most ask that their text goes with the copy.
 * `bill-of-materials.ts` sees which packages those are and stops the build where one is missing here.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** By name, and the file of the package that is its licence. */
export const servedPackages: Readonly<Record<string, string>> = {
  '@astrojs/preact': 'LICENSE',
  '@preact/signals': 'LICENSE',
  '@preact/signals-core': 'LICENSE',
  astro: 'LICENSE',
  'lean-qr': 'LICENSE',
  pagefind: 'LICENSE/LICENSE',
  preact: 'LICENSE',
  zod: 'LICENSE',
};

export interface Licence {
  name: string;
  text: string;
}

export const licences = (root = process.cwd()): Licence[] => [
  { name: 'Tidemark', text: readFileSync(join(root, 'LICENSE'), 'utf8').trim() },
  ...Object.entries(servedPackages).map(([name, file]) => ({
    name,
    text: readFileSync(join(root, 'node_modules', name, file), 'utf8').trim(),
  })),
];

/** @param served  as the lock file names them: 'node_modules/preact' */
export function withoutLicence(served: Iterable<string>): string[] {
  const names = [...served].map((path) => path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length));
  return names.filter((name) => !Object.hasOwn(servedPackages, name));
}
