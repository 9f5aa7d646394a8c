/** The small schema library that every domain schema is written in, set up once. */
import * as z from 'zod/mini';
import { isCalendarDay } from '../calendar.ts';

// zod tries `new Function` to compile parsers; a strict content security policy reports that as an eval.
z.config({ jitless: true });

export { z };

/** Lower-case words joined by hyphens: the form of every id in content/. */
export const slug = z
  .string()
  .check(z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected lower-case words joined by hyphens'));

const dateWanted = 'expected a date that exists, such as 2026-11-25';
export const isoDate = z.string().check(z.refine(isCalendarDay, dateWanted));
/** A date, or nothing yet: a field that may be left empty. */
export const isoDateOrBlank = z.string().check(z.refine((text) => text === '' || isCalendarDay(text), dateWanted));

/** Text that a reader sees: never empty. */
export const text = z.string().check(z.minLength(1, 'expected some text'));
