/** Age and height as they are typed: text and unit. They become facts about the person when the field is left. */
import { age, height } from '../../../calculators/body-size/shared-fields.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import { outOfRange } from '../../../calculators/out-of-range.ts';
import { convert, type UnitCode } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import type { TypedQuantity } from '../QuantityInput.tsx';

export type PersonField = 'age' | 'height';
export type PersonTyped = Record<PersonField, TypedQuantity>;

const specs = { age, height } as const;

/** @returns neither value nor problem where nothing was typed */
export function readPersonField(
  field: PersonField,
  { text, unit }: TypedQuantity,
): { value?: number; problem?: string } {
  if (text.trim() === '') return {};
  const spec = specs[field];
  const read = readNumber(text, unit, spec.label, [spec.unit, ...spec.accepts]);
  if (!read.ok) return { problem: read.message };
  const value = convert(read.quantity.value, read.quantity.unit, spec.unit as UnitCode);
  const [low, high] = spec.hard;
  if (value < low || value > high) return { problem: outOfRange(spec, read.quantity.value, read.quantity.unit) };
  return { value };
}

/** The facts of a person as field texts, in the units in which they are stored. */
export const personText = ({ ageYears, heightCm }: Person): PersonTyped => ({
  age: { text: ageYears === undefined ? '' : String(ageYears), unit: 'a' },
  height: { text: heightCm === undefined ? '' : String(heightCm), unit: 'cm' },
});
