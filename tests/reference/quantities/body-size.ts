import { byRatio, ratios } from '../../../calculators/body-size/height-from-arm-span.ts';
import { unreadLines } from '../../../calculators/body-size/height-from-knee-height.ts';
import { kneeLines, type Segment, stevenson, tibia } from '../../../calculators/body-size/height-from-segments.ts';
import { type PerInchLine, perInchLines, weightByLine } from '../../../calculators/body-size/ideal-body-weight.ts';
import type { Sex } from '../../../calculators/domain/age-and-sex.ts';
import { calculate, type RawInputs } from '../../../calculators/index.ts';
import type { CheckedQuantity } from '../quantity-adapter.ts';

const answerOf = (id: string, result: string, inputs: RawInputs): number | 'reject' => {
  const outcome = calculate(id, inputs);
  return outcome.ok ? (outcome.results[result]?.value ?? 'reject') : 'reject';
};

/** A group in the check file carries the sex in front, as 'maleWhite'. */
const unreadKnee = (set: string, group: string, age: number, kneeHeight: number): number | 'reject' => {
  const one = unreadLines.find((line) => line.set === set && `${line.sex}${line.group}` === group);
  if (!one) throw new Error(`No knee-height line "${set}" for "${group}"`);
  return age < one.ages[0] || age > one.ages[1] ? 'reject' : one.line.run({ kneeHeight, age });
};

const armSpanMethods: Record<string, string> = {
  'ratio-teaching-site': 'ratio-by-sex',
  'malaysia-adolescent': 'malaysia-adolescent',
};

export const bodySize: Record<string, CheckedQuantity> = {
  pbw: ({ sex, heightCm }) => answerOf('ideal-body-weight', 'idealWeight', { sex, height: heightCm }),
  ibw: ({ set, variant, sex, heightCm, heightIn }) => {
    const line = variant === undefined ? set : `${set}-${variant}`;
    if (!Object.hasOwn(perInchLines, line as string)) throw new Error(`No weight line "${line}"`);
    const inches = heightIn === undefined ? (heightCm as number) / 2.54 : (heightIn as number);
    return weightByLine(line as PerInchLine, sex as Sex, inches);
  },
  tidalVolume: ({ sex, heightCm, mLperKg }) =>
    answerOf('ideal-body-weight', 'ordered', { sex, height: heightCm, perKilogram: mLperKg }),
  bmi: ({ weightKg, heightCm }) => answerOf('body-mass-index', 'bodyMassIndex', { weight: weightKg, height: heightCm }),
  bsa: ({ weightKg, heightCm }) => answerOf('body-surface-area', 'surfaceArea', { weight: weightKg, height: heightCm }),
  'height.ulna': ({ set, sex, age, ulnaCm }) =>
    answerOf('height-from-ulna', 'height', {
      method: set === 'must-table' ? 'adult-line' : set,
      sex,
      age,
      ulna: ulnaCm,
    }),
  'height.knee': ({ set, group, sex, age, kneeHeightCm }) =>
    group === undefined
      ? answerOf('height-from-knee-height', 'height', { set, sex, age, kneeHeight: kneeHeightCm })
      : unreadKnee(set as string, group as string, age as number, kneeHeightCm as number),
  'height.armSpan': ({ set, sex, age, armSpanCm }) => {
    // The fixed ratio takes neither sex nor age, and its row gives none.
    if (set === 'fixed-ratio') return byRatio.run({ armSpan: armSpanCm as number, ratio: ratios.recalled });
    return answerOf('height-from-arm-span', 'height', {
      method: armSpanMethods[set as string] ?? (set as string),
      sex,
      age,
      armSpan: armSpanCm,
    });
  },
  'height.segment': ({ set, segment, cm, age, group }) => {
    // Rows without an age ask for the line alone.
    if (set === 'stevenson-1995')
      return age === undefined
        ? stevenson[segment as Segment].run({ segment: cm as number })
        : answerOf('height-from-segments', 'height', { age, segment, length: cm, set });
    if (Object.hasOwn(kneeLines, set as string))
      return answerOf('height-from-segments', 'height', { age, segment, length: cm, set });
    if (set !== 'tibia-cp-2015') throw new Error(`No segment line "${set}"`);
    return tibia[group === 'typicallyDeveloped' ? 'typical' : 'cerebralPalsy'].run({ segment: cm as number });
  },
};
