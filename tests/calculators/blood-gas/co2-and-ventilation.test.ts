import fc from 'fast-check';
import { expect, test } from 'vitest';
import co2AndVentilation, { fromOutput } from '../../../calculators/blood-gas/co2-and-ventilation.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(co2AndVentilation);
const ventilation = fc.double({ min: 1.5, max: 10, noNaN: true });
const co2 = fc.double({ min: 30, max: 80, noNaN: true });

test('half the ventilation, twice the CO2', () => {
  fc.assert(
    fc.property(co2, ventilation, (paco2, ventilationNow) => {
      const halved = value({ paco2, ventilationNow, ventilationNew: ventilationNow / 2 }, 'paco2');
      expect(halved).toBeCloseTo(2 * paco2, 9);
    }),
  );
});

test('a change and the change back leave the CO2 where it was', () => {
  fc.assert(
    fc.property(co2, ventilation, ventilation, (paco2, now, after) => {
      const settled = value({ paco2, ventilationNow: now, ventilationNew: after }, 'paco2');
      expect((settled * after) / now).toBeCloseTo(paco2, 9);
    }),
  );
});

test('0.863 is the gas laws and nothing fitted: 760 x 310.15 / 273.15 / 1000', () => {
  expect(fromOutput.run({ co2Output: 1, ventilation: 1 })).toBeCloseTo((760 * 310.15) / 273.15 / 1000, 3);
});

test('200 mL/min of CO2 cleared by 4.3 L/min settles at 40 mmHg (by hand, 172.6 / 4.3)', () => {
  const inputs = { paco2: 45, ventilationNow: 3.8, ventilationNew: 4.3, co2Output: 200 };
  expect(value(inputs, 'fromOutput')).toBeCloseTo(40.14, 2);
  expect(answer({ paco2: 45, ventilationNow: 3.8, ventilationNew: 4.3 }).results.fromOutput).toBeUndefined();
});

test('no ventilation is refused', () => {
  expect(problems({ paco2: 45, ventilationNow: 3.8, ventilationNew: 0 })).toEqual([
    {
      field: 'ventilationNew',
      message: 'Alveolar ventilation after the change is between 0.3 and 40 L/min. 0 is outside that',
    },
  ]);
});
