import type { ChoiceField, NumberField } from '../calculator.ts';

/**
 * A cough flow, typed per minute or per second.
 *
 * The limits are ours (common practice): above 20 and at most 1200 L/min, which is 0.33 to 20 L/s. They are
 * chosen so that the two ranges do not overlap. No number is accepted in both units, so a flow read off in
 * one and typed in the other is always refused, with a question about the unit.
 */
export const coughFlow = {
  kind: 'number',
  label: 'Peak cough flow',
  unit: 'L/min',
  accepts: ['L/s'],
  plausible: [30, 900],
  hard: [20, 1200],
  lowInclusive: false,
} as const satisfies NumberField;

export const techniques = {
  unassisted: 'unassisted',
  stacking: 'after breath stacking',
  manual: 'with manual assist',
  'stacking-and-manual': 'after stacking, with manual assist',
  'mi-e': 'on MI-E',
} as const;
export type Technique = keyof typeof techniques;

/** No initial choice: a technique that nobody stated must not be taken for the person's own cough. */
export const technique = {
  kind: 'choice',
  label: 'How the cough was assisted',
  options: [
    { value: 'unassisted', label: 'Unassisted' },
    { value: 'stacking', label: 'After breath stacking (lung volume recruitment)' },
    { value: 'manual', label: 'With manual assist' },
    { value: 'stacking-and-manual', label: 'After stacking, with manual assist' },
    { value: 'mi-e', label: 'On MI-E' },
  ],
  optional: true,
  help: 'If nobody recorded how the cough was assisted, leave this field empty. The calculator still converts the cough flow.',
} as const satisfies ChoiceField;

export const emergency =
  'If the airway cannot be cleared, or the person is drowsy, confused, grey or cannot speak in sentences: call emergency services now. In an emergency, do not stop to finish this form.';
