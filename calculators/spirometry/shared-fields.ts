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
  help: 'Largest of the acceptable blows, in litres at body temperature (BTPS), as the spirometer prints it. Leave empty for the predicted value alone.',
} as const satisfies NumberField;

export const vitalCapacity = {
  ...volume,
  label: 'Vital capacity',
  help: 'Largest of the session.',
} as const satisfies NumberField;

export const uprightVitalCapacity = {
  ...volume,
  label: 'Vital capacity upright',
  help: 'Sitting, largest of the session.',
} as const satisfies NumberField;

export const supineVitalCapacity = {
  ...volume,
  label: 'Vital capacity lying flat',
  help: 'Same session, same way of blowing. It may be the larger one.',
} as const satisfies NumberField;

export const insufflationCapacity = {
  ...volume,
  label: 'Maximum insufflation capacity',
  help: 'Largest volume held after stacking breaths or an assisted insufflation, then breathed out into the meter.',
} as const satisfies NumberField;
