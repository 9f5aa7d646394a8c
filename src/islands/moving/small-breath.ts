/** Why a small breath clears little carbon dioxide: the first part of each breath only fills the airways. */
import co2AndVentilation from '../../../calculators/blood-gas/co2-and-ventilation.ts';
import minuteVentilation from '../../../calculators/blood-gas/minute-ventilation.ts';
import type { ResultTable } from '../../../calculators/outcome.ts';
import { show } from '../../../calculators/quantity.ts';
import { along, defineMoving, type Plot, type Point } from './figure.ts';

/** A made-up start that other breaths are compared with: quiet breathing (mL, breaths a minute) and a steady PaCO2 (mmHg). */
const start = { breath: 500, rate: 14, paco2: 40 };

const air = (breath: number, rate: number, deadSpace: number) => {
  const answer = minuteVentilation.calculate({ breath, rate, deadSpace });
  return answer.ok ? answer.results : {};
};

/**
 * The carbon dioxide at which this ventilation would settle, in words, if the made-up start settles at its own.
 *
 * @param alveolar   L/min that reach the lungs; undefined where the whole breath is dead space
 * @param deadSpace  mL
 */
function settlesAt(alveolar: number | undefined, deadSpace: number): string {
  const quiet = air(start.breath, start.rate, deadSpace);
  if (alveolar === undefined || quiet.alveolar === undefined) return 'cannot tell';
  const answer = co2AndVentilation.calculate({
    paco2: start.paco2,
    ventilationNow: quiet.alveolar.value,
    ventilationNew: alveolar,
  });
  return answer.ok && answer.results.paco2
    ? show(answer.results.paco2.value, 'mm[Hg]', 0)
    : 'cannot tell: too little to calculate with';
}

/** What reaches the lungs at each size of breath, with the rate changed so that the litres a minute stay the same. */
const curveOf = (minute: number, deadSpace: number): (Point | null)[] =>
  along(100, 800, 10).map((size) => {
    const found = air(size, (minute * 1000) / size, deadSpace).alveolar;
    return found ? [size, found.value] : null;
  });

/** @param dot  the breath that the reader has chosen; undefined where nothing of it reaches the lungs */
const plotOf = (minute: number, deadSpace: number, dot: Point | undefined): Plot => ({
  x: { label: 'Size of one breath, mL', low: 100, high: 800, every: 100 },
  y: {
    label: 'air a minute, litres',
    low: 0,
    high: Math.max(2, Math.ceil(minute / 2) * 2),
    every: minute > 12 ? 4 : 2,
  },
  lines: [{ name: 'reaches the lungs, at the same litres a minute', look: 'main', points: curveOf(minute, deadSpace) }],
  rules: [{ across: 'y', at: minute, name: 'moved at the mouth' }],
  dots: dot ? [{ at: dot, look: 'hand' }] : [],
});

/** A row of the table, by the same formulas as the picture. */
function rowOf(name: string, breath: number, rate: number, deadSpace: number): ResultTable['rows'][number] {
  const { minute, alveolar, lost } = air(breath, rate, deadSpace);
  const none = 'cannot tell: all dead space';
  return {
    label: `${name}: ${show(breath, 'mL', 0)}, ${show(rate, '/min', 0)}`,
    cells: [
      minute ? show(minute.value, 'L/min', 1) : 'no value',
      alveolar ? show(alveolar.value, 'L/min', 1) : none,
      lost ? show(lost.value, '%', 0) : none,
      settlesAt(alveolar?.value, deadSpace),
    ],
  };
}

export const smallBreath = defineMoving({
  title: 'Where a small breath goes',
  about:
    'Make the breath smaller and the rate faster, so that the litres a minute stay the same. With smaller, faster breaths, less air reaches the lungs.',
  controls: {
    breath: { kind: 'slide', label: 'One breath', unit: 'mL', min: 100, max: 800, step: 10, decimals: 0, initial: 250 },
    rate: {
      kind: 'slide',
      label: 'Breaths a minute',
      unit: '/min',
      min: 6,
      max: 45,
      step: 1,
      decimals: 0,
      initial: 28,
    },
    deadSpace: {
      kind: 'slide',
      label: 'Dead space',
      unit: 'mL',
      min: 60,
      max: 250,
      step: 10,
      decimals: 0,
      initial: 150,
    },
  },
  picture: ({ breath, rate, deadSpace }) => {
    const own = air(breath, rate, deadSpace);
    const minute = own.minute?.value ?? 0;
    const reached = own.alveolar ? show(own.alveolar.value, 'L/min', 1) : undefined;
    return {
      draws: {
        kind: 'plot',
        plot: plotOf(minute, deadSpace, own.alveolar && [breath, own.alveolar.value]),
      },
      table: {
        caption: `Dead space ${show(deadSpace, 'mL', 0)}. Carbon dioxide is compared with an invented start of ${show(start.paco2, 'mm[Hg]', 0)} at the quiet breath`,
        columns: [
          'Breath',
          'At the mouth',
          'Reaches the lungs',
          'Lost of each breath',
          'Carbon dioxide would settle at',
        ],
        rows: [rowOf('This one', breath, rate, deadSpace), rowOf('Quiet', start.breath, start.rate, deadSpace)],
      },
      says:
        reached === undefined
          ? `${show(minute, 'L/min', 1)} is breathed in total. By this rule the whole breath is dead space, so the air that reaches the lungs cannot be calculated.`
          : `Of the ${show(minute, 'L/min', 1)} breathed in total, ${reached} reaches the lungs. If the person went on breathing like this, carbon dioxide would settle at ${settlesAt(own.alveolar?.value, deadSpace)}.`,
      notes: [
        'Real dead space shrinks a little with very small breaths, and masks and tubes add to the dead space. Two people who move the same number of litres a minute can have very different carbon dioxide levels. So measure carbon dioxide.',
      ],
    };
  },
});
