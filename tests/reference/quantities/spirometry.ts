/** Spirometry rows of the check file, answered by our calculators where one shows the figure, else by the sets beneath them. */

import type { Calculator, RawInputs } from '../../../calculators/calculator.ts';
import type { Sex } from '../../../calculators/domain/age-and-sex.ts';
import {
  centileOf,
  type Expected,
  lowerLimitOf,
  percentPredictedOf,
  zScoreOf,
} from '../../../calculators/spirometry/expected.ts';
import { gli2021 } from '../../../calculators/spirometry/gli-2021.ts';
import insufflationGain from '../../../calculators/spirometry/insufflation-gain.ts';
import predictedVitalCapacity from '../../../calculators/spirometry/predicted-vital-capacity.ts';
import type { Group, Index, ReferenceSet } from '../../../calculators/spirometry/reference-set.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import slowVitalCapacity from '../../../calculators/spirometry/slow-vital-capacity.ts';
import supineFall from '../../../calculators/spirometry/supine-fall.ts';
import type { CheckedQuantity, CheckInputs } from '../quantity-adapter.ts';
import { gli2012Ratio, gliGlobalRatio } from './gli-ratio.ts';

/** Groups under the check file's names. */
const groups: Record<string, Group> = {
  caucasian: 'caucasian',
  afram: 'african-american',
  'african-american': 'african-american',
  'mexican-american': 'mexican-american',
  neasia: 'north-east-asian',
  seasia: 'south-east-asian',
  other: 'other',
};
const groupOf = ({ group }: CheckInputs): Group | undefined =>
  group === undefined ? undefined : groups[String(group)];

function resultOf(calculator: Calculator, inputs: RawInputs, result: string): number | 'reject' {
  const outcome = calculator.calculate(inputs);
  if (!outcome.ok) return 'reject';
  const found = outcome.results[result];
  if (!found) throw new Error(`${calculator.id} gave no ${result}`);
  return found.value;
}

const onTheForm = (inputs: CheckInputs): RawInputs => ({
  sex: inputs.sex,
  age: inputs.age,
  height: inputs.heightCm,
  measured: inputs.measured,
  index: inputs.index,
  set: inputs.set,
  group: groupOf(inputs),
});

/** What the set itself expects. A ratio in per cent needs no height; NaN shows that it is not looked at. */
function expectedOf(inputs: CheckInputs): Expected | undefined {
  const set = [gli2021, gliGlobalRatio, gli2012Ratio, ...Object.values(forcedSets)].find(
    ({ id, indices }: ReferenceSet) => id === inputs.set && indices.includes(inputs.index as Index),
  );
  if (!set) throw new Error(`No set ${inputs.set} with ${inputs.index}`);
  const expected = set.expected(inputs.index as Index, {
    sex: inputs.sex as Sex,
    age: Number(inputs.age),
    height: Number(inputs.heightCm ?? Number.NaN),
    group: groupOf(inputs),
  });
  return 'problems' in expected ? undefined : expected;
}

/**
 * Volume that 5 % of healthy people exceed. No page shows it, so it is found by halving, from the z-score that pages show;
 * none where the set publishes no spread. The z-score of the 95th centile is the set's own, as for the lower limit.
 */
function upperLimitOf(expected: Expected): number | undefined {
  if (expected.form === 'limit') return undefined;
  const wanted = expected.form === 'normal' ? 1.64 : 1.645;
  let [low, high] = [expected.predicted, 3 * expected.predicted];
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if ((zScoreOf(expected, middle) ?? Number.NaN) < wanted) low = middle;
    else high = middle;
  }
  return low;
}

const fromSet =
  (read: (expected: Expected, measured: number) => number | undefined): CheckedQuantity =>
  (inputs) => {
    const expected = expectedOf(inputs);
    if (!expected) return 'reject';
    const value = read(expected, Number(inputs.measured));
    if (value === undefined) throw new Error(`${inputs.set} publishes no such value`);
    return value;
  };

const lms = (read: (expected: Expected & { form: 'lms' }) => number) =>
  fromSet((expected) => (expected.form === 'lms' ? read(expected) : undefined));

const everySet = (index: string): Record<string, CheckedQuantity> => ({
  [`${index}.pred`]: fromSet(({ predicted }) => predicted),
  [`${index}.lln`]: fromSet((expected) => lowerLimitOf(expected)),
  [`${index}.uln`]: fromSet(upperLimitOf),
  [`${index}.z`]: fromSet((expected, measured) => zScoreOf(expected, measured)),
  [`${index}.pctpred`]: fromSet((expected, measured) => percentPredictedOf(expected, measured)),
  [`${index}.centile`]: fromSet((expected, measured) => centileOf(zScoreOf(expected, measured) ?? Number.NaN)),
  [`${index}.M`]: lms(({ predicted }) => predicted),
  [`${index}.S`]: lms(({ spread }) => spread),
  [`${index}.L`]: lms(({ skewness }) => skewness),
});

const onForm = (index: string, calculator: Calculator, percentPredicted: string): Record<string, CheckedQuantity> => {
  const result =
    (name: string): CheckedQuantity =>
    (inputs) =>
      resultOf(calculator, onTheForm(inputs), name);
  return {
    [`${index}.pred`]: result('predicted'),
    [`${index}.lln`]: result('lln'),
    [`${index}.z`]: result('zScore'),
    [`${index}.pctpred`]: result(percentPredicted),
    [`${index}.centile`]: result('centile'),
  };
};

export const spirometry: Record<string, CheckedQuantity> = {
  ...['FVC', 'FEV1', 'FEV1FVC', 'PEF', 'IVC', 'VC', 'IC'].reduce(
    (all, index) => Object.assign(all, everySet(index)),
    {},
  ),
  ...onForm('FVC', predictedVitalCapacity, 'percentPredicted'),
  ...onForm('FEV1', predictedVitalCapacity, 'fev1PercentPredicted'),
  ...onForm('VC', slowVitalCapacity, 'percentPredicted'),
  ...onForm('IC', slowVitalCapacity, 'percentPredicted'),
  'vc.posturalDrop': ({ upright, supine }) => resultOf(supineFall, { upright, supine }, 'fall'),
  'mic.difference': ({ micMl, vcMl }) => {
    const gain = resultOf(
      insufflationGain,
      {
        insufflationCapacity: { value: Number(micMl), unit: 'mL' },
        vitalCapacity: { value: Number(vcMl), unit: 'mL' },
      },
      'gain',
    );
    return gain === 'reject' ? gain : gain * 1000;
  },
};
