import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import tripAndOutagePlan from '../../../calculators/planning/trip-and-outage-plan.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(tripAndOutagePlan);
const day = { needed: 8, margin: 2, each: 4, batteries: 3, builtIn: 2, travel: 1 };

describe('counting batteries', () => {
  test('8 hours doubled are 16; 2 built in and 4 a battery take 4 batteries (by hand: 14 / 4 = 3.5)', () => {
    expect(value(day, 'toCover')).toBe(16);
    expect(value(day, 'available')).toBe(14);
    expect(value(day, 'batteriesNeeded')).toBe(4);
    expect(value(day, 'spare')).toBe(-2);
  });

  test('what fits exactly takes no battery more, although 3 x 0.1 is not 0.3 in binary', () => {
    expect(value({ needed: 0.3, margin: 1, each: 0.1, batteries: 3 }, 'batteriesNeeded')).toBe(3);
    expect(value({ needed: 6, margin: 1.5, each: 3, batteries: 3 }, 'batteriesNeeded')).toBe(3);
  });

  test('none is needed when the built-in battery covers it all', () => {
    expect(value({ needed: 1, margin: 1.5, each: 3, batteries: 0, builtIn: 4 }, 'batteriesNeeded')).toBe(0);
  });

  test('the batteries counted always cover, and one fewer never does', () => {
    const hours = fc.double({ min: 0.5, max: 40, noNaN: true });
    fc.assert(
      fc.property(hours, fc.double({ min: 1, max: 3, noNaN: true }), hours, (needed, margin, each) => {
        const count = value({ needed, margin, each, batteries: 0 }, 'batteriesNeeded');
        expect(count * each).toBeGreaterThanOrEqual(needed * margin * (1 - 1e-9));
        expect((count - 1) * each).toBeLessThan(needed * margin);
      }),
    );
  });

  test('a plan that falls short says by how much, with the margin kept', () => {
    expect(answer(day).cautions[0]).toBe('The batteries are 2.0\u00a0h short with this margin.');
  });
});

describe('when to head for power', () => {
  test('14 hours at margin 2 are 7; an hour away leaves 6 after the start (by hand)', () => {
    expect(value(day, 'leaveBy')).toBe(6);
  });

  test('leaving then, what is left covers the way with the margin', () => {
    const hours = fc.double({ min: 1, max: 10, noNaN: true });
    fc.assert(
      fc.property(
        hours,
        fc.integer({ min: 1, max: 6 }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (each, batteries, margin) => {
          const travel = 0.2;
          const leave = value({ needed: 5, margin, each, batteries, travel }, 'leaveBy');
          expect((leave + travel) * margin).toBeCloseTo(each * batteries, 8);
        },
      ),
    );
  });

  test('batteries that do not reach the way give no hour, and say so first', () => {
    const { results, cautions } = answer({ ...day, batteries: 0, builtIn: 1, travel: 2 });
    expect(results.leaveBy).toBeUndefined();
    expect(cautions[0]).toBe(
      'With this margin the charged batteries do not even cover the journey to a place with power. In a power cut, start the power-cut plan now. For a trip, do not set off with these batteries.',
    );
  });

  test('without a way to power there is no hour to leave', () => {
    expect(answer({ needed: 8, margin: 2, each: 4, batteries: 3 }).results.leaveBy).toBeUndefined();
  });
});

test('nothing is filled in for the reader: an empty margin is asked for', () => {
  expect(problems({ needed: 8, each: 4, batteries: 3 })).toEqual([
    { field: 'margin', message: 'Enter margin (times the hours)' },
  ]);
});

test('part of a battery is not a battery', () => {
  expect(problems({ ...day, batteries: 2.5 })).toEqual([
    { field: 'batteries', message: 'Batteries are counted whole. Is 2.5 in hours?' },
  ]);
});
