/** The same oxygen flow in three breaths: the published rule knows the device and not the person. */
import oxygenFlow from '../../../calculators/oxygen/oxygen-flow-to-fio2.ts';
import { show } from '../../../calculators/quantity.ts';
import { along, defineMoving, type Point, upTo } from './figure.ts';

const breaths = {
  shallow: { name: 'shallow breath, 250 mL in 1 s', tidalVolume: 250, inspiratoryTime: 1 },
  heavy: { name: 'heavy breath, 800 mL in 0.8 s', tidalVolume: 800, inspiratoryTime: 0.8 },
} as const;

type Breath = { tidalVolume: number; inspiratoryTime: number };

const ask = (flow: number, breath: Breath) => {
  const answer = oxygenFlow.calculate({
    interface: 'cannula',
    flow,
    tidalVolume: breath.tidalVolume,
    inspiratoryTime: breath.inspiratoryTime,
  });
  return answer.ok ? answer.results : {};
};

export const oxygenAndBreath = defineMoving({
  title: 'One flow, many mixtures',
  about:
    'Keep the same flow and make the breath smaller. The oxygen concentration rises and the saturation gets better, although less air moves with each breath.',
  before: oxygenFlow.before ?? [],
  controls: {
    flow: {
      kind: 'slide',
      label: 'Oxygen flow through a cannula',
      unit: 'L/min',
      min: 1,
      max: 6,
      step: 0.5,
      decimals: 1,
      initial: 2,
    },
    tidalVolume: {
      kind: 'slide',
      label: 'Tidal volume (size of the breath)',
      unit: 'mL',
      min: 150,
      max: 1000,
      step: 10,
      decimals: 0,
      initial: 300,
    },
    inspiratoryTime: {
      kind: 'slide',
      label: 'Time to breathe in',
      unit: 's',
      min: 0.5,
      max: 2,
      step: 0.1,
      decimals: 1,
      initial: 1,
    },
  },
  picture: ({ flow, tidalVolume, inspiratoryTime }) => {
    const own: Breath = { tidalVolume, inspiratoryTime };
    const line = (breath: Breath, name: 'fio2' | 'estimate'): (Point | null)[] =>
      along(1, 6, 0.25).map((litres) => {
        const found = ask(litres, breath)[name];
        return found ? [litres, found.value] : null;
      });
    const here = ask(flow, own);
    const cell = (breath: Breath) => {
      const found = ask(flow, breath).estimate;
      return found ? show(found.value, '%', 0) : 'no result: more oxygen than the breath takes in';
    };
    const rule = here.fio2 ? show(here.fio2.value, '%', 0) : 'no value';
    const inspiratory = (breath: Breath) => {
      const found = ask(flow, breath).inspiratoryFlow;
      return found ? show(found.value, 'L/min', 0) : 'no value';
    };
    return {
      draws: {
        kind: 'plot',
        plot: {
          x: { label: 'Oxygen flow, L/min', low: 0, high: 6, every: 1 },
          y: {
            label: 'oxygen in what is breathed in, per cent',
            low: 20,
            high: Math.min(100, Math.max(60, upTo(here.estimate?.value ?? 0, 10))),
            every: 10,
          },
          lines: [
            { name: 'this breath, if oxygen simply mixes in', look: 'main', points: line(own, 'estimate') },
            { name: 'cannula rule, as taught', look: 'thin', points: line(own, 'fio2') },
            { name: breaths.shallow.name, look: 'dashed', points: line(breaths.shallow, 'estimate') },
            { name: breaths.heavy.name, look: 'dotted', points: line(breaths.heavy, 'estimate') },
          ],
          rules: [],
          dots: here.estimate ? [{ at: [flow, here.estimate.value], look: 'hand' }] : [],
        },
      },
      table: {
        caption: `${show(flow, 'L/min', 1)} through a cannula`,
        columns: ['Breath', 'Flow while breathing in', 'Oxygen in it'],
        rows: [
          {
            label: `This one, ${show(tidalVolume, 'mL', 0)} in ${show(inspiratoryTime, 's', 1)}`,
            cells: [inspiratory(own), cell(own)],
          },
          { label: 'Cannula rule', cells: ['not asked', rule] },
          ...Object.values(breaths).map((breath) => ({
            label: breath.name.charAt(0).toUpperCase() + breath.name.slice(1),
            cells: [inspiratory(breath), cell(breath)],
          })),
        ],
      },
      says: `At ${show(flow, 'L/min', 1)} the nasal cannula rule gives an oxygen concentration of ${rule}; the calculation for this breath gives ${cell(own)}.`,
      notes: [
        'The nasal cannula rule is a convention; the oxygen concentration for this breath is calculated. Nothing here was measured on a person. Do not use this picture to choose an oxygen flow.',
      ],
    };
  },
});
