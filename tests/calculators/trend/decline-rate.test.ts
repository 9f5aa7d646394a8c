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
    ['snip', 'slopePressure', 'cm[H2O]/mo', 60],
    ['mip', 'slopePressure', 'cm[H2O]/mo', 60],
    ['mep', 'slopePressure', 'cm[H2O]/mo', 60],
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
      test: 'snip',
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
  test('exactly 3 points a month from 62 reach 50 in 4 months by the line; by its edge in 39 days; 4 weeks of wait leave 11', () => {
    const { results, cautions } = answer({ ...straight, threshold: 50, wait: 4 });
    expect(results.crossing?.value).toBeCloseTo(4 * 30.4375, 5);
    // 11 % of the mean of 71 over the square root of 2 is 5.5225. With m the months after the third, in which the mean lies:
    // 71 - 3 m - 5.5225 x sqrt(1.25 + m^2 / 20) = 50 at m = 4.28855, and the last reading is at m = 3
    expect(71 - 3 * 4.28855 - 5.5225 * Math.sqrt(1.25 + 4.28855 ** 2 / 20)).toBeCloseTo(50, 3);
    expect(results.earliest?.value).toBeCloseTo(1.28855 * 30.4375, 2);
    expect(results.arrangeBy?.value).toBeCloseTo(1.28855 * 30.4375 - 28, 2);
    expect(cautions).toContain(
      'The interval reflects how much the test varies when repeated: two vital capacities can differ by 7.8\u00a0points by chance (healthy people, a week apart).',
    );
  });

  test('scatter brings the day to plan by forward, never the line', () => {
    const { results } = answer({ ...series([0, 80], [61, 75], [122, 67], [183, 62]), threshold: 50 });
    expect(results.earliest?.value).toBeLessThan(results.crossing?.value ?? 0);
  });

  test('a wait longer than the time left says that there is no time in hand', () => {
    const { results, cautions } = answer({ ...straight, threshold: 50, wait: 26 });
    expect(results.arrangeBy).toBeUndefined();
    expect(cautions[0]).toBe(
      'There is no time left: the usual wait (182\u00a0days) is not shorter than the time from the last reading to the earliest day at the threshold (39\u00a0days).',
    );
  });

  test('days are always counted from the last reading, whatever day the counting began', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2000 }), (shift) => {
        const days = [0, 60, 120, 200].map((day, i): Row => [day + shift, [80, 75, 69, 60][i] ?? 0]);
        const { results } = answer({ ...series(...days), threshold: 50 });
        const unshifted = answer({ ...series([0, 80], [60, 75], [120, 69], [200, 60]), threshold: 50 }).results;
        expect(results.earliest?.value).toBeCloseTo(unshifted.earliest?.value ?? Number.NaN, 5);
        expect(results.crossing?.value).toBeCloseTo(unshifted.crossing?.value ?? Number.NaN, 5);
      }),
    );
  });

  test('the next readings are shown with their interval', () => {
    expect(answer(straight).tables[0]).toEqual({
      caption: 'Where the next reading would fall if the line continues (95 % interval)',
      columns: ['After the last reading', 'Line', 'From', 'To'],
      rows: [
        // either way 5.5225 x sqrt(1.25 + m^2 / 20) for m = 4, 5, 6: 7.907, 8.732, 9.645
        { label: '1 month', cells: ['59.0\u00a0%', '51.1\u00a0%', '66.9\u00a0%'] },
        { label: '2 months', cells: ['56.0\u00a0%', '47.3\u00a0%', '64.7\u00a0%'] },
        { label: '3 months', cells: ['53.0\u00a0%', '43.4\u00a0%', '62.6\u00a0%'] },
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
    expect(none({ ...series([0, 80], [month(3), 71]), threshold: 50, wait: 4 })).toBe(
      'There are only two readings. The slope is uncertain, and no date is given. A date needs a third reading.',
    );
  });

  test('posture and method not known', () => {
    expect(none({ ...straight, sameMethod: 'not-known', threshold: 50, wait: 4 })).toBe(
      'It is not known whether posture and method stayed the same. The slope is uncertain, and no date is given.',
    );
  });

  test('a line that does not fall', () => {
    expect(none({ ...series([0, 60], [60, 61], [120, 62]), threshold: 50 })).toBe(
      'The line is not falling, so no date is given. Keep measuring: a fall can begin later.',
    );
  });

  test('a threshold already reached, and one reached exactly', () => {
    expect(none({ ...straight, threshold: 65 })).toBe(
      'The last reading is already at or below 65.0\u00a0%: there is nothing to predict.',
    );
    expect(none({ ...straight, threshold: 62 })).toBe(
      'The last reading is already at or below 62.0\u00a0%: there is nothing to predict.',
    );
  });

  test('a threshold more than two years off by the line, though the edge of its interval is there sooner', () => {
    // 4 points a year: 64 is 3.5 years from 50
    expect(none({ ...series([0, 80], [365.25, 76], [730.5, 72], [1095.75, 68], [1461, 64]), threshold: 50 })).toBe(
      'On this line 50.0\u00a0% is more than 24 months away. A line that far ahead is a guess, so no date is given.',
    );
  });

  test('a fall that is not sure: the interval of the change contains zero', () => {
    // 0.5 a month; 11 % of 61 over the square root of 2, over the square root of 8 months squared: 1.678 either way
    expect(none({ ...series([0, 62], [month(2), 61], [month(4), 60]), threshold: 50, wait: 4 })).toBe(
      'The fall could be chance: the 95 % interval of the change, \u22122.2 to 1.2\u00a0points per month, contains zero. So no date is given. A fall is not ruled out: measure again.',
    );
  });

  test('readings that scatter about the threshold', () => {
    expect(none({ ...series([0, 70], [60, 58], [120, 60]), threshold: 50 })).toContain('contains zero');
  });

  test('a cough flow: how far two of them differ by chance is not published, so there is no interval either', () => {
    const { results, cautions, tables } = answer({
      ...series([0, 360], [60, 330], [120, 300], [180, 280]),
      test: 'cough-flow',
      threshold: 270,
      wait: 4,
    });
    expect(Object.keys(results)).toEqual(['slopeFlow', 'relative']);
    expect(results.slopeFlow).not.toHaveProperty('low');
    expect(tables).toEqual([]);
    expect(cautions).toContain(
      'No published figure says how far two peak cough flows of one person differ by chance. No interval and no date are given for this reason. Judge each reading by itself.',
    );
  });

  test('none whenever the interval of the change contains zero', () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 20, max: 120 }), fc.double({ min: -8, max: 8, noNaN: true })), {
          minLength: 3,
          maxLength: 8,
        }),
        fc.double({ min: -4, max: 1, noNaN: true }),
        (gaps, fall) => {
          let day = 0;
          const rows = gaps.map(([gap, miss]): Row => {
            day += gap;
            return [day, Math.max(5, 90 + (fall * day) / 30.4375 + miss)];
          });
          const outcome = declineRate.calculate({ ...series(...rows), threshold: 4 });
          if (!outcome.ok) return;
          const { slopePoints, earliest, crossing } = outcome.results;
          // No interval is ever of no width, and none that contains zero has a date.
          expect((slopePoints?.high ?? 0) - (slopePoints?.low ?? 0)).toBeGreaterThan(0.01);
          if ((slopePoints?.high ?? Number.NaN) < 0) return;
          refused += 1;
          if (outcome.cautions.some((caution) => caution.startsWith('The line is already at'))) return;
          expect([earliest, crossing]).toEqual([undefined, undefined]);
        },
      ),
      { numRuns: 2000 },
    );
    expect(refused).toBeGreaterThan(100);
  });
});

describe('the interval is never narrower than the test repeats', () => {
  test.each([
    // the published difference over the square root of 2, over the square root of 7200 days squared, in months
    ['vc-percent', [80, 74, 68], 0.11 * 74, 'slopePoints'],
    ['vc-litres', [3, 2.8, 2.6], 0.11 * 2.8, 'slopeLitres'],
    ['vc-litres', [1.1, 1, 0.9], 0.15, 'slopeLitres'],
    ['snip', [60, 55, 50], 21.26, 'slopePressure'],
    ['mip', [60, 55, 50], 15.42, 'slopePressure'],
    ['mep', [60, 55, 50], 17.84, 'slopePressure'],
  ])('%s of %j: two tests differ by %f', (test, values, difference, result) => {
    const readings = values.map((value, at) => ({ time: at * 60, value }));
    const found = answer({ test, sameMethod: 'yes', readings }).results[result];
    const half = (difference / Math.SQRT2 / Math.sqrt(7200)) * 30.4375;
    expect((found?.high ?? 0) - (found?.value ?? 0)).toBeCloseTo(half, 9);
    expect((found?.value ?? 0) - (found?.low ?? 0)).toBeCloseTo(half, 9);
  });

  test('readings that scatter more than that keep the width of their own scatter', () => {
    const warns = (...rows: Row[]) =>
      answer(series(...rows)).cautions.some((caution) => caution.startsWith('The interval reflects'));
    expect(warns([0, 80], [60, 74], [120, 68])).toBe(true);
    expect(warns([0, 80], [60, 60], [120, 75])).toBe(false);
    expect(warns([0, 80], [60, 74])).toBe(false);
  });
});

describe('when the date is now', () => {
  test('an edge that already reaches the threshold leaves no later date', () => {
    const { results, cautions } = answer({ ...series([0, 80], [60, 70], [120, 60], [180, 53]), threshold: 50 });
    expect(results.earliest?.value).toBe(0);
    expect(cautions[0]).toBe(
      'The interval already reaches 50.0\u00a0%, so the next reading could be at the threshold. The readings vary too much for a later date.',
    );
  });

  test('a line below the threshold counts, though the last reading happens to be above it', () => {
    const { results, cautions } = answer({ ...series([0, 80], [60, 65], [120, 48], [180, 50.5]), threshold: 50 });
    expect(results.earliest?.value).toBe(0);
    expect(cautions[0]).toBe(
      'The line is already at or below 50.0\u00a0%, though the last reading is above it. Plan as if the threshold had been reached.',
    );
  });

  test('a line drawn further ahead than the readings reach back is called out', () => {
    expect(answer({ ...series([0, 80], [30, 77], [60, 74], [90, 71]), threshold: 50 }).cautions).toContain(
      'The threshold is further ahead than the readings go back. Use only the earliest day for planning.',
    );
  });
});

describe('which days are told', () => {
  test('a threshold nearer than the readings reach back: both days, and neither warning', () => {
    const { results, cautions } = answer({ ...series([0, 80], [50, 70], [100, 60.5]), threshold: 50 });
    expect(results.crossing?.value).toBeGreaterThan(results.earliest?.value ?? Number.NaN);
    expect(results.crossing?.value).toBeLessThan(100);
    expect(cautions.filter((caution) => /further ahead|already reaches/.test(caution))).toEqual([]);
  });
});

describe('what is refused', () => {
  test('a change of posture or method', () => {
    expect(problems({ ...straight, sameMethod: 'no' })).toEqual([
      {
        field: 'sameMethod',
        message:
          'A change of posture or method can look like a fall or hide one. Enter only readings taken the same way',
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

  test('litres a second among litres a minute, in the threshold too', () => {
    expect(problems({ ...series([0, 300], [90, 280]), test: 'cough-flow', threshold: 4.5 })).toEqual([
      { field: 'threshold', message: 'Threshold: Peak cough flow in L/min is between 20 and 1200. Is 4.5 in L/s?' },
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
      'Decline is often not a straight line: after a slow period, readings can fall faster. Measure again before the earliest day on which the threshold could be reached, and do not wait for that day if symptoms come first.',
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
      { label: 'ALS, Andrews 2018, 456 people on placebo', cells: ['2.7 a month', 'checked, table 2'] },
      { label: 'The same, over 65 years', cells: ['3.6 a month', 'checked, table 2'] },
      { label: 'ALS, Rigakuryoho 2005, fast, linear, slow', cells: ['18.3, 6.0, 2.0 a month', 'checked, abstract'] },
      { label: 'Duchenne, DELOS placebo, 10 to 18 years', cells: ['8.7 a year', 'checked, abstract'] },
      { label: 'Duchenne, review, 5 to 24 and 12 to 15 years', cells: ['5 and 10.7 a year', 'read in a summary'] },
    ]);
    expect(answer({ ...series([0, 300], [90, 280]), test: 'cough-flow' }).tables).toEqual([]);
  });
});
