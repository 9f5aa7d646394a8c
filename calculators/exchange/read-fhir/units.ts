/** An amount of an Observation: its number, and its unit by UCUM code. The unit's printed text is for people and not read. */
import { isUnit } from '../../quantity.ts';
import type { TypedReading } from '../../visit/series.ts';
import { ucum } from '../fhir.ts';
import { type Observation, Refusal, shortened } from './resource.ts';

export interface Amount {
  value: number;
  text: string;
  unit: TypedReading['unit'];
}

export function amountOf({ valueQuantity }: Observation, accepted: readonly string[]): Amount | Refusal {
  if (valueQuantity === undefined)
    return new Refusal(['valueQuantity'], 'expected a number with its unit, found nothing');
  const { value, system, code } = valueQuantity;
  if (system !== ucum) return new Refusal(['valueQuantity', 'system'], `expected "${ucum}"`);
  if (code === undefined || !isUnit(code) || !accepted.includes(code))
    return new Refusal(
      ['valueQuantity', 'code'],
      `expected the unit ${accepted.map((one) => `"${one}"`).join(' or ')}, found ${code === undefined ? 'nothing' : `"${shortened(code)}"`}`,
    );
  if (value === undefined || !Number.isFinite(value) || /e/i.test(String(value)))
    return new Refusal(['valueQuantity', 'value'], 'expected a number that can be typed');
  return { value, text: String(value), unit: code };
}
