/**
 * Every abnormal reading leaves a visible line. A reading outside its usual range that no finding mentions is named
 * with the range and its source, and with what the criteria near it still ask for.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { NumberMeasure, Usual } from '../domain/measure.ts';
import type { Reading, Visit } from '../domain/visit.ts';
import { compare, convert, convertible, type UnitCode } from '../quantity.ts';
import type { Standing } from '../standing.ts';
import type { Evidence, Finding } from './evaluate.ts';
import { categoryOf, needsAttention } from './group.ts';
import { figure, gasWords, readingWords, withUnit } from './say.ts';

export interface OutsideUsual {
  measure: string;
  reading: Reading;
  side: 'low' | 'high';
  usual: Usual;
  /** criteria that the reading itself would meet and that ask for more: what they ask for, by id of measure */
  asks: string[];
}

/** @returns the readings typed by hand that are outside their usual range and in no acting finding that asks for attention */
export function outsideUsual(visit: Visit, findings: readonly Finding[], { measures }: Evidence): OutsideUsual[] {
  return Object.entries(visit.readings).flatMap(([id, reading]) => {
    const measure = measures[id];
    if (measure?.kind !== 'number') return [];
    const found = outside(reading, measure, visit);
    if (!found || findings.some((finding) => speaksOf(finding, reading))) return [];
    return [{ measure: id, reading, ...found, asks: asksFor(findings, reading) }];
  });
}

const speaksOf = (finding: Finding, reading: Reading): boolean =>
  needsAttention(finding) &&
  categoryOf(finding.criterion) === 'acting' &&
  finding.criterion.use !== 'coverage' &&
  // The part that the finding's sentence mentions: a criterion met by a symptom says nothing of the vital capacity
  // beside it.
  finding.parts.some((part) => part.reading === reading && part.truth === finding.result);

/** What else is asked by the criteria whose number this reading meets. */
function asksFor(findings: readonly Finding[], reading: Reading): string[] {
  const asked = findings.filter(
    ({ criterion, result, parts }) =>
      result === 'cannot-tell' &&
      isNeed(criterion) &&
      parts.some((part) => part.reading === reading && part.truth === 'met'),
  );
  return [...new Set(asked.flatMap(({ missing }) => missing))];
}

const isNeed = (criterion: Criterion): boolean => categoryOf(criterion) === 'acting' && criterion.use !== 'coverage';

function outside(
  reading: Reading,
  measure: NumberMeasure,
  { ageYears, sex }: Visit,
): { side: 'low' | 'high'; usual: Usual } | undefined {
  const about = measure.usual.filter(
    (one) =>
      (one.sex === undefined || one.sex === sex) &&
      (ageYears === undefined || (ageYears >= (one.minAgeYears ?? 0) && ageYears < (one.belowAgeYears ?? Infinity))),
  );
  // The lower and the upper end can come from two sources.
  const low = about.find((one) => one.low !== undefined);
  const high = about.find((one) => one.high !== undefined);
  if (low?.low !== undefined && beyond(reading, measure, low, low.low) < 0) return { side: 'low', usual: low };
  if (high?.high !== undefined && beyond(reading, measure, high, high.high) > 0) return { side: 'high', usual: high };
  return undefined;
}

/** Below nought under the limit, above it over; nought where the two cannot be compared. */
function beyond(reading: Reading, measure: NumberMeasure, usual: Usual, limit: number): number {
  if (!Number.isFinite(reading.value) || !convertible(reading.unit, usual.unit)) return 0;
  const value = convert(measure.magnitude ? Math.abs(reading.value) : reading.value, reading.unit, usual.unit);
  return compare(value, limit, reading.unit !== usual.unit || reading.from !== undefined);
}

/** 'SpO2 91 % (room air) is below the usual 95 % (common practice). This reading meets no published criterion in this handbook for this person.' */
export function outsideWords(
  { measure: id, reading, side, usual, asks }: OutsideUsual,
  { measures }: Evidence,
  sourceName: (id: string) => string,
  standingWords: Record<Standing, string>,
): string {
  const measure = measures[id];
  if (measure === undefined) return '';
  const limit = (side === 'low' ? usual.low : usual.high) ?? Number.NaN;
  const gas = gasWords(reading, measure);
  const name = (asked: string) => measures[asked]?.short ?? asked;
  const source =
    usual.standing === 'common-practice'
      ? standingWords[usual.standing]
      : `${sourceName(usual.source)}, ${standingWords[usual.standing]}`;
  const range = `${measure.short} ${readingWords(reading, measure)}${gas ? ` (${gas})` : ''} is ${side === 'low' ? 'below' : 'above'} the usual ${withUnit(figure(limit), usual.unit as UnitCode)} (${source}).`;
  const then =
    asks.length > 0
      ? `Criteria for this measure also ask for: ${asks.map(name).join('; ')}.`
      : 'This reading meets no published criterion in this handbook for this person. That does not mean that the person is safe: tell the team.';
  return `${range} ${then}`;
}
