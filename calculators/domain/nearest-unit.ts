/** The unit codes closest to one that does not exist, for the message about it. */
import { editDistance } from '../edit-distance.ts';
import { unitCodes, units } from '../quantity.ts';

const lower = (text: string): string => text.toLowerCase();

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
