/**
 * Functions stay short enough to read at once: 60 lines of code. A view may also have markup, which reads as a tree and
 * is not counted among the 60; with its markup it has at most 100 lines. `defineCalculator({...})` is data, and what it
 * holds is checked by its own parts. An exception names its reason; one that is no longer needed fails.
 */
import { globSync, readFileSync } from 'node:fs';
import ts from 'typescript';
import { expect, test } from 'vitest';

const most = { code: 60, withMarkup: 100 } as const;

interface Long {
  name: string;
  code: number;
  lines: number;
}

/** Functions of a file that are too long. A function inside another counts in both. */
function longFunctions(file: string, text: string): Long[] {
  const kind = file.endsWith('.tsx') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, kind);
  const linesOf = (node: ts.Node): number =>
    source.getLineAndCharacterOfPosition(node.end).line -
    source.getLineAndCharacterOfPosition(node.getStart(source)).line +
    1;
  const isMarkup = (node: ts.Node) =>
    ts.isJsxElement(node) || ts.isJsxFragment(node) || ts.isJsxSelfClosingElement(node);
  const markupLines = (node: ts.Node): number => {
    if (isMarkup(node)) return linesOf(node);
    let lines = 0;
    ts.forEachChild(node, (child) => {
      lines += markupLines(child);
    });
    return lines;
  };
  const found: Long[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isFunctionLike(node) && 'body' in node && node.body) {
      const lines = linesOf(node);
      const code = lines - markupLines(node);
      if (code > most.code || lines > most.withMarkup) found.push({ name: nameOf(node, source), code, lines });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

function nameOf(node: ts.SignatureDeclaration, source: ts.SourceFile): string {
  const { parent } = node;
  if (node.name) return node.name.getText(source);
  return (ts.isVariableDeclaration(parent) || ts.isPropertyAssignment(parent)) && parent.name
    ? parent.name.getText(source)
    : 'a function without a name';
}

/** The file, then the function; each with its reason. */
const exceptions: Readonly<Record<string, string>> = {
  'calculators/query/answer.ts answerTo': 'builds one object, each finding in exactly one of its lists',
};

const files = globSync('{calculators,src}/**/*.{ts,tsx}');
const found = files.flatMap((file) =>
  longFunctions(file, readFileSync(file, 'utf8')).map((long) => ({ ...long, at: `${file} ${long.name}` })),
);

test('no function is too long to read at once, but for those with a reason', () => {
  expect(files.length).toBeGreaterThan(100);
  const tooLong = found
    .filter(({ at }) => !Object.hasOwn(exceptions, at))
    .map(({ at, code, lines }) => `${at}: ${code} lines of code, ${lines} with markup`);
  expect(tooLong).toEqual([]);
});

test('each exception is still needed', () => {
  expect(Object.keys(exceptions).filter((at) => !found.some((long) => long.at === at))).toEqual([]);
});

test('the guard finds a long function, a long view, and neither a short one nor its markup', () => {
  const filler = (line: string, times: number) => Array.from({ length: times }, () => line).join('\n');
  const names = (file: string, text: string) => longFunctions(file, text).map(({ name }) => name);
  expect(names('a.ts', `function long() {\n${filler('x();', 59)}\n}`)).toEqual(['long']);
  expect(names('a.ts', `const short = () => {\n${filler('x();', 58)}\n};`)).toEqual([]);
  expect(names('a.ts', `const made = { run() {\n${filler('x();', 59)}\n} };`)).toEqual(['run']);
  const view = (lines: number) => `function View() {\n  return (\n<p>\n${filler('<b />', lines)}\n</p>\n  );\n}`;
  expect(names('a.tsx', view(94))).toEqual([]);
  expect(names('a.tsx', view(95))).toEqual(['View']);
});
