import { calculate } from '../../../calculators/index.ts';
import type { CheckedQuantity } from '../quantity-adapter.ts';

export const cough: Record<string, CheckedQuantity> = {
  'flow.LsToLmin': ({ Ls }) => {
    const outcome = calculate('peak-cough-flow', { flow: { value: Number(Ls), unit: 'L/s' } });
    return (outcome.ok ? outcome.results.perMinute?.value : undefined) ?? 'reject';
  },

  'pef.pred': ({ set, sex, age, heightCm }) => {
    const outcome = calculate('peak-expiratory-flow', {
      set: String(set),
      sex: String(sex),
      age: Number(age),
      height: Number(heightCm),
    });
    return (outcome.ok ? outcome.results.predicted?.value : undefined) ?? 'reject';
  },

  // The conversion runs where a Wright-scale reading meets an EU-scale set; who the boy is does not matter to it.
  'pef.euFromWright': ({ wrightLmin }) => {
    const outcome = calculate('peak-expiratory-flow', {
      set: 'hong-kong-2012-child',
      sex: 'male',
      age: 10,
      height: 138,
      measured: Number(wrightLmin),
      meter: 'wright',
    });
    return (outcome.ok ? outcome.results.measuredEu?.value : undefined) ?? 'reject';
  },
};
