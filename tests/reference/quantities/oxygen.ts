import { calculate } from '../../../calculators/index.ts';
import { type UkSize, ukSizes } from '../../../calculators/oxygen/cylinders.ts';
import type { CheckedQuantity } from '../quantity-adapter.ts';

/** One result of one calculator, or 'reject' where it refuses. */
function answer(id: string, result: string, inputs: Parameters<typeof calculate>[1]): number | 'reject' {
  const outcome = calculate(id, inputs);
  return (outcome.ok ? outcome.results[result]?.value : undefined) ?? 'reject';
}

const asFraction = (percent: number | 'reject') => (percent === 'reject' ? percent : percent / 100);

export const oxygen: Record<string, CheckedQuantity> = {
  'fio2.cannula': ({ Lmin }) =>
    asFraction(answer('oxygen-flow-to-fio2', 'fio2', { interface: 'cannula', flow: Number(Lmin) })),

  // The ratio does not depend on the oxygen flow: any flow that a valve takes will do.
  'venturi.ratio': ({ percent }) => answer('venturi', 'airToOxygen', { percent: String(percent), oxygenFlow: 8 }),

  'venturi.total': ({ percent, oxygenLmin }) =>
    answer('venturi', 'totalFlow', { percent: String(percent), oxygenFlow: Number(oxygenLmin) }),

  // How the total is made up does not matter to the mixture; halves and quarters add up without rounding.
  'fio2.mix': ({ oxygenLmin, totalLmin, purity }) =>
    asFraction(
      answer('oxygen-bleed-in', 'fio2', {
        oxygenFlow: Number(oxygenLmin),
        minuteVentilation: Number(totalLmin) / 4,
        intentionalLeak: Number(totalLmin) / 2,
        unintentionalLeak: Number(totalLmin) / 4,
        supply: 'cylinder',
        purity: Number(purity) * 100,
      }),
    ),

  // The calculator checks an order and wants its flow; the corresponding flow does not depend on it.
  'oxygen.needed': ({ fio2, totalLmin, purity }) =>
    answer('oxygen-order-check', 'correspondingFlow', {
      orderedFio2: Number(fio2) * 100,
      orderedFlow: 1,
      totalFlow: Number(totalLmin),
      supply: 'cylinder',
      purity: Number(purity) * 100,
    }),

  'cylinder.minutes': (inputs) => (inputs.country === 'us' ? usMinutes(inputs) : ukMinutes(inputs)),

  'liquid.gasLitres': ({ liquidLitres }) =>
    answer('liquid-oxygen-duration', 'litres', { liquid: Number(liquidLitres), flow: 1 }),

  'so2.severinghaus': ({ po2 }) => answer('saturation-from-po2', 'saturation', { po2: Number(po2) }),

  'oxygen.content': ({ hb, so2, po2 }) =>
    answer('oxygen-content', 'content', {
      haemoglobin: Number(hb),
      saturation: Number(so2) * 100,
      po2: Number(po2),
    }),
};

const usMinutes: CheckedQuantity = ({ size, psi, residualPsi, Lmin }) =>
  answer('cylinder-duration', 'minutes', {
    country: 'us',
    usSize: String(size),
    gauge: { value: Number(psi), unit: '[psi]' },
    residual: { value: Number(residualPsi), unit: '[psi]' },
    flow: Number(Lmin),
  });

/** A row whose contents are not those of our list is another cylinder, and no answer of ours would be an answer to it. */
const ukMinutes: CheckedQuantity = ({ size, fullLitres, gaugeFraction, Lmin }) =>
  ukSizes[size as UkSize]?.litres === Number(fullLitres)
    ? answer('cylinder-duration', 'minutes', {
        country: 'uk',
        ukSize: String(size),
        gaugeShare: Number(gaugeFraction) * 100,
        residual: 0,
        flow: Number(Lmin),
      })
    : 'reject';
