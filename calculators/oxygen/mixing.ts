/**
 * Mixing two streams: oxygen and air.
 *
 *   FiO2 = 21 + (purity - 21) x oxygen flow / total flow          per cent, both flows in the same unit
 *
 * Whatever carries the gas, the share of oxygen is the oxygen that enters divided by everything that enters.
 * Air is taken as 21 %, the rounding that respiratory therapists and the Venturi ratio use (20.93 % measured).
 *
 * The same line turned round says which flow an FiO2 corresponds to. It is here to check an order that
 * someone has written, never to choose one.
 *
 * @source  conservation of mass; it rests on no population and no measurement
 */
import { formula } from '../calculator.ts';
import { type Refusal, refuse } from '../outcome.ts';
import { showNumber } from '../quantity.ts';

/** Oxygen in air, per cent, as respiratory therapists round it. */
export const air = 21;

const flow = { unit: 'L/minute' } as const;

export const mix = formula({
  result: 'fio2',
  unit: '',
  text: '21 + (purity - 21) * oxygenFlow / totalFlow',
  symbols: {
    purity: { means: 'oxygen in the supply, per cent', unit: '', range: [80, 100] },
    oxygenFlow: { means: 'oxygen flow', ...flow, range: [0.1, 15] },
    totalFlow: { means: 'total flow, oxygen included', ...flow, range: [15, 150] },
  },
  run: ({ purity, oxygenFlow, totalFlow }) => 21 + ((purity - 21) * oxygenFlow) / totalFlow,
});

export const oxygenNeeded = formula({
  result: 'oxygenFlow',
  unit: 'L/minute',
  text: 'totalFlow * (fio2 - 21) / (purity - 21)',
  symbols: {
    totalFlow: { means: 'total flow, oxygen included', ...flow, range: [5, 150] },
    fio2: { means: 'oxygen in the mixture, per cent', unit: '', range: [21, 80] },
    purity: { means: 'oxygen in the supply, per cent', unit: '', range: [80, 100] },
  },
  run: ({ totalFlow, fio2, purity }) => (totalFlow * (fio2 - 21)) / (purity - 21),
});

/** An FiO2 is typed in per cent here. 0.35 is questioned, since 35 was probably meant; it is never read as 0.35 %. */
export function refuseFraction(field: string, label: string, fio2: number): Refusal | undefined {
  if (fio2 === 0 || fio2 > 1) return undefined;
  return refuse(field, `${label} is in per cent here, 21 to 100. Is ${fio2} meant as ${showNumber(fio2 * 100, 0)} %?`);
}
