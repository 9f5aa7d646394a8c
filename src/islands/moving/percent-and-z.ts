/** The same per cent of predicted is usual at one age and unusual at another. */
import { sexOptions } from '../../../calculators/domain/age-and-sex.ts';
import { show } from '../../../calculators/quantity.ts';
import { type Expected, lowerLimitOf, percentPredictedOf, zScoreOf } from '../../../calculators/spirometry/expected.ts';
import { gliGlobal } from '../../../calculators/spirometry/gli.ts';
import { along, defineMoving, type Look, type Point } from './figure.ts';

const others = [
  { age: 20, look: 'dashed' },
  { age: 50, look: 'dotted' },
  { age: 80, look: 'long' },
] as const satisfies { age: number; look: Look }[];

export const percentAndZ = defineMoving({
  title: 'What percentage of predicted is a volume, and how unusual is it?',
  about:
    'Move the slider for the volume, then the slider for the age. The percentage of predicted shows the measured volume as a share of the predicted volume. The z-score shows how unusual the volume would be among healthy people. A threshold given as a percentage cannot be applied to a z-score, and a z-score threshold cannot be applied to a percentage.',
  controls: {
    sex: {
      kind: 'choice',
      label: 'Sex',
      options: sexOptions,
      initial: 'male',
    },
    age: { kind: 'slide', label: 'Age', unit: 'a', min: 8, max: 90, step: 1, decimals: 0, initial: 70 },
    height: { kind: 'slide', label: 'Height', unit: 'cm', min: 120, max: 200, step: 1, decimals: 0, initial: 175 },
    measured: {
      kind: 'slide',
      label: 'Measured vital capacity',
      unit: 'L',
      min: 0.3,
      max: 6,
      step: 0.05,
      decimals: 2,
      initial: 2.8,
    },
  },
  picture: ({ sex, age, height, measured }) => {
    const expectedAt = (years: number): Expected | undefined => {
      const expected = gliGlobal.expected('FVC', { sex, age: years, height });
      return 'problems' in expected ? undefined : expected;
    };
    const own = expectedAt(age);
    const percent = own ? percentPredictedOf(own, measured) : Number.NaN;
    const z = own ? (zScoreOf(own, measured) ?? Number.NaN) : Number.NaN;
    // Close enough to tell the lines apart, and wide enough for whatever the sliders reach.
    const left = Math.min(40, Math.floor(percent / 10) * 10 - 10);
    const right = Math.max(120, Math.ceil(percent / 10) * 10);
    const line = (expected: Expected | undefined): (Point | null)[] =>
      along(left, right, 2).map((share) => {
        const score = expected && zScoreOf(expected, (expected.predicted * share) / 100);
        return score === undefined ? null : [share, score];
      });
    const row = (label: string, expected: Expected | undefined) => {
      if (!expected) return { label, cells: ['no value', 'no value', 'no value'] };
      const same = zScoreOf(expected, (expected.predicted * percent) / 100) ?? Number.NaN;
      const atLimit = percentPredictedOf(expected, lowerLimitOf(expected));
      return { label, cells: [show(expected.predicted, 'L', 2), show(same, '{SD}', 2), show(atLimit, '%', 0)] };
    };
    return {
      draws: {
        kind: 'plot',
        plot: {
          x: { label: 'Per cent of predicted', low: left, high: right, every: right - left > 120 ? 50 : 10 },
          y: {
            label: 'z-score, standard deviations',
            low: Math.min(-4, Math.floor(z)),
            high: Math.max(2, Math.ceil(z)),
            every: 1,
          },
          lines: [
            { name: `this age, ${show(age, 'a', 0)}`, look: 'main', points: line(own) },
            ...others.map((one) => ({
              name: show(one.age, 'a', 0),
              look: one.look,
              points: line(expectedAt(one.age)),
            })),
          ],
          rules: [{ across: 'y', at: -1.645, name: 'lower limit of normal: 5 in 100 healthy people are below' }],
          dots: [{ at: [percent, z], look: 'hand' }],
        },
      },
      table: {
        caption: `${show(percent, '%', 0)} of predicted at several ages, ${show(height, 'cm', 0)}, GLI Global 2022`,
        columns: ['Age', 'Predicted', `z-score of ${show(percent, '%', 0)}`, 'Lower limit, as per cent of predicted'],
        rows: [
          row(`This age, ${show(age, 'a', 0)}`, own),
          ...others.map((one) => row(show(one.age, 'a', 0), expectedAt(one.age))),
        ],
      },
      says: `A volume of ${show(measured, 'L', 2)} is ${show(percent, '%', 1)} of predicted, and its z-score is ${show(z, '{SD}', 2)}.`,
      notes: [
        'Criteria for support are given as a percentage of predicted, or in litres. The lower limit of normal shows who differs from healthy people; it is not a criterion for support.',
      ],
    };
  },
});
