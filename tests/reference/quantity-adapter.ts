/**
 * From a row of `check-values.csv` to our own functions, so that outside checks do not depend on names inside.
 * Each file in `quantities/` covers one part of `calculators/`; the vocabulary (quantity, input keys, units) is the
 * check file's and stays as it is.
 */
import { bodySize } from './quantities/body-size.ts';
import { cough } from './quantities/cough.ts';
import { gas } from './quantities/gas.ts';
import { goingOut } from './quantities/going-out.ts';
import { oxygen } from './quantities/oxygen.ts';
import { spirometry } from './quantities/spirometry.ts';
import { strength } from './quantities/strength.ts';

export type CheckInputs = Record<string, number | string>;
/** One quantity of the check file: its value in the file's own unit, or 'reject' where the published range ends. */
export type CheckedQuantity = (inputs: CheckInputs) => number | 'reject';

const quantities: Record<string, CheckedQuantity> = {
  ...bodySize,
  ...cough,
  ...gas,
  ...goingOut,
  ...oxygen,
  ...spirometry,
  ...strength,
};

/** @throws Error when no such quantity is known: a row must never be passed over in silence */
export function evaluateQuantity(quantity: string, inputs: object): number | 'reject' {
  const known = Object.hasOwn(quantities, quantity) ? quantities[quantity] : undefined;
  if (!known) throw new Error(`No quantity "${quantity}"`);
  return known(inputs as CheckInputs);
}

/** The quantities answered, for the coverage report. */
export const answeredQuantities = Object.keys(quantities);
