/** Which way round a date is, and the dates of a table. */

import { type Day, dayNumber, isoDay } from '../../calendar.ts';
import { type DateOrder, dateOrderWords, longDay, readDay, type TimeForm } from '../read-time.ts';
import { type FileProblem, longestHours } from '../recording.ts';
import type { TimeColumns } from './columns.ts';
import type { Table } from './header.ts';
import { split } from './lines.ts';

export interface Dates {
  form: TimeForm;
  /** its day number; undefined when the text is no date of that form */
  dayOfText: (text: string) => number | undefined;
  note?: string;
}

/**
 * Decides whether 03/11/2026 is in March or in November. A date with a part above 12 decides it; so does a night: two
 * dates that are a day apart one way and a month apart the other. Otherwise it is asked.
 */
export function settleDates(
  text: string,
  table: Table,
  time: TimeColumns,
  chosen: DateOrder | undefined,
): Dates | FileProblem {
  if (time.form.kind !== 'year-last') return datesIn(time.form);
  const dates = distinctDates(text, table, time);
  const orders = (['d/m/y', 'm/d/y'] as const).map((order) => readInOrder(dates, order));
  const most = Math.max(...orders.map(({ reads }) => reads));
  const possible = orders.filter(({ reads }) => reads === most);
  const inOneNight = possible.filter(({ oneNight }) => oneNight);
  const [one, other] = inOneNight.length > 0 ? inOneNight : possible;
  const answered = possible.find(({ order }) => order === chosen);
  if (answered) return datesIn(answered.form);
  if (!one) return datesIn(time.form);
  const differ = one.first && other?.first && isoDay(one.first) !== isoDay(other.first);
  if (other && differ) return { line: table.line, ...whichOrder(dates[0] ?? '', [one, other]) };
  return possible.length > 1 && !other
    ? {
        ...datesIn(one.form),
        note: `Dates were read ${dateOrderWords[one.order]}; otherwise the rows would be weeks apart`,
      }
    : datesIn(one.form);
}

/** All rows of a day have the same text, so the last one read is remembered. */
function datesIn(form: TimeForm): Dates {
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
}

interface InOrder {
  order: DateOrder;
  form: TimeForm;
  first: Day | undefined;
  /** how many of the dates exist, read in this order */
  reads: number;
  oneNight: boolean;
}

function readInOrder(dates: readonly string[], order: DateOrder): InOrder {
  const form: TimeForm = { kind: 'year-last', order };
  const days = dates.map((date) => readDay(date, form)).filter((day) => day !== undefined);
  const numbers = days.map(dayNumber);
  const span = numbers.length === 0 ? 0 : Math.max(...numbers) - Math.min(...numbers);
  return { order, form, first: days[0], reads: days.length, oneNight: span <= longestHours / 24 };
}

function whichOrder(date: string, orders: readonly [InOrder, InOrder]): FileProblem {
  const [one, other] = orders.map(({ first }) => (first ? longDay(first) : ''));
  return {
    message: `The date ${date} can be read two ways: ${one} or ${other}. Say which`,
    question: {
      sets: 'dateOrder',
      choices: orders.map(({ order, first }) => ({
        value: order,
        label: `${first ? longDay(first) : ''} (${dateOrderWords[order]})`,
      })),
    },
  };
}

/** The dates of the first rows and of the last, each once: time runs one way, so these are its ends. */
function distinctDates(text: string, table: Table, time: TimeColumns): string[] {
  const tail = text.slice(Math.max(table.start, text.length - 8192));
  const last = tail
    .slice(tail.indexOf('\n') + 1)
    .split('\n')
    .map((line) => split(line.trim(), table.delimiter.separator))
    .filter((cells) => cells.length === table.width);
  const dates = [...table.rows, ...last].map((cells) => {
    const cell = cells[time.dateColumn ?? time.column] ?? '';
    return time.dateColumn === undefined ? cell.slice(0, dateLength(cell)) : cell;
  });
  return [...new Set(dates)].filter((date) => date !== '');
}

/** Length of the date in front of a clock: up to the T, space or comma before the first hour and colon. */
export function dateLength(cell: string): number {
  const colon = cell.indexOf(':');
  if (colon < 0) return cell.length;
  let place = colon - 1;
  while (place >= 0 && cell.charCodeAt(place) >= 48 && cell.charCodeAt(place) <= 57) place -= 1;
  while (place >= 0 && 'T ,'.includes(cell[place] ?? '')) place -= 1;
  return place + 1;
}
