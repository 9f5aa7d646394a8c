/**
 * Oxygen bled into a single-limb leak circuit: the mean FiO2 that comes of it.
 *
 *   total = minute ventilation + intentional leak + unintentional leak        everything that leaves, L/min
 *   FiO2  = 21 + (purity - 21) x oxygen flow / total                          per cent, mean over the breath
 *
 * A home ventilator of this kind blows far more than the person breathes, and oxygen is thinned by all of it.
 * So FiO2 is low at the flows used at home, falls when pressure or leak rises, and rises when the leak is
 * fixed: it is never a setting, and nobody has touched the oxygen when it changes.
 *
 * @param purity  per cent; measured, or 100 for a cylinder and 93 (87 to 96) for a concentrator
 * @returns       the mean of the mixture; the span is that of the concentrator, not of the method
 * @refuses       an oxygen flow above everything that leaves the circuit
 * @source        conservation of mass. Direction of each effect: Thys 2002 and Schwartz 2004 (abstracts read)
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { show, showNumber } from '../quantity.ts';
import { before, hypoventilation } from './before.ts';
import { air, mix } from './mixing.ts';
import { purity, purityCitation, purityOf, supply } from './supply.ts';

const flow = { unit: 'L/minute', range: [0, 60] } as const;

const total = formula({
  result: 'totalFlow',
  unit: 'L/minute',
  text: 'minuteVentilation + intentionalLeak + unintentionalLeak',
  symbols: {
    minuteVentilation: { means: 'minute ventilation', ...flow },
    intentionalLeak: { means: 'mean leak through the port of mask or circuit', ...flow },
    unintentionalLeak: { means: 'mean leak at mask and mouth', ...flow },
  },
  run: ({ minuteVentilation, intentionalLeak, unintentionalLeak }) =>
    minuteVentilation + intentionalLeak + unintentionalLeak,
});

const citations: Citation[] = [
  ...hypoventilation,
  { cite: 'Conservation of mass', locator: 'two streams, oxygen and air at 21 %', standing: 'checked' },
  {
    cite: 'Thys F, et al. Eur Respir J 2002;19:653-657',
    locator:
      'abstract: FiO2 fell as inspiratory pressure rose, changed with the bleed site, was seldom above 30 %, and was not seen to change with tidal volume or rate',
    standing: 'checked',
    note: 'In this calculation a higher minute ventilation lowers FiO2 a little; the bench test did not show this fall.',
  },
  {
    cite: 'Schwartz AR, Kacmarek RM, Hess DR. Respir Care 2004;49',
    locator:
      'abstract (PMID 14982647): bleed site, leak port and both pressures each change FiO2; the breathing rate does not',
    standing: 'checked',
  },
  {
    cite: 'Waugh, et al. Respir Care 1999;44(5)',
    locator: 'abstract: adding oxygen at the ventilator end might add a fire hazard',
    standing: 'checked',
  },
  purityCitation,
  {
    cite: 'Intentional leak, often 20 to 40 L/min at 10 cmH2O',
    locator: 'from memory; the data sheet of the mask in use has the curve',
    standing: 'from-memory',
  },
];

const leak = { kind: 'number', unit: 'L/min', accepts: ['L/s'] } as const;

export default defineCalculator({
  id: 'oxygen-bleed-in',
  title: 'Oxygen bled into a leak circuit',
  purpose: 'Estimates the mean FiO2 when oxygen is bled into a single-limb ventilator circuit with a leak port.',
  group: 'oxygen',
  keywords: [
    'oxygen bleed-in',
    'entrained oxygen',
    'FiO2 on NIV',
    'oxygen with bilevel',
    'leak port',
    'intentional leak',
    'concentrator',
  ],
  fields: {
    oxygenFlow: {
      kind: 'number',
      label: 'Oxygen flow',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.5, 10],
      hard: [0, 15],
      lowInclusive: false,
      help: 'Enter the oxygen flow that is prescribed and set now.',
    },
    supply,
    purity,
    minuteVentilation: {
      kind: 'number',
      label: 'Minute ventilation',
      unit: 'L/min',
      plausible: [3, 15],
      hard: [0, 60],
      lowInclusive: false,
      help: 'Read minute ventilation from the ventilator. The ventilator only estimates minute ventilation, and leak makes the estimate less accurate.',
    },
    intentionalLeak: {
      ...leak,
      label: 'Intentional leak',
      plausible: [10, 60],
      hard: [0, 120],
      help: 'Enter the mean leak through the leak port at the mean circuit pressure, from the mask\u2019s data sheet.',
    },
    unintentionalLeak: {
      ...leak,
      label: 'Unintentional leak',
      plausible: [0, 40],
      hard: [0, 120],
      help: 'Enter the mean unintentional leak at the mask and mouth. If the device reports total leak, subtract the intentional leak first.',
    },
    leakPort: {
      kind: 'choice',
      label: 'Where the leak port is',
      options: [
        { value: 'mask', label: 'In the mask' },
        { value: 'circuit', label: 'In the circuit' },
      ],
      optional: true,
    },
    bleedSite: {
      kind: 'choice',
      label: 'Where the oxygen goes in',
      options: [
        { value: 'mask', label: 'At the mask' },
        { value: 'machine', label: 'At the machine outlet' },
      ],
      optional: true,
    },
  },
  formulas: { total, mix },
  results: {
    fio2: { label: 'Mean FiO2, estimated', unit: '%', decimals: 0, plausible: [20, 80], main: true },
    totalFlow: { label: 'Total flow that leaves the circuit', unit: 'L/min', decimals: 1, plausible: [4, 160] },
  },
  holds: {
    population:
      'anyone using a single-limb circuit with a leak port on a ventilator that has no oxygen control of its own',
    notFor:
      'setting a flow; circuits with an exhalation valve; mouthpiece ventilation; machines that blend oxygen; pulse (on-demand) devices',
  },
  before,
  cautions: [
    'This page estimates the mean FiO2 over the breath; the page does not measure FiO2. Do not work backwards on this page to choose an oxygen flow.',
    'Higher pressure or more leak lowers FiO2 at the same oxygen flow. Fixing a leak raises FiO2 at the same oxygen flow. Check FiO2 again after changing the pressure or the leak.',
    'A high saturation with oxygen bled in can hide ventilator settings that are not working. Check carbon dioxide, leak and tidal volume before relying on the saturation.',
    'Add oxygen only where the ventilator\u2019s instructions allow it. Turn on the ventilator before you turn on the oxygen. Turn off the oxygen before you turn off the ventilator. Keep flames and sparks away from oxygen (common practice).',
  ],
  citations,
  compute: (inputs, step) => {
    const { oxygenFlow, minuteVentilation, intentionalLeak, unintentionalLeak } = inputs;
    const { usual, low, high } = purityOf(inputs.supply, inputs.purity);
    const totalFlow = step(total, { minuteVentilation, intentionalLeak, unintentionalLeak });
    if (oxygenFlow > totalFlow)
      return refuse(
        'oxygenFlow',
        `Oxygen flow of ${Number(oxygenFlow.toPrecision(4))} L/min is more than the ${showNumber(totalFlow, 1)} L/min that leaves the circuit. Check the leak and the minute ventilation`,
      );
    const fio2 = step(mix, { purity: usual, oxygenFlow, totalFlow });
    const at = (purity: number) => mix.run({ purity, oxygenFlow, totalFlow });
    return {
      results: {
        fio2: low === high ? { value: fio2 } : { value: fio2, low: at(low), high: at(high) },
        totalFlow: { value: totalFlow },
      },
      cautions: [
        ...(low === high
          ? []
          : [
              'The range shows only the uncertainty of the concentrator, 87 to 96 %. The method itself is less certain than this range.',
            ]),
        ...(intentionalLeak < 10
          ? [
              'An intentional leak below 10 L/min hardly clears carbon dioxide (not yet checked). Check the figure and the leak port.',
            ]
          : []),
        aboutSite(inputs.leakPort, inputs.bleedSite),
      ],
      tables: [withMoreLeak(inputs, usual, totalFlow)],
    };
  },
});

/** What a bench study measured at each pair of places. The calculation itself does not depend on the place. */
function aboutSite(leakPort?: 'mask' | 'circuit', bleedSite?: 'mask' | 'machine'): string {
  if (leakPort === undefined || bleedSite === undefined)
    return 'FiO2 depends on where the oxygen goes in and where the leak port is, and the calculation ignores both. Write down both places.';
  if (leakPort === 'mask')
    return bleedSite === 'machine'
      ? 'With the leak port in the mask, FiO2 was higher with oxygen at the machine outlet than at the mask (Schwartz 2004).'
      : 'With the leak port in the mask, oxygen added at the mask escapes through the port. FiO2 was lower than with oxygen at the machine outlet (Schwartz 2004).';
  return bleedSite === 'mask'
    ? 'With the leak port in the circuit, FiO2 was higher with oxygen at the mask than at the machine outlet (Schwartz 2004).'
    : 'With the leak port in the circuit, FiO2 was lower with oxygen at the machine outlet than at the mask (Schwartz 2004).';
}

function withMoreLeak(
  { oxygenFlow, unintentionalLeak }: { oxygenFlow: number; unintentionalLeak: number },
  purity: number,
  totalFlow: number,
): ResultTable {
  return {
    caption: `The same oxygen flow when the mask leaks more (air is ${air} %)`,
    columns: ['Unintentional leak', 'Total flow out', 'Mean FiO2'],
    rows: [0, 10, 20, 40].map((more) => ({
      label: more === 0 ? `${show(unintentionalLeak, 'L/min', 0)}, as entered` : `${more} L/min more`,
      cells: [
        show(totalFlow + more, 'L/min', 0),
        show(mix.run({ purity, oxygenFlow, totalFlow: totalFlow + more }), '%', 1),
      ],
    })),
  };
}
