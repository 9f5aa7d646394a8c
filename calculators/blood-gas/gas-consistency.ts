/**
 * pH, CO2 and bicarbonate: the third from any two, or whether all three fit one another.
 *
 *   pH = 6.1 + log10(HCO3 / (0.0307 x PaCO2))        Henderson-Hasselbalch
 *   H+ = 10^(9 - pH)   and, from the other two,   H+ = 24 x PaCO2 / HCO3
 *   base excess = 0.9287 x (HCO3 - 24.4 + 14.83 x (pH - 7.4))
 *
 * The three are bound by one equation, so a gas copied with one wrong digit gives itself away. It is
 * also how a bicarbonate or a base excess is got from a report that does not print one.
 *
 * With 0.0307, bicarbonate 24 and CO2 40 give pH 7.391; with the rounder 0.03 they give 7.401. Either
 * is in use, so a difference of 0.01 says nothing.
 *
 * @refuses fewer than two of the three
 */
import { defineCalculator, formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import { showNumber } from '../quantity.ts';
import { bicarbonate, mercury, paco2, ph } from './shared-fields.ts';

const phSymbol = { means: 'pH', unit: '', range: [6.8, 7.8] } as const;
const co2Symbol = { means: 'arterial CO2', unit: 'mmHg', range: [15, 150] } as const;
const bicarbonateSymbol = { means: 'bicarbonate', unit: 'mmol/L', range: [5, 70] } as const;

const phFromGas = formula({
  result: 'pH',
  unit: '',
  text: '6.1 + log10(bicarbonate / (0.0307 * paco2))',
  withUnits: '6.1 + log10(bicarbonate / (0.0307 mmol/L/mmHg * paco2))',
  symbols: { bicarbonate: bicarbonateSymbol, paco2: co2Symbol },
  run: ({ bicarbonate, paco2 }) => 6.1 + Math.log10(bicarbonate / (0.0307 * paco2)),
});

const bicarbonateFromPh = formula({
  result: 'bicarbonate',
  unit: 'mmol/L',
  text: '0.0307 * paco2 * 10^(ph - 6.1)',
  withUnits: '0.0307 mmol/L/mmHg * paco2 * 10^(ph - 6.1)',
  symbols: { paco2: co2Symbol, ph: phSymbol },
  run: ({ paco2, ph }) => 0.0307 * paco2 * 10 ** (ph - 6.1),
});

const co2FromPh = formula({
  result: 'PaCO2',
  unit: 'mmHg',
  text: 'bicarbonate / (0.0307 * 10^(ph - 6.1))',
  withUnits: 'bicarbonate / (0.0307 mmol/L/mmHg * 10^(ph - 6.1))',
  symbols: { bicarbonate: bicarbonateSymbol, ph: phSymbol },
  run: ({ bicarbonate, ph }) => bicarbonate / (0.0307 * 10 ** (ph - 6.1)),
});

const hydrogenFromPh = formula({
  result: 'hydrogenIon',
  unit: 'nmol/L',
  text: '10^(9 - ph)',
  withUnits: '10^(9 - ph) * 1 nmol/L',
  symbols: { ph: phSymbol },
  run: ({ ph }) => 10 ** (9 - ph),
});

const hydrogenFromGas = formula({
  result: 'hydrogenIon',
  unit: 'nmol/L',
  text: '24 * paco2 / bicarbonate',
  withUnits: '24 (nmol/L) * (mmol/L) / mmHg * paco2 / bicarbonate',
  symbols: { paco2: co2Symbol, bicarbonate: bicarbonateSymbol },
  run: ({ paco2, bicarbonate }) => (24 * paco2) / bicarbonate,
});

export const baseExcess = formula({
  result: 'baseExcess',
  unit: 'mmol/L',
  text: '0.9287 * (bicarbonate - 24.4 + 14.83 * (ph - 7.4))',
  withUnits: '0.9287 * (bicarbonate - 24.4 mmol/L + 14.83 mmol/L * (ph - 7.4))',
  symbols: { bicarbonate: bicarbonateSymbol, ph: phSymbol },
  run: ({ bicarbonate, ph }) => 0.9287 * (bicarbonate - 24.4 + 14.83 * (ph - 7.4)),
});

const misfit = formula({
  result: 'misfit',
  unit: '',
  text: 'typed - fromOthers',
  symbols: {
    typed: { ...phSymbol, means: 'pH as typed' },
    fromOthers: { ...phSymbol, means: 'pH from CO2 and bicarbonate' },
  },
  run: ({ typed, fromOthers }) => typed - fromOthers,
});

/** Our own limit: analysers that round and use other constants differ by 0.01 to 0.02. */
const fits = 0.03;

export default defineCalculator({
  id: 'gas-consistency',
  title: 'Does this blood gas fit together?',
  purpose: 'Calculates pH, CO2 or bicarbonate from the other two values, or says whether all three agree.',
  group: 'gas',
  keywords: [
    'Henderson-Hasselbalch',
    'pH',
    'hydrogen ion',
    'H+',
    'bicarbonate',
    'HCO3',
    'base excess',
    'BE',
    'blood gas',
    'ABG',
    'typing error',
  ],
  fields: {
    ph: {
      ...ph,
      optional: true,
      help: 'Any two of pH, CO2 and bicarbonate are enough. If you enter all three, they are checked against each other.',
    },
    paco2: { ...paco2, optional: true },
    bicarbonate: {
      ...bicarbonate,
      optional: true,
      help: 'Enter the actual bicarbonate from the report, not the standard bicarbonate. A bicarbonate in mEq/L is the same number in mmol/L.',
    },
  },
  formulas: { phFromGas, bicarbonateFromPh, co2FromPh, misfit, hydrogenFromPh, hydrogenFromGas, baseExcess },
  results: {
    misfit: {
      label: 'pH typed minus pH from the other two',
      unit: '[pH]',
      decimals: 3,
      plausible: [-0.3, 0.3],
      main: true,
    },
    ph: { label: 'pH from CO2 and bicarbonate', unit: '[pH]', decimals: 3, plausible: [6.8, 7.8], main: true },
    bicarbonate: {
      label: 'Bicarbonate from pH and CO2',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [5, 70],
      main: true,
    },
    paco2: { label: 'CO2 from pH and bicarbonate', unit: 'mm[Hg]', decimals: 1, plausible: [10, 150], main: true },
    hydrogenIon: { label: 'Hydrogen ion, from the pH', unit: 'nmol/L', decimals: 1, plausible: [16, 160] },
    hydrogenIonRatio: {
      label: 'Hydrogen ion, 24 x CO2 / bicarbonate',
      unit: 'nmol/L',
      decimals: 1,
      plausible: [16, 160],
    },
    baseExcess: {
      label: 'Base excess (extracellular)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [-30, 40],
    },
  },
  holds: { population: 'one blood sample at 37 °C', notFor: 'numbers from two different samples' },
  cautions: [
    'Blood-gas values that are consistent with each other can still be abnormal. Consistent values mean only that the blood gas was copied correctly.',
    'A calculated CO2 does not replace a measured CO2 in any decision.',
  ],
  citations: [
    {
      cite: 'Henderson-Hasselbalch equation, pK 6.1 and 0.0307 mmol/L per mmHg',
      locator: 'standard physiology; 0.0307 x 7.50062 = 0.230 per kPa, the other constant in use',
      standing: 'from-memory',
      note: 'A table that quotes the NCCLS 1994 standard uses pK 6.105 with 0.0307, which gives a pH 0.005 higher.',
    },
    {
      cite: 'H+ = 24 x PaCO2 / HCO3 (Kassirer and Bleich)',
      locator: 'from memory; no source was opened',
      standing: 'from-memory',
    },
    {
      cite: 'Base excess of the extracellular fluid, 0.9287 x (HCO3 - 24.4 + 14.83 x (pH - 7.4))',
      locator: 'from memory; no source was opened; analysers use several forms that differ by about 1 mmol/L',
      standing: 'from-memory',
    },
    mercury,
  ],
  compute: ({ ph, paco2, bicarbonate }, step) => {
    if (paco2 !== undefined && bicarbonate !== undefined) {
      const fromOthers = step(phFromGas, { bicarbonate, paco2 });
      const shared = { hydrogenIonRatio: { value: step(hydrogenFromGas, { paco2, bicarbonate }) } };
      if (ph === undefined)
        return { results: { ph: { value: fromOthers }, ...shared, ...ofPh(fromOthers, bicarbonate) } };
      const difference = step(misfit, { typed: ph, fromOthers });
      return {
        results: {
          misfit: { value: difference },
          ph: { value: fromOthers },
          bicarbonate: { value: step(bicarbonateFromPh, { paco2, ph }) },
          paco2: { value: step(co2FromPh, { bicarbonate, ph }) },
          ...shared,
          ...ofPh(ph, bicarbonate),
        },
        cautions:
          Math.abs(difference) > fits
            ? [
                `These three values are not consistent with each other: CO2 and bicarbonate give pH ${showNumber(fromOthers, 2)}, not ${showNumber(ph, 2)}. Check for a wrong digit or unit, or numbers of two samples. (Limit of ${fits}: our own.)`,
              ]
            : [],
      };
    }
    if (ph === undefined) {
      const given = paco2 === undefined && bicarbonate === undefined ? 'none' : 'one';
      return refuse('ph', `Enter any two of pH, PaCO2 and bicarbonate. There is ${given} so far`);
    }
    if (paco2 !== undefined) {
      const computed = step(bicarbonateFromPh, { paco2, ph });
      return { results: { bicarbonate: { value: computed }, ...ofPh(ph, computed) } };
    }
    if (bicarbonate !== undefined)
      return { results: { paco2: { value: step(co2FromPh, { bicarbonate, ph }) }, ...ofPh(ph, bicarbonate) } };
    return refuse('paco2', 'Enter PaCO2 or bicarbonate as well as the pH');

    function ofPh(ph: number, bicarbonate: number) {
      return {
        hydrogenIon: { value: step(hydrogenFromPh, { ph }) },
        baseExcess: { value: step(baseExcess, { bicarbonate, ph }) },
      };
    }
  },
});
