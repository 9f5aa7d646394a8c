/** An answer and a reading that disagree, in a sentence that names both and says which one is used. */
import type { Decisions } from '../domain/decision.ts';
import type { Measures } from '../domain/measure.ts';
import type { Contradiction } from './implied.ts';
import { nameWithValue, readingWords, signClause } from './say.ts';

/** 'Answered: CO2 is not raised. PaCO2 9.3 kPa says that CO2 is raised. The findings use: CO2 is raised.' */
export function contradictionWords(
  { sign, answered, implied, used }: Contradiction,
  measures: Measures,
  decisions: Decisions,
): string {
  const from = measures[implied.from];
  const reading =
    implied.reading && from
      ? `${nameWithValue(from, implied.from)} ${readingWords(implied.reading, from)}`
      : from
        ? `The answer on ${from.short}`
        : `${decisions[implied.from]?.status?.label ?? implied.from}, as recorded,`;
  return `Answered: ${signClause(sign, answered, measures)}. ${reading.charAt(0).toUpperCase()}${reading.slice(1)} says: ${signClause(sign, implied.answer, measures)}. The findings use: ${signClause(sign, used, measures)}.`;
}
