/** Every piece of prose that a reader can meet, with the file and line it stands on. */
import { globSync, readFileSync } from 'node:fs';
import ts from 'typescript';
import { isPair, isScalar, LineCounter, parseDocument, visit } from 'yaml';

export interface Prose {
  file: string;
  line: number;
  text: string;
}

/** Keys whose text is no prose of ours: ids, addresses, names and titles of other people's papers, words a reader may type. */
const notProse = new Set(
  'id source sources authors title body doi url pmid locator at synonyms related calculators covers read'.split(' '),
);

const blank = (text: string): string => text.replace(/[^\n]/g, ' ');

const lines = (file: string, text: string, first = 1): Prose[] =>
  text.split('\n').map((line, index) => ({ file, line: first + index, text: line }));

export function yamlProse(file: string, text: string, skipped = notProse): Prose[] {
  const counter = new LineCounter();
  const found: Prose[] = [];
  visit(parseDocument(text, { lineCounter: counter }), {
    Pair(_, pair) {
      // A key of a map may be an id; its value is walked unless the key says that it is no prose.
      return isScalar(pair.key) && skipped.has(String(pair.key.value)) ? visit.SKIP : undefined;
    },
    Scalar(_, node, path) {
      const parent = path.at(-1);
      if (isPair(parent) && parent.key === node) return;
      // A value without a space is an id, a unit or a keyword.
      if (typeof node.value !== 'string' || !node.value.includes(' ')) return;
      found.push({ file, line: counter.linePos(node.range?.[0] ?? 0).line, text: node.value });
    },
  });
  return found;
}

export function pageProse(file: string, text: string): Prose[] {
  const [, frontmatter = '', body = text] = /^---\n([\s\S]*?)\n---\n([\s\S]*)$/.exec(text) ?? [];
  const prose = body.replace(/\]\([^)]*\)/g, blank).replace(/<[^>]*>/g, blank);
  const above = frontmatter.split('\n').length + 2;
  const heads = new Set([...notProse].filter((key) => key !== 'title'));
  return [
    ...yamlProse(file, frontmatter, heads).map((prose) => ({ ...prose, line: prose.line + 1 })),
    ...lines(file, prose, above + 1),
  ];
}

/** Strings with a space, and text between tags: labels, messages and sentences, not keywords, class names or imports. */
export function codeProse(file: string, text: string): Prose[] {
  const kind = file.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const tree = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, kind);
  const found: Prose[] = [];
  const walk = (node: ts.Node): void => {
    const literal = ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node);
    if (
      ts.isJsxText(node) ||
      (literal &&
        /[a-z] [a-z]/i.test(node.text) &&
        !ts.isImportDeclaration(node.parent) &&
        !ts.isJsxAttribute(node.parent))
    )
      found.push({ file, line: tree.getLineAndCharacterOfPosition(node.getStart()).line + 1, text: node.text });
    ts.forEachChild(node, walk);
  };
  walk(tree);
  return found;
}

function astroProse(file: string, text: string): Prose[] {
  const prose = text
    .replace(/^---\n[\s\S]*?\n---\n/, blank)
    .replace(/<(script|style)[\s\S]*?<\/\1>/g, blank)
    .replace(/\{\/\*[\s\S]*?\*\/\}/g, blank);
  // Innermost braces first, so that nested expressions go as well.
  let open = prose;
  for (let before = ''; before !== open; ) {
    before = open;
    open = open.replace(/\{[^{}]*\}/g, blank);
  }
  return lines(file, open.replace(/<[^>]*>|&[a-z]+;/g, blank));
}

const read = (pattern: string, prose: (file: string, text: string) => Prose[]): Prose[] =>
  globSync(pattern)
    .sort()
    .flatMap((file) => prose(file, readFileSync(file, 'utf8')));

export const allProse = (): Prose[] => [
  ...read('content/handbook/**/*.mdx', pageProse),
  // In the words of the search, a misspelling is there on purpose; what is told of one is prose.
  ...read('content/!(words)/*.yaml', (file, text) => yamlProse(file, text)),
  ...read('content/!(calculations).yaml', (file, text) => yamlProse(file, text)),
  ...read('content/calculations.yaml', (file, text) =>
    lines(file, text.replace(/^(?! +(?:title|assumed): ).*$|^ +(?:title|assumed): /gm, '')),
  ),
  ...read('content/words/*.yaml', (file, text) => lines(file, text.replace(/^(?! +as: ).*$/gm, ''))),
  ...read('calculators/**/*.ts', codeProse),
  ...read('src/**/*.tsx', codeProse),
  ...read('src/**/*.astro', astroProse),
];

/** Words of three letters and more, in small letters, without a possessive s. Units, ids and addresses are no words. */
export const wordsIn = (text: string): string[] =>
  text
    .replace(/\S*(?:[/@_=<>{}\\[\]]|\w\.\w|\d)\S*/g, (piece) =>
      /^[A-Za-z]+\/[A-Za-z]+[.,;:)]?$/.test(piece) ? piece : ' ',
    )
    .replaceAll('’', "'")
    .match(/\p{L}+(?:'\p{L}+)*/gu)
    ?.map((word) => word.toLowerCase().replace(/'s$/, ''))
    .filter((word) => word.length > 2) ?? [];
