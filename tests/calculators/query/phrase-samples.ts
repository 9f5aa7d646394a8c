/** Texts that a phrase of content/words/ finds: the first of its ways, once without and once with what may be left out. */

const closing: Readonly<Record<string, string>> = { '(': ')', '[': ']', '{': '}', '<': '>' };

interface Cursor {
  text: string;
  at: number;
  whole: boolean;
}

/** What stands up to the sign that closes. */
function inside(cursor: Cursor, close: string): string {
  const ways = [''];
  for (; cursor.at < cursor.text.length && cursor.text[cursor.at] !== close; cursor.at += 1) {
    const sign = cursor.text[cursor.at] ?? '';
    if (sign === '|') ways.push('');
    else ways[ways.length - 1] = added(ways.at(-1) ?? '', sign, cursor);
  }
  return ways[0] ?? '';
}

function added(before: string, sign: string, cursor: Cursor): string {
  const close = closing[sign];
  if (close === undefined) return before + (sign === '*' ? '' : sign === '+' ? 'x' : sign === '~' ? ' ' : sign);
  cursor.at += 1;
  const within = inside(cursor, close);
  if (sign === '<') return within.startsWith('only after ') ? `${within.slice(11)} ${before}` : before;
  return sign === '(' || cursor.whole ? before + within : before;
}

/** @param parts  what stands for a word in capitals */
export function samplesOf(phrase: string, parts: Readonly<Record<string, readonly string[]>>): string[] {
  // A pattern has no notation to be read by: the lines of the corpora hold their texts.
  if (/^\/.*\/$/.test(phrase)) return [];
  return [false, true].map((whole) =>
    inside({ text: phrase, at: 0, whole }, '')
      .replace(/[A-Z]{4,}/g, (name) => {
        const first = parts[name]?.find((one) => !one.startsWith('/'));
        return first === undefined ? '' : (samplesOf(first, parts)[0] ?? '');
      })
      .replace(/\s+/g, ' ')
      .trim(),
  );
}
