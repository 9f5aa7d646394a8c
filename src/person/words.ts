import { isChild } from '../../calculators/domain/age-and-sex.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import { readPerson } from './store.ts';

/** Disease, age, sex and height in one line, as far as they are known. */
export function factsInWords(): string {
  const { disease, ageYears, sex, heightCm } = readPerson();
  return [
    disease && diseaseShort[disease],
    ageYears !== undefined && `${Math.floor(ageYears)}\u00a0years`,
    ageYears !== undefined && isChild(ageYears) && 'child: adult criteria hidden',
    sex,
    heightCm !== undefined && `${Math.round(heightCm)}\u00a0cm`,
  ]
    .filter(Boolean)
    .join(' \u00b7 ');
}

/** The person in words, while something is stored. */
export const personWords = (): string => factsInWords() || 'Visit sheet started; disease and age not given';
