/**
 * Weight lost, as a percentage of usual weight.
 *
 *   loss = (usual - now) / usual x 100
 *
 * In a disease that weakens swallowing and arms, weight goes early and steadily, and the breathing
 * muscles go with it. The share of usual weight is what criteria are written in; kilograms alone are not.
 *
 * @param usual   weight before the illness or at the time compared with, kg
 * @param now     weight today, same scales and clothes if possible, kg
 * @param months  months between the two; leave empty when not known. Under one month no rate is given:
 *                water and scales move more than food does
 * @returns per cent of usual weight, unrounded; negative when weight was gained
 * @source  definition
 */
import { defineCalculator, formula } from '../calculator.ts';
import { show } from '../quantity.ts';
import { weight } from './shared-fields.ts';

const percentLost = formula({
  result: 'loss',
  unit: '',
  text: '(usual - now) / usual * 100',
  symbols: {
    usual: { means: 'usual weight', unit: 'kg', range: [20, 200] },
    now: { means: 'weight now', unit: 'kg', range: [20, 200] },
  },
  run: ({ usual, now }) => ((usual - now) / usual) * 100,
});

const percentAMonth = formula({
  result: 'rate',
  unit: '',
  text: 'loss / months',
  symbols: {
    loss: { means: 'weight lost, per cent of usual', unit: '', range: [-50, 60] },
    months: { means: 'number of months between', unit: '', range: [1, 120] },
  },
  run: ({ loss, months }) => loss / months,
});

export default defineCalculator({
  id: 'weight-loss',
  title: 'Weight lost, per cent of usual',
  purpose: 'Calculates the weight lost as a percentage of usual weight, in total and per month.',
  group: 'size',
  keywords: ['weight loss', 'percent weight loss', 'nutrition', 'gastrostomy', 'feeding tube', 'PEG', 'usual weight'],
  fields: {
    usual: {
      ...weight,
      label: 'Usual weight',
      help: 'Enter the weight before the illness, or the weight on an earlier date that you want to compare with the current weight.',
    },
    now: {
      ...weight,
      label: 'Weight now',
      help: 'Use the same scales and similar clothes both times. Subtract the weight of the wheelchair and the brace.',
    },
    months: {
      kind: 'number',
      label: 'Months between the two',
      unit: 'mo',
      accepts: ['a'],
      plausible: [1, 60],
      hard: [0, 600],
      optional: true,
      help: 'Leave this field empty if you do not know the number of months. If the two weights were taken less than one month apart, no monthly rate is given.',
    },
  },
  formulas: { percentLost, percentAMonth },
  results: {
    loss: {
      label: 'Weight lost (a minus sign means a gain)',
      unit: '%',
      decimals: 1,
      plausible: [-50, 60],
      main: true,
      measure: 'weight-loss-percent',
    },
    rate: { label: 'Average weight loss', unit: '%/mo', decimals: 1, plausible: [-15, 20] },
  },
  holds: {
    population: 'adults, and to young people who have stopped growing',
    notFor: 'a growing child, in whom a weight that does not rise is already a loss',
  },
  cautions: [
    'Record which weight you take as the usual weight. A usual weight from memory is often rounded.',
    'Fluid, a new brace or different scales can hide weight loss or look like weight loss.',
    'If weight was lost, ask about swallowing, meals and arm strength, and tell the team. The timing of a feeding tube is decided with the person, and also depends on breathing.',
  ],
  citations: [
    { cite: 'Weight loss as a percentage of usual weight', locator: 'definition', standing: 'common-practice' },
    {
      cite: 'We give no monthly rate for a period of less than one month',
      locator:
        'because over a short time fluid and scales change the measured weight more than food does; the limit is our own',
      standing: 'common-practice',
    },
  ],
  compute: ({ usual, now, months }, step) => {
    const loss = step(percentLost, { usual, now });
    const rate = months !== undefined && months >= 1 ? step(percentAMonth, { loss, months }) : undefined;
    return {
      results: { loss: { value: loss }, ...(rate === undefined ? {} : { rate: { value: rate } }) },
      cautions: [
        ...(now > usual
          ? [`Weight is up by ${show(now - usual, 'kg', 1)}. The gain can be fluid, so look at the legs.`]
          : []),
        ...(months !== undefined && months < 1
          ? ['The two weights were taken less than a month apart, so no monthly rate is given.']
          : []),
      ],
    };
  },
});
