/**
 * What a reference set says about people of one sex, age and height, and how a reading compares with it.
 *
 * Two questions that are often mixed up, and can disagree:
 *
 * - per cent of predicted: how big a share of the usual volume is this? (100 x measured / predicted)
 * - z-score: how unusual is it? (in standard deviations of healthy people; -1.645 is the 5th centile)
 *
 * The sets describe healthy people in three forms:
 *
 * - `lms`     median M, spread S (coefficient of variation) and skewness L, after Cole:
 *             z = ((measured / M)^L - 1) / (L S);  limit at z = M (1 + z L S)^(1 / L)
 * - `normal`  a mean and a residual standard deviation in litres: z = (measured - mean) / rsd
 * - `limit`   a predicted value and a lower limit, and no published spread: no z-score is made up for it
 *
 * Volumes are litres BTPS, flows L/s, ratios as the set prints them. Nothing is rounded.
 *
 * @source  LMS forms and the 1.645 for the 5th and 95th centile: read in two open implementations and in the
 *          equations workbook of the initiative. 1.64 for ECSC: from memory of the statement
 */
import { formula } from '../calculator.ts';
import { shareBelow } from './normal-distribution.ts';
import { plainly, type Run } from './run.ts';

export type Expected = { predicted: number; caution?: string } & (
  | { form: 'lms'; spread: number; skewness: number }
  | { form: 'normal'; residual: number }
  | { form: 'limit'; lowerLimit: number }
);

const litres = { unit: 'L', range: [0.2, 9] } as const;
// Ranges for FVC, FEV1 and slow VC. At no published age, sex or group does 1 - 1.645 L S fall below 0.5.
const spread = {
  means: 'spread of healthy people, as a share of the median (S)',
  unit: '',
  range: [0.05, 0.3],
} as const;
const skewness = { means: 'skewness (L)', unit: '', range: [0.8, 1.4] } as const;

export const lowerLimit = formula({
  result: 'lowerLimit',
  unit: 'L',
  text: 'predicted * (1 - 1.645 * skewness * spread) ^ (1 / skewness)',
  symbols: { predicted: { means: 'predicted (median, M)', ...litres }, skewness, spread },
  run: ({ predicted, skewness, spread }) => predicted * (1 - 1.645 * skewness * spread) ** (1 / skewness),
});

export const percentPredicted = formula({
  result: 'percentPredicted',
  unit: '',
  text: 'measured / predicted * 100',
  symbols: { measured: { means: 'measured', ...litres }, predicted: { means: 'predicted', ...litres } },
  run: ({ measured, predicted }) => (measured / predicted) * 100,
});

export const zScore = formula({
  result: 'zScore',
  unit: '',
  text: '((measured / predicted) ^ skewness - 1) / (skewness * spread)',
  symbols: {
    measured: { means: 'measured', ...litres },
    predicted: { means: 'predicted (median, M)', ...litres },
    skewness,
    spread,
  },
  run: ({ measured, predicted, skewness, spread }) => ((measured / predicted) ** skewness - 1) / (skewness * spread),
});

export const centile = formula({
  result: 'centile',
  unit: '',
  text: '50 * (1 + erf(zScore / sqrt(2)))',
  symbols: { zScore: { means: 'z-score', unit: '', range: [-8, 4] } },
  run: ({ zScore }) => 100 * shareBelow(zScore),
});

export const normalLowerLimit = formula({
  result: 'normalLowerLimit',
  unit: 'L',
  text: 'predicted - 1.64 * residual',
  symbols: {
    predicted: { means: 'predicted (mean)', ...litres },
    residual: { means: 'residual standard deviation (RSD)', unit: 'L', range: [0.3, 0.7] },
  },
  run: ({ predicted, residual }) => predicted - 1.64 * residual,
});

export const normalZScore = formula({
  result: 'normalZScore',
  unit: '',
  text: '(measured - predicted) / residual',
  symbols: {
    measured: { means: 'measured', ...litres },
    predicted: { means: 'predicted (mean)', ...litres },
    residual: { means: 'residual standard deviation (RSD)', unit: 'L', range: [0.3, 0.7] },
  },
  run: ({ measured, predicted, residual }) => (measured - predicted) / residual,
});

/** No published curve comes near zero skewness; at zero itself the power form divides by zero and turns into a logarithm. */
const nearlyZero = 1e-6;

/** Volume that 5 % of healthy people fall below. */
export function lowerLimitOf(expected: Expected, run: Run = plainly): number {
  if (expected.form === 'limit') return expected.lowerLimit;
  const { predicted } = expected;
  if (expected.form === 'normal') return run(normalLowerLimit, { predicted, residual: expected.residual });
  const { spread, skewness } = expected;
  if (Math.abs(skewness) < nearlyZero) return predicted * Math.exp(-1.645 * spread);
  return run(lowerLimit, { predicted, skewness, spread });
}

/** @param measured  same unit as the prediction; above 0 */
export const percentPredictedOf = (expected: Expected, measured: number, run: Run = plainly): number =>
  run(percentPredicted, { measured, predicted: expected.predicted });

/**
 * @param measured  same unit as the prediction; above 0
 * @returns standard deviations from the middle of healthy people; none where the set publishes no spread
 */
export function zScoreOf(expected: Expected, measured: number, run: Run = plainly): number | undefined {
  if (expected.form === 'limit') return undefined;
  const { predicted } = expected;
  if (expected.form === 'normal') return run(normalZScore, { measured, predicted, residual: expected.residual });
  const { spread, skewness } = expected;
  if (Math.abs(skewness) < nearlyZero) return Math.log(measured / predicted) / spread;
  return run(zScore, { measured, predicted, skewness, spread });
}

/** Per cent of healthy people of this sex, age and height whose value is smaller; 0 to 100. */
export const centileOf = (zScore: number, run: Run = plainly): number => run(centile, { zScore });

export interface Reading {
  predicted: number;
  lln: number;
  percentPredicted?: number;
  zScore?: number;
  centile?: number;
}

/** All that a set says about one reading; without a measured value, what it expects. */
export function readingAgainst(expected: Expected, measured: number | undefined, run: Run = plainly): Reading {
  const reading: Reading = { predicted: expected.predicted, lln: lowerLimitOf(expected, run) };
  if (measured === undefined) return reading;
  reading.percentPredicted = percentPredictedOf(expected, measured, run);
  const z = zScoreOf(expected, measured, run);
  if (z === undefined) return reading;
  reading.zScore = z;
  reading.centile = centileOf(z, run);
  return reading;
}
