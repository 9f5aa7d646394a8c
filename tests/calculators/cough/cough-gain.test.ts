import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const asked = { state: 'stable', session: 'same' };
const given = (inputs: Inputs) => {
  const outcome = calculate('cough-gain', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('cough-gain', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};
const flow = fc.double({ min: 20.1, max: 1200, noNaN: true });

describe('gain', () => {
  test('169 unassisted and 235 on MI-E, the means of Chatwin 2003, is a gain of 66 L/min or 39 %', () => {
    const { results, tables } = given({ ...asked, unassisted: 169, miE: 235 });
    expect(results.miEGain).toEqual({ value: 66, unit: 'L/min' });
    expect(results.miEPercent?.value).toBeCloseTo(39.05, 2);
    expect(tables[0]?.rows).toEqual([
      { label: 'Unassisted', cells: ['169', '2.82', 'the base', ''] },
      { label: 'On MI-E', cells: ['235', '3.92', '66\u00a0L/min', '39\u00a0%'] },
    ]);
  });

  test('only techniques that were measured have a gain', () => {
    expect(Object.keys(given({ ...asked, unassisted: 180, stacking: 240, miE: 300 }).results)).toEqual([
      'stackingGain',
      'stackingPercent',
      'miEGain',
      'miEPercent',
    ]);
  });

  test('litres per second and litres per minute give the same gain', () => {
    fc.assert(
      fc.property(flow, flow, (unassisted, manual) => {
        const perMinute = given({ ...asked, unassisted, manual }).results.manualGain?.value ?? Number.NaN;
        const perSecond = given({
          ...asked,
          unassisted: { value: unassisted / 60, unit: 'L/s' },
          manual: { value: manual / 60, unit: 'L/s' },
        }).results.manualGain?.value;
        expect(perSecond).toBeCloseTo(perMinute, 8);
      }),
    );
  });

  test('the base and the gain add up to the helped flow, in litres and in per cent', () => {
    fc.assert(
      fc.property(flow, flow, (unassisted, stacking) => {
        const { results } = given({ ...asked, unassisted, stacking });
        expect(unassisted + (results.stackingGain?.value ?? Number.NaN)).toBeCloseTo(stacking, 8);
        expect(unassisted * (1 + (results.stackingPercent?.value ?? Number.NaN) / 100)).toBeCloseTo(stacking, 8);
      }),
    );
  });
});

describe('what is asked and warned of', () => {
  test('one flow is no gain', () => {
    expect(problems({ ...asked, unassisted: 200 })).toEqual([
      { field: 'stacking', message: 'Enter at least two flows: the unassisted cough and one with help' },
    ]);
    expect(problems({ ...asked, manual: 200 })).toEqual([
      { field: 'unassisted', message: 'Enter at least two flows: the unassisted cough and one with help' },
    ]);
  });

  test('without the unassisted flow the base is named', () => {
    const outcome = given({ ...asked, stacking: 200, manual: 250 });
    expect(outcome.results.manualGain?.value).toBe(50);
    expect(outcome.results.stackingGain).toBeUndefined();
    expect(outcome.cautions).toContain(
      'No unassisted flow was given. The gains are measured from the flow after breath stacking, not from the person\u2019s own cough, so do not compare them with published gains.',
    );
  });

  test('mixing stable flows with those of an infection is warned of', () => {
    const warning =
      'Some flows are from a stable state and some from an infection, so the difference is due to the illness as well as the technique.';
    expect(given({ unassisted: 200, manual: 250, state: 'mixed', session: 'same' }).cautions).toContain(warning);
    expect(given({ ...asked, unassisted: 200, manual: 250 }).cautions).not.toContain(warning);
  });

  test('mixing sessions or meters is warned of', () => {
    expect(given({ unassisted: 200, manual: 250, state: 'stable', session: 'different' }).cautions).toContain(
      'The flows come from different sessions or meters, and a difference between meters can look like a gain.',
    );
  });

  test('what was not recorded is not taken as fine', () => {
    expect(given({ unassisted: 200, manual: 250 }).cautions).toEqual(
      expect.arrayContaining([
        'It was not recorded whether the person was stable or had an infection. If the flows come from both states, the gains mean nothing.',
        'It was not recorded whether one meter and one session were used.',
      ]),
    );
  });

  test('a technique that does not help is pointed out, with the larynx named on MI-E', () => {
    const { cautions } = given({ ...asked, unassisted: 200, manual: 200, miE: 150 });
    expect(cautions).toContain(
      'The flow with manual assist is no higher than the flow it is compared with. Check the seal, timing and position.',
    );
    expect(cautions).toContain(
      'The flow on MI-E is no higher than the flow it is compared with. Check the seal, timing and position; in ALS the larynx can close on MI-E.',
    );
  });

  test('a per-second number in a per-minute field is refused there', () => {
    expect(problems({ ...asked, unassisted: 200, miE: 4.2 })).toEqual([
      { field: 'miE', message: 'Flow on MI-E is above 20 and at most 1200 L/min. Is 4.2 in L/s?' },
    ]);
  });
});
