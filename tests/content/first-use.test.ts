/** The central abbreviations are linked to the glossary where a page first uses them. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readGlossary } from '../read-content.ts';

/** The words that a reader new to the trade stumbles over, each with its place in the glossary. */
const central: [string, RegExp][] = [
  ['niv', /\bNIV\b|\bnon-invasive ventilation\b/i],
  ['mi-e', /\bMI-E\b/],
  ['peak-cough-flow', /\bPCF\b|\bpeak cough flow\b/i],
  ['fvc', /\bFVC\b|\bforced vital capacity\b/i],
  ['snip', /\bSNIP\b/],
  ['mip', /\bMIP\b/],
  ['lung-volume-recruitment', /\bLVR\b|\blung volume recruitment\b/i],
  ['bulbar', /\bbulbar\b/i],
  ['hypoventilation', /\bhypoventilation\b/i],
];

/** Blanks out what cannot hold a link, keeping every place and line: headings, links, tags and text inside a term. */
const blank = (text: string): string => text.replace(/[^\n]/g, ' ');

function firstUses(body: string): { id: string; line: number }[] {
  const open = body
    .replace(/^#+ .*$/gm, blank)
    .replace(/<Term [^>]*>[\s\S]*?<\/Term>/g, blank)
    .replace(/\[[^\]]*\]\([^)]*\)/g, blank)
    .replace(/<[^>]*>/g, blank);
  return central.flatMap(([id, words]) => {
    const at = words.exec(open)?.index;
    if (at === undefined) return [];
    const link = body.indexOf(`<Term id="${id}">`);
    return link !== -1 && link < at ? [] : [{ id, line: body.slice(0, at).split('\n').length }];
  });
}

test('every central term is in the glossary', () => {
  const glossary = readGlossary();
  expect(central.map(([id]) => id).filter((id) => !glossary[id])).toEqual([]);
});

test('a use before its link is seen, a use after it and a heading are not', () => {
  expect(firstUses('On NIV.\n<Term id="niv">NIV</Term>')).toEqual([{ id: 'niv', line: 1 }]);
  expect(firstUses('## NIV\n\n<Term id="niv">NIV</Term>, then NIV')).toEqual([]);
  expect(firstUses('A wet\nbulbar voice')).toEqual([{ id: 'bulbar', line: 2 }]);
});

describe.each(globSync('content/handbook/**/*.mdx').sort())('%s', (file) => {
  test('links each central term to the glossary at its first use', () => {
    const [, frontmatter = '', body = ''] = /^(---\n[\s\S]*?\n---\n)([\s\S]*)$/.exec(readFileSync(file, 'utf8')) ?? [];
    const before = frontmatter.split('\n').length - 1;
    expect(
      firstUses(body).map(({ id, line }) => `${file}:${line + before}: link "${id}" here with <Term id="${id}">`),
    ).toEqual([]);
  });
});
