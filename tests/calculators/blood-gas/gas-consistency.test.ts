import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import gasConsistency from '../../../calculators/blood-gas/gas-consistency.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(gasConsistency);
const co2 = fc.double({ min: 20, max: 120, noNaN: true });
const bicarbonates = fc.double({ min: 10, max: 50, noNaN: true });

describe('the third from two', () => {
  test('bicarbonate 24 with CO2 40 is pH 7.391 with the constant 0.0307 (by hand: 6.1 + log10 of 19.544)', () => {
    expect(value({ bicarbonate: 24, paco2: 40 }, 'ph')).toBeCloseTo(7.391, 3);
  });

  test('kPa and mmHg give one pH: bicarbonate 24 with 5.33 kPa is 7.391', () => {
    expect(value({ bicarbonate: 24, paco2: { value: 5.33, unit: 'kPa' } }, 'ph')).toBeCloseTo(7.391, 3);
  });

  test('pH and bicarbonate undo each other', () => {
    fc.assert(
      fc.property(co2, bicarbonates, (paco2, bicarbonate) => {
        const ph = value({ paco2, bicarbonate }, 'ph');
        fc.pre(ph > 6.8 && ph < 7.8);
        expect(value({ ph, paco2 }, 'bicarbonate')).toBeCloseTo(bicarbonate, 8);
        expect(value({ ph, bicarbonate }, 'paco2')).toBeCloseTo(paco2, 7);
      }),
    );
  });

  test('more CO2 is more acid, more bicarbonate is less', () => {
    fc.assert(
      fc.property(co2, bicarbonates, (paco2, bicarbonate) => {
        const ph = value({ paco2, bicarbonate }, 'ph');
        expect(value({ paco2: paco2 + 1, bicarbonate }, 'ph')).toBeLessThan(ph);
        expect(value({ paco2, bicarbonate: bicarbonate + 1 }, 'ph')).toBeGreaterThan(ph);
      }),
    );
  });

  test('pH 7.4 is 39.8 nmol/L of hydrogen ion, and pH 7 is 100 (definition)', () => {
    expect(value({ ph: 7.4, paco2: 40 }, 'hydrogenIon')).toBeCloseTo(39.81, 2);
    expect(value({ ph: 7, paco2: 40 }, 'hydrogenIon')).toBeCloseTo(100, 9);
  });

  test('24 x CO2 / bicarbonate: 40 and 24 give 40 nmol/L (by hand)', () => {
    expect(value({ paco2: 40, bicarbonate: 24 }, 'hydrogenIonRatio')).toBe(40);
  });

  test('base excess is nothing at bicarbonate 24.4 and pH 7.4, and 0.93 for each mmol/L above (by hand)', () => {
    expect(value({ ph: 7.4, bicarbonate: 24.4 }, 'baseExcess')).toBeCloseTo(0, 12);
    expect(value({ ph: 7.4, bicarbonate: 25.4 }, 'baseExcess')).toBeCloseTo(0.9287, 9);
  });
});

describe('all three', () => {
  test('a gas that fits is not commented on', () => {
    const { results, cautions } = answer({ ph: 7.35, paco2: 60, bicarbonate: 32.8 });
    expect(Math.abs(results.misfit?.value ?? 1)).toBeLessThan(0.001);
    expect(cautions).toEqual([
      'Blood-gas values that are consistent with each other can still be abnormal. Consistent values mean only that the blood gas was copied correctly.',
      'A calculated CO2 does not replace a measured CO2 in any decision.',
    ]);
  });

  test('a digit copied wrongly shows', () => {
    expect(answer({ ph: 7.35, paco2: 60, bicarbonate: 23 }).cautions[0]).toBe(
      'These three values are not consistent with each other: CO2 and bicarbonate give pH 7.20, not 7.35. Check for a wrong digit or unit, or numbers of two samples. (Limit of 0.03: our own.)',
    );
  });

  test('the constant 0.03 instead of 0.0307 is no misfit: it moves pH by 0.010 (by hand, log10 of 307/300)', () => {
    const { results, cautions } = answer({ ph: 7.401, paco2: 40, bicarbonate: 24 });
    expect(results.misfit?.value).toBeCloseTo(0.01, 3);
    expect(cautions[0]).not.toContain('do not fit');
  });
});

describe('too little', () => {
  test.each([
    [{}, { field: 'ph', message: 'Enter any two of pH, PaCO2 and bicarbonate. There is none so far' }],
    [{ paco2: 40 }, { field: 'ph', message: 'Enter any two of pH, PaCO2 and bicarbonate. There is one so far' }],
    [{ bicarbonate: 30 }, { field: 'ph', message: 'Enter any two of pH, PaCO2 and bicarbonate. There is one so far' }],
    [{ ph: 7.4 }, { field: 'paco2', message: 'Enter PaCO2 or bicarbonate as well as the pH' }],
  ])('%j asks for what is missing', (inputs, problem) => {
    expect(problems(inputs)).toEqual([problem]);
  });
});
