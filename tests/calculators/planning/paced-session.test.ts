import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import coughSessionPlan from '../../../calculators/planning/cough-session-plan.ts';
import { goOnFrom, momentAt, type SessionOrder, sessionLength } from '../../../calculators/planning/paced-session.ts';
import { ask } from '../ask.ts';

const { value } = ask(coughSessionPlan);
/** The hospital leaflet's pattern: 4 sets of 5, 1 s in, 1 s out, 2 s pause, 30 s of rest. */
const leaflet: SessionOrder = { sets: 4, cycles: 5, timeIn: 1, timeOut: 1, pause: 2, rest: 30 };
const order = fc.record({
  sets: fc.integer({ min: 1, max: 20 }),
  cycles: fc.integer({ min: 1, max: 20 }),
  timeIn: fc.integer({ min: 2, max: 100 }).map((tenths) => tenths / 10),
  timeOut: fc.integer({ min: 2, max: 100 }).map((tenths) => tenths / 10),
  pause: fc.integer({ min: 0, max: 200 }).map((tenths) => tenths / 10),
  rest: fc.integer({ min: 0, max: 900 }),
});

describe('the leaflet\u2019s session, second by second (by hand)', () => {
  test.each([
    [-3, 'in', 1, 1, 0, 1],
    [0, 'in', 1, 1, 0, 1],
    [0.75, 'in', 1, 1, 0.75, 1],
    [1, 'out', 1, 1, 0, 1],
    [1.5, 'out', 1, 1, 0.5, 1],
    [2, 'pause', 1, 1, 0, 2],
    [3.5, 'pause', 1, 1, 1.5, 2],
    [4, 'in', 1, 2, 0, 1],
    [19.5, 'pause', 1, 5, 1.5, 2],
    [20, 'rest', 1, 5, 0, 30],
    [49, 'rest', 1, 5, 29, 30],
    [50, 'in', 2, 1, 0, 1],
    [100, 'in', 3, 1, 0, 1],
    [150, 'in', 4, 1, 0, 1],
    [169.5, 'pause', 4, 5, 1.5, 2],
  ])('at %s s: %s, set %s, cycle %s', (seconds, phase, set, cycle, gone, length) => {
    expect(momentAt(leaflet, seconds)).toEqual({ phase, set, cycle, gone, length });
  });

  test('at 170 s it is over, without a rest after the last set', () => {
    expect(sessionLength(leaflet)).toBe(170);
    expect(momentAt(leaflet, 170)).toBeUndefined();
    expect(momentAt(leaflet, 1e6)).toBeUndefined();
  });

  test('an order without a pause goes from out to in, and one without a rest from set to set', () => {
    const bare = { ...leaflet, pause: 0, rest: 0 };
    expect([0, 1, 2, 9.5, 10].map((at) => momentAt(bare, at)?.phase)).toEqual(['in', 'out', 'in', 'out', 'in']);
    expect(momentAt(bare, 10)).toMatchObject({ set: 2, cycle: 1 });
  });
});

describe('any order', () => {
  test('lasts exactly as long as the session plan says', () => {
    fc.assert(
      fc.property(order, (one) => {
        expect(sessionLength(one)).toBeCloseTo(value({ ...one }, 'session') * 60, 6);
      }),
      { numRuns: 2000 },
    );
  });

  test('goes through every set and cycle in turn: in, out, pause if it has a length, and a rest between sets', () => {
    fc.assert(
      fc.property(order, (one) => {
        let at = 0;
        for (let set = 1; set <= one.sets; set += 1) {
          for (let cycle = 1; cycle <= one.cycles; cycle += 1)
            for (const [phase, length] of [
              ['in', one.timeIn],
              ['out', one.timeOut],
              ['pause', one.pause],
            ] as const) {
              if (length === 0) continue;
              expect(momentAt(one, at + length / 2)).toMatchObject({ phase, set, cycle, length });
              at += length;
            }
          if (set === one.sets || one.rest === 0) continue;
          expect(momentAt(one, at + one.rest / 2)).toMatchObject({ phase: 'rest', set, length: one.rest });
          at += one.rest;
        }
        expect(momentAt(one, at + 0.001)).toBeUndefined();
      }),
      { numRuns: 60 },
    );
  });

  test('never shows a phase longer or shorter than ordered, and never goes back', () => {
    fc.assert(
      fc.property(order, fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 2 }), (one, shares) => {
        let before = 0;
        for (const share of shares.sort((a, b) => a - b)) {
          const moment = momentAt(one, share * sessionLength(one));
          if (!moment) continue;
          expect(moment.gone).toBeGreaterThanOrEqual(0);
          expect(moment.gone).toBeLessThanOrEqual(moment.length);
          const place = moment.set * 100 + moment.cycle + ['in', 'out', 'pause', 'rest'].indexOf(moment.phase) / 10;
          expect(place).toBeGreaterThanOrEqual(before);
          before = place;
        }
      }),
      { numRuns: 2000 },
    );
  });
});

describe('after a halt', () => {
  test('a breath that was cut short begins again, a rest goes on (by hand)', () => {
    expect(goOnFrom(leaflet, 5.5)).toBe(4);
    expect(goOnFrom(leaflet, 7)).toBe(4);
    expect(goOnFrom(leaflet, 58.5)).toBe(58);
    expect(goOnFrom(leaflet, 33)).toBe(33);
    expect(goOnFrom(leaflet, 0.2)).toBe(0);
    expect(goOnFrom(leaflet, -1)).toBe(0);
    expect(goOnFrom(leaflet, 500)).toBe(500);
  });

  test('it is never further on than it was, and never more than one cycle back', () => {
    fc.assert(
      fc.property(order, fc.double({ min: 0, max: 1, noNaN: true }), (one, share) => {
        const at = share * sessionLength(one);
        const from = goOnFrom(one, at);
        expect(from).toBeLessThanOrEqual(at + 1e-9);
        expect(at - from).toBeLessThanOrEqual(one.timeIn + one.timeOut + one.pause + 1e-9);
      }),
      { numRuns: 2000 },
    );
  });
});
