/** Lines and entries that could not be read, for the notes; and rows that share one time. */

import type { FileProblem } from '../recording.ts';

/** share of unreadable lines beyond which the file is taken as damaged */
const mostUnreadable = 0.02;

/** How often something was found, and the first of it for the message. */
export interface Tally {
  count: number;
  firstLine: number;
  sample: string;
}

export const emptyTally = (): Tally => ({ count: 0, firstLine: 0, sample: '' });

export function tally(found: Tally, line: number, sample: string): void {
  if (found.count === 0) Object.assign(found, { firstLine: line, sample });
  found.count += 1;
}

/**
 * Lines after the last row are a printed summary or a row that was cut off; lines between rows are damage.
 *
 * @returns the note; or the problem, when too many lines between rows are damaged
 */
export function unreadableNote(unreadable: Tally, rows: number, lastRowLine: number): string | FileProblem | undefined {
  const { count, firstLine } = unreadable;
  if (count === 0) return undefined;
  const isBetweenRows = firstLine < lastRowLine;
  const sample = unreadable.sample.slice(0, 60);
  if (isBetweenRows && count > Math.max(5, rows * mostUnreadable))
    return {
      line: firstLine,
      message: `${count} of ${rows + count} lines could not be read. The first is "${sample}"`,
    };
  const where = count === 1 ? `line ${firstLine}` : `${count} lines, the first line ${firstLine}`;
  return isBetweenRows
    ? `Left out because it could not be read: ${where}: "${sample}"`
    : `The table ends at line ${lastRowLine}. Not read after it: ${where}: "${sample}". A recording that was cut off can look like this`;
}

export function noNumberNote({ count, firstLine, sample }: Tally): string | undefined {
  if (count === 0) return undefined;
  return `Counted as no value: ${count} ${count === 1 ? 'entry' : 'entries'} that are not numbers, the first "${sample.slice(0, 20)}" in line ${firstLine}`;
}

/**
 * Rows that share one time are spread evenly up to the next: a recorder that samples four times a second and prints
 * whole seconds gives four rows the same clock.
 */
export function spread(seconds: readonly number[]): Float64Array {
  const even = Float64Array.from(seconds);
  let usual = 1;
  for (let start = 0; start < even.length; ) {
    const stamp = seconds[start] ?? 0;
    let end = start + 1;
    while (end < even.length && seconds[end] === stamp) end += 1;
    const next = seconds[end];
    // The last run, and a run before a gap, keep the step that the others had.
    if (next !== undefined && (start === 0 || next - stamp <= 2 * usual)) usual = next - stamp;
    for (let place = start + 1; place < end; place += 1)
      even[place] = stamp + ((place - start) * usual) / (end - start);
    start = end;
  }
  return even;
}
