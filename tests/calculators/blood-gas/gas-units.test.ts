import fc from 'fast-check';
import { expect, test } from 'vitest';
import gasUnits from '../../../calculators/blood-gas/gas-units.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(gasUnits);

test('6 kPa is 45.0037 mmHg, so 45 mmHg is just below 6 kPa (1 kPa = 7.50062 mmHg, unit constant)', () => {
  expect(value({ pressure: 6 }, 'mmHg')).toBeCloseTo(6 * 7.50062, 4);
  expect(value({ pressure: { value: 45, unit: 'mm[Hg]' } }, 'kPa')).toBeLessThan(6);
});

test('one standard atmosphere, 101.325 kPa, is 760 mmHg (definition; the two differ in the seventh figure)', () => {
  expect(value({ pressure: 101.325 }, 'mmHg')).toBeCloseTo(760, 3);
});

test('there and back gives the pressure that went in', () => {
  fc.assert(
    fc.property(fc.double({ min: 1, max: 800, noNaN: true }), (mmHg) => {
      const kPa = value({ pressure: { value: mmHg, unit: 'mm[Hg]' } }, 'kPa');
      expect(value({ pressure: kPa }, 'mmHg')).toBeCloseTo(mmHg, 9);
    }),
  );
});

test('a pressure that only oxygen explains is questioned', () => {
  expect(answer({ pressure: 45 }).cautions[0]).toBe(
    'Only a PaO2 taken on oxygen is this high. If this is a CO2, or a blood gas on room air, the unit chosen is wrong.',
  );
  expect(answer({ pressure: 6 }).cautions).toEqual([
    'Compare a reading with a threshold in the unit that its source used: 6.0\u00a0kPa is slightly more than 45\u00a0mmHg.',
  ]);
});

test('112 typed in kPa is asked about', () => {
  expect(problems({ pressure: 112 })).toEqual([
    { field: 'pressure', message: 'Pressure is between 0.1 and 110 kPa. Is 112 in mmHg?' },
  ]);
});
