/**
 * One pressure in the three units that meters show, and what happens when the unit is mistaken.
 *
 *   kPa  = cmH2O x 98.0665 / 1000
 *   mmHg = cmH2O x 98.0665 / 133.322
 *
 * A sniff of 6 kPa is 61 cmH2O. Written down as 6 cmH2O it is ten times too small and looks like an
 * emergency; a threshold of 40 cmH2O typed as 40 kPa hides one. The millimetre of mercury is closer, 1.36
 * times, and so the slip is harder to see.
 *
 * @param pressure  cmH2O, kPa or mmHg; the sign is dropped
 * @returns the same pressure in all three units, unrounded
 * @source  definitions: 1 cmH2O = 98.0665 Pa, 1 mmHg = 133.322387415 Pa (UCUM)
 */
import { defineCalculator, formula } from '../calculator.ts';
import { show, showNumber } from '../quantity.ts';
import { measured } from './predicted-pressure.ts';

const pressureSymbol = {
  pressure: { means: 'pressure, as a magnitude', unit: 'cmH2O', range: [0, 400] },
} as const;

export const inKPa = formula({
  result: 'kilopascals',
  unit: 'kPa',
  text: 'pressure * 98.0665 / 1000',
  withUnits: 'pressure * (98.0665 / 1000) * (1 kPa / (1 cmH2O))',
  symbols: pressureSymbol,
  run: ({ pressure }) => (pressure * 98.0665) / 1000,
});

const inMmHg = formula({
  result: 'millimetresOfMercury',
  unit: 'mmHg',
  text: 'pressure * 98.0665 / 133.322387415',
  // mathjs rounds the millimetre of mercury to 133.322 Pa, so the ratio is written out here.
  withUnits: 'pressure * (98.0665 / 133.322387415) * (1 mmHg / (1 cmH2O))',
  symbols: pressureSymbol,
  run: ({ pressure }) => (pressure * 98.0665) / 133.322387415,
});

export default defineCalculator({
  id: 'pressure-units',
  title: 'Pressure units: cmH2O, kPa, mmHg',
  purpose: 'Converts one pressure to all three units, and shows the error that a mistaken unit would cause.',
  group: 'strength',
  keywords: ['cmH2O', 'kPa', 'mmHg', 'unit', 'convert', 'conversion', 'MIP', 'SNIP', 'mouth pressure'],
  fields: {
    pressure: {
      ...measured,
      label: 'Pressure',
      plausible: [5, 300],
      help: 'Choose the unit that the meter shows. A minus sign is ignored: -35 and 35 are the same.',
    },
  },
  formulas: { inKPa, inMmHg },
  results: {
    centimetresOfWater: { label: 'In cmH2O', unit: 'cm[H2O]', decimals: 1, plausible: [0, 350], main: true },
    kilopascals: { label: 'In kPa', unit: 'kPa', decimals: 2, plausible: [0, 35] },
    millimetresOfMercury: { label: 'In mmHg', unit: 'mm[Hg]', decimals: 1, plausible: [0, 260] },
  },
  holds: { population: 'any pressure from 0 to 400 cmH2O', notFor: 'blood gases, which are compared in kPa or mmHg' },
  cautions: [
    'A pressure in kPa read as cmH2O is ten times too small. Read the unit on the meter; do not assume it.',
    'Thresholds for MIP, MEP and SNIP are in cmH2O unless the source says kPa.',
  ],
  citations: [
    {
      cite: 'UCUM, the Unified Code for Units of Measure',
      locator: 'essence file: m[H2O] and m[Hg]',
      standing: 'checked',
    },
  ],
  compute: ({ pressure }, step) => {
    const kilopascals = step(inKPa, { pressure });
    const millimetres = step(inMmHg, { pressure });
    const taken = (figure: number, as: 'cm[H2O]' | 'kPa', times: string) => [show(figure, as, 1), times];
    return {
      results: {
        centimetresOfWater: { value: pressure },
        kilopascals: { value: kilopascals },
        millimetresOfMercury: { value: millimetres },
      },
      tables: [
        {
          caption: 'What this pressure would become with a mistaken unit',
          columns: ['Slip', 'Written down as', 'Which is'],
          rows: [
            {
              label: `${showNumber(kilopascals, 1)} on a kPa meter, mistaken for cmH2O`,
              cells: taken(kilopascals, 'cm[H2O]', '10.2 times too small'),
            },
            {
              label: `${showNumber(millimetres, 1)} on a mmHg meter, mistaken for cmH2O`,
              cells: taken(millimetres, 'cm[H2O]', '1.36 times too small'),
            },
            {
              label: `${showNumber(pressure, 1)} on a cmH2O meter, mistaken for kPa`,
              cells: taken(pressure, 'kPa', '10.2 times too large'),
            },
          ],
        },
      ],
    };
  },
});
