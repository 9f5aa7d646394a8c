/**
 * What a change in ventilation does to CO2, once it has settled.
 *
 *   PaCO2 new = PaCO2 now x alveolar ventilation now / alveolar ventilation new
 *   PaCO2     = 0.863 x CO2 output / alveolar ventilation
 *
 * CO2 and alveolar ventilation are a see-saw: half the ventilation, twice the CO2. That is why a weak
 * person who loses a little more has a large rise, and why a small gain in the night can be enough.
 *
 * 0.863 is no fitted number: 760 mmHg x 310.15 K / 273.15 K = 862.9, over 1000 because output is in
 * mL/min at 0 C, dry, and ventilation in L/min at body temperature.
 *
 * @refuses nothing inside the field limits, but answers only for a steady state and the same CO2 output
 */
import { defineCalculator, formula } from '../calculator.ts';
import { mercury, paco2 } from './shared-fields.ts';

const ventilation = { unit: 'L/min', range: [0.5, 20] } as const;
const ventilationField = {
  kind: 'number',
  unit: 'L/min',
  accepts: ['mL/min'],
  plausible: [1.5, 10],
  hard: [0.3, 40],
} as const;

export const scaled = formula({
  result: 'PaCO2',
  unit: 'mmHg',
  text: 'paco2 * ventilationNow / ventilationNew',
  symbols: {
    paco2: { means: 'arterial CO2 now', unit: 'mmHg', range: [15, 150] },
    ventilationNow: { means: 'alveolar ventilation now', ...ventilation },
    ventilationNew: { means: 'alveolar ventilation after the change', ...ventilation },
  },
  run: ({ paco2, ventilationNow, ventilationNew }) => (paco2 * ventilationNow) / ventilationNew,
});

export const fromOutput = formula({
  result: 'PaCO2',
  unit: 'mmHg',
  text: '0.863 * co2Output / ventilation',
  withUnits: '0.863 mmHg L/mL * co2Output / ventilation',
  symbols: {
    co2Output: { means: 'CO2 output at 0 C, dry', unit: 'mL/min', range: [50, 800] },
    ventilation: { means: 'alveolar ventilation at body temperature', ...ventilation },
  },
  run: ({ co2Output, ventilation }) => (0.863 * co2Output) / ventilation,
});

export default defineCalculator({
  id: 'co2-and-ventilation',
  title: 'CO2 and alveolar ventilation',
  purpose: 'Shows the PaCO2 that a person would settle at if only alveolar ventilation changed.',
  group: 'gas',
  keywords: ['PaCO2', 'hypoventilation', 'alveolar ventilation', 'VCO2', 'CO2 output', '0.863', 'hyperbola'],
  fields: {
    paco2: { ...paco2, label: 'PaCO2 now' },
    ventilationNow: {
      ...ventilationField,
      label: 'Alveolar ventilation now',
      help: 'Take alveolar ventilation from the page on minute and alveolar ventilation.',
    },
    ventilationNew: { ...ventilationField, label: 'Alveolar ventilation after the change' },
    co2Output: {
      kind: 'number',
      label: 'CO2 output',
      unit: 'mL/min',
      plausible: [100, 400],
      hard: [30, 1500],
      optional: true,
      help: 'Enter CO2 output if it was measured. If you enter CO2 output, the answer also gives a PaCO2 calculated from CO2 output and the new ventilation.',
    },
  },
  formulas: { scaled, fromOutput },
  results: {
    paco2: { label: 'PaCO2 once settled', unit: 'mm[Hg]', decimals: 0, plausible: [10, 150], main: true },
    fromOutput: { label: 'PaCO2 from the CO2 output', unit: 'mm[Hg]', decimals: 0, plausible: [10, 150] },
  },
  holds: { population: 'a steady state with a constant CO2 output', notFor: 'choosing a ventilator setting' },
  cautions: [
    'This calculation explains a change in CO2. Do not use this calculation to choose a ventilator setting. The prescriber chooses the settings and judges them by a measured CO2.',
    'CO2 output changes too. Fever, a chest infection, laboured breathing and a large feed raise CO2 output; rest on a ventilator lowers it.',
    'You may use minute ventilation instead of alveolar ventilation only if the dead-space fraction stays the same. The dead-space fraction does not stay the same when breaths get smaller.',
  ],
  citations: [
    {
      cite: 'Alveolar ventilation equation: Brown AC, lecture notes on alveolar gas exchange, quantitative relations',
      locator: 'section B: fraction of CO2 = CO2 output / alveolar ventilation',
      standing: 'checked',
      note: 'The constant 0.863 follows from the gas laws: 760 x 310.15 / 273.15 / 1000. The usual assumption is that arterial CO2 equals alveolar CO2.',
    },
    mercury,
  ],
  compute: ({ paco2, ventilationNow, ventilationNew, co2Output }, step) => ({
    results: {
      paco2: { value: step(scaled, { paco2, ventilationNow, ventilationNew }) },
      ...(co2Output === undefined
        ? {}
        : { fromOutput: { value: step(fromOutput, { co2Output, ventilation: ventilationNew }) } }),
    },
  }),
});
