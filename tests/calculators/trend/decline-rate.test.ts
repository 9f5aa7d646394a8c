import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import declineRate from '../../../calculators/trend/decline-rate.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(declineRate);
const month = (value: number) => ({ value, unit: 'mo{span}' });
type Row = [number | { value: number; unit: string }, number];
const series = (...rows: Row[]) => ({
  test: 'vc-percent',
  sameMethod: 'yes',
  readings: rows.map(([time, value]) => ({ time, value })),
});
const straight = series([0, 80], [month(2), 74], [month(4), 68], [month(6), 62]);

describe('how fast', () => {
  test('from 80 to 71 in three months is 3 points a month, which is 3.75 % of the first value (by hand)', () => {
    const { results } = answer(series([0, 80], [month(3), 71]));
    expect(results.slopePoints?.value).toBeCloseTo(-3, 12);
    expect(results.relative?.value).toBeCloseTo(-3.75, 12);
    expect(results.relative?.unit).toBe('%/mo');
    expect(results.slopePoints?.unit).toBe('{points}/mo');
  });

  test('a month is 30.4375 days, the mean of the calendar', () => {
    expect(value(series([0, 80], [365.25, 44]), 'slopePoints')).toBeCloseTo(-3, 12);
    expect(value(series([0, 80], [{ value: 52, unit: 'wk' }, 68]), 'slopePoints')).toBeCloseTo(
      (-12 / 364) * 30.4375,
      9,
    );
  });

  test.each([
    ['vc-percent', 'slopePoints', '{points}/mo', 60],
    ['vc-litres', 'slopeLitres', 'L/mo', 3],
    ['pressure', 'slopePressure', 'cm[H2O]/mo', 60],
    ['cough-flow', 'slopeFlow', 'L/min/mo', 300],
  ])('%s has a slope of its own, in its own unit', (test, result, unit, start) => {
    const readings = [
      { time: 0, value: start },
      { time: month(4), value: start / 2 },
    ];
    const { results } = answer({ test, sameMethod: 'yes', readings });
    expect(results[result]).toEqual({ value: expect.closeTo(-start / 8, 9), unit });
    expect(Object.keys(results).filter((name) => name.startsWith('slope'))).toEqual([result]);
  });

  test('pressures typed with a minus sign fall the same way, and the fall in 3 months is named', () => {
    const pressures = (sign: number) => ({
      test: 'pressure',
      sameMethod: 'yes',
      readings: [
        { time: 0, value: sign * 60 },
        { time: month(3), value: sign * 48 },
      ],
    });
    expect(value(pressures(-1), 'slopePressure')).toBeCloseTo(-4, 12);
    expect(value(pressures(-1), 'fallInThreeMonths')).toBeCloseTo(12, 12);
    expect(answer(pressures(1)).results).toEqual(answer(pressures(-1)).results);
  });

  test('three readings or more carry an interval for the slope, two do not', () => {
    expect(answer(series([0, 80], [month(3), 71])).results.slopePoints).not.toHaveProperty('low');
    const { slopePoints } = answer(series([0, 80], [60, 76], [120, 70], [180, 63])).results;
    expect(slopePoints?.low).toBeLessThan(slopePoints?.value ?? 0);
    expect(slopePoints?.high).toBeGreaterThan(slopePoints?.value ?? 0);
  });
});

describe('when', () => {
  test('exactly 3 points a month from 62 reach 50 in 4 months; 8 weeks of wait leave 65.75 days (by hand)', () => {
    const { results } = answer({ ...straight, mark: 50, wait: 8 });
    expect(results.crossing?.value).toBeCloseTo(4 * 30.4375, 5);
    expect(results.earliest?.value).toBeCloseTo(4 * 30.4375, 3);
    expect(results.arrangeBy?.value).toBeCloseTo(4 * 30.4375 - 56, 3);
  });

  test('scatter brings the day to plan by forward, never the line', () => {
    const { results } = answer({ ...series([0, 80], [61, 75], [122, 67], [183, 62]), mark: 50 });
    expect(results.earliest?.value).toBeLessThan(results.crossing?.value ?? 0);
  });

  test('a wait longer than the time left says that there is no time in hand', () => {
    const { results, cautions } = answer({ ...straight, mark: 50, wait: 26 });
    expect(results.arrangeBy).toBeUndefined();
    expect(cautions[0]).toBe(
      'No time in hand: the usual wait (182\u00a0days) is not shorter than the time from the last reading to the earliest crossing (122\u00a0days).',
    );
  });

  test('days are always counted from the last reading, whatever day the counting began', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2000 }), (shift) => {
        const days = [0, 60, 120, 200].map((day, i): Row => [day + shift, [80, 75, 69, 60][i] ?? 0]);
        const { results } = answer({ ...series(...days), mark: 50 });
        const unshifted = answer({ ...series([0, 80], [60, 75], [120, 69], [200, 60]), mark: 50 }).results;
        expect(results.earliest?.value).toBeCloseTo(unshifted.earliest?.value ?? Number.NaN, 5);
        expect(results.crossing?.value).toBeCloseTo(unshifted.crossing?.value ?? Number.NaN, 5);
      }),
    );
  });

  test('the next readings are shown with their interval', () => {
    expect(answer(straight).tables[0]).toEqual({
      caption: 'Where the next reading would fall if the line holds (95 % interval)',
      columns: ['After the last reading', 'Line', 'From', 'To'],
      rows: [
        { label: '1 month', cells: ['59.0\u00a0%', '59.0\u00a0%', '59.0\u00a0%'] },
        { label: '2 months', cells: ['56.0\u00a0%', '56.0\u00a0%', '56.0\u00a0%'] },
        { label: '3 months', cells: ['53.0\u00a0%', '53.0\u00a0%', '53.0\u00a0%'] },
      ],
    });
  });
});

describe('when there is no date', () => {
  const none = (inputs: Parameters<typeof answer>[0]) => {
    const { results, cautions } = answer(inputs);
    expect([results.earliest, results.crossing, results.arrangeBy]).toEqual([undefined, undefined, undefined]);
    return cautions[0];
  };

  test('two readings', () => {
    expect(none({ ...series([0, 80], [month(3), 71]), mark: 50, wait: 4 })).toBe(
      'Two readings only: the slope is weak, and no date is given. A third reading is needed.',
    );
  });

  test('posture and method not known', () => {
    expect(none({ ...straight, sameMethod: 'not-known', mark: 50, wait: 4 })).toBe(
      'Not known whether posture and method stayed the same: the slope is weak, and no date is given.',
    );
  });

  test('a line that does not fall', () => {
    expect(none({ ...series([0, 60], [60, 61], [120, 62]), mark: 50 })).toBe(
      'The line is not falling, so no date is given. Keep measuring: a fall can begin later.',
    );
  });

  test('a mark already reached, and one reached exactly', () => {
    expect(none({ ...straight, mark: 65 })).toBe(
      'The last reading is already at or below 65.0\u00a0%: there is nothing to predict.',
    );
    expect(none({ ...straight, mark: 62 })).toBe(
      'The last reading is already at or below 62.0\u00a0%: there is nothing to predict.',
    );
  });

  test('a mark more than two years off', () => {
    expect(none({ ...series([0, 90], [100, 89.5], [200, 89], [300, 88.5]), mark: 50 })).toBe(
      'On this line 50.0\u00a0% is more than 24 months off. That far ahead a line is a guess, and no date is given.',
    );
  });
});

describe('when the date is now', () => {
  test('readings that scatter about the mark leave no later date', () => {
    const { results, cautions } = answer({ ...series([0, 70], [60, 58], [120, 60]), mark: 50 });
    expect(results.earliest?.value).toBe(0);
    expect(cautions[0]).toBe(
      'The interval already reaches 50.0\u00a0%: the next reading could be at the mark. The readings scatter too much for a later date.',
    );
  });

  test('a line below the mark counts, though the last reading happens to be above it', () => {
    const { results, cautions } = answer({ ...series([0, 80], [60, 65], [120, 48], [180, 50.5]), mark: 50 });
    expect(results.earliest?.value).toBe(0);
    expect(cautions[0]).toBe(
      'The line is already at or below 50.0\u00a0%, though the last reading is above it. Plan as if the mark were crossed.',
    );
  });

  test('a line drawn further ahead than the readings reach back is called out', () => {
    expect(answer({ ...series([0, 80], [30, 79.2], [60, 78.4]), mark: 60 }).cautions).toContain(
      'The line reaches the mark further ahead than the readings reach back. Plan by the earliest day only.',
    );
  });
});

describe('which days are told', () => {
  test('a mark nearer than the readings reach back: both days, and neither warning', () => {
    const { results, cautions } = answer({ ...series([0, 80], [50, 70], [100, 60.5]), mark: 50 });
    expect(results.crossing?.value).toBeGreaterThan(results.earliest?.value ?? Number.NaN);
    expect(results.crossing?.value).toBeLessThan(100);
    expect(cautions.filter((caution) => /further ahead|already reaches/.test(caution))).toEqual([]);
  });

  test('a line that reaches the mark after two years, though the interval reaches it sooner: the earliest day alone', () => {
    const { results } = answer({ ...series([0, 80], [60, 77], [120, 79], [180, 75]), mark: 50 });
    expect(results.earliest?.value).toBeLessThan(24 * 30.4375);
    expect(results).not.toHaveProperty('crossing');
  });
});

describe('what is refused', () => {
  test('a change of posture or method', () => {
    expect(problems({ ...straight, sameMethod: 'no' })).toEqual([
      {
        field: 'sameMethod',
        message: 'A change of posture or method makes a fall or hides one. Enter only the readings taken the same way',
      },
    ]);
  });

  test('readings less than a month apart', () => {
    expect(problems(series([0, 80], [10, 78], [20, 77]))).toEqual([
      {
        field: 'readings',
        message: 'The readings span 20 days. A slope needs at least 1 month between the first and the last',
      },
    ]);
  });

  test('litres among percentages, and percentages among litres', () => {
    expect(problems(series([0, 80], [90, 2.9]))).toEqual([
      {
        field: 'readings',
        message: 'Row 2: Vital capacity in % of predicted is between 4 and 200. Is 2.9 in litres?',
      },
    ]);
    expect(problems({ ...series([0, 3.1], [90, 62]), test: 'vc-litres' })).toEqual([
      {
        field: 'readings',
        message: 'Row 2: Vital capacity in litres is between 0.1 and 9.5. Is 62 in % of predicted?',
      },
    ]);
  });

  test('litres a second among litres a minute, in the mark too', () => {
    expect(problems({ ...series([0, 300], [90, 280]), test: 'cough-flow', mark: 4.5 })).toEqual([
      { field: 'mark', message: 'Mark: Peak cough flow in L/min is between 20 and 1200. Is 4.5 in L/s?' },
    ]);
  });

  test('two tries of one day', () => {
    expect(problems(series([0, 80], [0, 78], [90, 70]))).toEqual([
      { field: 'readings', message: 'Row 2: same day as row 1. Keep the best reading of a day' },
    ]);
  });

  test('one reading', () => {
    expect(problems(series([0, 80]))).toEqual([
      { field: 'readings', message: 'Readings: fill at least 2 rows. Filled now: 1' },
    ]);
  });
});

describe('what is said beside it', () => {
  test('decline is often not a straight line, with every answer', () => {
    expect(answer(series([0, 80], [month(3), 71])).cautions).toContain(
      'Decline is often not a straight line: a slow stretch can end in a bend, and the fall after it is faster. Measure again before the earliest day, and do not wait for a date if symptoms come first.',
    );
  });

  test('a percentage small enough to be litres is questioned', () => {
    expect(answer(series([0, 12], [90, 8])).cautions).toContain(
      'Row 2: Vital capacity in % of predicted of 8 is unusual. Is it in litres?',
    );
  });

  test('published averages stand beside percentages of predicted only, with how they are known', () => {
    expect(answer(straight).tables[1]?.rows).toEqual([
      { label: 'ALS, Fitting 1999, 16 people', cells: ['4.1 a month', 'checked, abstract'] },
      { label: 'ALS, Andrews 2018', cells: ['2.7 a month', 'from memory, unchecked'] },
      { label: 'ALS, Rigakuryoho 2005, fast, linear, slow', cells: ['18.3, 6.0, 2.0 a month', 'checked, abstract'] },
      { label: 'Duchenne, DELOS placebo, 10 to 18 years', cells: ['8.7 a year', 'checked, abstract'] },
      { label: 'Duchenne, review, 5 to 24 and 12 to 15 years', cells: ['5 and 10.7 a year', 'checked in a summary'] },
    ]);
    expect(answer({ ...series([0, 300], [90, 280]), test: 'cough-flow' }).tables).toEqual([]);
  });
});
