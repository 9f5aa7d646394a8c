/**
 * Rapid shallow breathing index: breaths a minute for each litre of breath.
 *
 *   index = rate / breath (L)
 *
 * It was made in intensive care, to see who would manage without the ventilator after acute illness.
 * It is shown here because the number travels on discharge papers. It is not a threshold for anyone at home:
 * no neuromuscular guideline uses it, and a weak person can keep a calm-looking index until they tire.
 */
import { defineCalculator, formula } from '../calculator.ts';
import { breathRate, breathVolume } from './shared-fields.ts';

export const index = formula({
  result: 'index',
  unit: 'min^-1 L^-1',
  text: 'rate / (breath / 1000)',
  withUnits: 'rate / breath',
  symbols: {
    rate: { means: 'breaths a minute', unit: '1/min', range: [2, 80] },
    breath: { means: 'one breath', unit: 'mL', range: [30, 3000] },
  },
  run: ({ rate, breath }) => rate / (breath / 1000),
});

export default defineCalculator({
  id: 'rapid-shallow-index',
  title: 'Rapid shallow breathing index',
  purpose:
    'Explains the rapid shallow breathing index, a weaning index from intensive care that may appear on discharge papers.',
  group: 'gas',
  keywords: ['RSBI', 'f/Vt', 'rapid shallow breathing', 'weaning', 'extubation'],
  fields: { rate: breathRate, breath: breathVolume },
  formulas: { index },
  results: {
    index: { label: 'Breaths a minute for each litre', unit: '/min/L', decimals: 0, plausible: [5, 400], main: true },
  },
  holds: {
    population: 'adults in intensive care who are breathing without support during a trial off the ventilator',
    notFor: 'people at home with neuromuscular disease; breaths measured on ventilation; children',
  },
  before: [
    'The rapid shallow breathing index is a weaning index from intensive care. The index is not a criterion for starting or stopping support at home.',
  ],
  cautions: [
    'We show no threshold for the rapid shallow breathing index, on purpose. A low index does not mean that a person with weak muscles can breathe without support.',
    'If fast, shallow breathing is new at home, look at the person first. If the person is drowsy, grey or unable to speak in sentences, it is an emergency.',
  ],
  citations: [
    {
      cite: 'Yang KL, Tobin MJ. N Engl J Med 1991;324:1445-1450',
      locator:
        'structured abstract in ACP Journal Club 1991: 100 medical intensive-care patients; sensitivity 97 %, specificity 64 %',
      standing: 'checked-in-summary',
      note: 'The often-quoted cut-off of 105 is left out, because it is for weaning and is not a criterion for use at home.',
    },
  ],
  compute: ({ rate, breath }, step) => ({ results: { index: { value: step(index, { rate, breath }) } } }),
});
