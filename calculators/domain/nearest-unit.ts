/** The unit codes closest to one that does not exist, for the message about it. */
import { unitCodes, units } from '../quantity.ts';

const lower = (text: string): string => text.toLowerCase();

/** How many letters have to be added, left out or changed to make one word of the other. */
function editDistance(from: string, to: string): number {
  let previous = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (const [row, letter] of [...from].entries()) {
    const current = [row + 1];
    for (const [column, other] of [...to].entries())
      current.push(
        Math.min(
          (previous[column + 1] ?? 0) + 1,
          (current[column] ?? 0) + 1,
          (previous[column] ?? 0) + (letter === other ? 0 : 1),
        ),
      );
    previous = current;
  }
  return previous[to.length] ?? 0;
}

/** @returns three codes, the closest first; a unit is looked up by its code and by the symbol a reader sees */
export function nearestUnits(typed: string): string[] {
  const distance = (code: keyof typeof units) =>
    Math.min(...[code, units[code].symbol].map((name) => editDistance(lower(typed), lower(name))));
  return unitCodes
    .map((code) => ({ code, distance: distance(code) }))
    .sort((a, b) => a.distance - b.distance)
    .slice(0, 3)
    .map(({ code }) => code);
}
