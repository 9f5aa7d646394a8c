/** A criterion as one sentence, for places that show it away from its list: 'FVC is below 80 % predicted, and ...'. Pure. */
import type { Criterion, Requirement } from '../../calculators/domain/criterion.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import { isPlural, withArticle } from '../../calculators/evaluate/explain.ts';
import { alsoWords, comparison, nameWithValue, requirementWords, signClause } from '../../calculators/evaluate/say.ts';

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const numberWords = (name: string, limit: string): string =>
  `${isPlural(name) ? `${name} are` : `${withArticle(name)} is`} ${limit}`;

/** 'FVC is below 80 % predicted, and there are symptoms or signs' */
export function criterionSentence(row: Criterion, measures: Measures): string {
  const { measure, comparator } = row;
  const own =
    comparator === 'present' || comparator === 'absent'
      ? signClause(measure, comparator, measures)
      : numberWords(nameWithValue(measures[measure], measure), comparison(row, measures[measure]));
  const choice = [
    row.alternative ? `Either ${own}` : capital(own),
    ...alsoWords({ ...row, alsoRequires: [] }, measures),
  ];
  // 'A, or B, and C' could be read two ways.
  return [choice.join(', '), ...row.alsoRequires.map((part) => partOf(part, measures))].join(
    row.alternative ? '; ' : ', ',
  );
}

/** Beside a statement the other parts are stated too: 'only if lung disease is known' is 'and lung disease is known'. */
function partOf(part: Requirement, measures: Measures): string {
  if (!('anyOf' in part))
    return requirementWords(part, measures)
      .replace(/^only if /, 'and ')
      .replace(/^only with/, 'with');
  const clauses = part.anyOf.map((id) => signClause(id, 'present', measures));
  return clauses.length === 2
    ? `and either ${clauses.join(', or ')}`
    : `and one of these is true: ${clauses.join('; ')}`;
}
