/** The build steps that rewrite what the bundler or Astro wrote: on small strings, and loud where their marker is missing. */
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { withOwnPolicy } from '../../src/build/own-policy.ts';
import { plainScripts, withoutPreloadMarker } from '../../src/build/plain-imports.ts';
import { withoutPrinted } from '../../src/build/printed-only.ts';
import { importedBy, withReadAhead } from '../../src/build/read-ahead.ts';

describe('own-policy', () => {
  test('the policy stands before the first script, and only once', () => {
    const html = `<head><meta charset="utf-8"><script>a()</script><meta http-equiv="content-security-policy" content="script-src ${hash('a()')}"></head>`;
    expect(withOwnPolicy(html)).toBe(
      `<head><meta charset="utf-8"><meta http-equiv="content-security-policy" content="script-src ${hash('a()')}"><script>a()</script></head>`,
    );
    expect(() => withOwnPolicy(html.replace('<meta charset="utf-8">', ''))).toThrow(/does not say how it is encoded/);
  });

  const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
  const page = (words: string, body: string) =>
    `<head><meta charset="utf-8"><meta http-equiv="content-security-policy" content="${words}"></head>${body}`;

  test('keeps the hashes of the page itself and drops those of other pages', () => {
    const policy = `script-src 'self' ${hash('a()')} ${hash('b()')}; style-src 'self' ${hash('p{}')} ${hash('q{}')}`;
    const body = '<style>p{}</style><script type="module">a()</script>';
    expect(withOwnPolicy(page(policy, body))).toBe(
      page(`script-src 'self' ${hash('a()')}; style-src 'self' ${hash('p{}')}`, body),
    );
  });
  test('a page with nothing inline keeps none', () => {
    expect(withOwnPolicy(page(`script-src 'self' ${hash('a()')}`, ''))).toBe(page("script-src 'self'", ''));
  });
  test.each([
    ['no policy', '<head></head><script>a()</script>'],
    ['a policy without hashes', page("script-src 'self'", '')],
    [
      'a policy written in another order',
      '<meta content="script-src \'sha256-x\'" http-equiv="content-security-policy">',
    ],
  ])('stops at %s', (_, html) => {
    expect(() => withOwnPolicy(html)).toThrow(/no content security policy with hashes/);
  });
});

describe('plain-imports', () => {
  const marked = 'const load=()=>__vitePreload(()=>import("./b.js"),__VITE_PRELOAD__);';
  const plain = 'const load=()=>__vitePreload(()=>import("./b.js"));';

  test('takes the marker out, with its comma, wherever it is', () => {
    expect(withoutPreloadMarker(marked + marked)).toBe(plain + plain);
    expect(withoutPreloadMarker('f(a,\n  __VITE_PRELOAD__)')).toBe('f(a)');
  });
  test('rewrites the scripts that fetch others and leaves the rest as they are', () => {
    expect(
      plainScripts({ 'a.js': { code: marked, fetches: true }, 'b.js': { code: 'export{}', fetches: false } }),
    ).toEqual({ 'a.js': plain, 'b.js': 'export{}' });
  });
  test('scripts that fetch nothing need no marker', () => {
    expect(plainScripts({ 'b.js': { code: 'export{}', fetches: false } })).toEqual({ 'b.js': 'export{}' });
  });
  test('stops where scripts fetch others and the marker is missing', () => {
    expect(() => plainScripts({ 'a.js': { code: 'import("./b.js")', fetches: true } })).toThrow(
      /no script has the marker/,
    );
  });
  test('stops where the marker is written in a way that is not taken out', () => {
    const other = `${marked}const ahead=__VITE_PRELOAD__;`;
    expect(() => plainScripts({ 'a.js': { code: other, fetches: true } })).toThrow(/a\.js still has the marker/);
  });
});

describe('printed-only', () => {
  test('leaves out what is only printed, and keeps what a running calculation reads', () => {
    const code = `export default defineCalculator({id:'x',title:'X',fields:{a:{kind:'number',help:'How'}},citations:[{locator:'p 1'}],run:(v)=>v.a});`;
    expect(withoutPrinted(code)).toBe(`export default defineCalculator({fields:{a:{kind:'number',}},run:(v)=>v.a});`);
  });
  test('of a formula the text goes, its symbols stay as names', () => {
    expect(withoutPrinted(`const f=formula({text:'a+b',symbols:{a:{meaning:'one'},b:{meaning:'two'}},run});`)).toBe(
      'const f=formula({symbols:{a: 0,b: 0},run});',
    );
  });
  test('of a citation only how it was checked stays', () => {
    expect(withoutPrinted(`const s={citation:{source:'y',standing:'checked',locator:'t 2'}};`)).toBe(
      `const s={citation:{standing:'checked',}};`,
    );
  });
  test('what is computed stays, and so does code that declares no calculator', () => {
    expect(withoutPrinted('const a={help:words(b)};')).toBe('const a={help:words(b)};');
    const definition =
      '/** a file exports `defineCalculator({...})` */export function defineCalculator({id}){return id}';
    expect(withoutPrinted(definition)).toBe(definition);
  });
  test.each([
    `export default (0,calculator.defineCalculator)({id:'x',title:'X'});`,
    `export default calculator.defineCalculator({id:'x',title:'X'});`,
  ])('stops where a declaration is not recognised: %s', (code) => {
    expect(() => withoutPrinted(code)).toThrow(/was not recognised/);
  });
});

describe('read-ahead', () => {
  const scripts: Record<string, string> = {
    '_astro/page.js': 'import{a}from"./one.js";import"./two.js";const later=()=>import("./later.js");',
    '_astro/one.js': 'import{b}from"./two.js";export{b}from"./three.js";',
    '_astro/two.js': 'import{c}from"./one.js";',
    '_astro/three.js': '',
  };
  const read = (script: string) => scripts[script] ?? '';
  const html =
    '<html><head><title>Search</title></head><script type="module" src="/base/_astro/page.js"></script></html>';

  test('follows imports to their end, round a circle too, and leaves out what is fetched later', () => {
    expect(importedBy('_astro/page.js', read).sort()).toEqual(['_astro/one.js', '_astro/three.js', '_astro/two.js']);
  });
  test('names the page’s script, what it imports, the data and the search engine at the end of the head', () => {
    const links = [...withReadAhead(html, '/base/', read).matchAll(/<link rel="(\w+)"[^>]*href="([^"]+)">/g)];
    expect(links.map(([, rel, href]) => `${rel} ${href}`)).toEqual([
      'modulepreload /base/_astro/page.js',
      'modulepreload /base/_astro/one.js',
      'modulepreload /base/_astro/two.js',
      'modulepreload /base/_astro/three.js',
      'preload /base/data/criteria.json',
      'preload /base/data/subjects.json',
      'modulepreload /base/pagefind/pagefind.js',
      'preload /base/data/pages.json',
    ]);
    expect(withReadAhead(html, '/base/', read)).toMatch(/pages\.json"><\/head>/);
  });
  test.each([
    ['no script of the page', html.replace('type="module" ', ''), read, /no <script type="module"/],
    ['imports written in another way', html, () => "import{a}from'./one.js'", /import nothing/],
    ['no end of the head', html.replace('</head>', ''), read, /no <\/head>/],
  ] as const)('stops at %s', (_, page, reader, message) => {
    expect(() => withReadAhead(page, '/base/', reader)).toThrow(message);
  });
});
