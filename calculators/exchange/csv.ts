/** Tables for a spreadsheet, which runs nothing that is in them. */

/**
 * One cell. A spreadsheet runs a text that begins with one of these signs as a formula: an apostrophe before it keeps it a
 * text. A number stays one.
 */
export function csvCell(text: string): string {
  const isNumber = /^-?\d+(\.\d+)?$/.test(text);
  const safe = !isNumber && /^\s*[=+\-@|%]|^[\t\r\n]/.test(text) ? `'${text}` : text;
  return /[",\r\n;]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export const csv = (rows: readonly (readonly string[])[]): string =>
  `${rows.map((row) => row.map(csvCell).join(',')).join('\r\n')}\r\n`;
