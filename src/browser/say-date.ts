/** A date as this reader writes dates: on the screen and on paper. Files keep it as it is. */

let words: Intl.DateTimeFormat | undefined;

/** '2026-11-23' as '23 November 2026' or 'November 23, 2026'; what is no date stays as it was typed. */
export function sayDate(iso: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(iso)) return iso;
  const day = new Date(`${iso}T00:00:00Z`);
  if (Number.isNaN(day.getTime())) return iso;
  words ??= new Intl.DateTimeFormat(undefined, { dateStyle: 'long', timeZone: 'UTC' });
  return words.format(day);
}
