import type { ChoiceField, NumberField } from '../calculator.ts';
import { sexOptions } from '../domain/age-and-sex.ts';

/**
 * Fields that many calculators share. One declaration each, so that a height typed in one place is
 * held to the same limits as in the next.
 */

/** Standing height. The limits are ours: the shortest and tallest people ever measured lie inside (common practice). */
export const height = {
  kind: 'number',
  label: 'Height',
  unit: 'cm',
  accepts: ['m', '[ft_i]', '[in_i]'],
  plausible: [75, 215],
  hard: [50, 250],
  help: 'Enter the standing height without shoes. If the person cannot stand, estimate the height first and record how it was estimated.',
} as const satisfies NumberField;

export const age = {
  kind: 'number',
  label: 'Age',
  unit: 'a',
  accepts: ['mo'],
  plausible: [3, 100],
  hard: [0, 120],
} as const satisfies NumberField;

/** The published equations know two sexes; which of them fits is for the person and the clinic to say. */
export const sex = {
  kind: 'choice',
  label: 'Sex used for the prediction',
  options: sexOptions,
  help: 'The published equations are for two groups, male and female. Record which of the two was used, and use the same one in a series.',
} as const satisfies ChoiceField;

export const weight = {
  kind: 'number',
  label: 'Weight',
  unit: 'kg',
  accepts: ['[lb_av]'],
  plausible: [10, 200],
  hard: [2, 350],
} as const satisfies NumberField;
