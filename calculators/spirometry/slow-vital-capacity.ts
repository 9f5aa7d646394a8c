/**
 * Slow vital capacity, or inspiratory capacity, against GLI 2021.
 *
 * A slow breath out needs no force and less of a seal than a forced one, so with weak lips or spastic bulbar muscles
 * the slow vital capacity is often the larger and the truer. It has its own reference set: comparing it with an FVC
 * set mixes two tests.
 *
 * @refuses ages under 5 and over 80
 * @source  see `gli-2021.ts`
 */
import { age, height, sex } from '../body-size/shared-fields.ts';
import { type ChoiceField, type Citation, defineCalculator } from '../calculator.ts';
import { centile, lowerLimit, percentPredicted, readingAgainst, zScore } from './expected.ts';
import { gli2021, slowMedian, slowMedianSpline, slowSpread } from './gli-2021.ts';
import { heightError, withHeightError } from './height-error.ts';
import { measuredVolume } from './shared-fields.ts';

const index = {
  kind: 'choice',
  label: 'Index',
  options: [
    { value: 'VC', label: 'Slow vital capacity (VC)' },
    { value: 'IC', label: 'Inspiratory capacity (IC)' },
  ],
  initial: 'VC',
} as const satisfies ChoiceField;

const citations: Citation[] = [
  {
    cite: 'GLI 2021: Hall GL, et al. Eur Respir J 2021;57:2000289',
    locator: 'coefficients, the journal\u2019s own equation table',
    standing: 'checked',
  },
  {
    cite: 'GLI 2021: Hall GL, et al. Eur Respir J 2021;57:2000289',
    locator: 'spline look-up tables',
    standing: 'checked-in-summary',
    note: 'We read the look-up tables in a single open data file. We found no other look-up table to compare with, and no published worked example.',
  },
  {
    cite: 'Condensed version of the GLI 2021 tables, made for this handbook',
    locator: 'which differs from all the quarter-year values of those tables by at most 0.006 % in the predicted value',
    standing: 'checked',
  },
  {
    cite: 'Slow VC is often larger than FVC in people with weak lips or spasticity',
    locator: 'as is commonly taught',
    standing: 'from-memory',
  },
];

export default defineCalculator({
  id: 'slow-vital-capacity',
  title: 'Slow vital capacity: per cent of predicted',
  purpose: 'Converts a slow vital capacity or an inspiratory capacity to a percentage of predicted and a z-score.',
  group: 'vital-capacity',
  keywords: ['SVC', 'slow vital capacity', 'VC', 'IC', 'inspiratory capacity', 'GLI 2021', '% predicted', 'z-score'],
  fields: { sex, age, height, heightError, measured: measuredVolume, index },
  formulas: { slowMedianSpline, slowMedian, slowSpread, lowerLimit, percentPredicted, zScore, centile },
  results: {
    predicted: { label: 'Predicted', unit: 'L', decimals: 2, plausible: [0.3, 8.5], main: true },
    percentPredicted: { label: 'Per cent of predicted', unit: '%', decimals: 1, plausible: [0, 160], main: true },
    lln: { label: 'Lower limit of normal (5th centile)', unit: 'L', decimals: 2, plausible: [0.1, 7] },
    zScore: {
      label: 'z-score',
      unit: '{SD}',
      decimals: 2,
      plausible: [-15, 6],
      help: 'This is the number of standard deviations from the median of healthy people. A z-score of −1.645 is the 5th centile.',
    },
    centile: {
      label: 'Centile',
      unit: '%',
      decimals: 1,
      plausible: [0, 100],
      help: 'This is the share of healthy people with a smaller value. A figure of 0.0 means under 0.05.',
    },
  },
  holds: {
    population: 'people of European ancestry; the reference set includes nobody else',
    ages: '5 to 80 years',
    posture: 'upright',
    notFor: 'a forced vital capacity; people of other than European ancestry, unless you note this next to the number',
  },
  cautions: [
    'Slow and forced vital capacity are two different tests. Write down whether the vital capacity was slow or forced, and use the same test throughout a series.',
    'The reference set comes only from people of European ancestry. For people of other ancestry the predicted value is less certain; write this next to the result.',
    'Criteria are mostly written for FVC. Compare a slow VC with a criterion only where the source says VC or slow VC.',
    'The predicted values come from a condensed version of one public data table. The predicted values differ from those in the public data table by at most 0.006 %. We had no second table against which to check the public data table.',
    'Predicted values rise with height. If the height was estimated, enter how many centimetres off it may be.',
    'A leak at the lips or tiredness makes the reading too low. If the effort was faulty, do not rely on a low reading alone.',
    'The result is a finding, not a decision. The prescriber decides on support with the person, under local policy.',
  ],
  citations,
  compute: ({ sex, age, height, heightError, measured, index }, step) => {
    const person = { sex, age, height };
    const expected = gli2021.expected(index, person, step);
    if ('problems' in expected) return expected;
    const reading = readingAgainst(expected, measured, step);
    const ends = withHeightError(reading, gli2021, index, person, measured, heightError);
    return 'problems' in ends ? ends : { results: ends.values };
  },
});
