import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  compare,
  convert,
  convertible,
  isUnit,
  show,
  showNumber,
  type UnitCode,
  unitCodes,
  units,
} from '../../calculators/quantity.ts';

const between = (from: UnitCode, to: UnitCode) => (value: number) => convert(value, from, to);

describe('conversions', () => {
  // UCUM essence file (ucum.org): m[H2O] = 9.80665 kPa, m[Hg] = 133.322387415 kPa
  test('6 kPa is 45.0037 mmHg (UCUM)', () => expect(between('kPa', 'mm[Hg]')(6)).toBeCloseTo(45.0037, 4));
  test('1 kPa is 10.19716 cmH2O (UCUM)', () => expect(between('kPa', 'cm[H2O]')(1)).toBeCloseTo(10.19716, 5));
  test('1 cmH2O is 0.735559 mmHg (UCUM)', () => expect(between('cm[H2O]', 'mm[Hg]')(1)).toBeCloseTo(0.735559, 6));
  // UCUM: [psi] is [lbf_av] per [sin_i], 6894.757293 Pa; bar is 100 000 Pa
  test('1 psi is 6.894757 kPa, 1 bar is 100 kPa, 1 hPa is 0.1 kPa (UCUM)', () => {
    expect(between('[psi]', 'kPa')(1)).toBeCloseTo(6.894757, 6);
    expect(between('bar', 'kPa')(1)).toBeCloseTo(100, 12);
    expect(between('hPa', 'kPa')(1)).toBeCloseTo(0.1, 12);
  });
  // International inch, foot and pound (UCUM [in_i], [ft_i], [lb_av]): exact by definition
  test('an inch is 2.54 cm, a foot 12 of them, a pound 0.45359237 kg (definitions)', () => {
    expect(between('[in_i]', 'cm')(1)).toBe(2.54);
    expect(between('[ft_i]', '[in_i]')(1)).toBeCloseTo(12, 12);
    expect(between('[lb_av]', 'kg')(1)).toBe(0.45359237);
    expect(between('[ft_i]{altitude}', 'm{altitude}')(8000)).toBeCloseTo(2438.4, 9);
  });
  test('4.5 L/s is 270 L/min, 500 mL is half a litre, 2 years are 24 months, 2 weeks 14 days (definitions)', () => {
    expect(between('L/s', 'L/min')(4.5)).toBe(270);
    expect(between('mL', 'L')(500)).toBe(0.5);
    expect(between('a', 'mo')(2)).toBe(24);
    expect(between('wk', 'd')(2)).toBe(14);
  });
  test('98.6 \u00b0F is 37 \u00b0C, 32 is 0 and -40 is -40 (definition)', () => {
    expect(between('[degF]', 'Cel')(98.6)).toBeCloseTo(37, 10);
    expect(between('Cel', '[degF]')(0)).toBeCloseTo(32, 10);
    expect(between('Cel', '[degF]')(-40)).toBeCloseTo(-40, 10);
  });
  test('0.4 is 40 per cent, and 12 g/dL is 120 g/L (definitions)', () => {
    expect(between('1', '%')(0.4)).toBeCloseTo(40, 12);
    expect(between('g/dL', 'g/L')(12)).toBeCloseTo(120, 12);
  });
  // UCUM: mo is 365.25 / 12 days
  test('a month of time is 30.4375 days (UCUM)', () => expect(between('mo{span}', 'd')(1)).toBe(30.4375));

  test('a value told in its own unit is untouched, to the last digit', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true }), fc.constantFrom(...unitCodes), (value, unit) => {
        expect(convert(value, unit, unit)).toBe(value);
      }),
    );
  });

  test('there and back is the same value, to one part in a million million', () => {
    const pairs = unitCodes.flatMap((from) =>
      unitCodes.filter((to) => convertible(from, to)).map((to) => [from, to] as const),
    );
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), fc.constantFrom(...pairs), (value, [from, to]) => {
        const back = convert(convert(value, from, to), to, from);
        // Scales that do not start together lose the last digits of a value far below the distance between their noughts.
        const size = Math.max(Math.abs(value), units[from].dimension === 'temperature' ? 50 : 0);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-12 * size);
      }),
      { numRuns: 5000 },
    );
  });

  test('by way of a third unit is the same as straight', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 1000, noNaN: true }), (value) => {
        const straight = convert(value, '[psi]', 'cm[H2O]');
        const around = convert(convert(value, '[psi]', 'mm[Hg]'), 'mm[Hg]', 'cm[H2O]');
        expect(Math.abs(around / straight - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  test.each([
    ['L', '%'],
    ['cm', 'kg'],
    ['a', 'd'],
    ['L/s', 'L'],
    ['kPa', 'L/min'],
    ['cm', 'm{altitude}'],
    ['%', '%/mo'],
  ] as const)('%s does not convert to %s: our own mistake, thrown', (from, to) => {
    expect(convertible(from, to)).toBe(false);
    expect(() => convert(1, from, to)).toThrow(RangeError);
  });

  test('each unit has a positive factor, and each dimension a base of one somewhere or a definition', () => {
    for (const code of unitCodes)
      expect([code, units[code].factor > 0 && Number.isFinite(units[code].factor)]).toEqual([code, true]);
  });

  test('a code is a unit only if it is in the list: not a property every object has', () => {
    expect(isUnit('cm[H2O]')).toBe(true);
    for (const code of ['cmH2O', 'toString', 'constructor', '__proto__', '']) expect(isUnit(code)).toBe(false);
  });
});

describe('comparing with a threshold', () => {
  test('4.1 L/s is 246 L/min when compared, although the machine says 245.99999999999997', () => {
    const converted = convert(4.1, 'L/s', 'L/min');
    expect(converted).not.toBe(246);
    expect(compare(converted, 246, true)).toBe(0);
  });
  test('what was typed in the criterion\u2019s own unit is compared as typed, however close', () => {
    expect(compare(39.9999999999, 40, false)).toBeLessThan(0);
    expect(compare(40, 40, false)).toBe(0);
    expect(compare(40.0000000001, 40, false)).toBeGreaterThan(0);
  });
  test('a real difference after a conversion stays one: 5.9995 kPa is below 45 mmHg', () => {
    expect(compare(convert(5.999, 'kPa', 'mm[Hg]'), 45, true)).toBeLessThan(0);
    // 45 mmHg is 5.99951 kPa (UCUM)
    expect(compare(convert(6, 'kPa', 'mm[Hg]'), 45, true)).toBeGreaterThan(0);
  });
  test('order turns round with its sides', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.boolean(),
        (a, b, converted) => {
          expect(Math.sign(compare(a, b, converted)) + Math.sign(compare(b, a, converted))).toBe(0);
        },
      ),
    );
  });
});

describe('numbers as printed', () => {
  test.each([
    [0.285, 2, '0.29'],
    [1.005, 2, '1.01'],
    [2.5, 0, '3'],
    [-2.5, 0, '\u22123'],
    [0.5, 0, '1'],
    [-0.04, 1, '0.0'],
    [-0.05, 1, '\u22120.1'],
    [0, 1, '0.0'],
    [-0, 0, '0'],
    [70.566, 1, '70.6'],
    [5.0, 1, '5.0'],
    [99.95, 1, '100.0'],
    [1234567.891, 2, '1234567.89'],
    [0.000001234, 3, '0.000'],
    [1e-7, 2, '0.00'],
    [-1e-9, 4, '0.0000'],
  ])('%s with %s decimals is %s', (value, decimals, expected) => expect(showNumber(value, decimals)).toBe(expected));

  test('half goes away from zero on the digits a reader sees, up to three decimals', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99_999 }), fc.integer({ min: 0, max: 3 }), (whole, decimals) => {
        // whole.ddd5 exactly half of the last place shown
        const typed = `${whole}.${'0'.repeat(decimals)}5`;
        const shown = decimals === 0 ? String(whole + 1) : `${whole}.${'0'.repeat(decimals - 1)}1`;
        expect(showNumber(Number(typed), decimals)).toBe(shown);
        expect(showNumber(-Number(typed), decimals)).toBe(`\u2212${shown}`);
      }),
    );
  });

  test('never more than half of the last place from the value, never a machine form', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.integer({ min: 0, max: 4 }),
        (value, decimals) => {
          const text = showNumber(value, decimals);
          expect(text).toMatch(/^\u2212?\d+(\.\d+)?$/);
          expect(Math.abs(Number(text.replace('\u2212', '-')) - value)).toBeLessThanOrEqual(
            0.5 * 10 ** -decimals * (1 + 1e-6) + 1e-6,
          );
        },
      ),
      { numRuns: 5000 },
    );
  });

  test('figure, no-break space, unit, in one string', () => {
    expect(show(38, 'cm[H2O]', 0)).toBe('38\u00a0cmH2O');
    expect(show(-38, 'cm[H2O]', 0)).toBe('\u221238\u00a0cmH2O');
    expect(show(21.5, 'kg/m2', 1)).toBe('21.5\u00a0kg/m\u00b2');
    expect(show(68, '%', 0)).toBe('68\u00a0%');
  });
  test('a number without a unit stands alone', () => {
    expect(show(7.4, '[pH]', 2)).toBe('7.40');
    expect(show(0.4, '1', 2)).toBe('0.40');
  });
});
