/** Questions about a number typed in another unit than it was measured in. Each is possible for someone, so none is refused. */

import { isChild } from './domain/age-and-sex.ts';
import { convert, type UnitCode } from './quantity.ts';

interface AnyField {
  kind: string;
  unit?: UnitCode;
  accepts?: readonly UnitCode[];
}

/** An adult shorter than this is rarer than inches typed as centimetres: 48 to 84 in are 122 to 213 cm. */
const shortAdult = 120;
/** Where nothing says that it is an adult, most who are this tall are not school children. */
const shortAnyone = 100;
const heavy = 130;
const heavyForHeight = 50;

/**
 * @param inputs  in each field's own unit
 * @param raw     as typed: a unit chosen by the reader is no slip
 */
export function wrongUnits(
  fields: Record<string, AnyField>,
  inputs: Readonly<Record<string, unknown>>,
  raw: Readonly<Record<string, unknown>>,
): string[] {
  const { height, age } = inputs;
  const adult = typeof age === 'number' ? !isChild(age) : undefined;
  const isIn = (name: string, unit: UnitCode): boolean => {
    const field = fields[name];
    const given = raw[name];
    const chosen = given !== null && typeof given === 'object' && 'unit' in given ? given.unit : unit;
    return field?.kind === 'number' && field.unit === unit && chosen === unit;
  };
  const asked: string[] = [];
  if (typeof height === 'number' && isIn('height', 'cm') && adult !== false)
    if (height < (adult ? shortAdult : shortAnyone))
      asked.push(
        `Height ${figure(height)} cm${adult ? ' for an adult' : ', if this is an adult'}: is that inches? ${figure(height)} in is ${figure(convert(height, '[in_i]', 'cm'))} cm`,
      );
  for (const [name, weight] of Object.entries(inputs)) {
    if (typeof weight !== 'number' || !isIn(name, 'kg') || !accepts(fields[name], '[lb_av]')) continue;
    const metres = typeof height === 'number' ? height / 100 : undefined;
    if (metres === undefined ? weight > heavy : weight / metres ** 2 > heavyForHeight)
      asked.push(
        `Weight ${figure(weight)} kg: is that pounds? ${figure(weight)} lb is ${figure(convert(weight, '[lb_av]', 'kg'))} kg`,
      );
  }
  return asked;
}

const accepts = (field: AnyField | undefined, unit: UnitCode): boolean =>
  field?.kind === 'number' && (field.accepts?.includes(unit) ?? false);
const figure = (value: number): string => String(Number(value.toPrecision(3)));
