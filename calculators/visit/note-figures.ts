/** What was measured, as a person says it: the name, the value, and in brackets how it was taken. */
import type { Measure, Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { figure, flagWords, gasWords, nameWithValue, readingWords, withUnit } from '../evaluate/say.ts';
import { convert, convertible, type UnitCode } from '../quantity.ts';

/** 'PaCO2 6 kPa (45 mmHg; capillary)', 'FVC 68 % predicted (sitting; flagged: leak, which reads low)' */
export function figureWords(id: string, reading: Reading, measures: Measures): string {
  const measure = measures[id];
  if (measure?.kind !== 'number') return `${measure?.short ?? id} ${figure(reading.value)}`;
  const flagged = flagWords(reading, measure, measures);
  const how = [
    inOtherUnit(reading, measure),
    gasWords(reading, measure),
    reading.from === undefined && reading.posture && postureWords[reading.posture],
    reading.method,
    flagged.length > 0 && `flagged: ${flagged.join('; ')}`,
  ].filter(Boolean);
  const name = nameOf(measure, id);
  const value = readingWords(rounded(reading, measure), measure);
  return `${name} ${value}${how.length > 0 ? ` (${how.join('; ')})` : ''}`;
}

const postureWords = { upright: 'sitting', supine: 'lying flat' } as const;

/** A long name, which has words like 'above 50 mmHg' in it, is set off from its value. */
function nameOf(measure: Measure, id: string): string {
  const name = nameWithValue(measure, id);
  return name.split(' ').length > 3 ? `${name}:` : name;
}

/** A number with more digits than anybody reads off an instrument came from a calculation. */
export function rounded(reading: Reading, measure: NumberMeasure): Reading {
  const digits = measure.decimals + 1;
  const [, after = ''] = String(reading.value).split('.');
  return after.length > digits ? { ...reading, value: Number(reading.value.toFixed(digits)) } : reading;
}

const pressures: readonly UnitCode[] = ['kPa', 'mm[Hg]'];

/** Carbon dioxide in both units, and a value that was read in another unit than the one its criteria use. */
function inOtherUnit({ value, unit }: Reading, measure: NumberMeasure): string | undefined {
  const other = pressures.includes(unit) ? pressures.find((one) => one !== unit) : measure.unit;
  if (other === undefined || other === unit || !convertible(unit, other)) return undefined;
  const told = convert(measure.magnitude ? Math.abs(value) : value, unit, other);
  const decimals = other === 'kPa' ? 1 : other === 'mm[Hg]' ? 0 : measure.decimals;
  return withUnit(figure(Number(told.toFixed(decimals))), other);
}
