import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { convert, type UnitCode, unitCodes, units } from '../../calculators/quantity.ts';
import { readNumber } from '../../calculators/read-number.ts';

/** As a number with its unit when it was read, as the message when not. */
function read(
  text: string,
  unit: UnitCode = 'L/min',
  allowed: readonly UnitCode[] = [unit],
): string | [number, UnitCode] {
  const outcome = readNumber(text, unit, 'Cough flow', allowed);
  return outcome.ok ? [outcome.quantity.value, outcome.quantity.unit] : outcome.message;
}
const value = (text: string): number | string => {
  const found = read(text);
  return typeof found === 'string' ? found : found[0];
};

describe('plain numbers', () => {
  test.each([
    ['270', 270],
    ['4.5', 4.5],
    ['0.5', 0.5],
    ['.5', 0.5],
    ['5.', 5],
    ['0', 0],
    ['007', 7],
    ['+4.5', 4.5],
    ['  270 ', 270],
    ['\u00a0270\u202f', 270],
    ['270\n', 270],
    ['\t270', 270],
  ])('"%s" is %s', (text, expected) => expect(value(text)).toBe(expected));

  test('digits of another width or script form that stand for the same digits are read', () => {
    expect(value('\uff12\uff17\uff10')).toBe(270);
    expect(value('\uff14\uff0e\uff15')).toBe(4.5);
  });
});

describe('a comma', () => {
  test.each([
    ['4,5', 4.5],
    ['4,55', 4.55],
    ['0,285', 0.285],
    [',5', 0.5],
    ['172,5', 172.5],
    ['12,3456', 12.3456],
  ])('is a decimal sign in "%s"', (text, expected) => expect(value(text)).toBe(expected));

  test.each(['1,234', '12,345', '999,000'])(
    'before exactly three digits, as in "%s", could be thousands: asked about, with the form to type',
    (text) => {
      expect(value(text)).toBe(
        `Cough flow: "${text}" could be read two ways. Type it with a point and no thousands sign, such as ${text.replace(',', '')}`,
      );
    },
  );

  test('after a point is refused: 1.234,5', () =>
    expect(value('1.234,5')).toBe('Cough flow: "1.234,5" is not a number. Type digits, such as 4.5'));

  test.each([
    ['1,234.5', 1234.5],
    ['1,234,567', 1234567],
    ["1'234'567", 1234567],
    ["1'234", 1234],
    ['1 234', 1234],
    ['12 345.6', 12345.6],
  ])('thousands that can be nothing else are read: "%s"', (text, expected) => expect(value(text)).toBe(expected));

  test.each(['1,2,3', '12,34,56', '1..5', '1.2.3', '4,,5', '1,23.4', "1'23"])('"%s" is no number', (text) =>
    expect(typeof value(text)).toBe('string'),
  );
});

describe('a minus sign', () => {
  test.each(['-38', '\u221238', '\u201338', '\u201438', '\u201038', '\u201138', '\uff0d38', '\ufe6338', '- 38'])(
    'of any kind is read: "%s"',
    (text) => expect(value(text)).toBe(-38),
  );

  test('with a decimal comma', () => expect(value('\u22124,5')).toBe(-4.5));

  test.each(['--38', '3-8', '38-', '50-60', '50\u201360', '~38', '<38', '>38', '\u226438', '=38'])(
    '"%s" is refused, not guessed at',
    (text) => expect(typeof value(text)).toBe('string'),
  );
});

describe('what is not a number says what to type', () => {
  test.each([
    'abc',
    'four',
    '.',
    ',',
    '-',
    '+',
    'NaN',
    'Infinity',
    '1e5',
    '0x10',
    '4.5.',
    '\u00bd',
    '3 4',
    '1 23,4',
    '1 234,5',
    '5 8',
    '4\u00bd',
    '38\u00b2',
    '38 \u00b9',
  ])('"%s"', (text) => {
    expect(value(text)).toMatch(
      /^Cough flow: ".*" (is not a number\. Type digits, such as 4\.5|is not a unit taken here\. Use L\/min)$/,
    );
  });
});

describe('a unit typed after the number', () => {
  const gas: UnitCode[] = ['mm[Hg]', 'kPa'];
  test.each([
    ['6 kPa', 6, 'kPa'],
    ['6kPa', 6, 'kPa'],
    ['6 KPA', 6, 'kPa'],
    ['45 mmHg', 45, 'mm[Hg]'],
    ['45 mm Hg', 45, 'mm[Hg]'],
    ['45 torr', 45, 'mm[Hg]'],
    ['45', 45, 'mm[Hg]'],
    ['5,9 kPa', 5.9, 'kPa'],
    ['45\u00a0mmHg', 45, 'mm[Hg]'],
  ] as const)('"%s" counts for more than the unit chosen beside the field', (text, number, unit) =>
    expect(read(text, 'mm[Hg]', gas)).toEqual([number, unit]),
  );

  test.each([
    ['-38 cmH2O', -38, 'cm[H2O]'],
    ['-38 cm H2O', -38, 'cm[H2O]'],
    ['-38 cmH\u2082O', -38, 'cm[H2O]'],
  ] as const)('"%s"', (text, number, unit) =>
    expect(read(text, 'cm[H2O]', ['cm[H2O]', 'kPa'])).toEqual([number, unit]),
  );

  test.each([
    ['4.5 L/s', 4.5, 'L/s'],
    ['270 l/min', 270, 'L/min'],
    ['270 lpm', 270, 'L/min'],
    ['270 L/m', 270, 'L/min'],
  ] as const)('"%s"', (text, number, unit) => expect(read(text, 'L/min', ['L/min', 'L/s'])).toEqual([number, unit]));

  test.each([
    ['80 kg', 'kg', 80, 'kg'],
    ['176 lb', 'kg', 176, '[lb_av]'],
    ['176 pounds', 'kg', 176, '[lb_av]'],
    ['61 years', 'a', 61, 'a'],
    ['61 y', 'a', 61, 'a'],
    ['18 months', 'a', 18, 'mo'],
  ] as const)('"%s"', (text, unit, number, foundUnit) =>
    expect(read(text, unit, ['kg', '[lb_av]', 'a', 'mo'])).toEqual([number, foundUnit]),
  );

  test('a share with its sign', () => expect(read('68 %', '%')).toEqual([68, '%']));

  test('one that the field does not take is refused, and the message lists those it takes', () => {
    expect(read('270 mL', 'L/min', ['L/min', 'L/s'])).toBe(
      'Cough flow: "mL" is not a unit taken here. Use L/min or L/s',
    );
    expect(read('6 kPa', 'L/min')).toBe('Cough flow: "kPa" is not a unit taken here. Use L/min');
  });

  test('where the field takes none, the message asks for a plain number', () => {
    expect(read('7.4 kPa', '[pH]')).toBe('Cough flow: "kPa" is not a unit taken here. Use a plain number');
  });

  test('every unit can be typed as it is printed, whatever the field holds beside it', () => {
    for (const code of unitCodes) {
      const { symbol } = units[code];
      if (symbol !== '') expect([code, read(`12.5 ${symbol}`, code)]).toEqual([code, [12.5, code]]);
    }
  });
});

describe('feet and inches', () => {
  const height: UnitCode[] = ['cm', 'm', '[ft_i]', '[in_i]'];
  const inches = (text: string, unit: UnitCode = 'cm') => read(text, unit, height);

  test.each([
    `5'8`,
    `5'8"`,
    `5' 8"`,
    `5\u20328\u2033`,
    `5\u20198\u201d`,
    `5'8''`,
    '5 ft 8',
    '5ft8in',
    '5 ft 8 in',
    '5 feet 8 inches',
    '5 foot 8',
  ])('"%s" is 68 inches, whatever unit is chosen', (text) => expect(inches(text)).toEqual([68, '[in_i]']));

  test.each([
    [`5'`, 60],
    ['5 ft', 60],
    [`5'8.5`, 68.5],
    [`5'8,5"`, 68.5],
    [`6'0"`, 72],
    [`5'11`, 71],
  ] as const)('"%s" is %s inches', (text, expected) => expect(inches(text)).toEqual([expected, '[in_i]']));

  test('5 8 is feet and inches only where feet were chosen', () => {
    expect(inches('5 8', '[ft_i]')).toEqual([68, '[in_i]']);
    expect(typeof inches('5 8', 'cm')).toBe('string');
  });

  test('5.8 in feet is asked about: eight inches, or eight tenths', () => {
    expect(inches('5.8', '[ft_i]')).toBe(`Is "5.8" feet and inches or a decimal? Type 5 ft 8 in as 5'8`);
    expect(inches('5,8', '[ft_i]')).toBe(`Is "5,8" feet and inches or a decimal? Type 5 ft 8 in as 5'8`);
  });

  test('so is 5.8 ft, whatever unit is chosen', () => {
    for (const text of ['5.8 ft', "5.8'", '5,8 feet'])
      expect(inches(text, 'cm')).toContain('feet and inches or a decimal?');
  });

  test('whole feet need no question', () => expect(convertToCm(inches('6', '[ft_i]'))).toBeCloseTo(182.88, 9));

  test.each([`5'12`, `5'13"`, '5 ft 14 in'])('"%s" has more inches than a foot holds', (text) =>
    expect(inches(text)).toMatch(/^Inches run from 0 to 11\. "\d+" is more than a foot$/),
  );

  test('68 inches, 1.72 m and 172 are read as typed', () => {
    expect(inches('68 in')).toEqual([68, '[in_i]']);
    expect(inches('68"')).toEqual([68, '[in_i]']);
    expect(inches('1.72 m')).toEqual([1.72, 'm']);
    expect(inches('172')).toEqual([172, 'cm']);
  });

  test('5 feet 8 is 172.72 cm', () => expect(convertToCm(inches(`5'8`))).toBeCloseTo(172.72, 9));

  test('where feet are not taken, a foot mark is not read as feet', () =>
    expect(typeof read(`5'8`, 'kg')).toBe('string'));
});

const convertToCm = (found: string | [number, UnitCode]): number =>
  typeof found === 'string' ? Number.NaN : convert(found[0], found[1], 'cm');

describe('whatever is typed', () => {
  test('the answer is a finite number or a message, never an exception', () => {
    const anything = fc.oneof(
      fc.string(),
      fc.string({ unit: fc.constantFrom(...`0123456789.,'-\u2212 /%"kPamHgftin\u00a0`.split('')), maxLength: 12 }),
    );
    fc.assert(
      fc.property(anything, fc.constantFrom(...unitCodes), (text, unit) => {
        const outcome = readNumber(text, unit, 'Reading', [unit, '[ft_i]', 'kPa']);
        if (outcome.ok) expect(Number.isFinite(outcome.quantity.value)).toBe(true);
        else expect(outcome.message).not.toBe('');
      }),
      { numRuns: 20_000 },
    );
  });

  test('a number written plainly comes back as itself, with a point or a comma', () => {
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 0, max: 99 }), (whole, cents) => {
        const point = `${whole}.${String(cents).padStart(2, '0')}`;
        expect(value(point)).toBe(Number(point));
        expect(value(point.replace('.', ','))).toBe(Number(point));
      }),
    );
  });

  test('a message has no full stop at its end and does not blame', () => {
    for (const text of ['abc', '1,234', '6 furlongs', '5..5']) {
      const message = read(text);
      expect(message).not.toMatch(/\.$/);
      expect(message).not.toMatch(/invalid|wrong|error|must/i);
    }
  });
});
