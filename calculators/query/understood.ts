/** What was understood, in words, in the order in which it matters. */

import { diseaseNames } from '../domain/diseases.ts';
import type { Measures } from '../domain/measure.ts';
import { supportStatusWords, wishWords } from '../domain/visit.ts';
import { readingWords } from '../evaluate/say.ts';
import { convert, showNumber, type UnitCode, units } from '../quantity.ts';
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
    ...overTimeWords(visit, measures),
    ...others.map(({ label, typed }) => `${label} ${typed} (no criterion here is about it)`),
  ];
}

/** Series, falls, readings asleep and how long the disease has been there. */
function overTimeWords(
  { series = [], falls = [], asleep = [], duration }: Omit<AskedVisit, 'understood' | 'kind'>,
  measures: Measures,
): string[] {
  const shortOf = (id: string | undefined) => (id === undefined ? '' : `${measures[id]?.short ?? id} `);
  const unitOf = (unit: UnitCode | 'points') => (unit === 'points' ? unit : units[unit].symbol);
  const over = (months: number | undefined) => (months === undefined ? '' : ` over ${lengthWords(months)}`);
  return [
    ...(duration ? [`for ${lengthWords(duration.months)}`] : []),
    ...series.map(
      (one) => `${shortOf(one.measure)}${one.values.join(', ')} ${unitOf(one.unit)}${over(one.overMonths)}`,
    ),
    ...falls.map((one) => `${shortOf(one.measure)}down ${one.by} ${unitOf(one.unit)}${over(one.overMonths)}`),
    ...asleep.map(({ measure, reading }) => {
      const its = measures[measure];
      return `asleep: ${shortOf(measure).replace(/^awake /, '')}${its ? readingWords(reading, its) : reading.value}`;
    }),
  ];
}

/** 6 is '6 months', 0.46 is '2 weeks'. */
function lengthWords(months: number): string {
  const days = months * 30.4375;
  const [count, unit] =
    days < 0.99
      ? [days * 24, 'hour']
      : days < 13.5
        ? [days, 'day']
        : months < 1
          ? [days / 7, 'week']
          : months < 24
            ? [months, 'month']
            : [months / 12, 'year'];
  const told = String(Number(count.toFixed(1)));
  return `${told} ${unit}${told === '1' ? '' : 's'}`;
}
