/** Draws the questions of a mixed check. The same seed draws the same questions; the seed comes in from outside. */
import type { QuestionKind } from './question.ts';
import { randomFrom } from './random.ts';

export interface InPool {
  id: string;
  kind: QuestionKind;
}

/** How many there are in one check, and how many of each kind at least. */
export const checkLength = 20;
export const leastOf: Readonly<Record<QuestionKind, number>> = { picture: 4, curve: 5, number: 6, words: 3 };

function shuffled<T>(list: readonly T[], next: () => number): T[] {
  const mixed = [...list];
  for (let last = mixed.length - 1; last > 0; last -= 1) {
    const other = Math.floor(next() * (last + 1));
    [mixed[last], mixed[other]] = [mixed[other] as T, mixed[last] as T];
  }
  return mixed;
}

/**
 * Twenty questions in a mixed order, with at least so many of each kind.
 *
 * @param seen  ids of earlier checks: new questions come first
 */
export function drawCheck(pool: readonly InPool[], seen: ReadonlySet<string>, seed: number): string[] {
  const next = randomFrom(seed);
  const mixed = shuffled(pool, next);
  const inOrder = [...mixed.filter(({ id }) => !seen.has(id)), ...mixed.filter(({ id }) => seen.has(id))];
  const chosen = new Set<string>();
  for (const [kind, least] of Object.entries(leastOf))
    for (const { id } of inOrder.filter((one) => one.kind === kind).slice(0, least)) chosen.add(id);
  for (const { id } of inOrder) if (chosen.size < checkLength) chosen.add(id);
  return shuffled([...chosen], next);
}
