/** What was understood, in words, in the order in which it matters. */

import type { Measures } from '../domain/measure.ts';
import { diseaseNames } from '../domain/person.ts';
import { supportStatusWords, wishWords } from '../domain/visit.ts';
import { readingWords } from '../evaluate/say.ts';
import { convert, showNumber } from '../quantity.ts';
import type { AskedReading, AskedVisit } from './asked.ts';
import { ageWords } from './person.ts';
import type { Vocabulary } from './vocabulary.ts';

export const readingName = ({ measure: id, reading }: AskedReading, measures: Measures): string => {
  const measure = measures[id];
  return measure ? `${measure.short} ${readingWords(reading, measure)}`.replace(/\s+/g, ' ') : id;
};

export function understoodWords(
  visit: Omit<AskedVisit, 'understood' | 'kind'>,
  noted: readonly string[],
  measures: Measures,
  words: Vocabulary,
): string[] {
  const { person, signs, supports, wishes, others, parts } = visit;
  const supportName = (id: string) => words.supports.find(({ decision }) => decision === id)?.name ?? id;
  const shortOf = (id: string) => measures[id]?.short ?? id;
  return [
    ...(person.disease ? [diseaseNames[person.disease]] : []),
    ...(person.ageYears === undefined ? (person.child ? ['a child'] : []) : [ageWords(person.ageYears)]),
    ...(person.sex ? [person.sex] : []),
    ...(person.heightCm === undefined ? [] : [`${showNumber(convert(person.heightCm, 'cm', 'cm'), 0)} cm tall`]),
    ...Object.entries(signs).map(([id, sign]) => (sign === 'present' ? shortOf(id) : `no ${shortOf(id)}`)),
    ...noted,
    ...Object.entries(supports).map(([id, status]) => `${supportName(id)}: ${supportStatusWords[status]}`),
    ...wishes.map((wish) => wishWords[wish]),
    ...parts.map((part) => [readingName(part, measures), ...part.told].join(', ')),
    ...others.map(({ label, typed }) => `${label} ${typed} (no criterion here is about it)`),
  ];
}
