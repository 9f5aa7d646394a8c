/**
 * What breath stacking or an assisted insufflation adds to a person's own deepest breath.
 *
 *   gain = maximum insufflation capacity - vital capacity
 *
 * A cough is only as big as the breath before it. The gain says how much more air can be got in and held than the
 * muscles manage alone, and a large one means that the throat closes well: holding a stack takes good glottic control.
 * It is the reading by which lung volume recruitment is taught and followed.
 *
 * @source  definition, from memory; the trial figure from Sheers 2023 (abstract read)
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { insufflationCapacity, vitalCapacity } from './shared-fields.ts';

const symbols = {
  insufflationCapacity: { means: 'maximum insufflation capacity', unit: 'L', range: [0.2, 8] },
  vitalCapacity: { means: 'vital capacity', unit: 'L', range: [0.2, 8] },
} as const;

const gain = formula({
  result: 'gain',
  unit: 'L',
  text: 'insufflationCapacity - vitalCapacity',
  symbols,
  run: ({ insufflationCapacity, vitalCapacity }) => insufflationCapacity - vitalCapacity,
});

const gainShare = formula({
  result: 'gainShare',
  unit: '',
  text: '(insufflationCapacity - vitalCapacity) / vitalCapacity * 100',
  symbols,
  run: ({ insufflationCapacity, vitalCapacity }) => ((insufflationCapacity - vitalCapacity) / vitalCapacity) * 100,
});

const citations: Citation[] = [
  {
    cite: 'Maximum insufflation capacity and its difference from vital capacity',
    locator: 'definition; a large difference means good glottic control',
    standing: 'from-memory',
  },
  {
    cite: 'Sheers N, et al., randomised trial of lung volume recruitment, 2023',
    locator:
      'abstract: in 76 people, after 3 months of twice-daily lung volume recruitment, insufflation capacity rose by 0.19 L more than with breathing exercises, and vital capacity did not change',
    standing: 'checked',
  },
  { cite: 'When breath stacking is unsafe', locator: 'as is commonly taught', standing: 'from-memory' },
];

export default defineCalculator({
  id: 'insufflation-gain',
  title: 'Gain from breath stacking',
  purpose: 'Calculates the volume that breath stacking or an assisted insufflation adds to the vital capacity.',
  group: 'vital-capacity',
  keywords: [
    'MIC',
    'maximum insufflation capacity',
    'lung insufflation capacity',
    'LVR',
    'lung volume recruitment',
    'breath stacking',
    'air stacking',
    'glottic control',
  ],
  fields: { insufflationCapacity, vitalCapacity },
  formulas: { gain, gainShare },
  results: {
    gain: { label: 'Gain (MIC \u2212 VC)', unit: 'L', decimals: 2, plausible: [-1, 5], main: true },
    gainShare: { label: 'Gain as a share of vital capacity', unit: '%', decimals: 0, plausible: [-50, 1000] },
  },
  holds: {
    population: 'people who stack breaths, or who are given an assisted insufflation',
    posture: 'both readings in the same posture and the same session',
  },
  cautions: [
    'A small gain can mean a leak at the mask or lips, a throat that does not close, or stacking that was too gentle. Find the cause of a small gain before you conclude anything.',
    'The gain from breath stacking increases when the technique is taught. Expect breath stacking to get better with teaching; do not expect a larger vital capacity.',
    'Stop breath stacking if there is chest pain, light-headedness or sudden breathlessness. If the person has known bullae, a recent pneumothorax or bleeding, ask the prescriber first.',
    'The result is a finding, not a decision. The prescriber and local policy decide who stacks breaths, how often and how deeply.',
  ],
  citations,
  compute: ({ insufflationCapacity, vitalCapacity }, step) => ({
    results: {
      gain: { value: step(gain, { insufflationCapacity, vitalCapacity }) },
      gainShare: { value: step(gainShare, { insufflationCapacity, vitalCapacity }) },
    },
    cautions:
      insufflationCapacity < vitalCapacity
        ? [
            'The held volume is smaller than the vital capacity, so air was lost through a leak or an open throat. Repeat the test.',
          ]
        : [],
  }),
});
