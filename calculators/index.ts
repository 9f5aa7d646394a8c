/** Every calculator, by id. The screen loads one at a time from `register.ts`; tests and builds take them all from here. */
import type { Calculator, RawInputs } from './calculator.ts';
import type { Outcome } from './outcome.ts';
import { register } from './register.ts';

export type { Calculator, Citation, Field, Formula, RawInput, RawInputs } from './calculator.ts';
export type { Outcome, Problem, ResultTable, ResultValue } from './outcome.ts';

export const calculators: Record<string, Calculator> = Object.fromEntries(
  await Promise.all(Object.entries(register).map(async ([id, load]) => [id, (await load()).default] as const)),
);

/**
 * Run a calculator.
 *
 * @param id      name in the register
 * @param inputs  by field name; a bare number is in the field's own unit, `{ value, unit }` is converted first
 * @returns results with units, or the problems by field; it never throws and never answers NaN or Infinity
 */
export function calculate(id: string, inputs: RawInputs): Outcome {
  const found = Object.hasOwn(calculators, id) ? calculators[id] : undefined;
  if (!found) return { ok: false, problems: [{ field: 'id', message: `There is no calculator called "${id}"` }] };
  return found.calculate(inputs);
}
