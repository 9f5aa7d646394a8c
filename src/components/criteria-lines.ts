/**
 * A list of criteria with equal statements said once: one rule, and under it for whom, what for, and which sources. Pure;
 * drawn by Criteria.astro.
 */
import { adultsOfSex } from '../../calculators/domain/age-and-sex.ts';
import { cautionAbout } from '../../calculators/domain/caution.ts';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import { isUrgent } from '../../calculators/evaluate/group.ts';
import { alsoWords, ruleWords } from '../../calculators/evaluate/say.ts';
import { units } from '../../calculators/quantity.ts';

export interface CriteriaLine {
  /** 'FVC below 50 % predicted' */
  rule: string;
  /** the other parts of the rule */
  also: string[];
  /** who and what for, each with the rows that say so; in the order of the rows */
  groups: { who: string; rows: Criterion[] }[];
}

/** A disease by its place in the list of them, in one letter: each criterion of a list names all in which it is shown. */
export const diseaseLetter = (place: number): string => String.fromCharCode(97 + place);

const uses: Partial<Record<Criterion['use'], string>> = {
  coverage: 'payer rule, not clinical need',
  evidence: 'study figure',
  schedule: 'how often to look',
  caution: 'caution',
  setting: 'device limit',
};

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** A sign that is there is named alone: 'weak cough present' is clumsy. A row without a number says so. */
export function ruleOf(row: Criterion, measures: Measures): string {
  const measure = measures[row.measure];
  const name = measure?.short ?? row.measure;
  if (row.comparator === 'present') return capital(name);
  if (row.comparator === 'info' && row.value === undefined) return `${capital(name)}, no number given`;
  return ruleWords(capital(name), row, measure);
}

const anyOf = (row: Criterion): string =>
  row.acute || isUrgent(row) ? 'any disease' : 'any slowly progressive disease';
const diseaseOf = (row: Criterion): string => (row.disease === 'any' ? anyOf(row) : diseaseShort[row.disease]);

/** Who else than the disease says: 'adults', 'women', 'from 6 years'. */
export const peopleOf = (row: Criterion): string[] =>
  [
    row.sex ? adultsOfSex[row.sex] : row.population === 'any' ? '' : row.population === 'adult' ? 'adults' : 'children',
    row.minAgeYears !== undefined && row.population !== 'adult'
      ? `from ${row.minAgeYears}\u00a0year${row.minAgeYears === 1 ? '' : 's'}`
      : '',
    row.acute ? 'acute illness only' : '',
    row.posture ?? '',
  ].filter(Boolean);

/** What for; neither a payer's rule nor a caution may read as a reason to start something. */
function aimOf(row: Criterion, purposes: Record<string, string>): string {
  const use = uses[row.use];
  const purpose = purposes[row.support];
  return row.use === 'caution' && purpose ? cautionAbout(row.support, purpose) : (use ?? purpose ?? '');
}

/**
 * @param purposes  what each support is for, where the page does not say it already: '{ referral: refer or test further }'
 */
export function criteriaLines(
  rows: readonly Criterion[],
  measures: Measures,
  purposes: Record<string, string>,
): CriteriaLine[] {
  const said = Map.groupBy(rows, (row) =>
    // A payer's rule and an acute illness have lines of their own, however alike the numbers are.
    [row.measure, ruleOf(row, measures), ...alsoWords(row, measures), row.use === 'coverage', row.acute].join('|'),
  );
  return [...said.values()].flatMap((some) => {
    const [first] = some;
    return first
      ? [{ rule: ruleOf(first, measures), also: alsoWords(first, measures), groups: groupsOf(some, purposes) }]
      : [];
  });
}

/** Who and what for, each once; diseases in which the same sources say the same share a line. */
function groupsOf(rows: readonly Criterion[], purposes: Record<string, string>): CriteriaLine['groups'] {
  const restOf = (row: Criterion): string =>
    [peopleOf(row).join(', '), aimOf(row, purposes)].filter(Boolean).join(': ');
  const byPeople = [...Map.groupBy(rows, (row) => `${diseaseOf(row)}|${restOf(row)}`).values()];
  const bySource = Map.groupBy(byPeople, (some) =>
    [some[0] && restOf(some[0]), ...some.map(({ source, standing }) => `${source} ${standing}`)].join('|'),
  );
  return [...bySource.values()].flatMap((alike) => {
    const all = alike.flat();
    const [first] = all;
    if (first === undefined) return [];
    const diseases = [...new Set(all.map(diseaseOf))].join(', ');
    const rest = restOf(first);
    return [
      { who: rest === '' ? diseases : `${diseases}${peopleOf(first).length > 0 ? ', ' : ': '}${rest}`, rows: all },
    ];
  });
}

/** As on the scale, the highest threshold first; what has no number follows in its own order. All are about one measure. */
export function highestFirst(rows: readonly Criterion[]): Criterion[] {
  const place = ({ value, unit }: Criterion): number =>
    typeof value === 'number' ? value * (unit === undefined ? 1 : units[unit].factor) : Number.NEGATIVE_INFINITY;
  return [...rows].sort((a, b) => (place(a) === place(b) ? 0 : place(b) - place(a)));
}
