import type { NumberField } from '../calculator.ts';

/**
 * Volumes a person breathes out or in. The limits are ours (common practice): the largest vital capacities of tall
 * athletes are under 10 L, and a reading of exactly zero is a failed test, not a volume.
 */
const volume = {
  kind: 'number',
  unit: 'L',
  accepts: ['mL'],
  plausible: [0.2, 8],
  hard: [0, 12],
  lowInclusive: false,
} as const satisfies Omit<NumberField, 'label'>;

export const measuredVolume = {
  ...volume,
  label: 'Measured volume',
  optional: true,
  help: 'Enter the largest of the acceptable blows, in litres at body temperature (BTPS), as the spirometer prints it. Leave this empty to see the predicted value alone.',
} as const satisfies NumberField;

export const vitalCapacity = {
  ...volume,
  label: 'Vital capacity',
  help: 'Enter the largest of the session.',
} as const satisfies NumberField;

export const uprightVitalCapacity = {
  ...volume,
  label: 'Vital capacity upright',
  help: 'Enter the largest of the session, sitting.',
} as const satisfies NumberField;

export const supineVitalCapacity = {
  ...volume,
  label: 'Vital capacity lying flat',
  help: 'Use the same session and the same kind of blow. The lying value may be larger than the upright value.',
} as const satisfies NumberField;

export const insufflationCapacity = {
  ...volume,
  label: 'Maximum insufflation capacity',
  help: 'Enter the largest volume held after stacking breaths or an assisted insufflation, then breathed out into the meter.',
} as const satisfies NumberField;
