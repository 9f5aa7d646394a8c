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
  help: 'Enter the largest reading of the acceptable efforts, in litres at body temperature (BTPS), as the spirometer prints it. If you enter no reading, only the predicted value is shown.',
} as const satisfies NumberField;

export const vitalCapacity = {
  ...volume,
  label: 'Vital capacity',
  help: 'Enter the largest vital capacity of the session.',
} as const satisfies NumberField;

export const uprightVitalCapacity = {
  ...volume,
  label: 'Vital capacity upright',
  help: 'Enter the largest vital capacity of the session, measured sitting.',
} as const satisfies NumberField;

export const supineVitalCapacity = {
  ...volume,
  label: 'Vital capacity lying flat',
  help: 'Measure supine vital capacity in the same session and by the same kind of test (forced or slow). The vital capacity lying flat may be larger than the vital capacity upright.',
} as const satisfies NumberField;

export const insufflationCapacity = {
  ...volume,
  label: 'Maximum insufflation capacity',
  help: 'Enter the largest volume that the person held after breath stacking or an assisted insufflation and then breathed out into the meter.',
} as const satisfies NumberField;
