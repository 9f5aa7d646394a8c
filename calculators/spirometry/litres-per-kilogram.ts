/**
 * Vital capacity for each kilogram of body weight.
 *
 *   perKilogram = 1000 x vital capacity / weight       mL/kg, from litres and kilograms
 *
 * The figure belongs to acute weakness (Guillain-Barre syndrome, a myasthenic crisis), where it is followed hour by
 * hour. Actual and ideal weight give a heavy person two different figures, so the weight is named with the result.
 *
 * @source  definition; the 20 mL/kg and the fall of more than 30 % from Lawn 2001 (abstract read), the weight it
 *          was divided by is not stated in what was read
 */
import { weight } from '../body-size/shared-fields.ts';
import { type ChoiceField, type Citation, defineCalculator, formula } from '../calculator.ts';
import { show } from '../quantity.ts';
import { vitalCapacity } from './shared-fields.ts';

const perKilogram = formula({
  result: 'perKilogram',
  unit: 'mL/kg',
  text: '1000 * vitalCapacity / weight',
  withUnits: '1000 mL/L * vitalCapacity / weight',
  symbols: {
    vitalCapacity: { means: 'vital capacity', unit: 'L', range: [0.2, 8] },
    weight: { means: 'body weight', unit: 'kg', range: [10, 200] },
  },
  run: ({ vitalCapacity, weight }) => (1000 * vitalCapacity) / weight,
});

const weightKind = {
  kind: 'choice',
  label: 'Which weight this is',
  options: [
    { value: 'actual', label: 'Actual weight' },
    { value: 'ideal', label: 'Ideal (predicted) weight' },
  ],
  help: 'Use the same kind of weight each time, actual or ideal, and write down which one next to the result.',
} as const satisfies ChoiceField;

const citations: Citation[] = [
  { cite: 'Definition', locator: 'volume divided by weight', standing: 'checked' },
  {
    cite: 'Lawn ND, et al. Arch Neurol 2001;58:893',
    locator:
      'abstract: a vital capacity below 20 mL/kg, or a fall of more than 30 %, was associated with the need for ventilation in Guillain-Barr\u00e9 syndrome',
    standing: 'checked',
    note: 'The abstract does not say which weight the volume was divided by.',
  },
  {
    cite: 'Rieder P, et al. Intensive Care Med 1995;21:663',
    locator: 'abstract: in myasthenia repeated vital capacity did not predict who needed ventilation',
    standing: 'checked',
  },
];

export default defineCalculator({
  id: 'litres-per-kilogram',
  title: 'Vital capacity per kilogram',
  purpose: 'Calculates the vital capacity in millilitres per kilogram of the body weight that you choose.',
  group: 'vital-capacity',
  keywords: [
    'mL/kg',
    'VC per kg',
    'vital capacity per kilogram',
    'Guillain-Barr\u00e9',
    'GBS',
    'myasthenia',
    '20/30/40',
  ],
  fields: { vitalCapacity, weight, weightKind },
  formulas: { perKilogram },
  results: {
    perKilogram: {
      label: 'Vital capacity per kilogram',
      unit: 'mL/kg',
      decimals: 1,
      plausible: [0, 110],
      main: true,
      measure: 'vc-per-kilogram',
    },
  },
  holds: {
    population: 'adults in hospital with acute neuromuscular weakness; the thresholds in mL/kg are for these people',
    notFor: 'slowly progressive disease followed in clinic, where per cent of predicted is used',
  },
  before: [
    'If weakness is new or getting worse fast, with trouble breathing, speaking or swallowing, get urgent help now, whatever the vital capacity is.',
  ],
  cautions: [
    'A vital capacity above a threshold does not mean that the person is safe. In Guillain-Barr\u00e9 syndrome, a fall in vital capacity of more than 30 % meets an emergency criterion, and so does a value below 20 mL/kg.',
    'In myasthenia, repeated vital capacity did not predict who needed ventilation, so a value above the thresholds is not reassuring.',
    'Weak lips leak. If air leaks at the corner of the mouth, the reading is too low. A mask may be needed instead of a mouthpiece.',
    'The result is a finding, not a decision. The treating team decides.',
  ],
  citations,
  compute: ({ vitalCapacity, weight, weightKind }, step) => ({
    results: { perKilogram: { value: step(perKilogram, { vitalCapacity, weight }) } },
    cautions: [
      weightKind === 'actual'
        ? `This is per kilogram of actual weight, ${show(weight, 'kg', 1)}. In a heavy person, this figure is smaller than the figure per kilogram of ideal weight.`
        : `This is per kilogram of ideal weight, ${show(weight, 'kg', 1)}. In a heavy person, this figure is larger than the figure per kilogram of actual weight.`,
    ],
  }),
});
