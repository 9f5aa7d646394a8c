import fc from 'fast-check';
import { expect, test } from 'vitest';
import breathTiming from '../../../calculators/blood-gas/breath-timing.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(breathTiming);

test('15 a minute with 1 s in is 1 s in and 3 s out, I:E 1:3 (by hand)', () => {
  const { results } = answer({ rate: 15, timeIn: 1 });
  expect(results.breathTime?.value).toBe(4);
  expect(results.timeOut?.value).toBe(3);
  expect(results.ratio?.value).toBe(3);
  expect(results.duty?.value).toBe(25);
});

test('time in and time out always fill the breath, and breaths fill the minute', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 15, max: 40, noNaN: true }),
      fc.double({ min: 0.1, max: 0.95, noNaN: true }),
      (rate, part) => {
        const timeIn = Math.max(0.1, (60 / rate) * part);
        const { results } = answer({ rate, timeIn });
        expect((timeIn + (results.timeOut?.value ?? 0)) * rate).toBeCloseTo(60, 8);
      },
    ),
  );
});

test('the same inspiratory time leaves less to breathe out at a faster rate', () => {
  expect(value({ rate: 15, timeIn: 1.2 }, 'timeOut')).toBeCloseTo(2.8, 12);
  expect(value({ rate: 30, timeIn: 1.2 }, 'timeOut')).toBeCloseTo(0.8, 12);
});

test('an inverse ratio is called out', () => {
  expect(answer({ rate: 30, timeIn: 1.2 }).cautions[0]).toBe(
    'Breathing in takes longer than breathing out (an inverse ratio): air may be trapped. Check the rate and the time.',
  );
  expect(answer({ rate: 30, timeIn: 1 }).cautions).toHaveLength(1);
});

test('an inspiratory time longer than the breath does not fit', () => {
  expect(problems({ rate: 30, timeIn: 2 })).toEqual([
    {
      field: 'timeIn',
      message: 'At 30 breaths a minute one breath lasts 2.00\u00a0s. An inspiratory time of 2.00\u00a0s does not fit',
    },
  ]);
});
