/**
 * Reads an overnight oximetry table: text with a time, a saturation and perhaps a pulse in each row.
 *
 * Recorders print the same night in many ways. Taken: comma, semicolon, tab or bar between the columns; a decimal point
 * or comma; quotes; lines of text before the table; columns in any order under any usual name, or none; dates as
 * 2026-11-20, 20/11/2026, 11/20/2026 or 20 Nov 2026; a clock that passes midnight; seconds from the start.
 *
 * Nothing is guessed that could be wrong in silence. 03/11/2026 that could be two days is asked about, unless only one of
 * the two makes a single night. A clock that goes back, a row that is cut off and a value that is no number are told with
 * their line. Work grows in step with the length of the text.
 *
 * @param text     the file's text
 * @param options  what the reader has answered: order of day and month, columns counted from 0
 * @returns the recording, how it was understood and what was left out; or problems with line and reason
 */

import { dayNumber, dayOf, isoDay } from '../calendar.ts';
import {
  type DateOrder,
  dateOrderWords,
  longDay,
  readClock,
  readDay,
  readMoment,
  type TimeForm,
  timeForms,
} from './read-time.ts';
import {
  clock,
  type FileProblem,
  longestHours,
  type Question,
  type ReadRecording,
  type Recording,
  unread,
} from './recording.ts';

export interface CsvOptions {
  dateOrder?: DateOrder | undefined;
  timeColumn?: number | undefined;
  spo2Column?: number | undefined;
  /** told now and then, from 0 to 1 */
  onProgress?: ((share: number) => void) | undefined;
}

const delimiters = [
  { mark: '\t', name: 'tab' },
  { mark: ';', name: 'semicolon' },
  { mark: ',', name: 'comma' },
  { mark: '|', name: 'bar' },
] as const;
type Delimiter = (typeof delimiters)[number];

/** lines looked at to find the table */
const sampleLines = 400;
/** rows beyond which it is not a night */
const mostRows = 5_000_000;
/** share of unreadable rows beyond which the file is taken as damaged */
const mostUnreadable = 0.02;

const names = {
  spo2: /sp\s*o\s*2|sa\s*o\s*2|o2\s*sat|^o2$|satur|s\u00e4ttig|oxy|^sat$|^sats$/i,
  /** columns beside the saturation that are not it */
  notSpo2: /status|flag|quality|alarm|signal|event|change|index|limit|pulse|pleth|count|time|date/i,
  pulse: /pulse|puls|pouls|^pr$|^pr\b|\bhr\b|heart|bpm|frequenz|frecuencia/i,
  notPulse: /status|flag|quality|alarm|signal|strength|pleth|ampl|index|wave|limit|spo2/i,
  time: /time|zeit|heure|hora|clock|date|datum|sec|elapsed|stamp|^t$|^s$|^ms$/i,
};

interface Table {
  delimiter: Delimiter;
  /** cells in a row */
  width: number;
  headings: string[] | undefined;
  /** where the first row of numbers starts in the text, and its line */
  start: number;
  line: number;
  rows: string[][];
}

interface TimeColumns {
  form: TimeForm;
  /** the column with the clock, or with the whole moment, or with elapsed time */
  column: number;
  /** a date of its own beside it */
  dateColumn?: number;
}

export function readCsv(text: string, options: CsvOptions = {}): ReadRecording {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const nul = body.slice(0, 4096).indexOf('\0');
  if (nul >= 0)
    return unread({
      byte: nul,
      message: 'This is not a text table: it holds bytes that are no text. Is it EDF, or a spreadsheet?',
    });
  const lines = body.includes('\n') ? body : body.replaceAll('\r', '\n');
  if (lines.trim() === '') return unread({ line: 1, message: 'The file is empty' });

  const tables = findTables(lines);
  if (tables.length === 0)
    return unread({
      line: 1,
      message: 'No table found: rows with the same number of columns, parted by comma, semicolon or tab, were expected',
    });
  let first: ReadRecording | undefined;
  for (const table of tables) {
    const read = readTable(lines, table, options);
    if (read.ok || read.problems.some(({ question }) => question)) return read;
    first ??= read;
  }
  return first ?? unread({ line: 1, message: 'No table found' });
}

/** Every way of parting the columns under which the text looks like a table, the likeliest first. */
function findTables(text: string): Table[] {
  const lines: { text: string; start: number }[] = [];
  for (let start = 0; start < text.length && lines.length < sampleLines; ) {
    const end = endOfLine(text, start);
    lines.push({ text: lineAt(text, start, end), start });
    start = end + 1;
  }
  const found: { table: Table; score: number }[] = [];
  for (const delimiter of delimiters) {
    const cells = lines.map((line) => split(line.text, delimiter.mark));
    const counts = new Map<number, number>();
    for (const row of cells) if (row.length > 1) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
    const [width, score] = [...counts].reduce((best, next) => (next[1] > best[1] ? next : best), [0, 0]);
    if (width < 2) continue;
    const first = cells.findIndex((row, place) => {
      const next = cells.slice(place + 1).find((later) => later.length > 1);
      return row.length === width && isNumbers(row) && (next === undefined || isNumbers(next));
    });
    if (first < 0) continue;
    const above = cells
      .slice(0, first)
      .reverse()
      .find((row) => row.some((cell) => cell !== ''));
    found.push({
      score,
      table: {
        delimiter,
        width,
        headings: headingsOf(above, width),
        start: lines[first]?.start ?? 0,
        line: first + 1,
        rows: cells.slice(first).filter((row) => row.length === width),
      },
    });
  }
  // Equal scores keep the order above: a comma inside '96,5' counts as often as the semicolon beside it.
  return found.sort((a, b) => b.score - a.score).map(({ table }) => table);
}

/** A row of the table itself: most of what is in it is numbers, times or a sign for 'no value'. */
function isNumbers(row: readonly string[]): boolean {
  const filled = row.filter((cell) => cell !== '');
  const moments = filled.filter((cell) => timeForms(cell).some((form) => form.kind !== 'elapsed'));
  const numbers = filled.filter((cell) => /^[+-]?\d/.test(cell));
  const missing = row.filter(isMissing);
  if (moments.length > 0 && moments.length + missing.length === row.length) return true;
  const told = new Set([...moments, ...numbers]).size;
  return told > 0 && filled.length > 1 && told + filled.filter(isMissing).length > filled.length / 2;
}

/** Headings of that many columns; a mark at the end of one line and not of the others makes no column. */
function headingsOf(above: readonly string[] | undefined, width: number): string[] | undefined {
  if (!above || isNumbers(above)) return undefined;
  if (above.length === width + 1 && above.at(-1) === '') return above.slice(0, width);
  if (above.length === width - 1) return [...above, ''];
  return above.length === width ? [...above] : undefined;
}

function readTable(text: string, table: Table, options: CsvOptions): ReadRecording {
  const time = findTime(table, options.timeColumn);
  if ('message' in time) return unread(time);
  const spo2 = findSaturation(table, time, options.spo2Column);
  if (typeof spo2 !== 'number') return unread(spo2);
  const pulse = findPulse(table, time, spo2);

  const rows = readRows(text, table, time, spo2, pulse, options);
  if ('ok' in rows) return rows;
  const { columns } = rows;

  const heading = (column: number) => table.headings?.[column] || `column ${column + 1}`;
  const understood = [
    `Columns parted by ${table.delimiter.name}`,
    `Time: ${[time.dateColumn, time.column]
      .filter((column) => column !== undefined)
      .map(heading)
      .join(' with ')} (${formWords(rows.form)})`,
    `SpO2: ${heading(spo2)}`,
    pulse === undefined ? 'Pulse: no such column' : `Pulse: ${heading(pulse)}`,
  ];
  const recording: Recording = { seconds: spread(columns.seconds), spo2: Float32Array.from(columns.spo2) };
  if (rows.startedAt !== undefined) recording.startedAt = rows.startedAt;
  if (pulse !== undefined) recording.pulse = Float32Array.from(columns.pulse);
  return { ok: true, recording, understood, notes: rows.notes };
}

// --- which column is which -------------------------------------------------------------------------------------------

function findTime(table: Table, chosen: number | undefined): TimeColumns | FileProblem {
  const { headings, width } = table;
  const columns = Array.from({ length: width }, (_, column) => ({ column, ...timeOf(table, column) }));
  const named = (column: number) => names.time.test(headings?.[column] ?? '');
  const usable = columns.filter(({ column }) => chosen === undefined || column === chosen);
  const pick = (kind: 'moment' | 'clock' | 'elapsed' | 'date') => {
    const these = usable.filter((one) => one.what === kind);
    return (
      these.find(({ column }) => named(column)) ?? (kind === 'elapsed' && chosen === undefined ? undefined : these[0])
    );
  };
  const moment = pick('moment');
  if (moment?.form) return { form: moment.form, column: moment.column };
  const clockColumn = pick('clock');
  if (clockColumn?.form) {
    const date = columns.find((one) => one.what === 'date');
    return date?.form
      ? { form: date.form, column: clockColumn.column, dateColumn: date.column }
      : { form: clockColumn.form, column: clockColumn.column };
  }
  const elapsed =
    pick('elapsed') ??
    rising(
      table,
      columns.filter((one) => one.what === 'elapsed'),
    );
  if (elapsed)
    return {
      form: { kind: 'elapsed', secondsEach: unitOf(headings?.[elapsed.column] ?? '') },
      column: elapsed.column,
    };
  return {
    line: table.line,
    message: `No time column found among ${listed(table)}. A time such as 22:41:00, a date with a time, or seconds from the start is needed`,
    question: columnQuestion('timeColumn', table),
  };
}

/** What a column could tell about time, from its first rows. */
function timeOf(
  table: Table,
  column: number,
): { what: 'moment' | 'date' | 'clock' | 'elapsed' | 'none'; form?: TimeForm } {
  const cells = table.rows.map((row) => row[column] ?? '').filter((cell) => cell !== '');
  // The first rows of a recording can be blank or a placeholder; four fifths must agree.
  const agree = (of: TimeForm, test: (cell: string) => boolean) =>
    cells.length > 0 && cells.filter(test).length >= cells.length * 0.8 ? of : undefined;
  const dated = (
    [
      { kind: 'year-first' },
      { kind: 'year-last', order: 'd/m/y' },
      { kind: 'year-last', order: 'm/d/y' },
      { kind: 'month-named' },
    ] as const
  ).find((form) => agree(form, (cell) => readDay(cell, form) !== undefined));
  if (dated) {
    const withClock = cells.filter((cell) => readMoment(cell, dated)?.hasClock).length;
    return { what: withClock >= cells.length * 0.5 ? 'moment' : 'date', form: dated };
  }
  if (agree({ kind: 'clock' }, (cell) => readClock(cell) !== undefined))
    return { what: 'clock', form: { kind: 'clock' } };
  if (agree({ kind: 'elapsed', secondsEach: 1 }, (cell) => Number.isFinite(toNumber(cell, table.delimiter))))
    return { what: 'elapsed', form: { kind: 'elapsed', secondsEach: 1 } };
  return { what: 'none' };
}

/** The one unnamed column of numbers that never falls and does rise can only be time. */
function rising<T extends { column: number }>(table: Table, columns: readonly T[]): T | undefined {
  const found = columns.filter(({ column }) => {
    const values = table.rows.map((row) => toNumber(row[column] ?? '', table.delimiter)).filter(Number.isFinite);
    const steady = values.every((value, place) => place === 0 || value >= (values[place - 1] ?? 0));
    return steady && values.length > 2 && (values.at(-1) ?? 0) - (values[0] ?? 0) >= values.length / 20;
  });
  return found.length === 1 ? found[0] : undefined;
}

const unitOf = (heading: string): number =>
  /\bms\b|milli/i.test(heading)
    ? 0.001
    : /\bmins?\b|minute/i.test(heading)
      ? 60
      : /\bhours?\b|\(h\)/i.test(heading)
        ? 3600
        : 1;

function findSaturation(table: Table, time: TimeColumns, chosen: number | undefined): number | FileProblem {
  if (chosen !== undefined && chosen >= 0 && chosen < table.width) return chosen;
  const others = Array.from({ length: table.width }, (_, column) => column).filter(
    (column) => column !== time.column && column !== time.dateColumn,
  );
  const heading = (column: number) => table.headings?.[column] ?? '';
  const named = others.filter((column) => names.spo2.test(heading(column)) && !names.notSpo2.test(heading(column)));
  if (named.length === 1 && named[0] !== undefined) return named[0];
  const likely = (named.length > 1 ? named : others.filter((column) => !names.pulse.test(heading(column)))).filter(
    (column) => looksLike(table, column, 50, 100),
  );
  if (likely.length === 1 && likely[0] !== undefined) return likely[0];
  return {
    line: table.line,
    message:
      likely.length === 0
        ? `No SpO2 column found among ${listed(table)}. Values from 50 to 100 were expected; a share such as 0.95 is not read`
        : `More than one column could be SpO2: ${likely.map((column) => heading(column) || `column ${column + 1}`).join(', ')}`,
    question: columnQuestion('spo2Column', table),
  };
}

function findPulse(table: Table, time: TimeColumns, spo2: number): number | undefined {
  const others = Array.from({ length: table.width }, (_, column) => column).filter(
    (column) => column !== time.column && column !== time.dateColumn && column !== spo2,
  );
  const heading = (column: number) => table.headings?.[column] ?? '';
  const named = others.find((column) => names.pulse.test(heading(column)) && !names.notPulse.test(heading(column)));
  if (named !== undefined || table.headings) return named;
  const likely = others.filter((column) => looksLike(table, column, 25, 250));
  return likely.length === 1 ? likely[0] : undefined;
}

/** Most of a column's numbers lie in the range; what recorders print for 'no value' (0, 127, 255, 511) does not count. */
function looksLike(table: Table, column: number, low: number, high: number): boolean {
  const values = table.rows
    .map((row) => toNumber(row[column] ?? '', table.delimiter))
    .filter((value) => Number.isFinite(value) && ![0, 127, 255, 500, 511].includes(value));
  return values.length > 0 && values.filter((value) => value >= low && value <= high).length > values.length * 0.9;
}

const listed = ({ headings, width }: Table): string =>
  headings ? headings.map((name) => `"${name}"`).join(', ') : `${width} unnamed columns`;

const columnQuestion = (sets: Question['sets'], table: Table): Question => ({
  sets,
  choices: Array.from({ length: table.width }, (_, column) => ({
    value: String(column),
    label: `${table.headings?.[column] || `Column ${column + 1}`}: ${table.rows
      .slice(0, 3)
      .map((row) => row[column])
      .join(', ')}`,
  })),
});

// --- the rows --------------------------------------------------------------------------------------------------------

interface Rows {
  columns: { seconds: number[]; spo2: number[]; pulse: number[] };
  form: TimeForm;
  startedAt: string | undefined;
  notes: string[];
}

function readRows(
  text: string,
  table: Table,
  time: TimeColumns,
  spo2: number,
  pulse: number | undefined,
  { dateOrder, onProgress }: CsvOptions,
): Rows | ReadRecording {
  const { delimiter, width } = table;
  const days = settleDates(text, table, time, dateOrder);
  if ('problem' in days) return unread(days.problem);
  const { form, dayOfText } = days;

  const columns: Rows['columns'] = { seconds: [], spo2: [], pulse: [] };
  const notes: string[] = [];
  const unreadable = { count: 0, firstLine: 0, sample: '' };
  const noNumber = { count: 0, firstLine: 0, sample: '' };
  let zero = Number.NaN;
  let before = Number.NEGATIVE_INFINITY;
  let midnights = 0;
  let line = table.line - 1;
  let lastGood = line;
  let startedAt: string | undefined;

  const numberIn = (column: number): number => {
    const value = row.number(column);
    if (Number.isNaN(value) && !isMissing(row.cell(column))) {
      if (noNumber.count === 0) Object.assign(noNumber, { firstLine: line, sample: row.cell(column) });
      noNumber.count += 1;
    }
    return value;
  };

  const row = rowWalker(text, delimiter, width);
  for (let start = table.start; start < text.length; ) {
    const end = row.walk(start);
    line += 1;
    const begin = start;
    start = end + 1;
    const moment = row.cells() === width ? momentOf(row, time, form, dayOfText) : undefined;
    if (moment === undefined) {
      const raw = lineAt(text, begin, end);
      if (raw === '') continue;
      if (unreadable.count === 0) Object.assign(unreadable, { firstLine: line, sample: raw });
      unreadable.count += 1;
      continue;
    }
    let now = moment + midnights * 86_400;
    // Half a day back on a clock without a date is midnight; less than that is a clock that was set back.
    if (form.kind === 'clock' && now < before - 43_200) {
      midnights += 1;
      now += 86_400;
    }
    if (now < before)
      return unread({
        line,
        message: `The time goes back here, from ${clock(before)} to ${clock(now)}. A change of summer time, a clock set in the night or two recordings in one file do this: cut the file there and open one part`,
      });
    if (columns.seconds.length === 0) {
      zero = now;
      if (form.kind !== 'elapsed')
        startedAt = form.kind === 'clock' ? clock(now) : `${isoDay(dayOf(Math.floor(now / 86_400)))}T${clock(now)}`;
    }
    before = now;
    lastGood = line;
    columns.seconds.push(now - zero);
    columns.spo2.push(numberIn(spo2));
    if (pulse !== undefined) columns.pulse.push(numberIn(pulse));
    if (now - zero > longestHours * 3600)
      return unread({
        line,
        message: `The rows span more than ${longestHours} hours here, which is no night. ${form.kind === 'elapsed' ? 'Are the times in milliseconds? Then name the column "time (ms)"' : 'Are there several recordings in one file, or is the date read the wrong way round?'}`,
      });
    if (columns.seconds.length > mostRows) return unread({ line, message: `More than ${mostRows} rows` });
    if (columns.seconds.length % 20_000 === 0) onProgress?.(start / text.length);
  }

  const rows = columns.seconds.length;
  if (rows < 2) return unread({ line: table.line, message: 'Fewer than two rows could be read' });
  // Lines after the last row are a printed summary or a row cut off; lines between rows are damage.
  if (unreadable.count > 0) {
    const inside = unreadable.firstLine < lastGood;
    const where =
      unreadable.count === 1
        ? `line ${unreadable.firstLine}`
        : `${unreadable.count} lines, the first line ${unreadable.firstLine}`;
    if (inside && unreadable.count > Math.max(5, rows * mostUnreadable))
      return unread({
        line: unreadable.firstLine,
        message: `${unreadable.count} of ${rows + unreadable.count} lines could not be read. The first is "${unreadable.sample.slice(0, 60)}"`,
      });
    notes.push(
      inside
        ? `Left out, not readable: ${where}: "${unreadable.sample.slice(0, 60)}"`
        : `The table ends at line ${lastGood}. Not read after it: ${where}: "${unreadable.sample.slice(0, 60)}". A recording that was cut off looks like this`,
    );
  }
  if (noNumber.count > 0)
    notes.push(
      `Taken as no value: ${noNumber.count} ${noNumber.count === 1 ? 'entry' : 'entries'} that are no number, the first "${noNumber.sample.slice(0, 20)}" in line ${noNumber.firstLine}`,
    );
  if (days.note) notes.push(days.note);
  return { columns, form, startedAt, notes };
}

/** Seconds of a row on its own scale; undefined when the row has no readable time. */
function momentOf(
  row: RowWalker,
  time: TimeColumns,
  form: TimeForm,
  dayOfText: (text: string) => number | undefined,
): number | undefined {
  if (form.kind === 'elapsed') {
    const value = row.number(time.column);
    return Number.isFinite(value) ? value * form.secondsEach : undefined;
  }
  if (form.kind === 'clock') return row.clock(time.column);
  if (time.dateColumn !== undefined) {
    const day = dayOfText(row.cell(time.dateColumn));
    const seconds = row.clock(time.column);
    return day === undefined || seconds === undefined ? undefined : day * 86_400 + seconds;
  }
  const cell = row.cell(time.column);
  const length = dateLength(cell);
  const day = dayOfText(cell.slice(0, length));
  let begin = length;
  while (begin < cell.length && 'T ,'.includes(cell[begin] ?? '')) begin += 1;
  const seconds = begin === cell.length ? 0 : (plainClock(cell, begin, cell.length) ?? readClock(cell.slice(begin)));
  return day === undefined || seconds === undefined ? undefined : day * 86_400 + seconds;
}

/** Length of the date in front of a clock: up to the T, space or comma before the first hour and colon. */
function dateLength(cell: string): number {
  const colon = cell.indexOf(':');
  if (colon < 0) return cell.length;
  let place = colon - 1;
  while (place >= 0 && cell.charCodeAt(place) >= 48 && cell.charCodeAt(place) <= 57) place -= 1;
  while (place >= 0 && 'T ,'.includes(cell[place] ?? '')) place -= 1;
  return place + 1;
}

interface Days {
  form: TimeForm;
  dayOfText: (text: string) => number | undefined;
  note?: string;
}

/**
 * Settles whether 03/11/2026 is in March or in November. A date with a part above 12 settles it; so does a night: two
 * dates that are a day apart one way and a month apart the other. Otherwise it is asked.
 */
function settleDates(
  text: string,
  table: Table,
  time: TimeColumns,
  chosen: DateOrder | undefined,
): Days | { problem: FileProblem } {
  const withCache = (form: TimeForm): Days => {
    let last = '';
    let day: number | undefined;
    return {
      form,
      dayOfText: (date) => {
        if (date !== last) {
          const read = readDay(date, form);
          day = read && read.length === date.length ? dayNumber(read) : undefined;
          last = date;
        }
        return day;
      },
    };
  };
  if (time.form.kind !== 'year-last') return withCache(time.form);
  const dates = distinctDates(text, table, time);
  const orders = (['d/m/y', 'm/d/y'] as const).map((order) => {
    const form: TimeForm = { kind: 'year-last', order };
    const days = dates.map((date) => readDay(date, form)).filter((day) => day !== undefined);
    const numbers = days.map(dayNumber);
    const span = numbers.length === 0 ? 0 : Math.max(...numbers) - Math.min(...numbers);
    return { order, form, first: days[0], reads: days.length, oneNight: span <= longestHours / 24 };
  });
  const most = Math.max(...orders.map(({ reads }) => reads));
  const possible = orders.filter(({ reads }) => reads === most);
  const [one, other] =
    possible.length > 1 && possible.some(({ oneNight }) => oneNight)
      ? possible.filter(({ oneNight }) => oneNight)
      : possible;
  const asked = orders.find(({ order }) => order === chosen);
  if (asked && possible.includes(asked)) return withCache(asked.form);
  if (!one) return withCache(time.form);
  if (!other || !one.first || !other.first || isoDay(one.first) === isoDay(other.first)) {
    const days = withCache(one.form);
    return possible.length > 1 && !other
      ? { ...days, note: `Dates read ${dateOrderWords[one.order]}: the other way the rows would be weeks apart` }
      : days;
  }
  return {
    problem: {
      line: table.line,
      message: `The date ${dates[0]} can be read two ways: ${longDay(one.first)} or ${longDay(other.first)}. Say which`,
      question: {
        sets: 'dateOrder',
        choices: [one, other].map(({ order, first }) => ({
          value: order,
          label: `${first ? longDay(first) : ''} (${dateOrderWords[order]})`,
        })),
      },
    },
  };
}

/** The dates of the first rows and of the last, each once: time runs one way, so these are its ends. */
function distinctDates(text: string, table: Table, time: TimeColumns): string[] {
  const tail = text.slice(Math.max(table.start, text.length - 8192));
  const last = tail
    .slice(tail.indexOf('\n') + 1)
    .split('\n')
    .map((line) => split(line.trim(), table.delimiter.mark))
    .filter((cells) => cells.length === table.width);
  const dates = [...table.rows, ...last].map((cells) => {
    const cell = cells[time.dateColumn ?? time.column] ?? '';
    return time.dateColumn === undefined ? cell.slice(0, dateLength(cell)) : cell;
  });
  return [...new Set(dates)].filter((date) => date !== '');
}

// --- lines, cells and numbers ----------------------------------------------------------------------------------------

/** One row at a time, read where it stands: most cells are a few digits, and cutting each out of the text costs more than reading it. */
interface RowWalker {
  /** @returns where the line ends */
  walk: (start: number) => number;
  /** cells in the line; the walker knows no more of a line with too many */
  cells: () => number;
  cell: (column: number) => string;
  /** NaN when it is no number */
  number: (column: number) => number;
  clock: (column: number) => number | undefined;
}

function rowWalker(text: string, delimiter: Delimiter, width: number): RowWalker {
  const mark = delimiter.mark.charCodeAt(0);
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
          quoted = split(lineAt(text, start, end), delimiter.mark);
          count = quoted.length;
          return end;
        }
        if (code === mark) {
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

/** HH:MM:SS, as most rows say it, told from its digits; undefined for any other form. */
function plainClock(text: string, begin: number, end: number): number | undefined {
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

function endOfLine(text: string, start: number): number {
  const end = text.indexOf('\n', start);
  return end < 0 ? text.length : end;
}

const lineAt = (text: string, start: number, end: number): string => text.slice(start, end).trim();

function split(line: string, mark: string): string[] {
  const cells = line.includes('"') ? splitQuoted(line, mark) : line.split(mark);
  for (let place = 0; place < cells.length; place += 1) cells[place] = (cells[place] ?? '').trim();
  return cells;
}

function splitQuoted(line: string, mark: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let inside = false;
  for (let place = 0; place < line.length; place += 1) {
    const character = line[place] ?? '';
    if (character === '"') {
      if (inside && line[place + 1] === '"') {
        cell += '"';
        place += 1;
      } else inside = !inside;
    } else if (character === mark && !inside) {
      cells.push(cell);
      cell = '';
    } else cell += character;
  }
  cells.push(cell);
  return cells;
}

/** NaN when it is no number. A comma is the decimal sign wherever it does not part the columns. */
function toNumber(cell: string, { mark }: Delimiter): number {
  if (cell === '') return Number.NaN;
  const direct = Number(cell);
  // Number() also takes 0x10 and 1e3; no recorder prints a saturation so.
  if (!Number.isNaN(direct)) return /^[+-]?[\d.]+$/.test(cell) ? direct : Number.NaN;
  const found = /^([+-]?\d+(?:[.,]\d+)?)\s*(?:%|bpm|\/min|1\/min|s|ms)?$/i.exec(cell);
  if (!found) return Number.NaN;
  const digits = found[1] ?? '';
  // Inside quotes even a comma table can hold 96,5; unquoted it would have been parted.
  return Number(mark === ',' || digits.includes(',') ? digits.replace(',', '.') : digits);
}

const isMissing = (cell: string): boolean =>
  cell === '' || /^(?:[-*?x.\u2013\u2014_]+|n\/?\.?a\.?|nan|null|none|off|error|fehler)$/i.test(cell);

/**
 * Rows that share one time are spread evenly up to the next: a recorder that samples four times a second and prints
 * whole seconds gives four rows the same clock.
 */
function spread(seconds: readonly number[]): Float64Array {
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

const formWords = (form: TimeForm): string =>
  ({
    'year-first': 'date with the year first',
    'year-last': form.kind === 'year-last' ? `date with the ${dateOrderWords[form.order]}` : '',
    'month-named': 'date with the month in letters',
    clock: 'clock without a date; midnight is passed where it falls back',
    elapsed:
      form.kind === 'elapsed' && form.secondsEach !== 1
        ? `from the start, ${form.secondsEach} s each`
        : 'seconds from the start',
  })[form.kind];
