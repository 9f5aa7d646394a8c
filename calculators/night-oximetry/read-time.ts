/**
 * Dates and times of day as recorders print them, to seconds.
 *
 * A day is counted from 1 March of year 0 in the Gregorian calendar; only differences matter here. Clock time is taken
 * as the wall shows it: a zone, where one is written, is dropped.
 */

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
  | { kind: 'elapsed'; secondsEach: number };

export interface ReadDay {
  year: number;
  month: number;
  day: number;
}

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const numbersDate = /^(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})(?=$|[T ,])/;
const namedDate = /^(\d{1,2})[-/. ]([A-Za-z]{3,9})\.?[-/. ,]+(\d{4}|\d{2})(?=$|[T ,])/;
const clockTime = /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([AaPp])?\.?[Mm]?\.?\s*(?:Z|[+-]\d{2}:?\d{2})?$/;

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
const daysIn = (year: number, month: number): number =>
  month === 2 ? (isLeap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;

export const isDay = ({ year, month, day }: ReadDay): boolean =>
  month >= 1 && month <= 12 && day >= 1 && year >= 1 && day <= daysIn(year, month);

/** Days since 1 March of year 0. */
export function dayNumber({ year, month, day }: ReadDay): number {
  const fromMarch = (month + 9) % 12;
  const years = month <= 2 ? year - 1 : year;
  return (
    365 * years +
    Math.floor(years / 4) -
    Math.floor(years / 100) +
    Math.floor(years / 400) +
    Math.floor((fromMarch * 153 + 2) / 5) +
    day -
    1
  );
}

/** The day with that number: the way back. */
export function dayOf(number: number): ReadDay {
  // Four hundred years have 146,097 days; within them the year is found by dividing out the leap days.
  const era = Math.floor(number / 146_097);
  const inEra = number - era * 146_097;
  const yearOfEra = Math.floor(
    (inEra - Math.floor(inEra / 1460) + Math.floor(inEra / 36_524) - Math.floor(inEra / 146_096)) / 365,
  );
  const dayOfYear = inEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const fromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const month = ((fromMarch + 2) % 12) + 1;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * fromMarch + 2) / 5) + 1,
  };
}

export const isoDay = ({ year, month, day }: ReadDay): string =>
  `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;

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
export function readDay(text: string, form: TimeForm): (ReadDay & { length: number }) | undefined {
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

const checked = (day: ReadDay, length: number) => (isDay(day) ? { ...day, length } : undefined);

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
export const longDay = ({ year, month, day }: ReadDay): string => `${day} ${monthNames[month - 1] ?? ''} ${year}`;
