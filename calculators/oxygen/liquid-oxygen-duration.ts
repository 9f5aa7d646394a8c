/**
 * How long a vessel of liquid oxygen lasts.
 *
 *   gas litres = 860 x liquid litres          minutes = gas litres / flow
 *
 * A litre of liquid turns into about 860 litres of gas, so a small vessel lasts long, and it empties by itself:
 * liquid oxygen boils off in storage, used or not.
 *
 * @source  860: three suppliers' patient pages. Another teaching page says 840
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { before, hypoventilation } from './before.ts';
import { empty, minutesOf } from './cylinder-duration.ts';

export const gasLitres = formula({
  result: 'litres',
  unit: 'L',
  text: '860 * liquid',
  symbols: { liquid: { means: 'liquid oxygen', unit: 'L', range: [0.1, 60] } },
  run: ({ liquid }) => 860 * liquid,
});

const citations: Citation[] = [
  ...hypoventilation,
  {
    cite: 'About 860 litres of gas from a litre of liquid oxygen',
    locator: 'three suppliers\u2019 patient pages',
    standing: 'checked-in-summary',
    note: 'An anaesthesia teaching page says that a litre of liquid oxygen gives 840 litres of gas.',
  },
];

export default defineCalculator({
  id: 'liquid-oxygen-duration',
  title: 'How long liquid oxygen lasts',
  purpose:
    'Calculates how many litres of gas a vessel of liquid oxygen gives, and how long the oxygen lasts at a continuous flow.',
  group: 'oxygen',
  keywords: ['liquid oxygen', 'LOX', 'portable vessel', 'duration', 'reservoir'],
  fields: {
    liquid: {
      kind: 'number',
      label: 'Liquid oxygen in the vessel',
      unit: 'L',
      plausible: [0, 50],
      hard: [0, 100],
      help: 'Enter the litres of liquid oxygen, from the label and the level. Do not enter litres of gas.',
    },
    flow: {
      kind: 'number',
      label: 'Oxygen flow',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.25, 15],
      hard: [0, 60],
      lowInclusive: false,
      help: 'Enter the continuous oxygen flow that is prescribed and set now.',
    },
  },
  formulas: { gasLitres, minutesOf },
  results: {
    minutes: { label: 'Lasts at most', unit: 'min', decimals: 0, plausible: [0, 45000], main: true },
    hours: { label: 'In hours', unit: 'h', decimals: 1, plausible: [0, 750] },
    litres: { label: 'As gas', unit: 'L', decimals: 0, plausible: [0, 45000] },
  },
  holds: { population: 'continuous flow from a vessel of liquid oxygen', notFor: 'pulse (on-demand) devices' },
  before,
  cautions: [
    'The time shown is the longest possible time, because liquid oxygen boils off even when it is not used.',
    'Pulse (on-demand) devices use oxygen breath by breath, so a duration calculated from litres per minute does not apply to them.',
    'Sources give 840 to 860 litres of gas from a litre of liquid oxygen. The calculation uses the larger figure, so the time shown is an upper limit.',
  ],
  citations,
  compute: ({ liquid, flow }, step) => {
    const litres = step(gasLitres, { liquid });
    const minutes = step(minutesOf, { litres, flow });
    return {
      results: { minutes: { value: minutes }, hours: { value: minutes / 60 }, litres: { value: litres } },
      cautions: litres > 0 ? [] : [empty],
    };
  },
});
