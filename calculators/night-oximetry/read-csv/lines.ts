/** Lines of a text, what parts the cells of a line, and the cells. */

export const delimiters = [
  { separator: '\t', name: 'tab' },
  { separator: ';', name: 'semicolon' },
  { separator: ',', name: 'comma' },
  { separator: '|', name: 'bar' },
] as const;
export type Delimiter = (typeof delimiters)[number];

export function endOfLine(text: string, start: number): number {
  const end = text.indexOf('\n', start);
  return end < 0 ? text.length : end;
}

export const lineAt = (text: string, start: number, end: number): string => text.slice(start, end).trim();

export function split(line: string, separator: string): string[] {
  const cells = line.includes('"') ? splitQuoted(line, separator) : line.split(separator);
  for (let place = 0; place < cells.length; place += 1) cells[place] = (cells[place] ?? '').trim();
  return cells;
}

function splitQuoted(line: string, separator: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let inside = false;
  for (let place = 0; place < line.length; place += 1) {
    const character = line[place] ?? '';
    if (character === '"') {
      if (inside && line[place + 1] === '"') {
        cell += '"';
        place += 1;
      } else inside = !inside;
    } else if (character === separator && !inside) {
      cells.push(cell);
      cell = '';
    } else cell += character;
  }
  cells.push(cell);
  return cells;
}
