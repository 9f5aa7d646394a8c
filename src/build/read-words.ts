/** The files of content/words/, read when the site is built and in tests: held to their schema and to what they may name. */
import { LineCounter, type Node, parseDocument } from 'yaml';
import { z } from '../../calculators/domain/schema.ts';
import { issueWords, valueAt } from '../../calculators/exchange/schema-faults.ts';
import type { WordData } from '../../calculators/query/vocabulary.ts';
import {
  type Known,
  type WordFile,
  type WordFiles,
  wordDataOf,
  wordFaults,
  wordFiles,
} from '../../calculators/query/word-files.ts';

/** The text of each file, by its name without the ending. */
export type WordTexts = Readonly<Record<string, string>>;

/** The headings of a page that its readers can be sent to. */
export const headingsOf = (body: string): string[] =>
  [...body.matchAll(/^## (.+)$/gm)].map(([, words = '']) => words.trim());

/** @throws with every fault, each with file, line and field */
export function readWords(texts: WordTexts, known: Known): WordData {
  const names = Object.keys(wordFiles) as WordFile[];
  const strange = Object.keys(texts).filter((name) => !names.includes(name as WordFile));
  if (strange.length > 0)
    throw new Error(strange.map((name) => `content/words/${name}.yaml: no file of words has that name`).join('\n'));
  const read = names.map((name) => ({ name, ...readFile(name, texts[name]) }));
  stopAt(read.flatMap(({ faults }) => faults));
  const files = Object.fromEntries(read.map(({ name, data }) => [name, data])) as unknown as WordFiles;
  const faults = wordFaults(files, known);
  stopAt(read.flatMap(({ name, place }) => (faults[name] ?? []).map(({ at, message }) => `${place(at)}: ${message}`)));
  return wordDataOf(files);
}

function stopAt(faults: readonly string[]): void {
  if (faults.length > 0) throw new Error(faults.join('\n'));
}

type Path = readonly (string | number)[];

function readFile(name: WordFile, text: string | undefined) {
  const file = `content/words/${name}.yaml`;
  const none = { data: undefined, place: () => file };
  if (text === undefined) return { ...none, faults: [`${file} is missing`] };
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const [broken] = document.errors;
  if (broken)
    return { ...none, faults: [`${file}:${lines.linePos(broken.pos[0]).line}: this is not YAML: ${broken.message}`] };
  const place = (at: Path): string => {
    for (let length = at.length; length > 0; length -= 1) {
      const node = document.getIn(at.slice(0, length), true) as Node | undefined;
      if (node?.range) return `${file}:${lines.linePos(node.range[0]).line}: ${at.join('.')}`;
    }
    return `${file}:1: ${at.join('.')}`;
  };
  const value = document.toJS() as unknown;
  const read = z.safeParse(wordFiles[name] as z.ZodMiniType<unknown>, value);
  if (read.success) return { data: read.data, place, faults: [] };
  const faults = read.error.issues.map((issue) => {
    const at = issue.path.map((step) => (typeof step === 'symbol' ? step.toString() : step));
    const more = issue.code === 'unrecognized_keys' ? [...at, ...issue.keys.slice(0, 1)] : at;
    return `${place(more)}: ${issueWords(issue, valueAt(value, at))}`;
  });
  return { data: undefined, place, faults };
}
