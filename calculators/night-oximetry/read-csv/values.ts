/** Numbers as recorders print them, and what they print where there is none. */

import type { Delimiter } from './lines.ts';

/** NaN when it is no number. A comma is the decimal sign wherever it does not part the columns. */
export function toNumber(cell: string, { separator }: Delimiter): number {
  if (cell === '') return Number.NaN;
  const direct = Number(cell);
  // Number() also takes 0x10 and 1e3; no recorder prints a saturation so.
  if (!Number.isNaN(direct)) return /^[+-]?[\d.]+$/.test(cell) ? direct : Number.NaN;
  const found = /^([+-]?\d+(?:[.,]\d+)?)\s*(?:%|bpm|\/min|1\/min|s|ms)?$/i.exec(cell);
  if (!found) return Number.NaN;
  const digits = found[1] ?? '';
  // Inside quotes even a comma-separated table can contain 96,5; without quotes it would have been split.
  return Number(separator === ',' || digits.includes(',') ? digits.replace(',', '.') : digits);
}

export const isMissing = (cell: string): boolean =>
  cell === '' || /^(?:[-*?x.\u2013\u2014_]+|n\/?\.?a\.?|nan|null|none|off|error|fehler)$/i.test(cell);
