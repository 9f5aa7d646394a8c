/** Finds the table in the text: what parts its columns, how many there are, their headings, and where the rows begin. */

import { timeForms } from '../read-time.ts';
import { type Delimiter, delimiters, endOfLine, lineAt, split } from './lines.ts';
import { isMissing } from './values.ts';

/** lines looked at to find the table */
const sampleLines = 400;

export interface Table {
  delimiter: Delimiter;
  /** cells in a row */
  width: number;
  headings: string[] | undefined;
  /** where the first row of numbers starts in the text, and its line */
  start: number;
  line: number;
  rows: string[][];
}

/** Every way of parting the columns under which the text looks like a table, the likeliest first. */
export function findTables(text: string): Table[] {
  const lines = firstLines(text);
  return (
    delimiters
      .map((delimiter) => tableBy(delimiter, lines))
      .filter((found) => found !== undefined)
      // Equal scores keep the order above: a comma inside '96,5' counts as often as the semicolon beside it.
      .sort((a, b) => b.score - a.score)
      .map(({ table }) => table)
  );
}

interface Line {
  text: string;
  start: number;
}

function firstLines(text: string): Line[] {
  const lines: Line[] = [];
  for (let start = 0; start < text.length && lines.length < sampleLines; ) {
    const end = endOfLine(text, start);
    lines.push({ text: lineAt(text, start, end), start });
    start = end + 1;
  }
  return lines;
}

/** The table under that sign; the score is how many lines have the usual number of cells. */
function tableBy(delimiter: Delimiter, lines: readonly Line[]): { table: Table; score: number } | undefined {
  const cells = lines.map((line) => split(line.text, delimiter.separator));
  const { width, score } = usualWidth(cells);
  if (width < 2) return undefined;
  const first = cells.findIndex((row, place) => {
    const next = cells.slice(place + 1).find((later) => later.length > 1);
    return row.length === width && isNumbers(row) && (next === undefined || isNumbers(next));
  });
  if (first < 0) return undefined;
  const above = cells
    .slice(0, first)
    .reverse()
    .find((row) => row.some((cell) => cell !== ''));
  const table: Table = {
    delimiter,
    width,
    headings: headingsOf(above, width),
    start: lines[first]?.start ?? 0,
    line: first + 1,
    rows: cells.slice(first).filter((row) => row.length === width),
  };
  return { table, score };
}

function usualWidth(cells: readonly string[][]): { width: number; score: number } {
  const counts = new Map<number, number>();
  for (const row of cells) if (row.length > 1) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
  const [width, score] = [...counts].reduce((best, next) => (next[1] > best[1] ? next : best), [0, 0]);
  return { width, score };
}

/** A row of the table itself: most of what is in it is numbers, times or a sign for 'no value'. */
function isNumbers(row: readonly string[]): boolean {
  const filled = row.filter((cell) => cell !== '');
  const moments = filled.filter((cell) => timeForms(cell).some((form) => form.kind !== 'elapsed'));
  const numbers = filled.filter((cell) => /^[+-]?\d/.test(cell));
  const missing = row.filter(isMissing);
  if (moments.length > 0 && moments.length + missing.length === row.length) return true;
  const recognised = new Set([...moments, ...numbers]).size;
  return recognised > 0 && filled.length > 1 && recognised + filled.filter(isMissing).length > filled.length / 2;
}

/** Headings of that many columns; a separator at the end of one line and not of the others makes no column. */
function headingsOf(above: readonly string[] | undefined, width: number): string[] | undefined {
  if (!above || isNumbers(above)) return undefined;
  if (above.length === width + 1 && above.at(-1) === '') return above.slice(0, width);
  if (above.length === width - 1) return [...above, ''];
  return above.length === width ? [...above] : undefined;
}

/** The heading of a column as printed; empty when it has none. */
export const headingIn = ({ headings }: Table, column: number): string => headings?.[column] ?? '';

/** What to call a column in a message. */
export const columnName = (table: Table, column: number): string => headingIn(table, column) || `column ${column + 1}`;

/** All columns of a table, in a message. */
export const columnNames = ({ headings, width }: Table): string =>
  headings ? headings.map((name) => `"${name}"`).join(', ') : `${width} unnamed columns`;
