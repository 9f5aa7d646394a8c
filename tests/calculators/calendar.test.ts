import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dateOf, dayCount, isCalendarDay } from '../../calculators/calendar.ts';
import { isoDate } from '../../calculators/domain/schema.ts';

describe('a date that a visit or an agreement can have', () => {
  test.for(['1900-01-01', '2000-02-29', '2026-11-29', '2028-02-29', '2199-12-31'])('%s is one', (date) => {
    expect(isCalendarDay(date)).toBe(true);
    expect(isoDate.safeParse(date).success).toBe(true);
  });

  test.for([
    ['before anybody of today', '1899-01-01'],
    ['the day before the first', '1899-12-31'],
    ['the day after the last', '2200-01-01'],
    ['five digits of year, which ISO 8601 has only by agreement and with a sign', '20260-01-01'],
    ['no leap year: a full century', '1900-02-29'],
    ['no leap year', '2026-02-29'],
    ['no such day', '2026-04-31'],
    ['no such month', '2026-13-01'],
    ['month and day 0', '2026-00-00'],
    ['one digit of month', '2026-1-01'],
    ['with a time', '2026-11-29T08:00'],
    ['the other order', '29-11-2026'],
    ['nothing', ''],
  ] as const)('%s: %s is none', ([, date]) => {
    expect(isCalendarDay(date)).toBe(false);
    expect(isoDate.safeParse(date).success).toBe(false);
  });

  test('it is the day that the engine\u2019s own calendar has, from the first year to the last', () => {
    const part = (most: number) => fc.integer({ min: 0, max: most });
    fc.assert(
      fc.property(fc.integer({ min: 1890, max: 2210 }), part(14), part(33), (year, month, day) => {
        const text = [String(year), ...[month, day].map((one) => String(one).padStart(2, '0'))].join('-');
        const own = new Date(`${text}T00:00:00Z`);
        const exists = !Number.isNaN(own.getTime()) && own.toISOString().startsWith(text);
        expect(isCalendarDay(text)).toBe(exists && year >= 1900 && year <= 2199);
        if (exists) expect(dateOf(dayCount(text))).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });
});
