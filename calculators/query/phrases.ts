/**
 * The notation of the files in content/words/, made into patterns. `content/words/README.md` explains it to those who write
 * the words; here is the same in patterns.
 *
 * | written | pattern |
 * | --- | --- |
 * | `wak(es\|ing) [up]` | `wak(?:es\|ing)(?: up)?` |
 * | `{is\|getting} weak` | `(?:(?:is\|getting) )*weak` |
 * | `drows*`, `concentrat+` | `drows\w*`, `concentrat\w+` |
 * | `head~ache` | `head[- ]{0,2}ache` |
 * | `covid <not then jab>`, `<not after old> flu` | `covid(?! jab)`, `(?<!old )flu` |
 * | `/\d\d?/` | as it stands |
 *
 * A word in capitals is a shared part and stays, to be put in where the pattern is used.
 */

const closing: Readonly<Record<string, string>> = { '(': ')', '[': ']', '{': '}', '<': '>' };
const looking: Readonly<Record<string, string>> = {
  'not then ': '(?!',
  'only then ': '(?=',
  'not after ': '(?<!',
  'only after ': '(?<=',
};
const signs: Readonly<Record<string, string>> = { '*': '\\w*', '+': '\\w+', '~': '[- ]{0,2}', '-': '[- ]' };

/** The pattern of any of the phrases, the first first. */
export const patternOf = (phrases: readonly string[]): string => phrases.map(onePattern).join('|');

function onePattern(phrase: string): string {
  if (/^\/.*\/$/.test(phrase)) {
    new RegExp(phrase.slice(1, -1));
    return phrase.slice(1, -1);
  }
  const reader = { text: phrase, at: 0 };
  const made = alternatives(reader, '');
  if (reader.at < phrase.length) throw new Error(`"${phrase}": "${phrase[reader.at]}" opens nowhere`);
  return made;
}

interface Cursor {
  text: string;
  at: number;
}

/** Up to the sign that closes, which is left for the caller. */
function alternatives(cursor: Cursor, close: string): string {
  const made: string[] = [''];
  const add = (pattern: string) => {
    made[made.length - 1] += pattern;
  };
  for (let begins = true; cursor.at < cursor.text.length; ) {
    const sign = cursor.text[cursor.at] ?? '';
    if (sign === close) return made.join('|');
    if (Object.values(closing).includes(sign)) return close === '' ? made.join('|') : unclosed(cursor, close);
    if (sign === '|') {
      made.push('');
      cursor.at += 1;
      begins = true;
      continue;
    }
    const piece = pieceAt(cursor, begins);
    add(piece.pattern);
    begins = begins && piece.light === true;
  }
  return close === '' ? made.join('|') : unclosed(cursor, close);
}

function unclosed({ text }: Cursor, close: string): never {
  throw new Error(`"${text}": "${close}" is missing`);
}

interface Piece {
  pattern: string;
  /** nothing that must be said has come yet */
  light?: boolean;
}

/** One word, group or sign, with the space that belongs to it. */
function pieceAt(cursor: Cursor, begins: boolean): Piece {
  const { text, at } = cursor;
  const spaced = text[at] === ' ' && (/[[{]/.test(text[at + 1] ?? '') || /^<\w+ then /.test(text.slice(at + 1)));
  const open = text[spaced ? at + 1 : at] ?? '';
  if (closing[open] === undefined) {
    cursor.at += 1;
    return { pattern: signs[open] ?? (/[\w ]/.test(open) ? open : `\\${open}`) };
  }
  cursor.at += spaced ? 2 : 1;
  const look = open === '<' ? lookOf(cursor) : undefined;
  const inner = alternatives(cursor, closing[open] ?? '');
  cursor.at += 1;
  const grouped = inner.includes('|') ? `(?:${inner})` : inner;
  const follows = text[cursor.at] === ' ';
  if (open === '(') return { pattern: `(?:${inner})` };
  if (look?.startsWith('(?<')) {
    if (follows) cursor.at += 1;
    return { pattern: `${look}${grouped}${follows ? ' ' : ''})`, light: true };
  }
  // 'today' is not the word 'to'.
  const whole = look === '(?!' ? '(?!(?<=[a-z0-9])[a-z0-9])' : '';
  if (look !== undefined) return { pattern: `${look}${spaced ? ' ' : ''}${grouped}${whole})` };
  const often = open === '{' ? '*' : '?';
  // '[p]co2' after a space is the start of that word; '[up]' is a word, and its space goes with it.
  if (spaced && /[\w([{~-]/.test(text[cursor.at] ?? '')) return { pattern: ` (?:${grouped})${often}` };
  if (spaced) return { pattern: `(?: ${grouped})${often}` };
  if (begins && follows) cursor.at += 1;
  return { pattern: `(?:${grouped}${begins && follows ? ' ' : ''})${often}`, light: begins && follows };
}

function lookOf(cursor: Cursor): string {
  const said = Object.keys(looking).find((words) => cursor.text.startsWith(words, cursor.at));
  if (said === undefined) throw new Error(`"${cursor.text}": after "<" comes "not then", "not after" or the like`);
  cursor.at += said.length;
  return looking[said] ?? '';
}
