/**
 * Reads an overnight oximetry table: text with a time, a saturation and perhaps a pulse in each row.
 *
 * Recorders print the same night in many ways. Taken: comma, semicolon, tab or bar between the columns; a decimal point
 * or comma; quotes; lines of text before the table; columns in any order under any usual name, or none; dates as
 * 2026-11-20, 20/11/2026, 11/20/2026 or 20 Nov 2026; a clock that passes midnight; seconds from the start.
 *
 * Nothing is guessed that could be wrong in silence. 03/11/2026 that could be two days is asked about, unless only one of
 * the two makes a single night. A clock that goes back, a row that is cut off and a value that is no number are named with
 * their line. Work grows in step with the length of the text.
 *
 * The steps are in `read-csv/`: `header` finds the table by its `lines`, `columns` which column is which, `date-order` which
 * way round a date is, and `rows` reads each `row`: its `time`, its `values`, and the `gaps` where there is nothing to read.
 *
 * @param text     the file's text
 * @param options  what the reader has answered: order of day and month, columns counted from 0
 * @returns the recording, how it was understood and what was left out; or problems with line and reason
 */

import { type ChosenColumns, findColumns } from './read-csv/columns.ts';
import { settleDates } from './read-csv/date-order.ts';
import { spread } from './read-csv/gaps.ts';
import { columnName, findTables, type Table } from './read-csv/header.ts';
import { readRows } from './read-csv/rows.ts';
import { formWords } from './read-csv/time.ts';
import type { DateOrder } from './read-time.ts';
import { type ReadRecording, type Recording, unread } from './recording.ts';

export interface CsvOptions extends ChosenColumns {
  dateOrder?: DateOrder | undefined;
  /** called now and then with how much is done, from 0 to 1 */
  onProgress?: ((share: number) => void) | undefined;
}

/** Four values a second for more than a day and a half; and a line of far more columns than any recorder writes. */
export const mostLines = 600_000;
export const longestLine = 5000;

/** Looked at first, so that a file of another kind costs one pass and no more. */
function tooMuch(text: string): { line: number; message: string } | undefined {
  let line = 0;
  for (let at = 0; at < text.length; line += 1) {
    const found = text.indexOf('\n', at);
    const end = found < 0 ? text.length : found;
    if (line >= mostLines)
      return {
        line: line + 1,
        message: `The file has more than ${mostLines} lines: more than one night. Split it into single nights`,
      };
    if (end - at > longestLine)
      return {
        line: line + 1,
        message: `This line has more than ${longestLine} characters: this is not a table with a row for each time`,
      };
    at = end + 1;
  }
  return undefined;
}

export function readCsv(text: string, options: CsvOptions = {}): ReadRecording {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const nul = body.slice(0, 4096).indexOf('\0');
  if (nul >= 0)
    return unread({
      byte: nul,
      message: 'This is not a text table: it contains bytes that are not text. Is it EDF, or a spreadsheet?',
    });
  const lines = body.includes('\n') ? body : body.replaceAll('\r', '\n');
  if (lines.trim() === '') return unread({ line: 1, message: 'The file is empty' });
  const excess = tooMuch(lines);
  if (excess) return unread(excess);

  const tables = findTables(lines);
  if (tables.length === 0)
    return unread({
      line: 1,
      message:
        'No table found: rows with the same number of columns, separated by comma, semicolon or tab, were expected',
    });
  let first: ReadRecording | undefined;
  for (const table of tables) {
    const read = readTable(lines, table, options);
    if (read.ok || read.problems.some(({ question }) => question)) return read;
    first ??= read;
  }
  return first ?? unread({ line: 1, message: 'No table found' });
}

function readTable(text: string, table: Table, options: CsvOptions): ReadRecording {
  const columns = findColumns(table, options, text.slice(0, table.start));
  if (Array.isArray(columns)) return { ok: false, problems: columns };
  if ('message' in columns) return unread(columns);
  const { time, spo2, pulse } = columns;
  const dates = settleDates(text, table, time, options.dateOrder);
  if ('message' in dates) return unread(dates);
  const rows = readRows(text, table, columns, dates, options.onProgress);
  if ('message' in rows) return unread(rows);

  const heading = (column: number) => columnName(table, column);
  const understood = [
    `Columns separated by ${table.delimiter.name}`,
    `Time: ${[time.dateColumn, time.column]
      .filter((column) => column !== undefined)
      .map((column) => (column < 0 ? 'no such column' : heading(column)))
      .join(' with ')} (${formWords(dates.form)})`,
    `SpO2: ${heading(spo2)}`,
    pulse === undefined ? 'Pulse: no such column' : `Pulse: ${heading(pulse)}`,
  ];
  const recording: Recording = { seconds: spread(rows.seconds), spo2: Float32Array.from(rows.spo2) };
  if (rows.startedAt !== undefined) recording.startedAt = rows.startedAt;
  if (pulse !== undefined) recording.pulse = Float32Array.from(rows.pulse);
  return { ok: true, recording, understood, notes: rows.notes };
}
