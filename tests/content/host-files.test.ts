/** What goes with the built site to whoever hosts it: its headers and its bill of materials. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { billOfMaterials, packageOf } from '../../src/build/bill-of-materials.ts';
import { commonPolicy, headersFile, policyOf } from '../../src/build/headers.ts';
import { releaseNotes } from '../../src/build/release-notes.ts';

const page = (policy: string) => `<meta http-equiv="content-security-policy" content="${policy}">`;

describe('the policy in the header', () => {
  const one = page("default-src 'self'; script-src 'self' 'sha256-b='; style-src 'self'");
  const two = page(
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval' 'sha256-a='; style-src 'self' 'sha256-c='",
  );

  test('allows the scripts that any page allows itself, no more, and no frame; styles it leaves to the page', () => {
    expect(commonPolicy([one, two])).toBe(
      "default-src 'self'; script-src 'self' 'sha256-a=' 'sha256-b=' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; frame-ancestors 'none'",
    );
  });

  test('is the same in whatever order the pages come', () => {
    expect(commonPolicy([one, two])).toBe(commonPolicy([two, one]));
  });

  test('is short enough for a host that takes two thousand characters a line', () => {
    const hashes = Array.from({ length: 20 }, (_, n) => `'sha256-${String(n).padStart(43, 'a')}='`).join(' ');
    expect(
      headersFile(commonPolicy([page(`script-src 'self' ${hashes}; style-src ${hashes}`)]), '/', []).split('\n'),
    ).toSatisfy((lines: string[]) => lines.every((line) => line.length < 2000));
  });

  test('a page without a policy is seen as one', () => {
    expect(policyOf('<p>none</p>').size).toBe(0);
  });

  test('holds under the folder that the site is served from', () => {
    const names = ['_astro/a.js', 'index.html', '404.html', 'data/pages.json', 'urgent/index.html', 'sw.js'];
    const places = headersFile("default-src 'self'", '/handbook/', names).match(/^\/.*$/gm);
    expect(places).toEqual([
      '/handbook/*',
      '/handbook/_astro/*',
      '/handbook/',
      '/handbook/404.html',
      '/handbook/data/*',
      '/handbook/sw.js',
      '/handbook/urgent/*',
    ]);
  });

  test('pages, data and the worker are asked for anew; what changes its name with its content is not', () => {
    const text = headersFile("default-src 'self'", '/', ['_astro/a.js', 'index.html', 'data/pages.json', 'sw.js']);
    const cached = Object.fromEntries(
      [...text.matchAll(/^(\/\S*)\n {2}Cache-Control: (.*)$/gm)].map(([, place = '', how = '']) => [place, how]),
    );
    expect(cached).toEqual({
      '/_astro/*': 'public, max-age=31536000, immutable',
      '/': 'no-cache',
      '/data/*': 'no-cache',
      '/sw.js': 'no-cache',
    });
  });
});

interface Bill {
  components: {
    name: string;
    version: string;
    scope: string;
    purl: string;
    hashes?: unknown[];
    licenses?: unknown[];
    properties?: unknown[];
  }[];
}

describe('the bill of materials', () => {
  const lock = JSON.parse(readFileSync('package-lock.json', 'utf8'));
  const manifest = JSON.parse(readFileSync('package.json', 'utf8'));
  const served = new Set(['node_modules/preact', 'node_modules/pagefind']);
  const { components } = billOfMaterials(lock, served) as Bill;
  const part = (name: string) => components.find((one) => one.name === name);

  test('lists every package of the lock file once, each with its checksum and licence', () => {
    const locked = new Set(
      Object.entries(lock.packages as Record<string, { version: string }>)
        .filter(([path]) => path !== '')
        .map(([path, { version }]) => `${path.replace(/^.*node_modules\//, '')}@${version}`),
    );
    expect(components.map(({ name, version }) => `${name}@${version}`).sort()).toEqual([...locked].sort());
    expect(components.filter(({ hashes, licenses }) => !hashes || !licenses)).toEqual([]);
  });

  test('marks what reaches a reader, whether it is a development dependency or not, and nothing else', () => {
    expect(components.filter(({ scope }) => scope === 'required').map(({ name }) => name)).toEqual([
      'pagefind',
      'preact',
    ]);
    expect(new Set(components.map(({ scope }) => scope))).toEqual(new Set(['required', 'excluded']));
    expect(part('vitest')?.properties).toEqual([{ name: 'cdx:npm:package:development', value: 'true' }]);
    expect(part('preact')?.properties).toBeUndefined();
    expect(part('@astrojs/mdx')?.purl).toBe(`pkg:npm/%40astrojs/mdx@${manifest.dependencies['@astrojs/mdx']}`);
  });

  test('refuses a package that is served and not in the lock file: its version would be unknown', () => {
    expect(() => billOfMaterials(lock, new Set(['node_modules/from-nowhere']))).toThrow('node_modules/from-nowhere');
  });

  test.each([
    ['/home/a b/tidemark/node_modules/preact/dist/preact.mjs', 'node_modules/preact'],
    ['/x/node_modules/@astrojs/preact/dist/client.js?v=1', 'node_modules/@astrojs/preact'],
    ['/x/node_modules/one/node_modules/@two/three/index.js', 'node_modules/one/node_modules/@two/three'],
    ['/x/src/dom.ts', undefined],
  ])('the package of the module %s is %s', (module, expected) => {
    expect(packageOf(module)).toBe(expected);
  });

  test('names no time and no chance, so that two builds give the same bytes', () => {
    expect(JSON.stringify(billOfMaterials(lock, served))).not.toMatch(/timestamp|serialNumber|urn:uuid/);
  });
});

describe('the notes of a release', () => {
  const changelog = '# Changelog\n\n## Unreleased\n\n- New thing.\n\n## 0.2.0\n\n- Second.\n\n## 0.1.0\n\n- First.\n';

  test('are its own part of the changelog, and no other', () => {
    const notes = releaseNotes(changelog, '0.2.0', 'abc');
    expect(notes).toContain('- Second.');
    expect(notes).not.toMatch(/New thing|First/);
    expect(notes).toContain('commit abc');
  });

  test('before a version is named there, are what has not been released', () => {
    expect(releaseNotes(changelog, '0.3.0', 'abc')).toContain('- New thing.');
  });

  test('a changelog without either is refused', () => {
    expect(() => releaseNotes('# Changelog\n', '0.3.0', 'abc')).toThrow('no part for 0.3.0');
  });
});
