/** A criterion in words: its rule, and for whom it is. */

import { diseaseShort } from '../domain/disease-short.ts';
import type { Measures } from '../domain/measure.ts';
import { alsoWords, figure, ruleWords, withUnit } from '../evaluate/say.ts';
import type { AgreedCriterion } from './agreement.ts';

/** 'FVC below 55 % predicted, and one of: orthopnoea; morning headache' */
export function criterionWords(criterion: AgreedCriterion, measures: Measures): string {
  const { measure, comparator, value, unit, rule } = criterion;
  const also = alsoWords({ alternative: rule?.alternative, alsoRequires: rule?.alsoRequires ?? [] }, measures);
  return [ruleWords(measures[measure]?.short ?? measure, { comparator, value, unit }, measures[measure]), ...also].join(
    ', ',
  );
}

const ages: Record<AgreedCriterion['population'], string> = { any: 'all ages', adult: 'adults', child: 'children' };
const sexes: Record<AgreedCriterion['population'], Record<NonNullable<AgreedCriterion['sex']>, string>> = {
  any: { male: 'male', female: 'female' },
  adult: { male: 'men', female: 'women' },
  child: { male: 'boys', female: 'girls' },
};

/** 'ALS/MND; adults; upright' */
export function peopleWords({
  disease,
  population,
  sex,
  rule,
}: Pick<AgreedCriterion, 'disease' | 'population' | 'sex' | 'rule'>): string {
  return [
    disease === 'any' ? 'any slowly progressive neuromuscular disease' : diseaseShort[disease],
    ages[population],
    sex === undefined ? '' : sexes[population][sex],
    rule?.minAgeYears === undefined ? '' : `from ${withUnit(figure(rule.minAgeYears), 'a')}`,
    rule?.maxAgeYears === undefined ? '' : `up to ${withUnit(figure(rule.maxAgeYears), 'a')}`,
    rule?.acute ? 'acute illness' : '',
    rule?.posture ?? '',
  ]
    .filter(Boolean)
    .join('; ');
}
