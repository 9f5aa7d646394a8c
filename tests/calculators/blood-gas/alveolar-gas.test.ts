import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import alveolarGas from '../../../calculators/blood-gas/alveolar-gas.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(alveolarGas);
const roomAir = { fio2: 0.21 };
const co2 = fc.double({ min: 20, max: 90, noNaN: true });

describe('alveolar oxygen', () => {
  test('room air at sea level with a CO2 of 40 leaves 101.8 mmHg, or 99.7 by the simple form (by hand)', () => {
    const { results } = answer({ ...roomAir, paco2: 40 });
    expect(results.alveolar?.value).toBeCloseTo(0.21 * 713 - 40 * (0.21 + 0.79 / 0.8), 9);
    expect(results.alveolarSimple?.value).toBeCloseTo(99.73, 9);
  });

  test('the more CO2, the less oxygen', () => {
    fc.assert(
      fc.property(co2, fc.double({ min: 0.1, max: 20, noNaN: true }), (paco2, more) => {
        const before = value({ ...roomAir, paco2 }, 'alveolar');
        expect(value({ ...roomAir, paco2: paco2 + more }, 'alveolar')).toBeLessThan(before);
      }),
    );
  });

  test('the simple form is lower by PaCO2 x FiO2 x (1/R - 1)', () => {
    fc.assert(
      fc.property(co2, fc.double({ min: 0.21, max: 1, noNaN: true }), (paco2, fio2) => {
        const { results } = answer({ fio2, paco2, pressure: 790 });
        const gap = (results.alveolar?.value ?? 0) - (results.alveolarSimple?.value ?? 0);
        expect(gap).toBeCloseTo(paco2 * fio2 * 0.25, 8);
      }),
    );
  });

  test('a room air typed in per cent is the same air', () => {
    expect(value({ fio2: { value: 21, unit: '%' }, paco2: 40 }, 'alveolar')).toBeCloseTo(101.83, 9);
  });

  test('weather-report hectopascals are taken', () => {
    const hPa = value({ ...roomAir, paco2: 40, pressure: { value: 1013.25, unit: 'hPa' } }, 'alveolar');
    expect(hPa).toBeCloseTo(101.83, 3);
  });

  test('a CO2 that leaves no oxygen is refused with its cause', () => {
    expect(problems({ ...roomAir, paco2: 140 })).toEqual([
      {
        field: 'paco2',
        message:
          'With this air, a CO2 of 140\u00a0mmHg leaves no oxygen in the alveoli. Check the CO2, the oxygen and the air pressure',
      },
    ]);
  });

  test('21 typed as a fraction is asked about', () => {
    expect(problems({ fio2: 21, paco2: 40 })).toEqual([
      { field: 'fio2', message: 'Oxygen breathed in is between 0.15 and 1. Is 21 in %?' },
    ]);
  });
});

describe('the gradient', () => {
  const gas = { ...roomAir, paco2: 60, pao2: 65, age: 60 };

  test('CO2 of 60 with oxygen of 65 is nearly explained by the CO2 (by hand: 77.88 - 65)', () => {
    const { results } = answer(gas);
    expect(results.gradient?.value).toBeCloseTo(12.88, 9);
    expect(results.gradientSimple?.value).toBeCloseTo(9.73, 9);
    expect(results.expected?.value).toBe(19);
    expect(results.expectedLine?.value).toBeCloseTo(15.1, 9);
  });

  test('on oxygen no expected gradient is given, and the page says why', () => {
    const { results, cautions } = answer({ ...gas, fio2: 0.28 });
    expect(Object.keys(results)).toEqual(['alveolar', 'alveolarSimple', 'gradient', 'gradientSimple']);
    expect(cautions).toContain(
      'Oxygen itself widens the gradient, so no expected value is given and a wide gradient says little. A good oxygen level here can hide a rising CO2: look at the CO2.',
    );
  });

  test('a child gets no expected gradient', () => {
    const { results, cautions } = answer({ ...gas, age: 12 });
    expect(results.expected).toBeUndefined();
    expect(cautions).toContain('The expected gradients are for adults and are left out.');
  });

  test('arterial oxygen above alveolar is called out first', () => {
    expect(answer({ ...gas, pao2: 95 }).cautions[0]).toBe(
      'Arterial oxygen cannot be higher than alveolar oxygen. Was this sample taken on more oxygen than you typed, or is a number or unit wrong?',
    );
  });

  test('an assumed sea level is said aloud', () => {
    expect(answer(gas).cautions).toContain('Air pressure was taken as 760\u00a0mmHg, sea level.');
    expect(answer({ ...gas, pressure: 640 }).cautions).not.toContain(
      'Air pressure was taken as 760\u00a0mmHg, sea level.',
    );
  });
});

describe('the edges', () => {
  test('a CO2 that leaves no oxygen is refused at its field, by either form', () => {
    // By hand, 0.21 x 713 = 149.73: the full form takes away 120 x 1.1975 = 143.7 or 126 x 1.1975 = 150.9, the simple form 120 / 0.8 = 150.
    for (const paco2 of [120, 126, 150])
      expect([paco2, problems({ ...roomAir, paco2 }).map(({ field }) => field)]).toEqual([paco2, ['paco2']]);
    expect(value({ ...roomAir, paco2: 115 }, 'alveolarSimple')).toBeGreaterThan(0);
  });

  test('above 21.5 % the air counts as oxygen, at 21.5 % not yet', () => {
    const warns = (fio2: number) =>
      answer({ fio2, paco2: 40, pao2: 80 }).cautions.some((one) => one.startsWith('Oxygen itself widens'));
    expect([warns(0.215), warns(0.2151)]).toEqual([false, true]);
  });

  test('an air pressure that was not typed is said to be sea level; one that was is not', () => {
    const warns = (more: object) =>
      answer({ ...roomAir, paco2: 40, ...more }).cautions.some((one) => one.startsWith('Air pressure was taken'));
    expect([warns({}), warns({ pressure: 700 })]).toEqual([true, false]);
  });
});
