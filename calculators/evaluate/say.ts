/**
 * Criteria, readings and facts in words. One place, so that 'below' and 'at or below' are never confused,
 * and so that a figure is never rounded onto the wrong side of a threshold.
 */

import type { Condition, Criterion, Requirement } from '../domain/criterion.ts';
import type { Fact } from '../domain/fact.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { compare, convert, convertible, type UnitCode, units } from '../quantity.ts';
import { flagsWithWays } from './doubt.ts';

const noBreak = '\u00a0';

/** A number as it was typed or printed: no digits added, a minus sign that is one. */
export const figure = (value: number): string => String(value).replace('-', '\u2212');

export function withUnit(value: string, unit: UnitCode | undefined): string {
  const symbol = unit === undefined ? '' : units[unit].symbol;
  return symbol === '' ? value : `${value}${noBreak}${symbol}`;
}

const ofWords = (measure: Measure | undefined): string =>
  measure?.kind === 'number' && measure.of ? ` ${measure.of}` : '';

const comparatorWords: Partial<Record<Criterion['comparator'], string>> = {
  '<': 'below ',
  '<=': 'at or below ',
  '>': 'above ',
  '>=': 'at or above ',
};

/** What is counted rather than read off a scale: '61 days' are 'at least', a fall is 'more than'. */
const amountUnits: readonly string[] = [
  'mo',
  'd',
  'wk',
  'mo{span}',
  'h',
  'min',
  's',
  'h/d',
  'cm[H2O]/(3.mo)',
  '%/(3.mo)',
];
const isAmount = (unit: UnitCode | undefined): boolean => unit !== undefined && amountUnits.includes(unit);
const amountWords: typeof comparatorWords = {
  '<': 'less than ',
  '<=': 'at most ',
  '>': 'more than ',
  '>=': 'at least ',
};

/** 'below 50 % predicted', 'at or below 40 cmH2O', 'more than 18 h/day', 'present' */
export function comparison(
  { comparator, value, unit }: Pick<Criterion | Condition, 'comparator' | 'value' | 'unit'>,
  measure: Measure | undefined,
): string {
  if (comparator === 'present' || comparator === 'absent') return comparator;
  const formatted = Array.isArray(value)
    ? `${figure(value[0])} to ${withUnit(figure(value[1]), unit)}`
    : typeof value === 'number'
      ? withUnit(figure(value), unit)
      : (value ?? '');
  const words = isAmount(unit) ? amountWords : comparatorWords;
  return `${words[comparator] ?? ''}${formatted}${ofWords(measure)}`;
}

/** A name before its comparison: 'FVC below 50 % predicted', 'time between tests: at most 6 months' */
export const ruleWords = (
  name: string,
  rule: Pick<Criterion | Condition, 'comparator' | 'value' | 'unit'>,
  measure: Measure | undefined,
): string => `${name}${isAmount(rule.unit) ? ':' : ''} ${comparison(rule, measure)}`;

/** Which side a reading that equals the threshold is on, in words; empty where equality has no sense. */
export function equality(
  criterion: Pick<Criterion, 'atThreshold' | 'value' | 'unit' | 'comparator' | 'attentionWhen'>,
): string {
  const { atThreshold, value, unit } = criterion;
  if (atThreshold === undefined || typeof value !== 'number') return '';
  const exactly = `${nameOfExact(unit)} exactly ${withUnit(figure(value), unit)}`;
  const side = sideWords(criterion);
  return {
    met: `A${exactly} is ${side}`,
    'not-met': `A${exactly} is not ${side}`,
    'cannot-tell': `The source does not say whether a${exactly} is ${side}`,
  }[atThreshold];
}

/** 'low enough to meet the criterion'; one stays within a limit and does not fall low enough for it. */
function sideWords({
  comparator,
  unit,
  attentionWhen,
}: Pick<Criterion, 'comparator' | 'unit' | 'attentionWhen'>): string {
  if (attentionWhen) return 'within this limit';
  const [under, over] = unit === 'a' ? ['young', 'old'] : isDuration(unit) ? ['short', 'long'] : ['low', 'high'];
  return `${comparator.startsWith('<') ? under : over} enough to meet the criterion`;
}

const intervalUnits: readonly (UnitCode | undefined)[] = ['mo', 'd'];
const timeUnits: readonly (UnitCode | undefined)[] = ['min', 'h', 'h/d'];
const isDuration = (unit: UnitCode | undefined): boolean => intervalUnits.includes(unit) || timeUnits.includes(unit);

/** What the sentence about an exact value calls it, after its 'A'. */
function nameOfExact(unit: UnitCode | undefined): string {
  if (unit === 'a') return ' person aged';
  if (intervalUnits.includes(unit)) return 'n interval of';
  return timeUnits.includes(unit) ? ' time of' : ' value of';
}

/** What a number is called right before its value and unit. */
export const nameWithValue = (measure: Measure | undefined, id: string): string =>
  (measure?.kind === 'number' ? measure.named : undefined) ?? measure?.short ?? id;

/** A sign as a clause, with its polarity: 'no lung disease is known'. */
export function signClause(id: string, state: 'present' | 'absent', measures: Measures): string {
  const measure = measures[id];
  const clause = measure?.kind === 'sign' ? measure.when?.[state] : undefined;
  return clause ?? `${measure?.short ?? id}: ${state}`;
}

/** One condition in words, never without its polarity or its value. */
function conditionWords(condition: Condition, measures: Measures): string {
  const { measure: id, comparator, minAgeYears } = condition;
  const from = minAgeYears === undefined ? '' : ` (from ${withUnit(String(minAgeYears), 'a')})`;
  return comparator === 'present' || comparator === 'absent'
    ? `if ${signClause(id, comparator, measures)}${from}`
    : `with ${nameWithValue(measures[id], id)} ${comparison(condition, measures[id])}${from}`;
}

/** The other parts of a rule: 'only if no lung disease is known', 'only with VC below 1 L', 'or MEP below 60 cmH2O' */
export function alsoWords(criterion: Pick<Criterion, 'alternative' | 'alsoRequires'>, measures: Measures): string[] {
  return [
    ...(criterion.alternative
      ? [`or ${conditionWords(criterion.alternative, measures).replace(/^(with|if) /, '')}`]
      : []),
    ...criterion.alsoRequires.map((requirement) => requirementWords(requirement, measures)),
  ];
}

export function requirementWords(requirement: Requirement, measures: Measures): string {
  if ('anyOf' in requirement)
    return `only if one of these applies: ${requirement.anyOf.map((id) => measures[id]?.short ?? id).join('; ')}`;
  return requirement.unanswered
    ? (requirement.note ?? `unless ${contraryWords(requirement, measures)}`)
    : `only ${conditionWords(requirement, measures)}`;
}

/** The opposite of a condition, for an exception that has no words of its own, as in a rule that a clinic adopted. */
function contraryWords(condition: Condition, measures: Measures): string {
  const { measure: id, comparator } = condition;
  if (comparator === 'present' || comparator === 'absent')
    return signClause(id, comparator === 'present' ? 'absent' : 'present', measures);
  return `${nameWithValue(measures[id], id)} is not ${comparison(condition, measures[id])}`;
}

export function factWords({ value, unit, after }: Fact): string {
  const formatted =
    typeof value === 'string'
      ? value
      : typeof value === 'number'
        ? withUnit(figure(value), unit)
        : `${figure(value[0])} to ${withUnit(figure(value[1]), unit)}`;
  return after === undefined ? formatted : `${formatted} ${after}`;
}

/**
 * A computed or converted value with as few digits as keep it on its own side of the threshold: 5.9995 kPa beside a
 * threshold of 6 kPa is never printed as 6.0.
 */
export function roundedBeside(value: number, threshold: number, decimals: number): string {
  if (!Number.isFinite(threshold)) return figure(Number(value.toFixed(decimals)));
  for (let digits = decimals; digits <= decimals + 6; digits += 1) {
    const rounded = Number(value.toFixed(digits));
    if (Math.sign(compare(rounded, threshold, true)) === Math.sign(compare(value, threshold, true)))
      return figure(rounded);
  }
  return figure(value);
}

/** What was flagged about a reading, each with the way it errs where that is known. */
export const flagWords = (reading: Reading, measure: Measure, measures: Measures): string[] =>
  flagsWithWays(reading, measure, measures).map(({ label, reads }) => {
    const words = label.charAt(0).toLowerCase() + label.slice(1);
    return reads === 'either' ? words : `${words}, which reads ${reads}`;
  });

/** A reading as typed, with its value in the threshold's unit when that is another. */
export function readingWords(
  reading: Reading,
  measure: Measure,
  threshold?: { value?: number | undefined; unit?: UnitCode | undefined },
): string {
  const decimals = measure.kind === 'number' ? measure.decimals : 0;
  const magnitude = measure.kind === 'number' && measure.magnitude ? Math.abs(reading.value) : reading.value;
  const typed = reading.from
    ? roundedBeside(
        magnitude,
        reading.unit === threshold?.unit ? (threshold.value ?? Number.NaN) : Number.NaN,
        decimals,
      )
    : figure(magnitude);
  const words =
    withUnit(typed, reading.unit) +
    (reading.unit === (measure.kind === 'number' ? measure.unit : undefined) ? ofWords(measure) : '');
  if (threshold?.unit === undefined || threshold.unit === reading.unit || !convertible(reading.unit, threshold.unit))
    return words;
  const converted = convert(magnitude, reading.unit, threshold.unit);
  return `${words} (${beside(converted, threshold.value ?? Number.NaN, Math.max(1, decimals), threshold.unit)})`;
}

/** A converted value as a person would say it: 45 mmHg is 'just below 6 kPa', not 5.9995 kPa. */
function beside(value: number, threshold: number, decimals: number, unit: UnitCode): string {
  const digits = roundedBeside(value, threshold, decimals);
  if (!Number.isFinite(threshold) || Number(value.toFixed(decimals + 1)) !== threshold) return withUnit(digits, unit);
  const side = compare(value, threshold, true);
  const words = side === 0 ? '' : side < 0 ? 'just below ' : 'just above ';
  return `${words}${withUnit(figure(threshold), unit)}`;
}

/** What was breathed, where it is known or matters: a saturation printed without it would be read as one on air. */
export function gasWords({ gas }: Reading, measure: Measure): string | undefined {
  if (gas !== undefined) return gas === 'air' ? 'room air' : `on ${gas}`;
  return measure.kind === 'number' && measure.roomAir
    ? 'it is not recorded whether this was on air or oxygen'
    : undefined;
}
