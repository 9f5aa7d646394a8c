/**
 * Days of the Gregorian calendar without a clock. A day is a number counted from 1 March of year 0, so that the leap day
 * is the last of its year; only differences mean anything.
 */
import { daysInMonth } from './quantity.ts';

export interface Day {
  year: number;
  month: number;
  day: number;
}

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
const daysIn = (year: number, month: number): number =>
  month === 2 ? (isLeap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;

export const isDay = ({ year, month, day }: Day): boolean =>
  month >= 1 && month <= 12 && day >= 1 && year >= 1 && day <= daysIn(year, month);

/** Days since 1 March of year 0. */
export function dayNumber({ year, month, day }: Day): number {
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
export function dayOf(number: number): Day {
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

export const isoDay = ({ year, month, day }: Day): string =>
  `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;

function partsOf(text: string): Day | undefined {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!found) return undefined;
  const day = { year: Number(found[1]), month: Number(found[2]), day: Number(found[3]) };
  return isDay(day) ? day : undefined;
}

/** The first and the last year that a date may have: nobody of today was seen before it, or will be seen after it. */
const firstYear = 1900;
const lastYear = 2199;

/**
 * Whether a text is a date as ISO 8601 writes it (four digits of year, two of month and day) that exists, from 1900-01-01
 * to 2199-12-31. 2026-02-30 does not exist; 1899-01-01 and 20260-01-01 are slips of the key.
 */
export function isCalendarDay(text: string): boolean {
  const year = partsOf(text)?.year;
  return year !== undefined && year >= firstYear && year <= lastYear;
}

/** Days since a fixed day long ago; NaN for a text that is no date. Only differences mean anything. */
export function dayCount(text: string): number {
  const parts = partsOf(text);
  return parts === undefined ? Number.NaN : dayNumber(parts);
}

/** The date of that day: '2026-11-25' */
export const dateOf = (count: number): string => isoDay(dayOf(Math.floor(count)));

/**
 * Whether two dates are at least one month apart, by the calendar or by the days of a mean month, whichever is sooner: a clinic that
 * sees people on the 1st of each month sees them monthly, in February too.
 */
export function atLeastAMonth(earlier: string, later: string): boolean {
  const [from, to] = [partsOf(earlier), partsOf(later)];
  if (!from || !to) return false;
  const months = (to.year - from.year) * 12 + to.month - from.month - (to.day < from.day ? 1 : 0);
  return months >= 1 || dayNumber(to) - dayNumber(from) >= daysInMonth;
}
