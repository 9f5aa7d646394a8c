/**
 * JSON with its lines kept, so that a message about a file from somewhere else can name the place. Stricter than
 * `JSON.parse`: nothing is nested deeper than a file of ours can be, or has more values, or more fields in one group; and no
 * field is given twice, since a reader of the file would see the first and a program take the last.
 */

export type Path = readonly (string | number)[];

export type LocatedJson =
  | { ok: true; value: unknown; lineOf: (path: Path) => number | undefined }
  | { ok: false; path: Path; line: number; message: string };

const deepest = 12;
/** A health record of the largest size that is read has fewer: the place of each is held in memory. */
export const mostValues = 400_000;
export const mostFields = 1000;

class Fault extends Error {
  path: Path;
  offset: number;
  constructor(path: Path, offset: number, message: string) {
    super(message);
    this.path = path;
    this.offset = offset;
  }
}

/** @returns the value and, for each place in it, its line; or where and why the text is no JSON */
export function readLocatedJson(text: string): LocatedJson {
  const offsets = new Map<string, number>();
  const lineAt = (offset: number) => (text.slice(0, offset).match(/\n/g)?.length ?? 0) + 1;
  try {
    const value = new Reader(text, offsets).whole();
    return {
      ok: true,
      value,
      lineOf: (path) => {
        const offset = offsets.get(JSON.stringify(path));
        return offset === undefined ? undefined : lineAt(offset);
      },
    };
  } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    return { ok: false, path: fault.path, line: lineAt(fault.offset), message: fault.message };
  }
}

const spaces = /[ \t\n\r]*/y;
const number = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const string = /"(?:[^"\\\p{Cc}]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/uy;
const words: Record<string, unknown> = { true: true, false: false, null: null };
const word = /true|false|null/y;

/** Reads a text from its start; `at` is the place it has come to. */
class Reader {
  private at = 0;
  private values = 0;
  private readonly text: string;
  /** where each value of the file begins, by its path as JSON */
  private readonly offsets: Map<string, number>;

  constructor(text: string, offsets: Map<string, number>) {
    this.text = text;
    this.offsets = offsets;
  }

  whole(): unknown {
    const value = this.value([]);
    this.skipSpaces();
    if (this.at < this.text.length) throw this.fault([], 'the end of the text');
    return value;
  }

  private take(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.at += found.length;
    return found;
  }

  private takeSign(sign: string): boolean {
    const found = this.text[this.at] === sign;
    if (found) this.at += 1;
    return found;
  }

  private skipSpaces(): void {
    this.take(spaces);
  }

  private fault(path: Path, wanted: string): Fault {
    const { at, text } = this;
    return at >= text.length
      ? new Fault(path, at, `the text ends here, where ${wanted} should follow: the file was cut short`)
      : new Fault(path, at, `expected ${wanted}, found ${JSON.stringify([...text.slice(at, at + 2)][0])}`);
  }

  private value(path: Path): unknown {
    if (path.length > deepest) throw new Fault(path.slice(0, deepest), this.at, `nested deeper than ${deepest} levels`);
    this.skipSpaces();
    this.values += 1;
    if (this.values > mostValues) throw new Fault(path, this.at, `more than ${mostValues} values`);
    this.offsets.set(JSON.stringify(path), this.at);
    if (this.takeSign('{')) return this.group(path);
    if (this.takeSign('[')) return this.list(path);
    if (this.text[this.at] === '"') return this.quoted(path, 'a text in quotes');
    const plain = this.take(word);
    if (plain !== undefined) return words[plain];
    const digits = this.take(number);
    if (digits === undefined) throw this.fault(path, 'a value');
    return Number(digits);
  }

  private quoted(path: Path, wanted: string): string {
    const found = this.take(string);
    if (found !== undefined) return JSON.parse(found) as string;
    // An opening quote with no closing one before the end is a text cut short, not a wrong character.
    if (this.text[this.at] === '"' && !this.text.slice(this.at + 1).includes('"')) this.at = this.text.length;
    throw this.fault(path, wanted);
  }

  /** Behind its opening brace. */
  private group(path: Path): Record<string, unknown> {
    // Without a prototype: a field called __proto__ is then a field like any other, and not one of ours.
    const group: Record<string, unknown> = Object.create(null);
    this.skipSpaces();
    if (this.takeSign('}')) return group;
    for (let fields = 1; ; fields += 1) {
      this.skipSpaces();
      if (fields > mostFields) throw new Fault(path, this.at, `more than ${mostFields} fields`);
      const name = this.quoted(path, 'the name of a field in quotes');
      if (name in group) throw new Fault([...path, name], this.at, 'given twice');
      this.skipSpaces();
      if (!this.takeSign(':')) throw this.fault([...path, name], 'a colon');
      group[name] = this.value([...path, name]);
      this.skipSpaces();
      if (this.takeSign('}')) return group;
      if (!this.takeSign(',')) throw this.fault(path, 'a comma or }');
    }
  }

  /** Behind its opening bracket. */
  private list(path: Path): unknown[] {
    const list: unknown[] = [];
    this.skipSpaces();
    if (this.takeSign(']')) return list;
    for (;;) {
      list.push(this.value([...path, list.length]));
      this.skipSpaces();
      if (this.takeSign(']')) return list;
      if (!this.takeSign(',')) throw this.fault(path, 'a comma or ]');
    }
  }
}

/** 'marks[3].value' */
export const pathWords = (path: Path): string =>
  path
    .map((step, place) => {
      if (typeof step === 'number') return `[${step}]`;
      if (!/^[A-Za-z]\w{0,40}$/.test(step)) return `[${JSON.stringify(step.slice(0, 40))}]`;
      return place === 0 ? step : `.${step}`;
    })
    .join('');
