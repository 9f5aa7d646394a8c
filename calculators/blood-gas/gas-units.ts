/**
 * A gas pressure in kilopascals and in millimetres of mercury.
 *
 *   mmHg = kPa x 1000 / 133.322387415
 *
 * Two laboratories print the same gas in two units, about 7.5 apart. 6 and 45 are the same CO2;
 * 6.5 read as mmHg, or 45 as kPa, is not a gas at all.
 *
 * @returns both, unrounded. A threshold stays in the unit that its source printed: 6.0 kPa is 45.0037 mmHg,
 *          so a reading of exactly 45 mmHg is just below 6.0 kPa
 */
import { defineCalculator, formula } from '../calculator.ts';
import { mercury } from './shared-fields.ts';

const toMercury = formula({
  result: 'mmHg',
  unit: 'mmHg',
  text: 'pressure * 1000 / 133.322387415',
  withUnits: 'pressure * (1000 / 133.322387415) mmHg/kPa',
  symbols: { pressure: { means: 'pressure', unit: 'kPa', range: [0.5, 100] } },
  run: ({ pressure }) => (pressure * 1000) / 133.322387415,
});

export default defineCalculator({
  id: 'gas-units',
  title: 'Gas pressure: kPa and mmHg',
  purpose: 'Converts a blood-gas pressure between kPa and mmHg.',
  group: 'gas',
  keywords: ['kPa', 'mmHg', 'torr', 'PaCO2', 'PaO2', 'PCO2', 'convert', 'blood gas', 'ABG', 'units'],
  fields: {
    pressure: {
      kind: 'number',
      label: 'Pressure',
      unit: 'kPa',
      accepts: ['mm[Hg]'],
      plausible: [2, 90],
      hard: [0.1, 110],
      help: 'Choose the unit printed on the blood gas result, then type the number.',
    },
  },
  formulas: { toMercury },
  results: {
    kPa: { label: 'In kilopascals', unit: 'kPa', decimals: 2, plausible: [1, 95], main: true },
    mmHg: { label: 'In millimetres of mercury', unit: 'mm[Hg]', decimals: 1, plausible: [10, 710], main: true },
  },
  holds: { population: 'any gas pressure' },
  cautions: [
    'Compare a reading with a threshold in the unit that its source used: 6.0\u00a0kPa is slightly more than 45\u00a0mmHg.',
  ],
  citations: [mercury],
  compute: ({ pressure }, step) => ({
    results: { kPa: { value: pressure }, mmHg: { value: step(toMercury, { pressure }) } },
    cautions:
      pressure > 20
        ? [
            'Only a PaO2 taken on oxygen is this high. If this is a CO2, or a blood gas on room air, the unit chosen is wrong.',
          ]
        : [],
  }),
});
