/**
 * The arrows of the house run one way: src -> calculators, src -> content through the schemas, tests -> all. Each guard
 * is a function of a file's text, so that it can be seen to find a planted fault as well as to find none.
 */
import { existsSync, globSync, readFileSync } from 'node:fs';
import { basename, posix } from 'node:path';
import { describe, expect, test } from 'vitest';
import { register } from '../../calculators/register.ts';

const read = (file: string): string => readFileSync(file, 'utf8');
const calculatorFiles = globSync('calculators/**/*.ts');
const siteFiles = globSync('src/**/*.{ts,tsx,astro}');
const pageFiles = globSync('content/**/*.mdx');
const everyFile = [
  ...globSync('{src,calculators,content,tests}/**/*.{ts,tsx,astro,mdx,yaml,json,mjs,css}'),
  ...globSync('*.{mjs,json}'),
].filter((file) => file !== 'package-lock.json');

/** Every module that a file asks for, however it asks. */
const importsOf = (text: string): string[] =>
  [...text.matchAll(/(?:\bfrom\s*|\bimport\s*\(\s*|\bimport\s+|\brequire\s*\(\s*)(['"`])([^'"`\s]+)\1/g)].map(
    (found) => found[2] ?? '',
  );

const withoutComments = (text: string): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"`\\])\/\/.*$/gm, '$1');
const withoutStrings = (text: string): string =>
  text.replace(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"/g, "''").replace(/`(?:[^`\\$]|\\.)*`/g, '``');

/** What a calculator file may not ask for: anything but its neighbours, and zod's small form in the one schema file. */
function foreignImports(file: string, text: string): string[] {
  const depth = file.split('/').length - 2;
  return importsOf(withoutComments(text)).filter((to) => {
    if (to === 'zod/mini') return file !== 'calculators/domain/schema.ts';
    if (!/^\.\.?\//.test(to)) return true;
    return (to.match(/\.\.\//g)?.length ?? 0) > depth;
  });
}

type Graph = Readonly<Record<string, readonly string[]>>;

/** Which file of calculators/ asks for which; an import of a type counts like any other. */
const graphOf = (files: Readonly<Record<string, string>>): Graph =>
  Object.fromEntries(
    Object.entries(files).map(([file, text]) => [
      file,
      importsOf(withoutComments(text))
        .filter((to) => to.startsWith('.'))
        .map((to) => posix.join(posix.dirname(file), to)),
    ]),
  );

/** Every way round from a file back to itself, as 'a > b > a'; each circle is found from the first of its files only. */
function circlesIn(graph: Graph): string[] {
  const done = new Set<string>();
  const walk = (file: string, path: readonly string[]): string[] => {
    const at = path.indexOf(file);
    if (at >= 0) return [[...path.slice(at), file].join(' > ')];
    if (done.has(file)) return [];
    const circles = (graph[file] ?? []).flatMap((to) => walk(to, [...path, file]));
    done.add(file);
    return circles;
  };
  return Object.keys(graph).flatMap((file) => walk(file, []));
}

/** 'domain' for calculators/domain/visit.ts; '' for a file at the top of calculators/. */
const roomOf = (file: string): string => file.split('/').slice(1, -1).join('/');

/** What the folders of the published rules may not import: those about the clinic, the visit and the reader. */
const closedRooms: Readonly<Record<string, (room: string) => boolean>> = {
  domain: (room) => room !== 'domain' && room !== '',
  evaluate: (room) => ['agreement', 'visit', 'query', 'exchange', 'learning'].includes(room),
};

const throughClosedDoors = (graph: Graph): string[] =>
  Object.entries(graph).flatMap(([file, asked]) =>
    asked.filter((to) => closedRooms[roomOf(file)]?.(roomOf(to))).map((to) => `${file}: ${to}`),
  );

/** Clock, chance, network and screen: none of them may be an input of a calculation. */
const outsideWorld = (text: string): string[] =>
  [
    ...withoutStrings(withoutComments(text)).matchAll(
      /\bDate\s*[.(]|\bnew\s+Date\b|\bMath\s*\.\s*random\b|\bcrypto\s*\.|\bperformance\s*\.|(?<![.\w])fetch\s*\(|\bXMLHttpRequest\b|(?<![.\w])(?:document|window|globalThis|navigator|localStorage|sessionStorage|process)\s*[.[]/g,
    ),
  ].map((found) => found[0]);

/** Text outside fenced code that would make a page of the handbook depend on where a component lives. */
const importLines = (text: string): string[] =>
  text
    .split('\n')
    .filter(
      (line) =>
        /^\s*(?:import|export)\s+[\w{*'"]/.test(line) &&
        /\bfrom\s*['"]|^\s*import\s*['"(]|^\s*export\s+(?:const|default|function)/.test(line),
    );

/** Anything that would read the notes beside the repository. */
const readsShared = (text: string): boolean => /(?:\.\.\/|\/work\/)shared\b/.test(text);

const found = (files: readonly string[], look: (file: string, text: string) => readonly string[]): string[] =>
  files.flatMap((file) => look(file, read(file)).map((what) => `${file}: ${what}`));

describe('calculators', () => {
  test('ask for nothing but each other, and for zod in their one schema file', () => {
    expect(found(calculatorFiles, foreignImports)).toEqual([]);
  });

  const graph = graphOf(Object.fromEntries(calculatorFiles.map((file) => [file, read(file)])));

  test('ask for each other in no circle', () => {
    expect(Object.values(graph).flat().length).toBeGreaterThan(calculatorFiles.length);
    expect(circlesIn(graph)).toEqual([]);
  });

  test('keep the published rules apart: domain asks for itself, evaluate neither for the clinic nor for the visit', () => {
    expect(throughClosedDoors(graph)).toEqual([]);
  });

  test('know no clock, no chance, no network and no screen', () => {
    expect(found(calculatorFiles, (_, text) => outsideWorld(text))).toEqual([]);
  });

  test('each folder has its tests, and each test folder its calculators', () => {
    const folders = (glob: string) => [...new Set(globSync(glob).map((file) => file.split('/').slice(-2)[0]))].sort();
    const own = folders('calculators/*/*.ts');
    const tested = folders('tests/calculators/*/*.test.ts');
    expect(own.filter((folder) => !tested.includes(folder))).toEqual([]);
    expect(tested.filter((folder) => !own.includes(folder))).toEqual([]);
  });

  test('each file that declares one is in the register, with its examples beside it', () => {
    const declared = calculatorFiles.filter((file) => /export default defineCalculator\(/.test(read(file)));
    const idOf = (file: string) => basename(file, '.ts');
    expect(declared.filter((file) => !Object.hasOwn(register, idOf(file)))).toEqual([]);
    expect(Object.keys(register).filter((id) => !declared.map(idOf).includes(id))).toEqual([]);
    expect(declared.filter((file) => !existsSync(file.replace(/\.ts$/, '.examples.yaml')))).toEqual([]);
  });
});

describe('content', () => {
  test('pages of the handbook import nothing: they name, and the page that shows them hands in', () => {
    expect(pageFiles.length).toBeGreaterThan(0);
    expect(found(pageFiles, (_, text) => importLines(text))).toEqual([]);
  });
});

// Its attributes in the markup (data-pagefind-...) are words for the build, not a use of it.
const namesEngine = (text: string): string[] => withoutComments(text).match(/(?<!data-)pagefind/g) ?? [];

describe('the site', () => {
  test('one file knows the search engine while pages are read, and one while they are built', () => {
    const knowing = siteFiles.filter((file) => namesEngine(read(file)).length > 0);
    expect(knowing.filter((file) => file !== 'src/search/engine.ts' && !file.startsWith('src/build/'))).toEqual([]);
    expect(namesEngine(read('src/search/engine.ts')).length).toBeGreaterThan(0);
  });

  test('nothing sent to the reader carries mathjs, temml, yaml or whole zod', () => {
    const heavy = (text: string) =>
      importsOf(withoutComments(text)).filter((to) =>
        /^(mathjs|temml|yaml|zod|workbox-build|playwright-core|node:.*)$/.test(to),
      );
    const client = siteFiles.filter((file) => /^src\/(islands|person|search|offline)\//.test(file));
    expect(client.length).toBeGreaterThan(5);
    expect(found(client, (_, text) => heavy(text))).toEqual([]);
  });
});

test('nothing in the repository reads the notes beside it', () => {
  expect(everyFile.length).toBeGreaterThan(100);
  const own = 'tests/calculators/architecture.test.ts';
  expect(everyFile.filter((file) => file !== own && readsShared(read(file)))).toEqual([]);
});

describe('each guard finds a planted fault', () => {
  test.each([
    ["import { render } from 'preact';", 'preact'],
    ["import mathjs from 'mathjs'", 'mathjs'],
    ["import { readFileSync } from 'node:fs';", 'node:fs'],
    ["import { href } from '../../src/link.ts';", '../../src/link.ts'],
    ["export { x } from '../../content/x.ts';", '../../content/x.ts'],
    ["const { x } = await import('astro:content');", 'astro:content'],
    ["import '../../src/styles/site.css';", '../../src/styles/site.css'],
    ["import * as z from 'zod/mini';", 'zod/mini'],
    ["import * as z from 'zod';", 'zod'],
  ])('%s in a calculator', (text, to) => {
    expect(foreignImports('calculators/cough/peak.ts', text)).toEqual([to]);
  });

  test('but not in its neighbours, nor in a comment, nor zod where it belongs', () => {
    expect(
      foreignImports(
        'calculators/cough/peak.ts',
        "import { x } from '../calculator.ts';\nimport { y } from './y.ts';\n// from 'preact'",
      ),
    ).toEqual([]);
    expect(foreignImports('calculators/domain/schema.ts', "import * as z from 'zod/mini';")).toEqual([]);
    expect(foreignImports('calculators/calculator.ts', "import { x } from '../src/x.ts';")).toEqual(['../src/x.ts']);
  });

  test('a circle, through a type and through three files', () => {
    const two = {
      'calculators/domain/a.ts': "import type { B } from '../agreement/b.ts';",
      'calculators/agreement/b.ts': "export { a } from '../domain/a.ts';",
    };
    expect(circlesIn(graphOf(two))).toEqual([
      'calculators/domain/a.ts > calculators/agreement/b.ts > calculators/domain/a.ts',
    ]);
    const three = { x: ['a'], a: ['b', 'd'], b: ['c'], c: ['a'], d: [] };
    expect(circlesIn(three)).toEqual(['a > b > c > a']);
    expect(circlesIn({ a: ['b', 'c'], b: ['d'], c: ['d'], d: [] })).toEqual([]);
  });

  test.each([
    ['calculators/domain/a.ts', '../evaluate/scope.ts', true],
    ['calculators/domain/a.ts', '../standing.ts', false],
    ['calculators/domain/a.ts', './b.ts', false],
    ['calculators/evaluate/a.ts', '../agreement/b.ts', true],
    ['calculators/evaluate/a.ts', '../query/b.ts', true],
    ['calculators/evaluate/a.ts', '../spirometry/b.ts', false],
    ['calculators/agreement/a.ts', '../evaluate/b.ts', false],
  ])('%s that asks for %s: %s', (file, to, isFault) => {
    const graph = graphOf({ [file]: `import type { X } from '${to}';` });
    expect(throughClosedDoors(graph)).toHaveLength(isFault ? 1 : 0);
  });

  test.each([
    'Date.now()',
    'new Date(0)',
    'Math.random()',
    'fetch(url)',
    'document.title',
    'window.x',
    'globalThis.x',
    'process.env',
    'localStorage.x',
    'performance.now()',
  ])('%s in a calculator', (text) => {
    expect(outsideWorld(`const x = ${text};`)).toHaveLength(1);
  });

  test('but not the same words in a comment, a message or a name', () => {
    expect(
      outsideWorld(
        "// new Date()\n/* window.x */ const message = 'document.title'; const updated = step.update(1); const prefetch = 1;",
      ),
    ).toEqual([]);
  });

  test.each(["import X from '../x.astro';", "import '../x.css'", 'export const x = 1', "import { a } from 'b'"])(
    '%s in a page of the handbook',
    (line) => {
      expect(importLines(`---\ntitle: X\n---\n\n${line}\n`)).toEqual([line]);
    },
  );

  test('but not prose that begins with the word', () => {
    expect(importLines('Import the file first.\nexports are small here\nimport the readings from the meter')).toEqual(
      [],
    );
  });

  test('a script of the site that would start the search engine itself', () => {
    expect(namesEngine("await import('/pagefind/pagefind.js')")).not.toEqual([]);
    expect(namesEngine('<p data-pagefind-ignore>')).toEqual([]);
  });

  test.each(['../shared/design.md', '../../shared/reference', '/work/shared/x.csv'])('a path to %s', (path) => {
    expect(readsShared(`readFileSync('${path}')`)).toBe(true);
  });
  test('but not a shared file of our own', () => {
    expect(readsShared("import { age } from '../body-size/shared-fields.ts'; // shared between")).toBe(false);
  });
});
