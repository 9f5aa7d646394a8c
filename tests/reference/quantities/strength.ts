import type { Sex } from '../../../calculators/domain/age-and-sex.ts';
import { calculate } from '../../../calculators/index.ts';
import {
  blackHyattInCirculation as mepInCirculation,
  mepLines,
} from '../../../calculators/muscle-strength/maximal-expiratory-pressure.ts';
import {
  blackHyattInCirculation as mipInCirculation,
  mipLines,
} from '../../../calculators/muscle-strength/maximal-inspiratory-pressure.ts';
import { type Line, predict } from '../../../calculators/muscle-strength/predicted-pressure.ts';
import { published, type SetId } from '../../../calculators/muscle-strength/published-sets.ts';
import { snipLines } from '../../../calculators/muscle-strength/sniff-pressure.ts';
import { convert } from '../../../calculators/quantity.ts';
import type { CheckedQuantity, CheckInputs } from '../quantity-adapter.ts';

const amount = (value: number | string | undefined): number | undefined =>
  typeof value === 'number' ? value : undefined;

/**
 * A row names a set, a sex and only what the equation needs. With an age it goes through `predict`, which
 * holds the set to its ages; without one (women by Wilson, children by weight) the line itself is run.
 */
const pressure =
  (lines: readonly Line[], want: 'predicted' | 'lower'): CheckedQuantity =>
  (inputs) => {
    const set = inputs.set as string;
    if (!Object.hasOwn(published, set)) throw new Error(`No set "${set}"`);
    const sex = inputs.sex as Sex;
    const own = lines.filter((line) => line.set === set && line.sex === sex);
    if (own.length === 0) throw new Error(`${set} has no line here`);
    const age = amount(inputs.age);
    const height = amount(inputs.heightCm);
    const weight = amount(inputs.weightKg);
    const waist = amount(inputs.waistCm);
    const bmi = amount(inputs.bmi);
    const first = own[0] as Line;
    const givenPrediction = amount(inputs.predictedKPa) ?? amount(inputs.predicted);
    if (want === 'lower' && givenPrediction !== undefined)
      return first.lower ? first.lower.run({ predicted: givenPrediction }) : 'reject';
    if (age === undefined || bmi !== undefined) {
      if (age !== undefined && (age < published[set as SetId].ages[0] || age >= published[set as SetId].ages[1] + 1))
        return 'reject';
      const values = Object.fromEntries(
        Object.entries({ age, height, weight, waist, bmi }).flatMap(([name, value]) =>
          value === undefined ? [] : [[name, value]],
        ),
      );
      const predicted = first.predicted.run(values);
      if (want === 'predicted') return predicted;
      return first.lower ? first.lower.run({ ...values, predicted }) : 'reject';
    }
    const found = predict(lines, set as SetId, sex, { age, height, weight, waist });
    if (!found.ok) return 'reject';
    const answer = want === 'predicted' ? found.predicted : found.lower;
    if (answer === undefined) return 'reject';
    return found.line.predicted.unit === 'kPa' ? convert(answer, 'cm[H2O]', 'kPa') : answer;
  };

/** The check file holds the form of Black and Hyatt that circulates, with its slopes; the product shows it beside the set. */
const withCirculating =
  (lines: readonly Line[], circulating: (sex: Sex, age: number) => number | undefined): CheckedQuantity =>
  (inputs: CheckInputs) => {
    const age = amount(inputs.age);
    if (inputs.set === 'black-hyatt-1969' && age !== undefined) {
      const [from, to] = published['black-hyatt-1969'].ages;
      if (age < from || age >= to + 1) return 'reject';
      const found = circulating(inputs.sex as Sex, age);
      if (found !== undefined) return found;
    }
    return pressure(lines, 'predicted')(inputs);
  };

export const strength: Record<string, CheckedQuantity> = {
  'mip.pred': withCirculating(mipLines, (sex, age) =>
    mipInCirculation[sex][age < 55 ? 'under55' : 'from55'].run({ age }),
  ),
  'mep.pred': withCirculating(mepLines, (sex, age) => (age < 55 ? mepInCirculation[sex].run({ age }) : undefined)),
  'mip.lln': pressure(mipLines, 'lower'),
  'mep.lln': pressure(mepLines, 'lower'),
  'snip.pred': pressure(snipLines, 'predicted'),
  'snip.lln': pressure(snipLines, 'lower'),
  'pressure.kPaToCmH2O': ({ kPa }) => {
    const outcome = calculate('pressure-units', { pressure: { value: kPa as number, unit: 'kPa' } });
    return outcome.ok ? (outcome.results.centimetresOfWater?.value ?? 'reject') : 'reject';
  },
};
