/**
 * Blood gas, ventilation and slope rows of the check file. Each goes through the calculator a reader would use;
 * where a row gives only part of what the form asks for, through the formula that the form runs.
 */
import alveolarGas, { expectedLine, expectedQuarter } from '../../../calculators/blood-gas/alveolar-gas.ts';
import bicarbonateForCo2 from '../../../calculators/blood-gas/bicarbonate-for-co2.ts';
import co2AndVentilation, { fromOutput } from '../../../calculators/blood-gas/co2-and-ventilation.ts';
import deadSpaceShare from '../../../calculators/blood-gas/dead-space-share.ts';
import gasConsistency from '../../../calculators/blood-gas/gas-consistency.ts';
import gasUnits from '../../../calculators/blood-gas/gas-units.ts';
import minuteVentilation from '../../../calculators/blood-gas/minute-ventilation.ts';
import rapidShallowIndex from '../../../calculators/blood-gas/rapid-shallow-index.ts';
import type { RawInput } from '../../../calculators/calculator.ts';
import declineRate from '../../../calculators/trend/decline-rate.ts';
import type { CheckedQuantity, CheckInputs } from '../quantity-adapter.ts';
import { resultOf } from './result-of.ts';

const co2Of = ({ paco2, paco2kPa }: CheckInputs): RawInput =>
  paco2kPa === undefined ? paco2 : { value: Number(paco2kPa), unit: 'kPa' };

const alveolar =
  (result: string): CheckedQuantity =>
  (inputs) =>
    resultOf(
      alveolarGas,
      { fio2: inputs.fio2, pressure: inputs.pb, paco2: co2Of(inputs), pao2: inputs.pao2, r: inputs.R },
      result,
    );

const slope =
  (result: string): CheckedQuantity =>
  ({ vc1, vc2, months }) =>
    resultOf(
      declineRate,
      {
        test: 'vc-percent',
        sameMethod: 'yes',
        readings: [
          { time: 0, value: vc1 },
          { time: { value: Number(months), unit: 'mo{span}' }, value: vc2 },
        ],
      },
      result,
    );

/** Which result of the bicarbonate page answers a published set, by its slope where a set has two. */
const chronicResults: Record<string, string> = {
  'gonzalez-2018': 'gonzalez',
  'classic 0.35': 'classic',
  'classic 0.4': 'classicHigh',
  'martinu-2003': 'steep',
};

export const gas: Record<string, CheckedQuantity> = {
  'PAO2.full': alveolar('alveolar'),
  'PAO2.simple': alveolar('alveolarSimple'),
  'Aa.gradient': (inputs) => alveolar(inputs.form === 'simple' ? 'gradientSimple' : 'gradient')(inputs),
  'Aa.expected': ({ age, form }) => (form === 'line' ? expectedLine : expectedQuarter).run({ age: Number(age) }),
  'ph.hh': (inputs) => resultOf(gasConsistency, { bicarbonate: inputs.hco3, paco2: co2Of(inputs) }, 'ph'),
  hplus: (inputs) => resultOf(gasConsistency, { bicarbonate: inputs.hco3, paco2: co2Of(inputs) }, 'hydrogenIonRatio'),
  'hco3.fromPhPco2': (inputs) => resultOf(gasConsistency, { ph: inputs.ph, paco2: co2Of(inputs) }, 'bicarbonate'),
  'hco3.expectedChronic': (inputs) => {
    const set = inputs.set === 'classic' ? `classic ${Number(inputs.slope)}` : String(inputs.set);
    const result = chronicResults[set];
    if (result === undefined) throw new Error(`No published slope "${set}"`);
    return resultOf(bicarbonateForCo2, { paco2: co2Of(inputs) }, result);
  },
  'hco3.expectedAcute': (inputs) => resultOf(bicarbonateForCo2, { paco2: co2Of(inputs) }, 'acute'),
  baseExcess: ({ hco3, ph }) => resultOf(gasConsistency, { bicarbonate: hco3, ph }, 'baseExcess'),
  minuteVentilation: ({ vtMl, rate }) => resultOf(minuteVentilation, { breath: vtMl, rate }, 'minute'),
  alveolarVentilation: ({ vtMl, vdMl, rate }) =>
    resultOf(minuteVentilation, { breath: vtMl, deadSpace: vdMl, rate }, 'alveolar'),
  'vdvt.bohr': (inputs) => resultOf(deadSpaceShare, { paco2: co2Of(inputs), mixedExpired: inputs.peco2 }, 'share'),
  'paco2.fromVA': ({ vco2, va }) => fromOutput.run({ co2Output: Number(vco2), ventilation: Number(va) }),
  'paco2.scaled': ({ paco2, vaOld, vaNew }) =>
    resultOf(co2AndVentilation, { paco2, ventilationNow: vaOld, ventilationNew: vaNew }, 'paco2'),
  rsbi: ({ rate, vtMl }) => resultOf(rapidShallowIndex, { rate, breath: vtMl }, 'index'),
  'mmHg.fromKPa': ({ kPa }) => resultOf(gasUnits, { pressure: kPa }, 'mmHg'),
  'vc.slope': slope('slopePoints'),
  'vc.slopeRelative': slope('relative'),
};
