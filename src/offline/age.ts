/** How old a saved copy may be. Days as they are written, so that no time zone moves them. */

/** A copy older than this says so, unless a clinic has agreed on another limit. */
export const usualMonths = 6;

/**
 * The last day on which a copy still counts as new: so many months after the day it was built, or the last day of that
 * month where it is shorter.
 */
function lastFreshDay(built: string, months: number): string {
  const [year = 0, month = 0, day = 0] = built.split('-').map(Number);
  const lastOfMonth = new Date(Date.UTC(year, month + months, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, lastOfMonth))).toISOString().slice(0, 10);
}

/** @param today  the reader's own day: see src/browser/today.ts */
export const isOld = (built: string, months: number, today: string): boolean => today > lastFreshDay(built, months);
