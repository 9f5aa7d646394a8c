import type { Calculator, RawInputs } from '../../../calculators/calculator.ts';

/** One result of a calculator as a reader would get it; 'reject' when it refuses or leaves that result out. */
export function resultOf(calculator: Calculator, inputs: RawInputs, result: string): number | 'reject' {
  if (!Object.hasOwn(calculator.results, result)) throw new Error(`${calculator.id} has no result ${result}`);
  const outcome = calculator.calculate(inputs);
  return outcome.ok ? (outcome.results[result]?.value ?? 'reject') : 'reject';
}
