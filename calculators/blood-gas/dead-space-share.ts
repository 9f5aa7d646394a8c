/**
 * Share of each breath that exchanges nothing, from two CO2 readings (Bohr, in Enghoff's form).
 *
 *   VD/VT = (PaCO2 - PECO2) / PaCO2
 *
 * Expired air from dead space carries no CO2, so it thins what the alveoli send out. The more the mixed
 * expired CO2 falls below the arterial one, the more of the breath was wasted.
 *
 * @param mixedExpired  CO2 of all the air breathed out, mixed. NOT end-tidal, which is alveolar air and
 *                      would give a share that is far too small
 * @refuses a mixed expired CO2 that is not below the arterial one
 */
import { defineCalculator, formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import { mercury, paco2 } from './shared-fields.ts';

export const bohr = formula({
  result: 'deadSpaceShare',
  unit: '',
  text: '(paco2 - mixedExpired) / paco2',
  symbols: {
    paco2: { means: 'arterial CO2', unit: 'mmHg', range: [15, 150] },
    mixedExpired: { means: 'CO2 of the mixed expired air', unit: 'mmHg', range: [2, 80] },
  },
  run: ({ paco2, mixedExpired }) => (paco2 - mixedExpired) / paco2,
});

export default defineCalculator({
  id: 'dead-space-share',
  title: 'Dead space share of a breath (VD/VT)',
  purpose: 'Calculates dead space, the share of each breath that clears no CO2, from arterial and mixed expired CO2.',
  group: 'gas',
  keywords: ['VD/VT', 'Bohr', 'Enghoff', 'dead space', 'mixed expired CO2', 'PECO2'],
  fields: {
    paco2,
    mixedExpired: {
      kind: 'number',
      label: 'Mixed expired CO2',
      unit: 'mm[Hg]',
      accepts: ['kPa'],
      plausible: [12, 50],
      hard: [8, 100],
      help: 'Mixed expired CO2, which is not end-tidal CO2, is the CO2 of all the exhaled air mixed together.',
    },
  },
  formulas: { bohr },
  results: {
    share: {
      label: 'Share of the breath that is dead space',
      unit: '1',
      decimals: 2,
      plausible: [0.1, 0.85],
      main: true,
    },
  },
  holds: {
    population: 'steady breathing, with both readings taken at the same time',
    notFor: 'end-tidal CO2; leaking masks',
  },
  cautions: [
    'To measure mixed expired CO2, you must collect all the exhaled air. With a leak, a vented mask or an open circuit, mixed expired CO2 cannot be measured.',
  ],
  citations: [
    { cite: 'Bohr-Enghoff dead space', locator: 'standard physiology, from memory', standing: 'from-memory' },
    mercury,
  ],
  compute: ({ paco2, mixedExpired }, step) =>
    mixedExpired >= paco2
      ? refuse(
          'mixedExpired',
          'Mixed expired CO2 is below arterial CO2. Are the two values swapped, or in different units?',
        )
      : { results: { share: { value: step(bohr, { paco2, mixedExpired }) } } },
});
