/**
 * Dates and times of day as recorders print them, to seconds. Clock time is taken as the wall shows it: a zone, where one
 * is written, is dropped.
 */
import { type Day, dayNumber, isDay } from '../calendar.ts';

/** Order of day and month where both are numbers. */
export type DateOrder = 'd/m/y' | 'm/d/y';

export type TimeForm =
  /** 2026-11-20, with or without a time */
  | { kind: 'year-first' }
  /** 20/11/2026 or 11/20/2026 */
  | { kind: 'year-last'; order: DateOrder }
  /** 20 Nov 2026 */
  | { kind: 'month-named' }
  /** 22:41:00, no date */
  | { kind: 'clock' }
  /** a plain number: seconds from the start, or another unit named in the heading */
  | { kind: 'elapsed'; secondsEach: number }
  /** no time in the rows: the reader has said how far apart they are */
  | { kind: 'interval'; secondsEach: number };

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const numbersDate = /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?=$|[T ,])/;
const namedDate = /^(\d{1,2})[-/. ]([A-Za-z]{3,9})\.?[-/. ,]+(\d{4}|\d{2})(?=$|[T ,])/;
const clockTime = /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([AaPp])?\.?[Mm]?\.?\s*(?:Z|[+-]\d{2}:?\d{2})?$/;

/** Seconds since midnight, or undefined when it is not a time of day. */
export function readClock(text: string): number | undefined {
  const found = clockTime.exec(text);
  if (!found) return undefined;
  const [, hourText, minuteText, secondText = '0', fraction, half] = found;
  let hour = Number(hourText);
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return undefined;
    hour = (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  }
  const minute = Number(minuteText);
  const second = Number(secondText);
  if (hour > 24 || minute > 59 || second > 60) return undefined;
  const total = hour * 3600 + minute * 60 + second + (fraction === undefined ? 0 : Number(`0.${fraction}`));
  return total > 86_400 ? undefined : total;
}

/** Which forms a text could be in: two for a date such as 03/11/2026. */
export function timeForms(text: string): TimeForm[] {
  if (/^[+-]?\d+(?:[.,]\d+)?$/.test(text)) return [{ kind: 'elapsed', secondsEach: 1 }];
  if (readClock(text) !== undefined) return [{ kind: 'clock' }];
  const forms: TimeForm[] = [
    { kind: 'year-first' },
    { kind: 'year-last', order: 'd/m/y' },
    { kind: 'year-last', order: 'm/d/y' },
    { kind: 'month-named' },
  ];
  return forms.filter((form) => readMoment(text, form) !== undefined);
}

/** Day and seconds since midnight of a text that has a date; undefined when it does not read in that form. */
export function readMoment(
  text: string,
  form: TimeForm,
): { day: number; seconds: number; hasClock: boolean } | undefined {
  const day = readDay(text, form);
  if (!day) return undefined;
  const rest = text.slice(day.length).replace(/^[T ,]+/, '');
  if (rest === '') return { day: dayNumber(day), seconds: 0, hasClock: false };
  const seconds = readClock(rest);
  return seconds === undefined ? undefined : { day: dayNumber(day), seconds, hasClock: true };
}

/** The date at the start of a text, with how many characters it took. */
export function readDay(text: string, form: TimeForm): (Day & { length: number }) | undefined {
  if (form.kind === 'month-named') {
    const found = namedDate.exec(text);
    const month = months.indexOf((found?.[2] ?? '').slice(0, 3).toLowerCase()) + 1;
    if (!found || month === 0) return undefined;
    return checked({ year: fullYear(found[3] ?? ''), month, day: Number(found[1]) }, found[0].length);
  }
  if (form.kind !== 'year-first' && form.kind !== 'year-last') return undefined;
  const found = numbersDate.exec(text);
  if (!found) return undefined;
  const [whole, first = '', second = '', third = ''] = found;
  if (form.kind === 'year-first') {
    if (first.length !== 4 || third.length > 2) return undefined;
    return checked({ year: Number(first), month: Number(second), day: Number(third) }, whole.length);
  }
  if (first.length > 2 || third.length === 1 || third.length === 3) return undefined;
  const [day, month] = form.order === 'd/m/y' ? [first, second] : [second, first];
  return checked({ year: fullYear(third), month: Number(month), day: Number(day) }, whole.length);
}

const fullYear = (text: string): number => (text.length === 2 ? 2000 + Number(text) : Number(text));

const checked = (day: Day, length: number) => (isDay(day) ? { ...day, length } : undefined);

export const dateOrderWords: Record<DateOrder, string> = { 'd/m/y': 'day first', 'm/d/y': 'month first' };

const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** '3 November 2026' */
export const longDay = ({ year, month, day }: Day): string => `${day} ${monthNames[month - 1] ?? ''} ${year}`;
