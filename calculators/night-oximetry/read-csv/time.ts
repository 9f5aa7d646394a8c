/** The time of a row in seconds, and how time runs from one row to the next. */

import { dayOf, isoDay } from '../../calendar.ts';
import { dateOrderWords, readClock, type TimeForm } from '../read-time.ts';
import { clock, longestHours } from '../recording.ts';
import type { TimeColumns } from './columns.ts';
import { dateLength } from './date-order.ts';
import { plainClock, type RowWalker } from './row.ts';

/** Seconds of a row on its own scale; undefined when the row has no readable time. */
export function momentOf(
  row: RowWalker,
  time: TimeColumns,
  form: TimeForm,
  dayOfText: (text: string) => number | undefined,
  /** rows before this one, readable or not */
  place: number,
): number | undefined {
  if (form.kind === 'interval') return place * form.secondsEach;
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

interface Timeline {
  /** @returns seconds since the first row; or, in words, why the time of this row cannot be right */
  next: (moment: number) => number | string;
  /** the wall clock at the first row; undefined for elapsed time */
  startedAt: () => string | undefined;
}

/** Follows the time from row to row. A clock without a date passes midnight where it falls back by half a day. */
export function timeline(form: TimeForm): Timeline {
  let first: number | undefined;
  let before = Number.NEGATIVE_INFINITY;
  let midnights = 0;
  return {
    next: (moment) => {
      let now = moment + midnights * 86_400;
      // Half a day back on a clock without a date is midnight; less than that is a clock that was set back.
      if (form.kind === 'clock' && now < before - 43_200) {
        midnights += 1;
        now += 86_400;
      }
      if (now < before) return goesBack(before, now);
      first ??= now;
      before = now;
      return now - first > longestHours * 3600 ? noNight(form) : now - first;
    },
    startedAt: () => {
      if (first === undefined || form.kind === 'elapsed' || form.kind === 'interval') return undefined;
      return form.kind === 'clock' ? clock(first) : `${isoDay(dayOf(Math.floor(first / 86_400)))}T${clock(first)}`;
    },
  };
}

const goesBack = (before: number, now: number): string =>
  `The time goes back here, from ${clock(before)} to ${clock(now)}. This happens when summer time changes, when a clock is set during the night, or when one file holds two recordings: split the file there and open one part`;

const noNight = (form: TimeForm): string =>
  `The rows span more than ${longestHours} hours here, which is not one night. ${form.kind === 'elapsed' ? 'Are the times in milliseconds? Then name the column "time (ms)"' : 'Are there several recordings in one file, or is the date read the wrong way round?'}`;

/** How the time was understood, for the reader. */
export const formWords = (form: TimeForm): string =>
  ({
    'year-first': 'date with the year first',
    'year-last': form.kind === 'year-last' ? `date with the ${dateOrderWords[form.order]}` : '',
    'month-named': 'date with the month in letters',
    clock: 'clock without a date; midnight is passed where it falls back',
    interval: form.kind === 'interval' ? `a row every ${form.secondsEach} s, as answered` : '',
    elapsed:
      form.kind === 'elapsed' && form.secondsEach !== 1
        ? `from the start, ${form.secondsEach} s each`
        : 'seconds from the start',
  })[form.kind];
