/**
 * How long a cylinder lasts.
 *
 *   US   litres = (gauge - left) x litres per psi             minutes = litres / flow
 *   UK   litres = full litres x (gauge - left) / full pressure
 *
 * At or below the pressure to leave there is nothing to use: 0 minutes, and the caution that says so comes first. It is
 * never a refusal, since that is the cylinder about which someone needs an answer at once.
 *
 * The country comes first: the same letter is another size elsewhere, and a letter read in the wrong list
 * can leave someone without oxygen on the way home.
 *
 * @refuses  a size of the other country; a gauge above what that size holds when full; a UK cylinder without a
 *           stated pressure to leave
 * @source   see `cylinders.ts`
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { type Refusal, type ResultTable, refuse } from '../outcome.ts';
import { convert, showNumber } from '../quantity.ts';
import { standingWords } from '../standing.ts';
import { before, hypoventilation } from './before.ts';
import {
  aboutStanding,
  type Cylinder,
  country,
  cylinderCautions,
  cylinderCitations,
  cylinderOf,
  residual,
  residualOf,
  ukLitres,
  ukSize,
  ukSizes,
  usFullPsi,
  usLitres,
  usResidualPsi,
  usSize,
  usSizes,
} from './cylinders.ts';

/** Fill varies with temperature; a tenth above the published full pressure is still taken (common practice). */
const overfill = 1.1;

export const minutesOf = formula({
  result: 'minutes',
  unit: 'minute',
  text: 'litres / flow',
  symbols: {
    litres: { means: 'litres that may be used', unit: 'L', range: [0, 7000] },
    flow: { means: 'oxygen flow', unit: 'L/minute', range: [0.25, 15] },
  },
  run: ({ litres, flow }) => litres / flow,
});

const gaugeOfShare = formula({
  result: 'gauge',
  unit: 'bar',
  text: 'share / 100 * fullPressure',
  symbols: {
    share: { means: 'share of full, per cent', unit: '', range: [0, 100] },
    fullPressure: { means: 'pressure when full', unit: 'bar', range: [137, 300] },
  },
  run: ({ share, fullPressure }) => (share / 100) * fullPressure,
});

const citations: Citation[] = [...hypoventilation, ...cylinderCitations];

export default defineCalculator({
  id: 'cylinder-duration',
  title: 'How long an oxygen cylinder lasts',
  purpose:
    'Calculates how many minutes a cylinder will last, from its country, its size, its gauge reading and the oxygen flow.',
  group: 'oxygen',
  keywords: ['cylinder', 'tank', 'duration', 'how long', 'psi', 'bar', 'gauge', 'oxygen left', 'travel'],
  fields: {
    country,
    usSize,
    ukSize,
    gauge: {
      kind: 'number',
      label: 'Gauge pressure',
      unit: 'bar',
      accepts: ['[psi]', 'kPa'],
      plausible: [0, 300],
      hard: [0, 330],
      optional: true,
      help: 'Enter the pressure as the gauge shows it, with its unit.',
    },
    gaugeShare: {
      kind: 'number',
      label: 'Gauge as a share of full',
      unit: '%',
      plausible: [0, 100],
      hard: [0, 100],
      optional: true,
      help: 'Fill in this field for UK cylinders only, and only if the gauge is marked in quarters.',
    },
    residual,
    flow: {
      kind: 'number',
      label: 'Oxygen flow',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.25, 15],
      hard: [0, 60],
      lowInclusive: false,
      help: 'Enter the continuous oxygen flow that is prescribed and set now. Do not enter the setting of a pulse device.',
    },
  },
  formulas: { usLitres, ukLitres, gaugeOfShare, minutesOf },
  results: {
    minutes: { label: 'Lasts', unit: 'min', decimals: 0, plausible: [0, 30000], main: true },
    hours: { label: 'In hours', unit: 'h', decimals: 1, plausible: [0, 500] },
    litres: { label: 'Oxygen that may be used', unit: 'L', decimals: 0, plausible: [0, 12000] },
  },
  holds: {
    population: 'continuous flow from a cylinder of a known country and size',
    notFor: 'pulse (on-demand) devices; sizes that are not in the list; planning to go without a spare cylinder',
  },
  before,
  cautions: cylinderCautions,
  citations,
  compute: (inputs, step) => {
    const cylinder = cylinderOf(inputs);
    if ('problems' in cylinder) return cylinder;
    const left = residualOf(cylinder, inputs.residual);
    if (typeof left !== 'number') return left;
    const gauge = gaugeOf(cylinder, inputs, (share, fullPressure) => step(gaugeOfShare, { share, fullPressure }));
    if (typeof gauge !== 'number') return gauge;
    const litres =
      cylinder.country === 'us'
        ? step(usLitres, {
            gauge: convert(gauge, 'bar', '[psi]'),
            residual: convert(left, 'bar', '[psi]'),
            litresPerPsi: cylinder.litresPerPsi,
          })
        : step(ukLitres, {
            fullLitres: cylinder.litres,
            gauge,
            residual: left,
            fullPressure: cylinder.fullBar,
          });
    const minutes = step(minutesOf, { litres, flow: inputs.flow });
    return {
      results: { minutes: { value: minutes }, hours: { value: minutes / 60 }, litres: { value: litres } },
      cautions: [
        ...(litres > 0 ? [] : [empty]),
        ...aboutStanding(cylinder),
        ...(inputs.residual === undefined
          ? [`${usResidualPsi} psi is left in the cylinder, as in two how-to articles.`]
          : []),
        ...(left === 0 ? ['This calculation counts to the last litre and leaves nothing in reserve.'] : []),
      ],
      tables: [cylinder.country === 'us' ? usTable : ukTable],
    };
  },
});

/** What comes first where nothing is left to use. */
export const empty =
  'The supply is empty. Change to a full supply now. If there is none, start the plan for when oxygen runs out.';

/** Gauge pressure in bar, or the refusal. */
function gaugeOf(
  cylinder: Cylinder,
  { gauge, gaugeShare }: { gauge: number | undefined; gaugeShare: number | undefined },
  ofShare: (share: number, fullBar: number) => number,
): number | Refusal {
  if (gauge === undefined) {
    if (gaugeShare === undefined) return refuse('gauge', 'Enter the gauge pressure, with its unit');
    if (cylinder.country === 'us')
      return refuse('gauge', 'Enter the gauge pressure in psi: a US factor works on pressure, not on a share of full');
    return ofShare(gaugeShare, cylinder.fullBar);
  }
  if (gaugeShare !== undefined)
    return refuse(
      'gaugeShare',
      'Enter either the gauge pressure or how full the gauge shows it to be, not both. Clear one',
    );
  const full = cylinder.country === 'us' ? convert(usFullPsi.high, '[psi]', 'bar') : cylinder.fullBar;
  if (gauge > full * overfill)
    return refuse(
      'gauge',
      `A full ${cylinder.country === 'us' ? `US ${cylinder.size} reads about ${usFullPsi.high} psi` : `UK ${cylinder.size} reads about ${cylinder.fullBar} bar`}. Is it another size or country, or another unit?`,
    );
  return gauge;
}

const usTable: ResultTable = {
  caption: 'US sizes',
  columns: ['Size', 'Litres for each psi', 'Standing'],
  rows: Object.entries(usSizes).map(([size, { litresPerPsi, standing }]) => ({
    label: `US ${size}`,
    cells: [showNumber(litresPerPsi, 2), standingWords[standing]],
  })),
};

const ukTable: ResultTable = {
  caption: 'UK sizes',
  columns: ['Size', 'Litres when full', 'Full at, bar', 'Standing'],
  rows: Object.entries(ukSizes).map(([size, { litres, fullBar, standing }]) => ({
    label: `UK ${size}`,
    cells: [String(litres), String(fullBar), standingWords[standing]],
  })),
};
