/** Numbers that a typed line gave, as a reader would have typed them: src/search/worked-out.ts hands them over. */
import type { Fields, RawInputs } from '../../calculators/calculator.ts';
import { isUnit } from '../../calculators/quantity.ts';
import type { TypedQuantity } from './QuantityInput.tsx';

export function typedFrom(fields: Fields, given: RawInputs): Record<string, string | TypedQuantity> {
  const typed: Record<string, string | TypedQuantity> = {};
  for (const [name, value] of Object.entries(given)) {
    const field = fields[name];
    if (field?.kind === 'choice') typed[name] = String(value);
    else if (field?.kind === 'number')
      typed[name] =
        typeof value === 'object' && value !== null && 'unit' in value && isUnit(value.unit)
          ? { text: String(Number(value.value.toPrecision(6))), unit: value.unit }
          : { text: String(value), unit: field.unit };
  }
  return typed;
}
