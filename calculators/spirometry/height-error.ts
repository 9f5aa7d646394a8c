/**
 * How far an uncertain height moves a prediction.
 *
 * Many people with neuromuscular disease cannot stand to be measured. A height from the ulna or the arm span is
 * an estimate, give or take some centimetres, and every predicted volume rises with height. So the whole calculation is
 * done again at the smallest and at the largest height, and the ends are shown as low and high.
 */
import type { NumberField } from '../calculator.ts';
import { type Refusal, refuse } from '../outcome.ts';
import { type Expected, type Reading, readingAgainst } from './expected.ts';
import type { Index, Person, ReferenceSet } from './reference-set.ts';

export const heightError = {
  kind: 'number',
  label: 'Height, plus or minus',
  unit: 'cm',
  accepts: ['mm', '[in_i]'],
  // The ulna table has missed by 19.8 cm (van den Berg 2016, abstract); beyond 25 is a slip of the key (common practice).
  plausible: [0, 20],
  hard: [0, 25],
  optional: true,
  help: 'If the height was estimated from the ulna, knee or arm span, enter how many centimetres off the estimate may be. Leave this field empty if the height was measured.',
} as const satisfies NumberField;

type Value = { value: number; low?: number; high?: number };
type ReadingValues = { [K in keyof Reading]: Value };

/**
 * @param reading  at the height entered
 * @param error    cm, or nothing for a measured height
 * @returns each result with its ends where an error was given, and what the set says against an end; the refusal when
 *          an end is outside the set
 */
export function withHeightError(
  reading: Reading,
  set: ReferenceSet,
  index: Index,
  person: Person,
  measured: number | undefined,
  error: number | undefined,
): { values: ReadingValues; caution?: string } | Refusal {
  const names = Object.keys(reading) as (keyof Reading)[];
  if (error === undefined) return { values: collect(names, (name) => ({ value: reading[name] as number })) };
  const ends: Expected[] = [];
  for (const height of [person.height - error, person.height + error]) {
    const expected = set.expected(index, { ...person, height });
    if ('problems' in expected)
      return refuse(
        'heightError',
        `With this much error ${set.name} gives no usable value at one end of the height. Is the plus or minus in cm right?`,
      );
    ends.push(expected);
  }
  const readings = ends.map((expected) => readingAgainst(expected, measured));
  const caution = ends.find((expected) => expected.caution)?.caution;
  return {
    ...(caution === undefined ? {} : { caution }),
    values: collect(names, (name) => {
      const atEnds = readings.map((end) => end[name] as number);
      return { value: reading[name] as number, low: Math.min(...atEnds), high: Math.max(...atEnds) };
    }),
  };
}

const collect = (names: (keyof Reading)[], valueAt: (name: keyof Reading) => Value): ReadingValues =>
  Object.fromEntries(names.map((name) => [name, valueAt(name)])) as unknown as ReadingValues;
