import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import nivHours from '../../../calculators/planning/niv-hours.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(nivHours);
const days = (...hours: number[]) => ({ hours: hours.map((used) => ({ hours: used })) });

describe('average use', () => {
  test('35 hours in 7 days are 5 a day, and 5 of the 7 reach 4 hours (by hand)', () => {
    const { results } = answer(days(7, 8, 0, 6, 3, 4, 7));
    expect(results.average).toEqual({ value: 5, unit: 'h/d' });
    expect(results.counted?.value).toBe(5);
    expect(results.share?.value).toBeCloseTo(71.43, 2);
    expect(results.shortest?.value).toBe(0);
    expect(results.longest?.value).toBe(8);
  });

  test('exactly 4 hours count as 4 hours or more', () => {
    expect(value(days(4), 'counted')).toBe(1);
    expect(value(days(3.99), 'counted')).toBe(0);
  });

  test('a day without use counts, an empty row does not', () => {
    expect(value(days(8, 0), 'average')).toBe(4);
    expect(value({ hours: [{ hours: 8 }, {}] }, 'average')).toBe(8);
  });

  test('minutes are taken too', () => {
    expect(value({ hours: [{ hours: { value: 390, unit: 'min' } }] }, 'average')).toBeCloseTo(6.5, 12);
  });

  test('the average lies between the shortest and the longest day, in any order', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 24, noNaN: true }), { minLength: 1, maxLength: 60 }), (hours) => {
        const average = value(days(...hours), 'average');
        expect(average).toBeGreaterThanOrEqual(Math.min(...hours) - 1e-9);
        expect(average).toBeLessThanOrEqual(Math.max(...hours) + 1e-9);
        expect(value(days(...hours.toReversed()), 'average')).toBeCloseTo(average, 9);
      }),
    );
  });

  test('it is a reading of hours a day for the visit sheet', () => {
    expect(nivHours.results.average?.measure).toBe('niv-hours');
  });
});

describe('what is said beside it', () => {
  test('few days and unused days are named first', () => {
    expect(answer(days(8, 0)).cautions.slice(0, 2)).toEqual([
      '2 days are few. A week or more tells you more.',
      '1 day without any use. Ask why before you read the average.',
    ]);
  });

  test('four hours is a way of counting, and the 70 % rule is not for neuromuscular disease', () => {
    expect(answer(days(8, 8, 8, 8, 8, 8, 8)).cautions.slice(-2)).toEqual([
      'Payers and studies use a cut-off of four hours of ventilator use a day. Four hours is not a target: use the ventilator as prescribed. In one ALS cohort, more hours of use were associated with longer survival. The extra hours may not be the cause, because frail people may use NIV for fewer hours, or for more.',
      'The rule of 4 hours on 70 % of days belongs to a US coverage decision for COPD and not to neuromuscular disease.',
    ]);
  });
});

describe('what is refused', () => {
  test('more than 24 hours in a day, by its row', () => {
    expect(problems(days(7, 8, 30))).toEqual([
      { field: 'hours', message: 'Row 3: Hours is between 0 and 24 h. Is 30 in min?' },
    ]);
  });

  test('no rows at all', () => {
    expect(problems({ hours: [] })).toEqual([{ field: 'hours', message: 'Enter hours of use' }]);
  });

  test('more than three months', () => {
    expect(problems(days(...Array.from({ length: 93 }, () => 8)))).toEqual([
      { field: 'hours', message: 'Hours of use: fill at most 92 rows. Filled now: 93' },
    ]);
  });
});
