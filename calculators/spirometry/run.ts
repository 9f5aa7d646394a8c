import type { Formula } from '../calculator.ts';

/**
 * How a formula is run: `plainly`, or by a calculator's `step`, which keeps the numbers to show the working.
 * Both run the same function, so what is shown is what was computed.
 */
export type Run = <V extends string>(formula: Formula<V>, values: Record<V, number>) => number;

export const plainly: Run = (formula, values) => formula.run(values);
