/**
 * Do the two halves of an oxygen order fit each other?
 *
 *   corresponding flow = total flow x (ordered FiO2 - 21) / (purity - 21)
 *   FiO2 of the flow   = 21 + (purity - 21) x ordered flow / total flow
 *
 * An order may name a flow and an FiO2. In a leak circuit, or at a known inspiratory flow, each of them fixes
 * the other, and an order whose halves are far apart has a slip in it or was written for another circuit. This
 * page finds that before the order is followed.
 *
 * It needs the flow that was ordered and gives none without it: it checks an order and never sets one.
 *
 * @refuses  an FiO2 below air or above the purity of the supply; an ordered flow above the total
 * @source   conservation of mass, as in `oxygen-bleed-in`
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import { showNumber } from '../quantity.ts';
import { before, hypoventilation } from './before.ts';
import { air, mix, oxygenNeeded, refuseFraction } from './mixing.ts';
import { purity, purityCitation, purityOf, supply } from './supply.ts';

const difference = formula({
  result: 'difference',
  unit: 'L/minute',
  text: 'orderedFlow - correspondingFlow',
  symbols: {
    orderedFlow: { means: 'oxygen flow in the order', unit: 'L/minute', range: [0.5, 15] },
    correspondingFlow: { means: 'flow that fits the ordered FiO2', unit: 'L/minute', range: [0, 60] },
  },
  run: ({ orderedFlow, correspondingFlow }) => orderedFlow - correspondingFlow,
});

const citations: Citation[] = [
  ...hypoventilation,
  { cite: 'Conservation of mass', locator: 'two streams, oxygen and air at 21 %', standing: 'checked' },
  purityCitation,
];

export default defineCalculator({
  id: 'oxygen-order-check',
  title: 'Check an oxygen order: do flow and FiO2 fit?',
  purpose:
    'Shows whether the flow and the FiO2 in an oxygen order match, so that an error is found before anyone follows the order.',
  group: 'oxygen',
  keywords: ['oxygen order', 'check an order', 'ordered FiO2', 'ordered flow', 'bleed-in', 'prescription'],
  fields: {
    orderedFio2: {
      kind: 'number',
      label: 'FiO2 in the order',
      unit: '%',
      plausible: [21, 60],
      hard: [0, 100],
      help: 'Enter the prescribed FiO2 as a percentage.',
    },
    orderedFlow: {
      kind: 'number',
      label: 'Oxygen flow in the order',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.5, 10],
      hard: [0, 15],
      lowInclusive: false,
      help: 'Enter the prescribed oxygen flow. If no oxygen flow was prescribed, there is nothing to check: ask the prescriber for an order.',
    },
    totalFlow: {
      kind: 'number',
      label: 'Total flow, oxygen included',
      unit: 'L/min',
      accepts: ['L/s'],
      plausible: [10, 120],
      hard: [3, 200],
      help: 'In a leak circuit, the total flow is minute ventilation plus the intentional and the unintentional leak. Without a circuit, the total flow is the mean inspiratory flow.',
    },
    supply,
    purity,
  },
  formulas: { oxygenNeeded, mix, difference },
  results: {
    fio2OfOrderedFlow: {
      label: 'FiO2 that fits the ordered flow',
      unit: '%',
      decimals: 0,
      plausible: [20, 90],
      main: true,
    },
    correspondingFlow: {
      label: 'Flow that fits the ordered FiO2',
      unit: 'L/min',
      decimals: 1,
      plausible: [0, 15],
      help: 'Use this figure to check the order. It is not a flow to set.',
    },
    difference: {
      label: 'Ordered flow minus the flow that fits the ordered FiO2',
      unit: 'L/min',
      decimals: 1,
      plausible: [-15, 15],
    },
  },
  holds: {
    population: 'anyone with a written oxygen order and a known total flow',
    notFor: 'choosing or changing a flow; pulse (on-demand) devices; machines that blend oxygen',
  },
  before,
  cautions: [
    'This page checks an oxygen order that has already been written, and does not set a flow. Do not change a flow because of a number on this page.',
    'If the flow and the FiO2 in the order do not match, ask the prescriber before you change anything.',
    'Total flow varies with pressure, leak and tidal volume, so a small difference in the result means nothing.',
  ],
  citations,
  compute: ({ orderedFio2, orderedFlow, totalFlow, ...source }, step) => {
    const { usual, low, high } = purityOf(source.supply, source.purity);
    const fraction = refuseFraction('orderedFio2', 'FiO2 in the order', orderedFio2);
    if (fraction) return fraction;
    if (orderedFio2 < air)
      return refuse(
        'orderedFio2',
        `Air holds ${air} % oxygen. An order of ${Number(orderedFio2.toPrecision(4))} % cannot be met`,
      );
    if (orderedFio2 > low)
      return refuse(
        'orderedFio2',
        `This supply may give as little as ${showNumber(low, 0)} % oxygen. It cannot be relied on for ${Number(orderedFio2.toPrecision(4))} %`,
      );
    if (orderedFlow > totalFlow)
      return refuse(
        'orderedFlow',
        `The flow in the order is more than the ${showNumber(totalFlow, 1)} L/min that enters. Check the total flow`,
      );
    const correspondingFlow = step(oxygenNeeded, { totalFlow, fio2: orderedFio2, purity: usual });
    const at = (purity: number) => mix.run({ purity, oxygenFlow: orderedFlow, totalFlow });
    const fio2 = step(mix, { purity: usual, oxygenFlow: orderedFlow, totalFlow });
    return {
      results: {
        fio2OfOrderedFlow: low === high ? { value: fio2 } : { value: fio2, low: at(low), high: at(high) },
        correspondingFlow: { value: correspondingFlow },
        difference: { value: step(difference, { orderedFlow, correspondingFlow }) },
      },
    };
  },
});
