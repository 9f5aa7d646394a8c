/**
 * What the site is made of and with, as a CycloneDX list: every package of the lock file with its exact version, licence
 * and checksum. From the lock file and the built scripts, so that the same commit gives the same bytes: npm's own list
 * differs between versions of npm (.github/decisions/0024-a-bill-of-materials-of-our-own.md). The scope is "required"
 * where code of the package reaches a reader, and "excluded" where it only builds or tests.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
import type { Plugin } from 'vite';
import { withoutLicence } from './licences.ts';
import { materialsName } from './offline.ts';

interface Locked {
  version?: string;
  integrity?: string;
  license?: string;
  dev?: boolean;
  link?: boolean;
}

interface Lock {
  name: string;
  version: string;
  packages: Record<string, Locked>;
}

/** Packages whose code is in the pages and not in a bundled script: the start of the islands, and the search engine. */
const besideScripts = ['node_modules/astro', 'node_modules/pagefind'];

/** Which package a bundled module is of, as the lock file names it: 'node_modules/preact'; none for a module of ours. */
export function packageOf(module: string): string | undefined {
  const [, ...nested] = module.split('node_modules/');
  const names = nested.map((path) => /^(?:@[^/]+\/)?[^/]+/.exec(path)?.[0]);
  return names.length === 0 ? undefined : names.map((name) => `node_modules/${name}`).join('/');
}

/** @param served  packages of which code reaches a reader, as the lock file names them */
export function billOfMaterials({ name, version, packages }: Lock, served: ReadonlySet<string>): object {
  const unknown = [...served].filter((path) => packages[path] === undefined);
  if (unknown.length > 0) throw new Error(`Served, and not in the lock file: ${unknown.join(', ')}`);
  const components = Object.entries(packages)
    .filter(([path, { link }]) => path !== '' && !link)
    .map(([path, locked]) =>
      component({ ...locked, name: path.slice(path.lastIndexOf('node_modules/') + 13), served: served.has(path) }),
    );
  const one = new Map(components.map((part) => [part['bom-ref'], part]));
  // The same package in two folders is one part; served from one of them is served.
  for (const part of components) if (part.scope === 'required') one.set(part['bom-ref'], part);
  return {
    bomFormat: 'CycloneDX',
    specVersion: '1.5',
    version: 1,
    metadata: { component: { type: 'application', name, version, 'bom-ref': `${name}@${version}` } },
    components: [...one.values()].sort((a, b) => (a['bom-ref'] < b['bom-ref'] ? -1 : 1)),
  };
}

function component({
  name,
  version = '',
  integrity,
  license,
  dev,
  served,
}: Locked & { name: string; served: boolean }) {
  const [algorithm, digest = ''] = integrity?.split('-') ?? [];
  return {
    type: 'library',
    'bom-ref': `${name}@${version}`,
    name,
    version,
    scope: served ? 'required' : 'excluded',
    purl: `pkg:npm/${name.replace('@', '%40')}@${version}`,
    ...(license
      ? { licenses: [/[ ()]/.test(license) ? { expression: license } : { license: { name: license } }] }
      : {}),
    ...(algorithm === 'sha512'
      ? { hashes: [{ alg: 'SHA-512', content: Buffer.from(digest, 'base64').toString('hex') }] }
      : {}),
    ...(dev ? { properties: [{ name: 'cdx:npm:package:development', value: 'true' }] } : {}),
  };
}

export const materials = (): AstroIntegration => {
  const bundled = new Set<string>();
  return {
    name: 'bill-of-materials',
    hooks: {
      'astro:config:setup': ({ updateConfig }) => {
        updateConfig({ vite: { plugins: [served(bundled)] } });
      },
      'astro:build:done': async ({ dir, logger }) => {
        if (bundled.size === 0)
          throw new Error('No package was seen in the scripts for readers: how they are built has changed');
        const lock: Lock = JSON.parse(await readFile(new URL('../../package-lock.json', import.meta.url), 'utf8'));
        const reaching = new Set([...bundled, ...besideScripts]);
        const bare = withoutLicence(reaching);
        if (bare.length > 0)
          throw new Error(`Served, and without its licence in src/build/licences.ts: ${bare.join(', ')}`);
        const bill = billOfMaterials(lock, reaching);
        await writeFile(join(fileURLToPath(dir), materialsName), `${JSON.stringify(bill, null, 1)}\n`);
        logger.info(
          `${Object.keys(lock.packages).length - 1} packages, code of ${bundled.size + besideScripts.length} in what readers get`,
        );
      },
    },
  };
};

/** Notes every package of which any code stays in a script for readers. */
const served = (found: Set<string>): Plugin => ({
  name: 'bill-of-materials',
  generateBundle(_, bundle) {
    if (this.environment.name !== 'client') return;
    for (const part of Object.values(bundle)) {
      if (part.type !== 'chunk') continue;
      for (const [module, { renderedLength }] of Object.entries(part.modules)) {
        const path = packageOf(module);
        if (path !== undefined && renderedLength > 0) found.add(path);
      }
    }
  },
});
