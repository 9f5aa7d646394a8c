/**
 * What every estimate of height from a bone or a span shares: its error, and how to carry that error on.
 *
 * A height that was worked out is not a height that was measured. Its error goes into every number
 * that follows: a predicted vital capacity from a height that is 7 cm too tall makes lungs look weaker
 * than they are.
 */
import type { Citation, ResultSpec } from '../calculator.ts';
import type { ResultValue } from '../outcome.ts';
import { showNumber } from '../quantity.ts';

/** How far a person's true height may lie from the estimate, with where that was published. */
export interface HeightError {
  /** the true height may be this much less, cm */
  below: number;
  /** the true height may be this much more, cm */
  above: number;
  /** finishes the sentence "The range is ..." */
  from: string;
}

/**
 * Range from a published standard error of estimate.
 *
 * Taken as +-1.96 standard errors, about the middle 95 of 100 people. That step is ours; the papers
 * print the standard error alone, and the interval for one new person is a little wider.
 */
export const fromStandardError = (cm: number, publication: string): HeightError => ({
  below: 1.96 * cm,
  above: 1.96 * cm,
  from: `1.96 times the standard error of ${cm} cm that ${publication} printed. Taking it as a 95 % range is our own choice, not the paper\u2019s`,
});

/** Limits of agreement that a later study found between measured and estimated height. */
export const fromLimits = (below: number, above: number, publication: string): HeightError => ({
  below,
  above,
  from: publication,
});

/** Results of every height estimate. `heightError` is the single figure that the predicted vital capacity takes. */
export const heightResults = {
  height: { label: 'Estimated height', unit: 'cm', decimals: 0, plausible: [75, 215], main: true },
  heightError: {
    label: 'Error (plus or minus), to enter with the height',
    unit: 'cm',
    decimals: 1,
    plausible: [0, 25],
    help: 'This is the larger side of the range. The page on predicted vital capacity asks for this figure together with the height.',
  },
} as const satisfies Record<string, ResultSpec>;

export function estimated(
  value: number,
  error: HeightError | undefined,
): { results: { height: Omit<ResultValue, 'unit'>; heightError?: Omit<ResultValue, 'unit'> }; cautions: string[] } {
  if (!error)
    return {
      results: { height: { value } },
      cautions: [
        'No published error was found for this equation, so no range is shown. The error is unknown, not small: other equations are wrong by 7 cm and more.',
      ],
    };
  return {
    results: {
      height: { value, low: value - error.below, high: value + error.above },
      heightError: { value: Math.max(error.below, error.above) },
    },
    cautions: [
      `The range is ${error.from}.`,
      'Carry the error forward: on the page about predicted vital capacity, enter this height with its plus or minus.',
    ],
  };
}

/** For a table cell: 175 cm, or 175 cm (167 to 183). */
export function showHeight(value: number, error?: HeightError): string {
  const cm = `${showNumber(value, 0)}\u00a0cm`;
  if (!error) return cm;
  return `${cm} (${showNumber(value - error.below, 0)} to ${showNumber(value + error.above, 0)})`;
}

/** For a table cell of its own: 167 to 183 cm. */
export const showRange = (value: number, error: HeightError): string =>
  `${showNumber(value - error.below, 0)} to ${showNumber(value + error.above, 0)}\u00a0cm`;

export const heightCautions = [
  'An estimated height is not a measured height. Write down the method, the side and the equation used.',
  'Use the same method to estimate height at each visit. A change in how height is estimated can look like a change in lung function.',
] as const;

/** Age as a message prints it. Cut, not rounded: someone of 17.96 must not read that 18 is too young. */
export const showAge = (years: number): string => `${Math.floor(years * 10) / 10}`;

export const guidelineAdvice: Citation = {
  cite: 'ATS/ERS spirometry standard',
  locator: 'advice to use the same method of estimating height at each visit if standing height cannot be measured',
  standing: 'from-memory',
};
