/**
 * JSON with its lines kept, so that a message about a file from somewhere else can name the place. Stricter than
 * `JSON.parse` in two ways: nothing is nested deeper than a file of ours can be, and no field is given twice, since a
 * reader of the file would see the first and a program take the last.
 */

export type Path = readonly (string | number)[];

export type LocatedJson =
  | { ok: true; value: unknown; lineOf: (path: Path) => number | undefined }
  | { ok: false; path: Path; line: number; message: string };

const deepest = 12;

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
    const value = parse(text, offsets);
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

function parse(text: string, offsets: Map<string, number>): unknown {
  let at = 0;
  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0];
    if (found !== undefined) at += found.length;
    return found;
  };
  const skip = () => take(spaces);
  const wrong = (path: Path, wanted: string): Fault =>
    at >= text.length
      ? new Fault(path, at, `the text ends here, where ${wanted} should follow: it was cut short`)
      : new Fault(path, at, `expected ${wanted}, found ${JSON.stringify([...text.slice(at, at + 2)][0])}`);
  const readString = (path: Path, wanted: string): string => {
    const found = take(string);
    if (found !== undefined) return JSON.parse(found) as string;
    // An opening quote with no closing one before the end is a text cut short, not a wrong character.
    if (text[at] === '"' && !text.slice(at + 1).includes('"')) at = text.length;
    throw wrong(path, wanted);
  };

  const readValue = (path: Path): unknown => {
    if (path.length > deepest) throw new Fault(path.slice(0, deepest), at, `nested deeper than ${deepest} levels`);
    skip();
    offsets.set(JSON.stringify(path), at);
    if (text[at] === '{') return readGroup(path);
    if (text[at] === '[') return readList(path);
    if (text[at] === '"') return readString(path, 'a text in quotes');
    const plain = take(word);
    if (plain !== undefined) return words[plain];
    const digits = take(number);
    if (digits === undefined) throw wrong(path, 'a value');
    return Number(digits);
  };

  const readGroup = (path: Path): Record<string, unknown> => {
    // Without a prototype: a field called __proto__ is then a field like any other, and not one of ours.
    const group: Record<string, unknown> = Object.create(null);
    at += 1;
    skip();
    if (text[at] === '}') {
      at += 1;
      return group;
    }
    for (;;) {
      skip();
      const name = readString(path, 'the name of a field in quotes');
      if (name in group) throw new Fault([...path, name], at, 'given twice');
      skip();
      if (take(/:/y) === undefined) throw wrong([...path, name], 'a colon');
      group[name] = readValue([...path, name]);
      skip();
      if (take(/\}/y) !== undefined) return group;
      if (take(/,/y) === undefined) throw wrong(path, 'a comma or }');
    }
  };

  const readList = (path: Path): unknown[] => {
    const list: unknown[] = [];
    at += 1;
    skip();
    if (text[at] === ']') {
      at += 1;
      return list;
    }
    for (;;) {
      list.push(readValue([...path, list.length]));
      skip();
      if (take(/\]/y) !== undefined) return list;
      if (take(/,/y) === undefined) throw wrong(path, 'a comma or ]');
    }
  };

  const value = readValue([]);
  skip();
  if (at < text.length) throw wrong([], 'the end of the text');
  return value;
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
