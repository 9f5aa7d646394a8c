/** Which column is the time, which the saturation and which the pulse: by heading first, else by what is in it. */

import { readClock, readDay, readMoment, type TimeForm } from '../read-time.ts';
import type { FileProblem, Question } from '../recording.ts';
import { columnName, columnNames, headingIn, type Table } from './header.ts';
import { toNumber } from './values.ts';

const names = {
  spo2: /sp\s*o\s*2|sa\s*o\s*2|o2\s*sat|^o2$|satur|s\u00e4ttig|oxy|^sat$|^sats$/i,
  /** columns beside the saturation that are not it */
  notSpo2: /status|flag|quality|alarm|signal|event|change|index|limit|pulse|pleth|count|time|date/i,
  pulse: /pulse|puls|pouls|^pr$|^pr\b|\bhr\b|heart|bpm|frequenz|frecuencia/i,
  notPulse: /status|flag|quality|alarm|signal|strength|pleth|ampl|index|wave|limit|spo2/i,
  time: /time|zeit|heure|hora|clock|date|datum|sec|elapsed|stamp|^t$|^s$|^ms$/i,
};

export interface TimeColumns {
  form: TimeForm;
  /** the column with the clock, or with the whole moment, or with elapsed time; -1 where there is none */
  column: number;
  /** a date of its own beside it */
  dateColumn?: number;
}

export interface Columns {
  time: TimeColumns;
  spo2: number;
  pulse: number | undefined;
}

/** What the reader has answered, columns counted from 0. */
export interface ChosenColumns {
  timeColumn?: number | undefined;
  /** seconds from one row to the next, for a table without a time */
  interval?: number | undefined;
  spo2Column?: number | undefined;
}

/** @param above  the text before the table, which may say how far apart the rows are */
export function findColumns(table: Table, chosen: ChosenColumns, above = ''): Columns | FileProblem | FileProblem[] {
  const time = findTime(table, chosen, above);
  if (Array.isArray(time)) return time;
  const spo2 = findSaturation(table, time, chosen.spo2Column);
  if (typeof spo2 !== 'number') return spo2;
  return { time, spo2, pulse: findPulse(table, time, spo2) };
}

function findTime(
  table: Table,
  { timeColumn: chosen, interval }: ChosenColumns,
  above: string,
): TimeColumns | FileProblem[] {
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
  if (interval !== undefined && interval > 0 && interval <= longestInterval)
    return { form: { kind: 'interval', secondsEach: interval }, column: -1 };
  return noTime(table, above);
}

/** Rows further apart than this show no fall of saturation. */
const longestInterval = 60;

/** Two ways out: which column is the time, or how far apart the rows are. Neither is guessed. */
function noTime(table: Table, above: string): FileProblem[] {
  const stated = statedInterval(above);
  const choices = [...new Set([...(stated === undefined ? [] : [stated]), 1, 2, 4, 5, 10])];
  return [
    {
      line: table.line,
      message: `No time column found among ${columnNames(table)}. A time such as 22:41:00, a date with a time, or seconds from the start is needed`,
      question: columnQuestion('timeColumn', table),
    },
    {
      message: `If the rows have no time, how far apart are they? The recorder's settings or its report say so${stated === undefined ? '' : `; a line above the table says ${stated} s`}. With a wrong answer every time and count of the night is wrong`,
      question: {
        sets: 'interval',
        choices: choices.map((seconds) => ({
          value: String(seconds),
          label: `A row every ${seconds} s${seconds === stated ? ', as the file says' : ''}`,
        })),
      },
    },
  ];
}

/** 'Sample interval: 4 s', 'Sampling rate 0.25 Hz': seconds from row to row, as lines above the table say it. */
function statedInterval(above: string): number | undefined {
  const found =
    /(?:sampl|interval|resolution|averag|rate)[^\n\d]{0,40}(\d+(?:[.,]\d+)?)[^\S\n]*(hz|s|secs?|seconds?)\b/i.exec(
      above,
    );
  if (!found) return undefined;
  const number = Number((found[1] ?? '').replace(',', '.'));
  const seconds = /hz/i.test(found[2] ?? '') ? 1 / number : number;
  return seconds > 0 && seconds <= longestInterval ? Number(seconds.toPrecision(6)) : undefined;
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
  const heading = (column: number) => headingIn(table, column);
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
        ? `No SpO2 column found among ${columnNames(table)}. Values from 50 to 100 were expected; a fraction such as 0.95 cannot be read`
        : `More than one column could be SpO2: ${likely.map((column) => columnName(table, column)).join(', ')}`,
    question: columnQuestion('spo2Column', table),
  };
}

function findPulse(table: Table, time: TimeColumns, spo2: number): number | undefined {
  const others = Array.from({ length: table.width }, (_, column) => column).filter(
    (column) => column !== time.column && column !== time.dateColumn && column !== spo2,
  );
  const heading = (column: number) => headingIn(table, column);
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
