/** Each finding in one sentence that a student understands. */
import type { Condition } from '../domain/criterion.ts';
import type { ImpliedBy, Measure, Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading, SupportStatus } from '../domain/visit.ts';
import { compare, convert, type UnitCode } from '../quantity.ts';
import { doubtsIn, trueValueWords } from './doubt.ts';
import type { Finding, Obstacle, Part } from './evaluate.ts';
import type { Truth } from './logic.ts';
import { comparison, flagWords, nameWithValue, readingWords, requirementWords, signClause } from './say.ts';

/**
 * 'FVC 49.6 % predicted is below 50 % predicted.' 'Cannot tell: PaCO2 was not measured.'
 * A quality flag is printed in the same sentence as the number it belongs to.
 * @param side  say of a reading that does not meet a threshold where it is, and not where it is not
 */
export function explain(finding: Finding, measures: Measures, side: Place = 'none'): string {
  const { result, parts } = finding;
  const say = (part: Part) => partWords(part, measures);
  const known = parts.filter((part) => part.truth === 'met' && !part.assumed).map(say);
  const exceptions = parts.flatMap(({ assumed, condition }) =>
    assumed ? [`, ${requirementWords(condition, measures)}`] : [],
  );
  if (result === 'met')
    return (
      sentence(known.join(', and ')) + exceptions.map((words) => ` This finding applies ${words.slice(2)}.`).join('')
    );
  // Of a schedule or a limit that was left, where the reading is and not where it is not: '8 months is above 6 months'.
  if (result === 'not-met')
    return sentence(
      decisive(parts)
        .map((part) => partWords(part, measures, finding.criterion.attentionWhen ? 'opposite' : side))
        .join(', and '),
    );
  const person = finding.missing.filter((name) => name === 'age' || name === 'sex' || name === 'disease');
  const unknown = [
    ...person.map((name) => `${name} is not given`),
    ...parts
      .filter(({ truth, measure }) => truth === 'cannot-tell' && !(measure === 'age-years' && person.includes('age')))
      .map(say),
  ];
  const because = unknown.length > 0 ? unknown.join('; ') : 'a fact about the person is missing';
  return sentence(
    known.length > 0 && person.length === 0
      ? `${known.join(', and ')}, but you cannot tell whether the criterion is met: ${because}`
      : `Cannot tell: ${because}`,
  );
}

/** Each part of the rule in words, with its own answer: why the whole came out as it did. */
export const explainParts = ({ parts }: Finding, measures: Measures): { words: string; truth: Truth }[] =>
  parts.map((part) => ({
    words: sentence(part.assumed ? requirementWords(part.condition, measures) : partWords(part, measures)),
    truth: part.truth,
  }));

/** Leaves out the single signs that make up a list, for places that list them already. */
export const withoutItems = (finding: Finding): Finding => ({
  ...finding,
  parts: finding.parts.map((part) => (part.items === undefined ? part : { ...part, items: undefined })),
});

/** The parts that are known false and settle it: all of an 'or', any of an 'and'. */
function decisive(parts: readonly Part[]): Part[] {
  const needed = [
    parts.filter(({ role }) => role === 'main' || role === 'alternative'),
    ...parts.filter(({ role }) => role === 'also').map((part) => [part]),
    parts.filter(({ role }) => role === 'any-of'),
  ];
  const settled = needed.filter((group) => group.every(isFalse)).flat();
  return settled.length > 0 ? settled : parts.filter(isFalse);
}

const isFalse = ({ truth }: Part): boolean => truth === 'not-met';

const opposite: Record<Condition['comparator'], Condition['comparator']> = {
  '<': '>=',
  '<=': '>',
  '>': '<=',
  '>=': '<',
  present: 'absent',
  absent: 'present',
};

/** How to say of a reading that it does not meet: 'not below', its opposite 'at or above', or its own side 'above'. */
type Place = 'none' | 'opposite' | 'side';

function partWords(part: Part, measures: Measures, place: Place = 'none'): string {
  const { condition, truth, reading, obstacle, measure: id } = part;
  const measure = measures[id];
  const name = measure?.short ?? id;
  if (obstacle?.kind === 'flagged' && reading && measure) return doubtWords(part, measure, measures);
  if (obstacle?.kind === 'not-asked') return notAskedWords(measure, name);
  if (obstacle) return obstacleWords(obstacle, name, measure);
  if (condition.minAgeYears !== undefined && reading === undefined)
    return `${name} counts only from the age of ${condition.minAgeYears} years`;
  if (reading === undefined || measure?.kind !== 'number') return answerWords(part, measures);
  const doubts = doubtsIn(truth, condition.comparator, reading, measure, measures);
  // Never plainly: "is below" is for a reading whose flag cannot have made it so.
  const [one, many] = doubts.length > 0 ? ['reads', 'read'] : ['is', 'are'];
  const called = nameWithValue(measure, id);
  const are = isPlural(called) ? many : one;
  const where = truth === 'met' ? comparison(condition, measure) : placeWords(place, condition, reading, measure);
  const sentence = `${valued(called, readingWords(reading, measure, condition))} ${are} ${where}`;
  const flagged = [...flagWords(reading, measure, measures), ...(doubts.length > 0 ? [trueValueWords(doubts)] : [])];
  return flagged.length === 0 ? sentence : `${sentence} (flagged: ${flagged.join('; ')})`;
}

function placeWords(place: Place, condition: Condition, { value, unit }: Reading, measure: NumberMeasure): string {
  const { comparator, value: limit, unit: into } = condition;
  const contrary = { ...condition, comparator: opposite[comparator] };
  if (place === 'opposite') return comparison(contrary, measure);
  if (place === 'side' && typeof limit === 'number' && into !== undefined) {
    const size = measure.magnitude ? Math.abs(value) : value;
    const by = compare(convert(size, unit, into), limit, true);
    if (by !== 0) return comparison({ ...condition, comparator: by < 0 ? '<' : '>' }, measure);
  }
  return `not ${comparison(condition, measure)}`;
}

const isLong = (name: string): boolean => name.split(' ').length > 3;
/** 'the better of SNIP and MIP', and 'SNIP' */
export const withArticle = (name: string): string => (isLong(name) ? `the ${name}` : name);
/**
 * A name of many words, which may end in a number itself, is set off from its value: 'the time off the mouthpiece (3 min)'. So is
 * a plural: 'ventilator hours (20 h/day) are'.
 */
const valued = (name: string, value: string): string =>
  isLong(name) || isPlural(name) ? `${withArticle(name)} (${value.replace(/ \((.*)\)$/, ', $1')})` : `${name} ${value}`;

/** 'SpO2 95 % cannot rule out a value below 92 % (flagged: less than an hour off NIV, which reads high)' */
function doubtWords({ condition, reading, measure: id }: Part, measure: Measure, measures: Measures): string {
  if (reading === undefined) return measure.short;
  const flagged = flagWords(reading, measure, measures).join('; ');
  const value = valued(nameWithValue(measure, id), readingWords(reading, measure, condition));
  return `${value} cannot rule out a value ${comparison(condition, measure)} (flagged: ${flagged})`;
}

/** A sign, with what it is made of and the reading that it follows from: 'CO2 is raised (PaCO2 58 mmHg, arterial)' */
function answerWords(part: Part, measures: Measures): string {
  const { condition, truth, reading, measure: id, impliedBy, impliedRule, items } = part;
  const asked = condition.comparator === 'absent' ? 'absent' : 'present';
  const answer = signClause(id, truth === 'met' ? asked : asked === 'present' ? 'absent' : 'present', measures);
  const from = impliedBy === undefined ? undefined : measures[impliedBy];
  const named = [...new Set(items ?? [])].map((item) => measures[item]?.short ?? item).join(', ');
  if (reading === undefined || from === undefined) return named === '' ? answer : `${answer} (${named})`;
  const flagged = flagWords(reading, from, measures);
  const details = [
    ...(named === '' ? [] : [named]),
    `${nameWithValue(from, impliedBy ?? '')} ${readingWords(reading, from)}`,
    ...(reading.method ? [reading.method] : []),
    ...(reading.gas && reading.gas !== 'air' ? [`on ${reading.gas}`] : []),
    ...(flagged.length > 0 ? [`flagged: ${flagged.join('; ')}`] : []),
  ];
  const limit = impliedRule ? `; threshold: ${limitWords(impliedRule, reading.unit)}` : '';
  return `${answer} (${details.join(', ')}${limit})`;
}

/** 'above 45 mmHg', in the unit of the reading; a converted limit is rounded as people say it */
function limitWords({ comparator, value, unit }: ImpliedBy, into: UnitCode): string {
  const limit = into === unit ? value : Number(convert(value, unit, into).toPrecision(2));
  return comparison({ comparator, value: limit, unit: into }, undefined);
}

/** 'minutes in a row at SpO2 88 % or less', 'ventilator hours' */
export const isPlural = (name: string): boolean => /^(minutes|hours|days)\b|\bhours$/.test(name);

/**
 * A clause that says 'is known' itself keeps its noun: 'it is not known whether lung disease is known' is no English.
 * Nor is 'not known whether the cough does not clear the chest', where the opposite says it without a 'not'.
 */
function notAskedWords(measure: Measure | undefined, name: string): string {
  const { present, absent } = (measure?.kind === 'sign' && measure.when) || {};
  const negative = present !== undefined && / does not /.test(present);
  const clause = negative && absent !== undefined && !/\b(no|not|neither)\b/.test(absent) ? absent : present;
  return clause === undefined || / known\b/.test(clause)
    ? `there is no answer on ${name}`
    : `it is not known whether ${clause}`;
}

function obstacleWords(
  obstacle: Exclude<Obstacle, { kind: 'not-asked' }>,
  name: string,
  measure: Measure | undefined,
): string {
  const was = isPlural(name) ? 'were' : 'was';
  const taken = `${isPlural(name) ? 'these' : 'this'} ${name} ${was} taken`;
  switch (obstacle.kind) {
    case 'not-measured':
      // Nobody measures the better of two tests: it follows from them.
      if (measure?.kind === 'number' && measure.readFrom?.rule === 'greatest')
        return `${withArticle(name)} is not known`;
      return obstacle.because
        ? `${withArticle(name)} ${was} not done (${obstacle.because})`
        : `${withArticle(name)} ${was} not measured`;
    case 'gas':
      return obstacle.gas === 'oxygen'
        ? `${taken} on oxygen`
        : obstacle.gas === 'ventilation'
          ? `${taken} on ventilation`
          : `it is not recorded whether ${taken} on room air`;
    case 'posture':
      return `${taken} ${obstacle.posture === 'supine' ? 'lying flat' : 'upright'}`;
    case 'method':
      return `${taken} by another method (${obstacle.method})`;
    case 'unit':
      return `this ${name} is in a unit that does not convert`;
    case 'age':
      return `${name} counts only from the age of ${obstacle.from} years`;
    case 'flagged':
      return `${name} ${was} flagged`;
    case 'at-threshold':
      return `${name} is exactly at the threshold, and the source does not say whether a value at the threshold meets the criterion`;
  }
}

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

/** What a support that is already there makes of a 'start' finding. */
export const supportWords: Record<Exclude<SupportStatus, 'none'>, string> = {
  'in-place': 'This support is already in place. Review whether it is still enough.',
  ordered: 'This support is ordered but not yet in place. Review whether it will come in time.',
  declined: 'This support was declined. Review the decision with the person: their wish stands unless they change it.',
  'not-tolerated': 'This support was not tolerated. Review what would make it easier to tolerate.',
};
