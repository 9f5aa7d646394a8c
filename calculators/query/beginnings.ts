/**
 * What a match of a pattern can begin with. The reader has hundreds of patterns, and an engine compiles each when it first
 * runs: most of the wait for a first answer. A line that holds no beginning of a pattern cannot hold a match of it, so that the
 * pattern need not run.
 */

/** The first signs of a match; `open` where anything may follow them. */
interface Beginning {
  text: string;
  open: boolean;
}

const longest = 3;
/** More tell less, and take longer to look for than the pattern itself. */
const mostBeginnings = 400;

const nothing: readonly Beginning[] = [{ text: '', open: false }];
const anything: readonly Beginning[] = [{ text: '', open: true }];

const shortened = ({ text, open }: Beginning): Beginning =>
  text.length >= longest ? { text: text.slice(0, longest), open: true } : { text, open };

/** One after the other. */
const joined = (first: readonly Beginning[], then: readonly Beginning[]): Beginning[] =>
  first.flatMap((one) => (one.open ? [one] : then.map(({ text, open }) => shortened({ text: one.text + text, open }))));

interface Cursor {
  source: string;
  at: number;
}

function alternatives(cursor: Cursor): Beginning[] {
  let found: Beginning[] = [];
  for (;;) {
    found = found.concat(sequence(cursor));
    if (cursor.source[cursor.at] !== '|') return found;
    cursor.at += 1;
  }
}

function sequence(cursor: Cursor): readonly Beginning[] {
  let found = nothing;
  while (found.some(({ open }) => !open)) {
    const sign = cursor.source[cursor.at];
    if (sign === undefined || sign === '|' || sign === ')') return found;
    found = joined(found, repeated(piece(cursor), cursor));
  }
  skip(cursor);
  return found;
}

/** To the end of the sequence: what follows three signs need not be known. */
function skip(cursor: Cursor): void {
  const { source } = cursor;
  for (let depth = 0; cursor.at < source.length; cursor.at += 1) {
    const sign = source[cursor.at];
    if (depth === 0 && (sign === '|' || sign === ')')) return;
    if (sign === '\\') cursor.at += 1;
    else if (sign === '[') cursor.at = endOfClass(cursor);
    else if (sign === '(') depth += 1;
    else if (sign === ')') depth -= 1;
  }
}

/** Where the `]` of a class is. */
function endOfClass({ source, at }: Cursor): number {
  let end = at + 1;
  while (end < source.length && source[end] !== ']') end += source[end] === '\\' ? 2 : 1;
  return end;
}

/** `?`, `*`, `+` and `{2,3}` after a piece. */
function repeated(piece: readonly Beginning[], cursor: Cursor): readonly Beginning[] {
  const { source } = cursor;
  const sign = source[cursor.at] ?? '';
  if (sign === '' || !'?*+{'.includes(sign)) return piece;
  const never = sign === '?' || sign === '*' || (sign === '{' && source[cursor.at + 1] === '0');
  cursor.at = sign === '{' ? source.indexOf('}', cursor.at) + 1 : cursor.at + 1;
  if (source[cursor.at] === '?') cursor.at += 1;
  const here = sign === '?' ? piece : piece.map(({ text }) => ({ text, open: true }));
  return never ? [...here, ...nothing] : here;
}

function piece(cursor: Cursor): readonly Beginning[] {
  const sign = cursor.source[cursor.at] ?? '';
  if (sign === '(') return group(cursor);
  if (sign === '[') return oneOf(cursor);
  cursor.at += 1;
  if (sign === '^' || sign === '$') return nothing;
  if (sign === '.') return anything;
  if (sign !== '\\') return [{ text: sign, open: false }];
  const escaped = cursor.source[cursor.at] ?? '';
  cursor.at += 1;
  if (escaped === 'b' || escaped === 'B') return nothing;
  if (/[a-z0-9]/i.test(escaped)) return longEscape(escaped, cursor);
  return [{ text: escaped, open: false }];
}

/** `\d`, `\w`, `\1`, `\k<name>`, `\u2264`: any sign, and how far they go. */
function longEscape(escaped: string, cursor: Cursor): readonly Beginning[] {
  if (escaped === 'u') cursor.at += 4;
  if (escaped === 'x') cursor.at += 2;
  if (escaped === 'k' || escaped === 'p') cursor.at = cursor.source.indexOf(escaped === 'k' ? '>' : '}', cursor.at) + 1;
  return anything;
}

function group(cursor: Cursor): readonly Beginning[] {
  const { source, at } = cursor;
  const kind = source.startsWith('(?<', at) ? source.slice(at + 2, at + 4) : source.slice(at + 1, at + 3);
  const looks = /^(?:\?[=!]|<[=!])$/.test(kind);
  if (source[at + 1] !== '?') cursor.at += 1;
  else if (kind[0] === '<') cursor.at = looks ? at + 4 : source.indexOf('>', at) + 1;
  else cursor.at += 3;
  const inner = alternatives(cursor);
  if (source[cursor.at] !== ')') throw new Error(`a group that does not end: ${source}`);
  cursor.at += 1;
  // Looking ahead or back takes no sign of the match.
  return looks ? nothing : inner;
}

/** `[- ]`: each of a few; any sign where it is a range, or leaves some out. */
function oneOf(cursor: Cursor): readonly Beginning[] {
  const end = endOfClass(cursor);
  const signs = cursor.source.slice(cursor.at + 1, end);
  cursor.at = end + 1;
  const plain = signs.length <= 4 && /^-?[^\\^-]*$/.test(signs);
  return plain ? [...signs].map((text) => ({ text, open: false })) : anything;
}

/** @returns every text that a match can begin with; none where it can begin with anything */
export function beginningsOf({ source, flags }: RegExp): string[] | undefined {
  if (flags.includes('i')) return undefined;
  const cursor = { source, at: 0 };
  const texts = new Set(alternatives(cursor).map(({ text }) => text));
  if (cursor.at < source.length) throw new Error(`not read to its end: ${source}`);
  return texts.has('') || texts.size > mostBeginnings ? undefined : [...texts];
}

const known = new WeakMap<RegExp, string[] | 'anything'>();

/** False where no match of the pattern can be in the text. */
export function mayStand(pattern: RegExp, text: string): boolean {
  const beginnings = known.get(pattern) ?? beginningsOf(pattern) ?? 'anything';
  known.set(pattern, beginnings);
  return beginnings === 'anything' || beginnings.some((one) => text.includes(one));
}

/** As `pattern.exec(text)`, and without running the pattern where nothing of it can be there. */
export const execWhere = (pattern: RegExp, text: string): RegExpExecArray | null =>
  mayStand(pattern, text) ? pattern.exec(text) : null;
