/**
 * How much air moves in a minute, and how much of it reaches the alveoli.
 *
 *   minute = breath x rate
 *   alveolar = (breath - dead space) x rate
 *
 * The first part of every breath only fills the airways. A breath of 500 mL loses a third of itself
 * that way, one of 200 mL loses most. Fast shallow breathing can move the usual volume in a minute and
 * clear hardly any CO2: look at the breath, not only at the minute.
 *
 * @param breath   mL, the expired volume; a ventilator's figure is an estimate when the mask leaks
 * @param deadSpace  mL, typed, or 2.2 mL for each kg of ideal weight
 * @returns L/min. No alveolar figure when the dead space is as large as the breath: the rule ends there
 */
import { defineCalculator, formula } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';
import { show } from '../quantity.ts';
import { breathRate, breathVolume } from './shared-fields.ts';

const breath = { means: 'one breath', unit: 'mL', range: [30, 3000] } as const;
const rate = { means: 'breaths a minute', unit: '1/min', range: [2, 80] } as const;
const space = { means: 'dead space', unit: 'mL', range: [20, 500] } as const;

export const minute = formula({
  result: 'minuteVentilation',
  unit: 'L/min',
  text: 'breath * rate / 1000',
  withUnits: 'breath * rate',
  symbols: { breath, rate },
  run: ({ breath, rate }) => (breath * rate) / 1000,
});

export const alveolar = formula({
  result: 'alveolarVentilation',
  unit: 'L/min',
  text: '(breath - deadSpace) * rate / 1000',
  withUnits: '(breath - deadSpace) * rate',
  symbols: { breath, deadSpace: space, rate },
  run: ({ breath, deadSpace, rate }) => ((breath - deadSpace) * rate) / 1000,
});

const spaceFromWeight = formula({
  result: 'deadSpace',
  unit: 'mL',
  text: '2.2 * idealWeight',
  withUnits: '2.2 mL/kg * idealWeight',
  symbols: { idealWeight: { means: 'ideal body weight', unit: 'kg', range: [5, 120] } },
  run: ({ idealWeight }) => 2.2 * idealWeight,
});

const lost = formula({
  result: 'shareLost',
  unit: '',
  text: '100 * deadSpace / breath',
  symbols: { deadSpace: space, breath },
  run: ({ deadSpace, breath }) => (100 * deadSpace) / breath,
});

export default defineCalculator({
  id: 'minute-ventilation',
  title: 'Minute and alveolar ventilation',
  purpose:
    'Shows alveolar ventilation: how much of the air breathed in a minute reaches the alveoli and can clear CO2.',
  group: 'gas',
  keywords: [
    'minute ventilation',
    'minute volume',
    'VE',
    'alveolar ventilation',
    'dead space',
    'Vt',
    'shallow breathing',
  ],
  fields: {
    breath: breathVolume,
    rate: breathRate,
    deadSpace: {
      kind: 'number',
      label: 'Dead space',
      unit: 'mL',
      plausible: [60, 300],
      hard: [10, 800],
      optional: true,
      help: 'Enter the dead space if it was measured. If the dead space was not measured, enter the ideal weight in the next field.',
    },
    idealWeight: {
      kind: 'number',
      label: 'Ideal body weight',
      unit: 'kg',
      accepts: ['[lb_av]'],
      plausible: [15, 100],
      hard: [5, 130],
      optional: true,
      help: 'The ideal weight is used to estimate dead space by the rule of 2.2 mL per kilogram (this rule is not yet checked). Do not enter the actual weight.',
    },
  },
  formulas: { minute, spaceFromWeight, alveolar, lost },
  results: {
    minute: { label: 'Minute ventilation', unit: 'L/min', decimals: 1, plausible: [1, 25], main: true },
    alveolar: { label: 'Alveolar ventilation', unit: 'L/min', decimals: 1, plausible: [0.5, 20], main: true },
    deadSpace: { label: 'Dead space used', unit: 'mL', decimals: 0, plausible: [10, 500] },
    lost: { label: 'Share of each breath lost to dead space', unit: '%', decimals: 0, plausible: [4, 80] },
  },
  holds: {
    population: 'anyone whose tidal volume and breathing rate are known',
    notFor: 'setting a ventilator; volumes read through a leaking mask or mouthpiece',
  },
  cautions: [
    'Masks, tubing and lung disease add dead space that is not counted here. True alveolar ventilation is therefore no higher than the figure shown.',
    'Two people with the same minute ventilation can have very different CO2 levels. Measure the CO2.',
  ],
  citations: [
    { cite: 'Minute and alveolar ventilation', locator: 'definitions', standing: 'common-practice' },
    {
      cite: 'Dead space of 2.2 mL for each kg of ideal weight (1 mL a pound)',
      locator: 'textbook rule, from memory',
      standing: 'from-memory',
    },
    {
      cite: 'Brewer LM, Orr JA. Anatomic dead space cannot be predicted by body weight',
      locator: 'abstract: in 58 patients the rule was correct on average but unreliable for an individual',
      standing: 'checked',
    },
    {
      cite: 'Nunn JF, Hill DW. J Appl Physiol 1960;15:383-389 (volume and pages not yet checked)',
      locator:
        'abstract: under anaesthesia, in breaths smaller than 350 mL, the anatomical dead space shrank in proportion to the breath',
      standing: 'checked',
    },
  ],
  compute: ({ breath, rate, deadSpace, idealWeight }, step) => {
    const results = { minute: { value: step(minute, { breath, rate }) } };
    const space = deadSpace ?? (idealWeight === undefined ? undefined : step(spaceFromWeight, { idealWeight }));
    if (space === undefined)
      return {
        results,
        cautions: ['Without a dead space or an ideal weight, alveolar ventilation cannot be calculated.'],
      };
    const cautions =
      deadSpace === undefined
        ? [
            'The 2.2 mL a kilogram is correct on average but unreliable for an individual. Dead space also shrinks with breaths under about 350\u00a0mL.',
          ]
        : [];
    if (space >= breath)
      return {
        results: { ...results, deadSpace: { value: space } },
        cautions: [
          'By this rule the whole breath is dead space, so alveolar ventilation cannot be calculated. A breath this small clears very little CO2: measure the CO2, and act on how the person looks.',
          ...cautions,
        ],
      };
    return {
      results: {
        ...results,
        alveolar: { value: step(alveolar, { breath, deadSpace: space, rate }) },
        deadSpace: { value: space },
        lost: { value: step(lost, { deadSpace: space, breath }) },
      },
      cautions,
      tables: [sameMinute(results.minute.value, space)],
    };
  },
});

/** The teaching table: the same litres a minute in deeper or shallower breaths. */
function sameMinute(minuteLitres: number, deadSpace: number): ResultTable {
  return {
    caption: `The same ${show(minuteLitres, 'L/min', 1)} with other tidal volumes`,
    columns: ['Rate', 'Breath', 'Alveolar ventilation'],
    rows: [8, 12, 16, 20, 30, 40].map((rate) => {
      const breath = (minuteLitres * 1000) / rate;
      return {
        label: show(rate, '/min', 0),
        cells: [
          show(breath, 'mL', 0),
          breath > deadSpace
            ? show(alveolar.run({ breath, deadSpace, rate }), 'L/min', 1)
            : 'cannot tell: all dead space',
        ],
      };
    }),
  };
}
