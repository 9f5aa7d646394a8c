/** Reads every row of the table, from its first to the end of the text. */

import type { FileProblem } from '../recording.ts';
import type { Columns } from './columns.ts';
import type { Dates } from './date-order.ts';
import { emptyTally, noNumberNote, tally, unreadableNote } from './gaps.ts';
import type { Table } from './header.ts';
import { lineAt } from './lines.ts';
import { rowWalker } from './row.ts';
import { momentOf, timeline } from './time.ts';
import { isMissing } from './values.ts';

/** rows beyond which it is not a night */
const mostRows = 5_000_000;

export interface Rows {
  seconds: number[];
  spo2: number[];
  pulse: number[];
  startedAt: string | undefined;
  notes: string[];
}

export function readRows(
  text: string,
  table: Table,
  { time, spo2, pulse }: Columns,
  { form, dayOfText, note }: Dates,
  onProgress: ((share: number) => void) | undefined,
): Rows | FileProblem {
  const values: Pick<Rows, 'seconds' | 'spo2' | 'pulse'> = { seconds: [], spo2: [], pulse: [] };
  const unreadable = emptyTally();
  const noNumber = emptyTally();
  const row = rowWalker(text, table.delimiter, table.width);
  const running = timeline(form);
  let line = table.line - 1;
  let lastRowLine = line;

  const numberIn = (column: number): number => {
    const value = row.number(column);
    if (Number.isNaN(value) && !isMissing(row.cell(column))) tally(noNumber, line, row.cell(column));
    return value;
  };

  for (let start = table.start; start < text.length; ) {
    const begin = start;
    const end = row.walk(begin);
    start = end + 1;
    line += 1;
    const moment = row.cells() === table.width ? momentOf(row, time, form, dayOfText, line - table.line) : undefined;
    if (moment === undefined) {
      const raw = lineAt(text, begin, end);
      if (raw !== '') tally(unreadable, line, raw);
      continue;
    }
    const seconds = running.next(moment);
    if (typeof seconds === 'string') return { line, message: seconds };
    lastRowLine = line;
    values.seconds.push(seconds);
    values.spo2.push(numberIn(spo2));
    if (pulse !== undefined) values.pulse.push(numberIn(pulse));
    if (values.seconds.length > mostRows) return { line, message: `More than ${mostRows} rows` };
    if (values.seconds.length % 20_000 === 0) onProgress?.(start / text.length);
  }

  const count = values.seconds.length;
  if (count < 2) return { line: table.line, message: 'Fewer than two rows could be read' };
  const damage = unreadableNote(unreadable, count, lastRowLine);
  if (typeof damage === 'object') return damage;
  const notes = [damage, noNumberNote(noNumber), note].filter((one) => one !== undefined);
  return { ...values, startedAt: running.startedAt(), notes };
}
