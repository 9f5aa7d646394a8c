/**
 * What the site is made of and with, as a CycloneDX list: every package of the lock file with its exact version, licence
 * and checksum. From the lock file alone, so that the same commit gives the same bytes. Packages that only build or test
 * have the scope "excluded": nothing of them reaches a reader.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroIntegration } from 'astro';
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

export function billOfMaterials({ name, version, packages }: Lock): object {
  const components = Object.entries(packages)
    .filter(([path, { link }]) => path !== '' && !link)
    .map(([path, locked]) => ({ ...locked, name: path.slice(path.lastIndexOf('node_modules/') + 13) }))
    .map(component);
  const one = new Map(components.map((part) => [part['bom-ref'], part]));
  // The same package in two folders is one part; needed once is needed.
  for (const part of components) if (part.scope === 'required') one.set(part['bom-ref'], part);
  return {
    bomFormat: 'CycloneDX',
    specVersion: '1.5',
    version: 1,
    metadata: { component: { type: 'application', name, version, 'bom-ref': `${name}@${version}` } },
    components: [...one.values()].sort((a, b) => (a['bom-ref'] < b['bom-ref'] ? -1 : 1)),
  };
}

function component({ name, version = '', integrity, license, dev }: Locked & { name: string }) {
  const [algorithm, digest = ''] = integrity?.split('-') ?? [];
  return {
    type: 'library',
    'bom-ref': `${name}@${version}`,
    name,
    version,
    scope: dev ? 'excluded' : 'required',
    purl: `pkg:npm/${name.replace('@', '%40')}@${version}`,
    ...(license
      ? { licenses: [/[ ()]/.test(license) ? { expression: license } : { license: { name: license } }] }
      : {}),
    ...(algorithm === 'sha512'
      ? { hashes: [{ alg: 'SHA-512', content: Buffer.from(digest, 'base64').toString('hex') }] }
      : {}),
  };
}

export const materials = (): AstroIntegration => ({
  name: 'bill-of-materials',
  hooks: {
    'astro:build:done': async ({ dir, logger }) => {
      const lock: Lock = JSON.parse(await readFile(new URL('../../package-lock.json', import.meta.url), 'utf8'));
      const bill = billOfMaterials(lock);
      await writeFile(join(fileURLToPath(dir), materialsName), `${JSON.stringify(bill, null, 1)}\n`);
      logger.info(`${Object.keys(lock.packages).length - 1} packages`);
    },
  },
});
