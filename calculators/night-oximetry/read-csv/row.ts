/**
 * One row at a time, read where it is in the text: most cells are a few digits, and cutting each out of the text costs
 * more than reading it.
 */

import { readClock } from '../read-time.ts';
import { type Delimiter, endOfLine, lineAt, split } from './lines.ts';
import { toNumber } from './values.ts';

export interface RowWalker {
  /** @returns where the line ends */
  walk: (start: number) => number;
  /** cells in the line; the walker knows no more of a line with too many */
  cells: () => number;
  cell: (column: number) => string;
  /** NaN when it is no number */
  number: (column: number) => number;
  clock: (column: number) => number | undefined;
}

export function rowWalker(text: string, delimiter: Delimiter, width: number): RowWalker {
  const separator = delimiter.separator.charCodeAt(0);
  /** where each cell begins; the one after the last begins behind the end of the line */
  const begins = new Int32Array(width + 1);
  let count = 0;
  let quoted: string[] | undefined;
  const cell = (column: number): string =>
    quoted ? (quoted[column] ?? '') : text.slice(begins[column], (begins[column + 1] ?? 0) - 1).trim();
  return {
    walk: (start) => {
      quoted = undefined;
      count = 0;
      begins[0] = start;
      let at = start;
      for (; at < text.length; at += 1) {
        const code = text.charCodeAt(at);
        if (code === 10) break;
        if (code === 34) {
          const end = endOfLine(text, at);
          quoted = split(lineAt(text, start, end), delimiter.separator);
          count = quoted.length;
          return end;
        }
        if (code === separator) {
          count += 1;
          if (count <= width) begins[count] = at + 1;
        }
      }
      count += 1;
      if (count <= width) begins[count] = at + 1;
      return at;
    },
    cells: () => count,
    cell,
    number: (column) => {
      const begin = begins[column] ?? 0;
      const length = (begins[column + 1] ?? 0) - 1 - begin;
      if (!quoted && length >= 1 && length <= 3) {
        let value = 0;
        let at = begin;
        for (; at < begin + length; at += 1) {
          const digit = text.charCodeAt(at) - 48;
          if (digit < 0 || digit > 9) break;
          value = value * 10 + digit;
        }
        if (at === begin + length) return value;
      }
      return toNumber(cell(column), delimiter);
    },
    clock: (column) => {
      const plain = quoted ? undefined : plainClock(text, begins[column] ?? 0, (begins[column + 1] ?? 0) - 1);
      return plain ?? readClock(cell(column));
    },
  };
}

/** Seconds of HH:MM:SS, which most rows have, from its digits; undefined for any other form. */
export function plainClock(text: string, begin: number, end: number): number | undefined {
  if (end - begin !== 8 || text.charCodeAt(begin + 2) !== 58 || text.charCodeAt(begin + 5) !== 58) return undefined;
  const hour = twoDigits(text, begin);
  const minute = twoDigits(text, begin + 3);
  const second = twoDigits(text, begin + 6);
  const isClock = hour >= 0 && hour < 24 && minute >= 0 && minute < 60 && second >= 0 && second < 60;
  return isClock ? hour * 3600 + minute * 60 + second : undefined;
}

/** -1 when they are not two digits */
function twoDigits(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens < 0 || tens > 9 || ones < 0 || ones > 9 ? -1 : tens * 10 + ones;
}
