/**
 * Saturation that goes with an oxygen tension on the standard curve.
 *
 *   S = 100 / (1 + 23400 / (P^3 + 150 P))          per cent; P in mmHg, pH 7.40, 37 degrees
 *
 * The curve is why a falling tension goes unseen at first: from 100 down to 60 mmHg the saturation loses seven
 * points, and from 60 to 40 it loses sixteen. It is a curve of average blood under standard conditions, and says
 * nothing about carbon dioxide.
 *
 * @source  Severinghaus 1979, equation 1, abstract read: within 0.55 points of the standard curve
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { before, hypoventilation } from './before.ts';

export const severinghaus = formula({
  result: 'saturation',
  unit: '',
  text: '100 / (1 + 23400 / (po2^3 + 150 * po2))',
  withUnits: '100 / (1 + 23400 mmHg^3 / (po2^3 + 150 mmHg^2 * po2))',
  symbols: { po2: { means: 'oxygen tension', unit: 'mmHg', range: [16, 500] } },
  run: ({ po2 }) => 100 / (1 + 23400 / (po2 ** 3 + 150 * po2)),
});

const citations: Citation[] = [
  ...hypoventilation,
  {
    cite: 'Severinghaus JW. J Appl Physiol 1979;46:599-602',
    locator: 'abstract, equation 1; fits the standard curve within 0.0055 of saturation',
    standing: 'checked',
  },
];

/** Between 16 mmHg (2.1 kPa) and 500: no figure in kPa is taken for one in mmHg. */
export const po2 = {
  kind: 'number',
  label: 'Oxygen tension (PaO2)',
  unit: 'mm[Hg]',
  accepts: ['kPa'],
  plausible: [30, 150],
  hard: [16, 500],
} as const;

export default defineCalculator({
  id: 'saturation-from-po2',
  title: 'Saturation from oxygen tension',
  purpose: 'Calculates the saturation for an oxygen tension (PaO2) from the standard oxygen dissociation curve.',
  group: 'oxygen',
  keywords: ['oxygen dissociation curve', 'PaO2', 'PO2', 'SaO2', 'saturation', 'Severinghaus'],
  fields: {
    po2: {
      ...po2,
      help: 'Enter an arterial oxygen tension with its unit. Record whether the person was on air or oxygen.',
    },
  },
  formulas: { severinghaus },
  results: {
    saturation: { label: 'Saturation on the standard curve', unit: '%', decimals: 1, plausible: [20, 100], main: true },
  },
  holds: {
    population: 'adult blood at pH 7.40 and 37 degrees with normal haemoglobin',
    notFor: 'replacing a measured saturation; carbon monoxide poisoning; newborns; acidosis or fever',
  },
  before,
  cautions: [
    'Trust a measured saturation more than this calculated saturation. Acidosis, fever and raised carbon dioxide shift the oxygen dissociation curve to the right, so the true saturation is lower than the calculated one.',
    'An oxygen tension or saturation measured on oxygen is not a room-air reading, and neither of them shows carbon dioxide.',
  ],
  citations,
  compute: ({ po2 }, step) => ({ results: { saturation: { value: step(severinghaus, { po2 }) } } }),
});
