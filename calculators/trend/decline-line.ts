/**
 * The line through the readings of one test, with an interval never narrower than the test's published repeatability: the same
 * for the answer and for the drawing.
 */
import type { Step } from '../calculator.ts';
import { type Chance, chanceOf } from '../visit/repeatability.ts';
import { type DatedValue, fitLine, type Line } from './line.ts';

/** Each test of the decline page, and the measure whose repeatability is published. */
const measureOf = {
  'vc-percent': 'fvc-percent',
  'vc-litres': 'vc-litres',
  snip: 'snip',
  mip: 'mip',
  mep: 'mep',
  'cough-flow': 'peak-cough-flow',
} as const;
export type DeclineTest = keyof typeof measureOf;

/** @returns undefined where no figure is published: the line has no interval then */
export const chanceIn = (test: DeclineTest, meanValue: number): Chance | undefined =>
  chanceOf(measureOf[test], meanValue);

export const lineOf = (test: DeclineTest, readings: readonly DatedValue[], step?: Step): Line | undefined =>
  fitLine(readings, (meanValue) => chanceIn(test, meanValue)?.difference, step);
