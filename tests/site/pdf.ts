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

/** For each font, by its name in the pages, what its glyphs mean. */
function fontsOf(text: string, streams: Map<string, string>): Map<string, Map<number, string>> {
  const fonts = new Map<string, Map<number, string>>();
  const meaning = (id: string) => {
    const from = text.search(new RegExp(`(^|\\s)${id} 0 obj`));
    const unicode = /\/ToUnicode (\d+) 0 R/.exec(text.slice(from, text.indexOf('endobj', from)))?.[1];
    return unicode === undefined ? undefined : glyphsOf(streams.get(unicode) ?? '');
  };
  for (const [, list = ''] of text.matchAll(/\/Font\s*<<(.*?)>>/gs))
    for (const [, name = '', id = ''] of list.matchAll(/\/(\w+) (\d+) 0 R/g)) {
      const glyphs = fonts.has(name) ? undefined : meaning(id);
      if (glyphs) fonts.set(name, glyphs);
    }
  return fonts;
}

function glyphsOf(map: string): Map<number, string> {
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
  return glyphs;
}

function pageText(content: string, fonts: Map<string, Map<number, string>>): string {
  let glyphs = new Map<number, string>();
  let told = '';
  for (const [, name, hex] of content.matchAll(/\/(\w+) [\d.]+ Tf|<([0-9A-Fa-f]*)>/g)) {
    if (name !== undefined) glyphs = fonts.get(name) ?? new Map();
    else for (const [glyph] of (hex ?? '').matchAll(/.{4}/g)) told += glyphs.get(Number.parseInt(glyph, 16)) ?? '';
  }
  return told;
}
