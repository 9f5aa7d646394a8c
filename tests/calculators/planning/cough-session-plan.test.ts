import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import coughSessionPlan from '../../../calculators/planning/cough-session-plan.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(coughSessionPlan);
const leaflet = { sets: 4, cycles: 5, timeIn: 1, timeOut: 1, pause: 2, rest: 30 };

describe('a session', () => {
  test('4 sets of 5 at 1, 1 and 2 s with 30 s of rest take 170 s and hold 20 cycles (by hand)', () => {
    expect(value(leaflet, 'session') * 60).toBeCloseTo(170, 9);
    expect(value(leaflet, 'allCycles')).toBe(20);
    expect(value(leaflet, 'setTime')).toBe(20);
  });

  test('one set has no rest in it', () => {
    expect(value({ ...leaflet, sets: 1, rest: 600 }, 'session') * 60).toBeCloseTo(20, 9);
  });

  test('a rest typed in minutes is the same rest', () => {
    expect(value({ ...leaflet, rest: { value: 0.5, unit: 'min' } }, 'session') * 60).toBeCloseTo(170, 9);
  });

  test('each further set adds one set and one rest', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 }), fc.double({ min: 0, max: 120, noNaN: true }), (sets, rest) => {
        const added =
          value({ ...leaflet, rest, sets: sets + 1 }, 'session') - value({ ...leaflet, rest, sets }, 'session');
        expect(added * 60).toBeCloseTo(20 + rest, 8);
      }),
    );
  });
});

describe('safety', () => {
  test('no field is filled in: an empty form asks for every number of the order', () => {
    expect(problems({}).map(({ message }) => message)).toEqual([
      'Enter sets',
      'Enter cycles in each set',
      'Enter seconds in',
      'Enter seconds out',
      'Enter pause in seconds',
      'Enter rest between sets',
    ]);
  });

  test('the stop signs stand before the fields', () => {
    expect(coughSessionPlan.before).toEqual([
      'Stop the session if there is chest pain, blood, distress, light-headedness, tingling, a falling saturation or a chest that does not rise, or if the person wants to stop. If the person is drowsy, grey or cannot clear the airway, call emergency services.',
    ]);
  });

  test('over-breathing is named with every answer', () => {
    expect(answer(leaflet).cautions).toContain(
      'Never continue to the point of hyperventilation. If the person feels light-headed or has tingling, let them rest, and do fewer cycles in a row until you have asked the team.',
    );
  });

  test('more than five cycles in a row are compared with the documented patterns', () => {
    expect(answer({ ...leaflet, cycles: 6 }).cautions[0]).toBe(
      '6 cycles in a row are more than the 3 to 5 of the documented patterns, and hyperventilation comes sooner. Check the order.',
    );
    expect(answer({ ...leaflet, cycles: 5 }).cautions[0]).not.toContain('documented patterns');
  });

  test('sets without a rest are questioned', () => {
    expect(answer({ ...leaflet, rest: 0 }).cautions).toContain(
      'Without a rest the sets run into each other. Check the order.',
    );
  });

  test('a pattern that no source prints is calculated when it is ordered, and shown nowhere', () => {
    // Common practice in some clinics, by hand: 3 x (3 x 5 s) + 2 x 60 s = 165 s.
    const taught = answer({ sets: 3, cycles: 3, timeIn: 2, timeOut: 2, pause: 1, rest: 60 });
    expect(taught.results.session?.value).toBeCloseTo(165 / 60, 10);
    expect(taught.results.allCycles?.value).toBe(9);
    expect(JSON.stringify(coughSessionPlan)).not.toMatch(/three sets|3 of 3/i);
    expect(taught.tables[0]?.caption).toBe('Patterns used by others: examples, not orders');
    expect(taught.tables[0]?.rows.map(({ label }) => label)).toEqual([
      'Hospital leaflet',
      'Home-nursing checklist, tracheostomy',
      'One large service, medians',
    ]);
  });

  test.each([
    ['sets', 'Sets are counted whole. Is 1.5 a time in seconds?'],
    ['cycles', 'Cycles are counted whole. Is 1.5 a time in seconds?'],
  ])('part %s are refused', (field, message) => {
    expect(problems({ ...leaflet, [field]: 1.5 })).toEqual([{ field, message }]);
  });
});
