/**
 * What a Venturi valve delivers, against what the person breathes in.
 *
 *   air : oxygen = (100 - percent) / (percent - 21)        total = oxygen flow x (1 + ratio)
 *
 * The percent on the valve is a promise with a condition: the total flow has to cover the fastest moment of
 * the breath. Above it the person draws room air past the mask, and the mixture is weaker than the part says.
 * Strong valves draw in little air, so they are the first to fall short: 60 % at 15 L/min gives only 30 L/min.
 *
 * @refuses  percents that are not on a usual valve; oxygen flows outside 1 to 15 L/min
 * @source   percent and oxygen flow: two open teaching pages; ratio and total: arithmetic
 */
import { type Citation, defineCalculator } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';
import { show, showNumber } from '../quantity.ts';
import { before, hypoventilation } from './before.ts';
import { venturiFlow } from './interfaces.ts';
import { mix } from './mixing.ts';
import { ratio, tooLittleForValve, total, venturiPercent } from './venturi-formulas.ts';

const citations: Citation[] = [
  ...hypoventilation,
  {
    cite: 'Venturi valves, percent and oxygen flow',
    locator: 'two open medical teaching pages; ratio and total flow are arithmetic',
    standing: 'checked-in-summary',
  },
  {
    cite: 'A mask maker\u2019s teaching page on fixed-performance masks',
    locator:
      'worked example: a 24 % valve at 2 L/min gives a total flow of 52 L/min; more oxygen leaves the percentage unchanged and raises the total flow',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Peak inspiratory flow, about 30 L/min at rest and 60 or more in distress',
    locator: 'from memory; the source was not read',
    standing: 'from-memory',
  },
];

export default defineCalculator({
  id: 'venturi',
  title: 'Venturi valve: ratio and total flow',
  purpose:
    'Calculates the air to oxygen ratio and the total flow of a Venturi valve, and compares the total flow with the person\u2019s own peak inspiratory flow.',
  group: 'oxygen',
  keywords: [
    'Venturi',
    'air entrainment',
    'entrainment ratio',
    'total flow',
    'fixed performance',
    'peak inspiratory flow',
  ],
  fields: {
    percent: venturiPercent,
    oxygenFlow: {
      kind: 'number',
      label: 'Oxygen flow to the valve',
      unit: 'L/min',
      plausible: [2, 15],
      hard: [1, 15],
      help: 'Enter the oxygen flow that is set now. The usual flow for each Venturi valve is in the table.',
    },
    peakInspiratoryFlow: {
      kind: 'number',
      label: 'Peak inspiratory flow',
      unit: 'L/min',
      accepts: ['L/s'],
      plausible: [15, 120],
      hard: [5, 300],
      optional: true,
      help: 'Enter the peak inspiratory flow if it was measured. Peak inspiratory flow is about 30 L/min at rest and 60 L/min or more in distress (these figures are not yet checked).',
    },
  },
  formulas: { ratio, total, mix },
  results: {
    airToOxygen: {
      label: 'Litres of air for each litre of oxygen',
      unit: '{ratio}',
      decimals: 1,
      plausible: [0.5, 30],
      main: true,
    },
    totalFlow: { label: 'Total flow from the valve', unit: 'L/min', decimals: 1, plausible: [3, 250], main: true },
    atPeak: {
      label: 'FiO2 at the fastest moment of the breath',
      unit: '%',
      decimals: 0,
      plausible: [20, 62],
      help: 'This figure includes room air drawn in around the mask.',
    },
  },
  holds: {
    population: 'anyone who is breathing spontaneously through a Venturi valve',
    notFor: 'setting a flow; Venturi valves used with NIV; other fixed-performance systems',
  },
  before,
  cautions: [
    'Read the percentage printed on the valve. Colours differ between makers.',
    'Water, a kink or a hand over the side holes of a Venturi valve lets less air in: FiO2 rises and the total flow falls (common practice).',
  ],
  citations,
  compute: ({ percent, oxygenFlow, peakInspiratoryFlow }, step) => {
    const airToOxygen = step(ratio, { percent: Number(percent) });
    const totalFlow = step(total, { oxygenFlow, airToOxygen });
    const short = peakInspiratoryFlow !== undefined && peakInspiratoryFlow > totalFlow;
    return {
      results: {
        airToOxygen: { value: airToOxygen },
        totalFlow: { value: totalFlow },
        ...(peakInspiratoryFlow === undefined
          ? {}
          : {
              atPeak: {
                value: step(mix, { purity: 100, oxygenFlow, totalFlow: Math.max(totalFlow, peakInspiratoryFlow) }),
              },
            }),
      },
      cautions: [
        ...(short
          ? [
              'The person breathes in faster than the valve delivers, so room air is drawn in as well and the percentage on the valve is not reached.',
            ]
          : []),
        ...(peakInspiratoryFlow === undefined && totalFlow < 60
          ? [
              'The total flow is under 60 L/min: in distress a person may breathe in faster than that (not yet checked).',
            ]
          : []),
        ...tooLittleForValve(oxygenFlow, percent),
      ],
      tables: [usualValves],
    };
  },
});

const usualValves: ResultTable = {
  caption: 'Usual valves at the oxygen flow printed on them',
  columns: ['Percent', 'Oxygen flow', 'Air to oxygen', 'Total flow'],
  rows: Object.entries(venturiFlow).map(([percent, oxygenFlow]) => {
    const airToOxygen = ratio.run({ percent: Number(percent) });
    return {
      label: `${percent} %`,
      cells: [
        show(oxygenFlow, 'L/min', 0),
        `${showNumber(airToOxygen, 1)} to 1`,
        show(total.run({ oxygenFlow, airToOxygen }), 'L/min', 0),
      ],
    };
  }),
};
