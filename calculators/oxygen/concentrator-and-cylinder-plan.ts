/**
 * Cylinders for time away from the concentrator.
 *
 *   needed    = flow x hours out x 60 x (1 + extra / 100)
 *   cylinders = needed / usable litres, rounded up
 *
 * Time out always grows: traffic, a late appointment, a lift that is broken. The plan therefore asks how much
 * time to carry on top and has no silent figure of its own for it.
 *
 * The ordered flow is used unchanged. A concentrator gives about 93 % and a cylinder 100 %; whether
 * that difference matters is for the prescriber, and the page shows it without acting on it.
 *
 * Where the pressure to leave is as high as in a full cylinder, each lasts 0 minutes and no number of them is enough: that is
 * the answer, and not a refusal.
 *
 * @refuses  what `cylinder-duration` refuses; a plan without a stated extra
 * @source   see `cylinders.ts` and `supply.ts`
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';
import { convert, show } from '../quantity.ts';
import { before, hypoventilation } from './before.ts';
import { minutesOf } from './cylinder-duration.ts';
import {
  aboutStanding,
  country,
  cylinderCautions,
  cylinderCitations,
  cylinderOf,
  residual,
  residualOf,
  ukLitres,
  ukSize,
  usFullPsi,
  usLitres,
  usResidualPsi,
  usSize,
} from './cylinders.ts';
import { purityCitation, supplies } from './supply.ts';

const litresNeeded = formula({
  result: 'litresNeeded',
  unit: 'L',
  text: '60 * flow * hoursOut * (1 + extra / 100)',
  withUnits: 'flow * hoursOut * (1 + extra / 100)',
  symbols: {
    flow: { means: 'oxygen flow', unit: 'L/minute', range: [0.25, 15] },
    hoursOut: { means: 'time away from the concentrator', unit: 'hour', range: [0.5, 24] },
    extra: { means: 'extra time, per cent', unit: '', range: [0, 200] },
  },
  run: ({ flow, hoursOut, extra }) => 60 * flow * hoursOut * (1 + extra / 100),
});

const cylindersOf = formula({
  result: 'cylinders',
  unit: '',
  text: 'ceil(litresNeeded / litres)',
  symbols: {
    litresNeeded: { means: 'litres for the time out', unit: 'L', range: [10, 20000] },
    litres: { means: 'litres that may be used from a full cylinder', unit: 'L', range: [100, 7000] },
  },
  run: ({ litresNeeded, litres }) => Math.ceil(litresNeeded / litres),
});

const citations: Citation[] = [...hypoventilation, ...cylinderCitations, purityCitation];

export default defineCalculator({
  id: 'concentrator-and-cylinder-plan',
  title: 'Cylinders for time away from the concentrator',
  purpose: 'Calculates how many full cylinders a trip needs at the prescribed flow, including extra time.',
  group: 'oxygen',
  keywords: [
    'concentrator',
    'cylinders needed',
    'day out',
    'travel',
    'outing',
    'power cut',
    'portable oxygen',
    'reserve',
  ],
  fields: {
    hoursOut: {
      kind: 'number',
      label: 'Time away from the concentrator',
      unit: 'h',
      accepts: ['min'],
      plausible: [0.5, 24],
      hard: [0, 240],
      lowInclusive: false,
      help: 'Enter the hours from door to door, or the length of the power cut to prepare for.',
    },
    flow: {
      kind: 'number',
      label: 'Ordered oxygen flow',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.25, 6],
      hard: [0, 15],
      lowInclusive: false,
      help: 'Enter the continuous oxygen flow that is prescribed for use outside the home.',
    },
    extra: {
      kind: 'number',
      label: 'Extra time to carry',
      unit: '%',
      plausible: [25, 150],
      hard: [0, 300],
      help: 'Enter 50 to carry enough oxygen for a trip that lasts 50 % longer than planned. No published figure supports any choice of extra time.',
    },
    country,
    usSize,
    ukSize,
    residual,
    homePurity: {
      kind: 'number',
      label: 'Measured purity of the concentrator',
      unit: '%',
      plausible: [82, 96],
      hard: [50, 100],
      optional: true,
      help: 'If an analyser was used, enter the oxygen percentage that it measured. If you enter no percentage, the calculation uses 93 %.',
    },
  },
  formulas: { litresNeeded, usLitres, ukLitres, cylindersOf, minutesOf },
  results: {
    cylinders: { label: 'Full cylinders to take', unit: '{count}', decimals: 0, plausible: [0, 20], main: true },
    litresNeeded: {
      label: 'Oxygen for the time out, with the extra time',
      unit: 'L',
      decimals: 0,
      plausible: [0, 20000],
    },
    minutesEach: { label: 'Each full cylinder lasts', unit: 'min', decimals: 0, plausible: [0, 30000] },
  },
  holds: {
    population: 'someone whose oxygen prescription covers a continuous flow outside the home',
    notFor: 'pulse (on-demand) devices; portable concentrators; flights; cylinders that are not full',
  },
  before,
  cautions: [
    ...cylinderCautions,
    'The number of cylinders assumes that each cylinder is full. Check every gauge before leaving.',
    'Check that the order names a flow for outside the home, that the carer can change a cylinder, and that the vehicle may carry cylinders (common practice).',
  ],
  citations,
  compute: (inputs, step) => {
    const { hoursOut, flow, extra } = inputs;
    const cylinder = cylinderOf(inputs);
    if ('problems' in cylinder) return cylinder;
    const left = residualOf(cylinder, inputs.residual);
    if (typeof left !== 'number') return left;
    const fullBar = cylinder.country === 'us' ? convert(usFullPsi.low, '[psi]', 'bar') : cylinder.fullBar;
    const needed = step(litresNeeded, { flow, hoursOut, extra });
    const litres =
      cylinder.country === 'us'
        ? step(usLitres, {
            gauge: usFullPsi.low,
            residual: convert(left, 'bar', '[psi]'),
            litresPerPsi: cylinder.litresPerPsi,
          })
        : step(ukLitres, { fullLitres: cylinder.litres, gauge: fullBar, residual: left, fullPressure: fullBar });
    const cylinders = litres > 0 ? step(cylindersOf, { litresNeeded: needed, litres }) : undefined;
    return {
      results: {
        ...(cylinders === undefined ? {} : { cylinders: { value: cylinders } }),
        litresNeeded: { value: needed },
        minutesEach: { value: step(minutesOf, { litres, flow }) },
      },
      cautions: [
        ...(cylinders === undefined
          ? [
              'No number of these cylinders is enough, because the pressure to leave in each is as high as in a full one. Do not set off on this plan.',
            ]
          : []),
        ...aboutStanding(cylinder),
        ...(cylinder.country === 'us'
          ? [`A full US cylinder is counted at ${usFullPsi.low} psi, the lower of the figures printed.`]
          : []),
        ...(inputs.residual === undefined
          ? [`${usResidualPsi} psi is left in the cylinder, as in two how-to articles.`]
          : []),
        ...(cylinders === 1
          ? ['With one cylinder, there is no spare if the valve sticks or the gauge is wrong (common practice).']
          : []),
        ...(extra < 25 ? ['There is little or no extra time, and one delay uses it up.'] : []),
      ],
      tables: [sources(flow, inputs.homePurity)],
    };
  },
});

/** The same flow from two supplies. Shown so that nobody is surprised by the saturation, not to change the flow. */
const sources = (flow: number, homePurity: number = supplies.concentrator.usual): ResultTable => ({
  caption: 'The same flow from two supplies. With either supply, follow the order as written',
  columns: ['Supply', 'Oxygen in it', 'Pure oxygen at this flow'],
  rows: [
    { label: 'Concentrator at home', cells: [show(homePurity, '%', 0), show((flow * homePurity) / 100, 'L/min', 2)] },
    { label: 'Cylinder outside', cells: [show(100, '%', 0), show(flow, 'L/min', 2)] },
  ],
});
