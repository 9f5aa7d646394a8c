import type { ChoiceField, Citation, NumberField } from '../calculator.ts';

/**
 * Oxygen in what the supply gives, per cent. A concentrator is never pure and drifts with flow, age and
 * altitude, so its usual figure comes with the range that is commonly quoted, and both ends are calculated.
 */
export const supplies = {
  cylinder: { usual: 100, low: 100, high: 100 },
  concentrator: { usual: 93, low: 87, high: 96 },
} as const;
export type Supply = keyof typeof supplies;

export const supply = {
  kind: 'choice',
  label: 'Oxygen supply',
  options: [
    { value: 'cylinder', label: 'Cylinder or liquid oxygen (100 %)' },
    { value: 'concentrator', label: 'Concentrator (about 93 %, 87 to 96 %)' },
  ],
} as const satisfies ChoiceField;

export const purity = {
  kind: 'number',
  label: 'Measured purity of the supply',
  unit: '%',
  plausible: [82, 100],
  hard: [50, 100],
  optional: true,
  help: 'If an analyser was used on this concentrator, enter the oxygen percentage that it measured. If you enter no percentage, the calculation uses the usual oxygen percentage of the supply.',
} as const satisfies NumberField;

/** What to reckon with: the purity measured, else the usual one of the supply with its span. */
export const purityOf = (supply: Supply, measured?: number): { usual: number; low: number; high: number } =>
  measured === undefined ? supplies[supply] : { usual: measured, low: measured, high: measured };

export const purityCitation: Citation = {
  cite: 'Purity of cylinder oxygen (100 %) and of home concentrators (about 93 %, 87 to 96 %)',
  locator: 'figures that suppliers and teachers quote; 87 to 96 % is also on suppliers\u2019 pages',
  standing: 'common-practice',
};
