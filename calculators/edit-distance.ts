/**
 * How many slips of the finger lie between two words: a letter missing, added, changed or swapped with its neighbour, each
 * counted as one (optimal string alignment).
 */
export function editDistance(typed: string, meant: string): number {
  let before: number[] = [];
  let last = Array.from({ length: meant.length + 1 }, (_, at) => at);
  for (let row = 1; row <= typed.length; row += 1) {
    const now = [row];
    for (let at = 1; at <= meant.length; at += 1) {
      const same = typed[row - 1] === meant[at - 1];
      let least = Math.min((last[at] ?? 0) + 1, (now[at - 1] ?? 0) + 1, (last[at - 1] ?? 0) + (same ? 0 : 1));
      if (row > 1 && at > 1 && typed[row - 1] === meant[at - 2] && typed[row - 2] === meant[at - 1])
        least = Math.min(least, (before[at - 2] ?? 0) + 1);
      now.push(least);
    }
    before = last;
    last = now;
  }
  return last[meant.length] ?? 0;
}

/** Whether at most so many slips lie between two words. Words of very different lengths are not compared letter by letter. */
export const withinSlips = (typed: string, meant: string, most: number): boolean =>
  Math.abs(typed.length - meant.length) <= most && editDistance(typed, meant) <= most;
