/** The small schema library that every domain schema is written in, set up once. */
import * as z from 'zod/mini';

// zod tries `new Function` to compile parsers; a strict content security policy reports that as an eval.
z.config({ jitless: true });

export { z };

/** Lower-case words joined by hyphens: the form of every id in content/. */
export const slug = z
  .string()
  .check(z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected lower-case words joined by hyphens'));

export const isoDate = z.string().check(z.regex(/^\d{4}-\d{2}-\d{2}$/, 'expected a date as 2026-11-25'));

/** Text that a reader sees: never empty. */
export const text = z.string().check(z.minLength(1, 'expected some text'));
