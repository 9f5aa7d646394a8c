/** The message for a number that a field does not take. */

import { convert, type UnitCode, units } from './quantity.ts';

interface NumberRange {
  label: string;
  unit: UnitCode;
  accepts?: readonly UnitCode[] | undefined;
  /** in `unit`: what is not unusual, and what is possible at all */
  plausible: readonly [number, number];
  hard: readonly [number, number];
  /** false where the lowest possible value is itself refused */
  lowInclusive?: boolean | undefined;
}

/**
 * The limits in the unit that was typed, then the likely cause: the same figure would be plausible in another unit that the
 * field accepts. 'PaCO2 is between 15 and 150 mmHg. Is 8 in kPa?'
 */
export function outOfRange(field: NumberRange, typed: number, unit: UnitCode): string {
  const [low, high] = field.hard.map((end) => Number(convert(end, field.unit, unit).toPrecision(4)));
  const symbol = units[unit].symbol;
  const limit =
    field.lowInclusive === false
      ? `${field.label} is above ${low} and at most ${high} ${symbol}`
      : `${field.label} is between ${low} and ${high} ${symbol}`;
  return `${limit.trim()}. ${askUnit(field, typed, unit) ?? `${typed} is outside that`}`;
}

/** The same figure would be plausible in another unit that the field accepts: 'Is 8 in kPa?' */
export function askUnit(field: NumberRange, typed: number, unit: UnitCode): string | undefined {
  const meant = [field.unit, ...(field.accepts ?? [])].find((other) => {
    if (other === unit) return false;
    const value = convert(typed, other, field.unit);
    return value >= field.plausible[0] && value <= field.plausible[1];
  });
  return meant && `Is ${typed} ${units[meant].symbol ? `in ${units[meant].symbol}` : 'a fraction'}?`;
}
