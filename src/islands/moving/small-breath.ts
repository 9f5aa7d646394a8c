/** Why a small breath clears little carbon dioxide: the first part of each breath only fills the airways. */
import co2AndVentilation from '../../../calculators/blood-gas/co2-and-ventilation.ts';
import minuteVentilation from '../../../calculators/blood-gas/minute-ventilation.ts';
import { show } from '../../../calculators/quantity.ts';
import { along, defineMoving, type Point } from './figure.ts';

/** A made-up start that the others are told against: quiet breathing, and an even carbon dioxide. */
const start = { breath: 500, rate: 14, paco2: 40 };

const air = (breath: number, rate: number, deadSpace: number) => {
  const answer = minuteVentilation.calculate({ breath, rate, deadSpace });
  return answer.ok ? answer.results : {};
};

export const smallBreath = defineMoving({
  title: 'Where a small breath goes',
  about:
    'Make the breath smaller and the rate faster, so that the litres a minute stay the same. What reaches the lungs does not stay the same.',
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
    const quiet = air(start.breath, start.rate, deadSpace);
    const settles = (alveolar: number | undefined): string => {
      if (alveolar === undefined || quiet.alveolar === undefined) return 'cannot tell';
      const answer = co2AndVentilation.calculate({
        paco2: start.paco2,
        ventilationNow: quiet.alveolar.value,
        ventilationNew: alveolar,
      });
      return answer.ok && answer.results.paco2
        ? show(answer.results.paco2.value, 'mm[Hg]', 0)
        : 'cannot tell: too little to calculate with';
    };
    const curve = along(100, 800, 10).map((size): Point | null => {
      const found = air(size, (minute * 1000) / size, deadSpace).alveolar;
      return found ? [size, found.value] : null;
    });
    const row = (label: string, size: number, a: number) => {
      const found = air(size, a, deadSpace);
      const none = 'cannot tell: all dead space';
      return {
        label,
        cells: [
          found.minute ? show(found.minute.value, 'L/min', 1) : 'no value',
          found.alveolar ? show(found.alveolar.value, 'L/min', 1) : none,
          found.lost ? show(found.lost.value, '%', 0) : none,
          settles(found.alveolar?.value),
        ],
      };
    };
    const reached = own.alveolar ? show(own.alveolar.value, 'L/min', 1) : undefined;
    return {
      draws: {
        kind: 'plot',
        plot: {
          x: { label: 'Size of one breath, mL', low: 100, high: 800, every: 100 },
          y: {
            label: 'air a minute, litres',
            low: 0,
            high: Math.max(2, Math.ceil(minute / 2) * 2),
            every: minute > 12 ? 4 : 2,
          },
          lines: [{ name: 'reaches the lungs, at the same litres a minute', look: 'main', points: curve }],
          rules: [{ across: 'y', at: minute, name: 'moved at the mouth' }],
          dots: own.alveolar ? [{ at: [breath, own.alveolar.value], look: 'hand' }] : [],
        },
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
        rows: [
          row(`This one: ${show(breath, 'mL', 0)}, ${show(rate, '/min', 0)}`, breath, rate),
          row(`Quiet: ${show(start.breath, 'mL', 0)}, ${show(start.rate, '/min', 0)}`, start.breath, start.rate),
        ],
      },
      says:
        reached === undefined
          ? `${show(minute, 'L/min', 1)} move at the mouth. By this rule the whole breath is dead space, so what reaches the lungs cannot be calculated.`
          : `${show(minute, 'L/min', 1)} move at the mouth, ${reached} reach the lungs. Carbon dioxide would settle at ${settles(own.alveolar?.value)}.`,
      notes: [
        'Real dead space shrinks a little with very small breaths, and masks and tubes add to it. Two people with the same litres a minute can have very different carbon dioxide. Measure it.',
      ],
    };
  },
});
