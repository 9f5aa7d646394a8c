/**
 * Predicted peak expiratory flow, and the trap of the two meter scales.
 *
 *   Nunn and Gregg 1989, 15 to 85 years, Wright scale     ln PEF = a ln(age) - b age - k / height + c
 *   Hong Kong 2012, 6 to 19 years, EU scale               ln PEF = a ln(height) + b age + c
 *   child rule, 100 to 170 cm, Wright scale               PEF = 5 height - 400
 *   EU = 50.356 + 0.4 W + 0.0008814 W^2 - 1.116e-7 W^3    60 to 800 L/min on the Wright scale
 *
 * The same breath reads up to 80 L/min higher on an old Wright-scale meter than on a European-scale one, and
 * peak flow meters are what cough flow is measured with. A reading and a prediction on different scales are
 * therefore brought to the EU scale before they are compared, and a reading whose scale nobody noted is not
 * compared at all.
 *
 * @refuses  an age or a height outside the set chosen; heights are limited to 120 to 210 cm for adults (common practice)
 * @source   Hong Kong 2012: abstract read. Nunn and Gregg, the child rule and the conversion: from memory
 */
import { age, height, sex } from '../body-size/shared-fields.ts';
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { type Refusal, refuse } from '../outcome.ts';
import { show } from '../quantity.ts';

const years = { means: 'age', unit: 'year' } as const;
const cm = { means: 'height', unit: 'cm' } as const;

const nunnGreggMale = formula({
  result: 'predicted',
  unit: 'L/minute',
  text: 'exp(0.544 * log(age) - 0.0151 * age - 74.7 / height + 5.48)',
  withUnits: 'exp(0.544 * log(age / (1 year)) - 0.0151 * age / (1 year) - 74.7 cm / height + 5.48) * (1 L/minute)',
  symbols: { age: { ...years, range: [15, 85] }, height: { ...cm, range: [120, 210] } },
  run: ({ age, height }) => Math.exp(0.544 * Math.log(age) - 0.0151 * age - 74.7 / height + 5.48),
});

const nunnGreggFemale = formula({
  result: 'predicted',
  unit: 'L/minute',
  text: 'exp(0.376 * log(age) - 0.012 * age - 58.8 / height + 5.63)',
  withUnits: 'exp(0.376 * log(age / (1 year)) - 0.012 * age / (1 year) - 58.8 cm / height + 5.63) * (1 L/minute)',
  symbols: { age: { ...years, range: [15, 85] }, height: { ...cm, range: [120, 210] } },
  run: ({ age, height }) => Math.exp(0.376 * Math.log(age) - 0.012 * age - 58.8 / height + 5.63),
});

const hongKongMale = formula({
  result: 'predicted',
  unit: 'L/minute',
  text: 'exp(1.810256 * log(height) + 0.038297 * age - 3.734139)',
  withUnits: 'exp(1.810256 * log(height / (1 cm)) + 0.038297 * age / (1 year) - 3.734139) * (1 L/minute)',
  symbols: { age: { ...years, range: [6, 19] }, height: { ...cm, range: [100, 200] } },
  run: ({ age, height }) => Math.exp(1.810256 * Math.log(height) + 0.038297 * age - 3.734139),
});

const hongKongFemale = formula({
  result: 'predicted',
  unit: 'L/minute',
  text: 'exp(1.525509 * log(height) + 0.033275 * age - 2.368592)',
  withUnits: 'exp(1.525509 * log(height / (1 cm)) + 0.033275 * age / (1 year) - 2.368592) * (1 L/minute)',
  symbols: { age: { ...years, range: [6, 19] }, height: { ...cm, range: [100, 200] } },
  run: ({ age, height }) => Math.exp(1.525509 * Math.log(height) + 0.033275 * age - 2.368592),
});

const childRule = formula({
  result: 'predicted',
  unit: 'L/minute',
  text: '5 * height - 400',
  withUnits: '5 (L/minute)/cm * height - 400 L/minute',
  symbols: { height: { ...cm, range: [100, 170] } },
  run: ({ height }) => 5 * height - 400,
});

/** A Wright-scale flow on the EU scale. Valid from 60 to 800 L/min; `compute` refuses other flows. */
export const euFromWright = formula({
  result: 'eu',
  unit: 'L/minute',
  text: '50.356 + 0.4 * wright + 0.0008814 * wright^2 - 1.116e-7 * wright^3',
  withUnits: '50.356 L/minute + 0.4 * wright + 0.0008814 minute/L * wright^2 - 1.116e-7 minute^2/L^2 * wright^3',
  symbols: { wright: { means: 'flow on the Wright scale', unit: 'L/minute', range: [60, 800] } },
  run: ({ wright }) => 50.356 + 0.4 * wright + 0.0008814 * wright ** 2 - 1.116e-7 * wright ** 3,
});

const share = formula({
  result: 'percent',
  unit: '',
  text: '100 * measured / predicted',
  symbols: {
    measured: { means: 'peak expiratory flow blown', unit: 'L/minute', range: [20, 1200] },
    predicted: { means: 'peak expiratory flow predicted, same scale', unit: 'L/minute', range: [60, 800] },
  },
  run: ({ measured, predicted }) => (100 * measured) / predicted,
});

/** Ages in years, heights in cm. Heights of the first two and ages of the last are our own limits: no paper gave them. */
export const sets = {
  'nunn-gregg-1989': { scale: 'wright', ages: [15, 85], heights: [120, 210] },
  'hong-kong-2012-child': { scale: 'eu', ages: [6, 19], heights: [100, 200] },
  'child-height-rule': { scale: 'wright', ages: [5, 18], heights: [100, 170] },
} as const;
type PefSet = keyof typeof sets;

const wrightLimits = [60, 800] as const;

const citations: Citation[] = [
  {
    cite: 'A curvilinear nomogram of peak expiratory flow rate for the young. J Asthma 2013;50:39-44',
    locator: 'abstract: both equations; 798 males and 794 females, Chinese, 6 to 19 years, EU-scale meter',
    standing: 'checked',
  },
  {
    cite: 'Nunn AJ, Gregg I. BMJ 1989;298:1068-1070',
    locator: 'both equations; SD 48 (men) and 42 (women) L/min',
    standing: 'from-memory',
  },
  {
    cite: 'Conversion from the Wright to the EU scale (EN ISO 23747)',
    locator: 'polynomial, 60 to 800 L/min',
    standing: 'from-memory',
    note: 'By the conversion equation, the largest difference between the scales is about 56 L/min. A web page from an occupational-asthma centre gives a difference between the meter scales of up to 80 L/min, and says that both scales read the same near 650 L/min.',
  },
  { cite: 'Child height rule, 5 x height - 400', locator: 'bedside rule, 100 to 170 cm', standing: 'from-memory' },
];

export default defineCalculator({
  id: 'peak-expiratory-flow',
  title: 'Predicted peak expiratory flow, and the two meter scales',
  purpose:
    'Calculates the predicted peak expiratory flow, and converts readings between Wright-scale and EU-scale meters.',
  group: 'cough',
  keywords: ['PEF', 'peak flow', 'peak expiratory flow', 'Wright scale', 'EU scale', 'peak flow meter', 'predicted'],
  fields: {
    set: {
      kind: 'choice',
      label: 'Published set',
      options: [
        { value: 'nunn-gregg-1989', label: 'Nunn and Gregg 1989, 15 to 85 years (not yet checked)' },
        { value: 'hong-kong-2012-child', label: 'Hong Kong 2012, 6 to 19 years (checked)' },
        { value: 'child-height-rule', label: 'Child height rule, 5 to 18 years (not yet checked)' },
      ],
    },
    sex,
    age,
    height,
    measured: {
      kind: 'number',
      label: 'Peak expiratory flow blown',
      unit: 'L/min',
      accepts: ['L/s'],
      plausible: [50, 800],
      hard: [20, 1200],
      lowInclusive: false,
      optional: true,
    },
    meter: {
      kind: 'choice',
      label: 'Scale of the meter',
      options: [
        { value: 'eu', label: 'EU scale (EN ISO 23747)' },
        { value: 'wright', label: 'Wright scale (older)' },
      ],
      optional: true,
      help: 'The scale is printed on the meter. If you cannot find the scale, leave this field empty. If you do not enter the scale, the calculator gives no percentage of predicted.',
    },
  },
  formulas: { nunnGreggMale, nunnGreggFemale, hongKongMale, hongKongFemale, childRule, euFromWright, share },
  results: {
    predicted: {
      label: 'Predicted, on the scale of the set',
      unit: 'L/min',
      decimals: 0,
      plausible: [50, 800],
      main: true,
    },
    predictedEu: { label: 'Predicted, on the EU scale', unit: 'L/min', decimals: 0, plausible: [50, 800] },
    measuredEu: { label: 'Blown, on the EU scale', unit: 'L/min', decimals: 0, plausible: [0, 900] },
    percent: { label: 'Share of predicted, both on one scale', unit: '%', decimals: 0, plausible: [0, 200] },
  },
  holds: {
    population: 'healthy people like those in the chosen reference set',
    ages: '15 to 85, 6 to 19 or 5 to 18 years, depending on the reference set',
    notFor: 'judging a cough; judging breathing muscles; mixing meters in a series',
  },
  cautions: [
    'Peak expiratory flow is measured in a forced expiration, not a cough. Peak expiratory flow does not replace peak cough flow, and its percentage of predicted is not a criterion for support.',
    'Use one meter and one scale in a series, and write down which you used. The same effort can read up to 80 L/min higher or lower on one scale than on the other.',
  ],
  citations,
  compute: ({ set, sex, age, height, measured, meter }, step) => {
    const outside = outsideSet(set, age, height);
    if (outside) return outside;
    const { scale } = sets[set];
    const predicted =
      set === 'child-height-rule'
        ? step(childRule, { height })
        : set === 'nunn-gregg-1989'
          ? step(sex === 'male' ? nunnGreggMale : nunnGreggFemale, { age, height })
          : step(sex === 'male' ? hongKongMale : hongKongFemale, { age, height });
    const onEu = (flow: number, from: 'wright' | 'eu') => {
      if (from === 'eu') return flow;
      if (flow < wrightLimits[0] || flow > wrightLimits[1]) return undefined;
      return step(euFromWright, { wright: flow });
    };
    const predictedEu = onEu(predicted, scale);
    const shared =
      measured === undefined ? undefined : onOneScale(measured, meter, predicted, predictedEu, scale, onEu);
    return {
      results: {
        predicted: { value: predicted },
        ...(predictedEu === undefined ? {} : { predictedEu: { value: predictedEu } }),
        ...(shared?.measuredEu === undefined ? {} : { measuredEu: { value: shared.measuredEu } }),
        ...(shared?.pair === undefined ? {} : { percent: { value: step(share, shared.pair) } }),
      },
      cautions: [
        ...(set === 'hong-kong-2012-child'
          ? ['The set comes from Chinese children and adolescents in Hong Kong.']
          : ['This set is not yet checked: read the source before relying on it.']),
        ...(scale === 'wright' || meter === 'wright' ? ['The conversion between the scales is not yet checked.'] : []),
        ...(shared?.caution === undefined ? [] : [shared.caution]),
      ],
    };
  },
});

function outsideSet(set: PefSet, age: number, height: number): Refusal | undefined {
  const { ages, heights } = sets[set];
  if (age < ages[0] || age > ages[1])
    return refuse('age', `This set was made for ${ages[0]} to ${ages[1]} years. ${show(age, 'a', 1)} is outside it`);
  if (height < heights[0] || height > heights[1])
    return refuse(
      'height',
      `This set holds from ${heights[0]} to ${heights[1]} cm. ${show(height, 'cm', 0)} is outside it`,
    );
  return undefined;
}

interface OneScale {
  measuredEu?: number | undefined;
  pair?: { measured: number; predicted: number };
  caution?: string;
}

/** The reading and the prediction on one scale, or the reason why they cannot be put there. */
function onOneScale(
  measured: number,
  meter: 'wright' | 'eu' | undefined,
  predicted: number,
  predictedEu: number | undefined,
  scale: 'wright' | 'eu',
  onEu: (flow: number, from: 'wright' | 'eu') => number | undefined,
): OneScale {
  if (meter === undefined)
    return { caution: 'The scale of the meter is not known, so no percentage of predicted is calculated.' };
  if (meter === scale) return { pair: { measured, predicted } };
  const measuredEu = onEu(measured, meter);
  if (measuredEu === undefined || predictedEu === undefined)
    return {
      caution:
        'The conversion holds from 60 to 800 L/min on the Wright scale. Outside this range, no percentage of predicted is calculated.',
    };
  return { measuredEu, pair: { measured: measuredEu, predicted: predictedEu } };
}
