/** The text of a PDF as the browser prints it: enough of the format to read what is on the paper, and no more. */
import { inflateSync } from 'node:zlib';

/** @returns everything printed, in printing order, without its white space: lines and columns break it anywhere */
export function printedText(pdf: Buffer): string {
  const streams = streamsOf(pdf);
  const fonts = fontsOf(pdf.toString('latin1'), streams);
  return [...streams.values()]
    .filter((content) => / Tf\s/.test(content))
    .map((content) => pageText(content, fonts))
    .join('')
    .normalize('NFKC')
    .replace(/\s+/g, '');
}

/** Streams by the number of their object, unpacked. */
function streamsOf(pdf: Buffer): Map<string, string> {
  const text = pdf.toString('latin1');
  const found = new Map<string, string>();
  for (const match of text.matchAll(/(\d+) 0 obj\s*<<((?:(?!endobj).)*?)>>\s*stream\r?\n/gs)) {
    const [whole, id = '', head = ''] = match;
    const start = (match.index ?? 0) + whole.length;
    const end = text.indexOf('endstream', start);
    const bytes = pdf.subarray(start, end);
    try {
      found.set(id, (head.includes('FlateDecode') ? inflateSync(bytes) : bytes).toString('latin1'));
    } catch {
      // a picture or another packing: no text in it
    }
  }
  return found;
}

interface Font {
  /** bytes of a glyph's code: Chromium writes two, Firefox one where that is enough */
  bytes: number;
  /** what a glyph means, by its code */
  glyphs: Map<number, string>;
}

/** Each font by its name in the pages. */
function fontsOf(text: string, streams: Map<string, string>): Map<string, Font> {
  const fonts = new Map<string, Font>();
  const meaning = (id: string) => {
    const from = text.search(new RegExp(`(^|\\s)${id} 0 obj`));
    const unicode = /\/ToUnicode (\d+) 0 R/.exec(text.slice(from, text.indexOf('endobj', from)))?.[1];
    return unicode === undefined ? undefined : fontOf(streams.get(unicode) ?? '');
  };
  for (const [, list = ''] of text.matchAll(/\/Font\s*<<(.*?)>>/gs))
    for (const [, name = '', id = ''] of list.matchAll(/\/([\w-]+) (\d+) 0 R/g)) {
      const font = fonts.has(name) ? undefined : meaning(id);
      if (font) fonts.set(name, font);
    }
  return fonts;
}

function fontOf(map: string): Font {
  const glyphs = new Map<number, string>();
  const characters = (hex: string) => Buffer.from(hex, 'hex').swap16().toString('utf16le');
  for (const [, list = ''] of map.matchAll(/beginbfchar(.*?)endbfchar/gs))
    for (const [, glyph = '', hex = ''] of list.matchAll(/<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>/g))
      glyphs.set(Number.parseInt(glyph, 16), characters(hex));
  for (const [, list = ''] of map.matchAll(/beginbfrange(.*?)endbfrange/gs))
    for (const [, first = '', last = '', hex = ''] of list.matchAll(
      /<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>/g,
    ))
      for (let glyph = Number.parseInt(first, 16); glyph <= Number.parseInt(last, 16); glyph += 1)
        glyphs.set(glyph, String.fromCodePoint(Number.parseInt(hex, 16) + glyph - Number.parseInt(first, 16)));
  const first = /begincodespacerange\s*<([0-9A-Fa-f]+)>/.exec(map)?.[1] ?? '0000';
  return { bytes: first.length / 2, glyphs };
}

function pageText(content: string, fonts: Map<string, Font>): string {
  let font: Font | undefined;
  let told = '';
  const parts = /\/([\w-]+) [\d.]+ Tf|<([0-9A-Fa-f]*)>|\(((?:\\.|[^\\)])*)\)/gs;
  for (const [, name, hex, signs] of content.matchAll(parts)) {
    if (name !== undefined) font = fonts.get(name);
    else if (font && (hex !== undefined || font.bytes === 1))
      for (const code of codesIn(hex, signs, font.bytes)) told += font.glyphs.get(code) ?? '';
  }
  return told;
}

/** Codes of glyphs, written as digits or, one byte each, as signs with a backslash before those that end the text. */
const codesIn = (hex: string | undefined, signs = '', bytes: number): number[] =>
  hex === undefined
    ? [...signs.matchAll(/\\([0-7]{1,3})|\\?(.)/gs)].map(([, octal, sign = '']) =>
        octal === undefined ? sign.charCodeAt(0) : Number.parseInt(octal, 8),
      )
    : (hex.match(new RegExp(`.{${2 * bytes}}`, 'g')) ?? []).map((code) => Number.parseInt(code, 16));
