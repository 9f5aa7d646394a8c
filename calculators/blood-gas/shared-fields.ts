import type { Citation, NumberField } from '../calculator.ts';

/**
 * Fields and constants of a blood gas. The hard ends are set so that a number typed in the other
 * pressure unit falls outside and is asked about: no PaCO2 is 6 mmHg, and none is 45 kPa.
 */

export const paco2 = {
  kind: 'number',
  label: 'PaCO2',
  unit: 'mm[Hg]',
  accepts: ['kPa'],
  plausible: [25, 90],
  hard: [15, 150],
  help: 'Enter an arterial or arterialised capillary value from a sample taken while the person was awake. Do not enter a venous, end-tidal or transcutaneous value.',
} as const satisfies NumberField;

export const pao2 = {
  kind: 'number',
  label: 'PaO2',
  unit: 'mm[Hg]',
  accepts: ['kPa'],
  plausible: [40, 110],
  hard: [20, 650],
} as const satisfies NumberField;

export const bicarbonate = {
  kind: 'number',
  label: 'Bicarbonate',
  unit: 'mmol/L',
  plausible: [18, 45],
  hard: [5, 70],
  help: 'A bicarbonate in mEq/L is the same number in mmol/L.',
} as const satisfies NumberField;

export const ph = {
  kind: 'number',
  label: 'pH',
  unit: '[pH]',
  plausible: [7.2, 7.55],
  hard: [6.8, 7.8],
} as const satisfies NumberField;

export const breathVolume = {
  kind: 'number',
  label: 'Breath (tidal volume)',
  unit: 'mL',
  accepts: ['L'],
  plausible: [150, 1200],
  hard: [30, 3000],
} as const satisfies NumberField;

export const breathRate = {
  kind: 'number',
  label: 'Breaths a minute',
  unit: '/min',
  plausible: [8, 40],
  hard: [2, 80],
} as const satisfies NumberField;

export const mercury: Citation = {
  cite: 'UCUM essence file, unit m[Hg]',
  locator: '1 mmHg = 133.322387415 Pa',
  standing: 'checked',
};
