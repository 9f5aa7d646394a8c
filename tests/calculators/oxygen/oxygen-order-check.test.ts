import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate, calculators } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const order = { orderedFio2: 35, orderedFlow: 8, totalFlow: 45, supply: 'cylinder' };
const given = (inputs: Inputs) => {
  const outcome = calculate('oxygen-order-check', { ...order, ...inputs });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('oxygen-order-check', { ...order, ...inputs });
  return outcome.ok ? outcome.results : outcome.problems;
};

test('35 % at 45 L/min corresponds to about 8 L/min from a cylinder: the order fits', () => {
  const { results } = given({});
  // By hand: 45 x 14 / 79 and 21 + 79 x 8 / 45.
  expect(results.correspondingFlow?.value).toBeCloseTo(7.9747, 4);
  expect(results.fio2OfOrderedFlow?.value).toBeCloseTo(35.0444, 4);
  expect(results.difference?.value).toBeCloseTo(0.0253, 4);
});

test('1 L/min for an ordered 28 % does not fit, and the gap shows', () => {
  const { results } = given({ orderedFio2: 28, orderedFlow: 1, totalFlow: 40 });
  expect(results.fio2OfOrderedFlow?.value).toBeCloseTo(22.975, 9);
  expect(results.difference?.value).toBeCloseTo(1 - 280 / 79, 9);
});

test('air corresponds to no oxygen at all', () => {
  expect(given({ orderedFio2: 21 }).results.correspondingFlow?.value).toBe(0);
});

describe('forward and back', () => {
  const share = fc.double({ min: 0.01, max: 0.99, noNaN: true });
  test('the flow that an FiO2 corresponds to gives that FiO2 when it is bled in', () => {
    fc.assert(
      fc.property(
        share,
        fc.double({ min: 4, max: 15, noNaN: true }),
        fc.double({ min: 80, max: 100, noNaN: true }),
        (part, totalFlow, purity) => {
          const orderedFio2 = 21 + (purity - 21) * part;
          const flow = given({ orderedFio2, orderedFlow: 1, totalFlow, purity }).results.correspondingFlow?.value;
          const bled = calculate('oxygen-bleed-in', {
            oxygenFlow: flow,
            minuteVentilation: totalFlow / 2,
            intentionalLeak: totalFlow / 2,
            unintentionalLeak: 0,
            supply: 'cylinder',
            purity,
          });
          expect(bled.ok && bled.results.fio2?.value).toBeCloseTo(orderedFio2, 8);
        },
      ),
    );
  });

  test('the flow rises with the FiO2 and with the total, and falls with purity', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 22, max: 70, noNaN: true }),
        fc.double({ min: 10, max: 150, noNaN: true }),
        fc.double({ min: 75, max: 99, noNaN: true }),
        (orderedFio2, totalFlow, purity) => {
          const flow = (more: Inputs) =>
            given({ orderedFio2, totalFlow, purity, orderedFlow: 1, ...more }).results.correspondingFlow?.value ??
            Number.NaN;
          const value = flow({});
          expect(value).toBeLessThanOrEqual(totalFlow);
          expect(flow({ orderedFio2: orderedFio2 + 1 })).toBeGreaterThan(value);
          expect(flow({ totalFlow: totalFlow + 5 })).toBeGreaterThan(value);
          expect(flow({ purity: purity + 1 })).toBeLessThan(value);
        },
      ),
    );
  });
});

describe('what is refused', () => {
  test('without an ordered flow there is nothing to check and no flow is given', () => {
    expect(problems({ orderedFlow: undefined })).toEqual([
      { field: 'orderedFlow', message: 'Enter oxygen flow in the order' },
    ]);
  });

  test('0.35 typed for 35 % is asked about', () => {
    expect(problems({ orderedFio2: 0.35 })).toEqual([
      {
        field: 'orderedFio2',
        message: 'FiO2 in the order is in per cent here, 21 to 100. Is 0.35 meant as 35 %?',
      },
    ]);
  });

  test('less than air cannot be ordered', () => {
    expect(problems({ orderedFio2: 20.9 })).toEqual([
      { field: 'orderedFio2', message: 'Air holds 21 % oxygen. An order of 20.9 % cannot be met' },
    ]);
  });

  test('a concentrator cannot be relied on for 90 %', () => {
    expect(problems({ orderedFio2: 90, supply: 'concentrator' })).toEqual([
      {
        field: 'orderedFio2',
        message: 'This supply may give as little as 87 % oxygen. It cannot be relied on for 90 %',
      },
    ]);
    expect(given({ orderedFio2: 90, supply: 'concentrator', purity: 94 }).ok).toBe(true);
  });

  test('more oxygen than enters is a wrong total', () => {
    expect(problems({ orderedFlow: 12, totalFlow: 10 })).toEqual([
      {
        field: 'orderedFlow',
        message: 'The flow in the order is more than the 10.0 L/min that enters. Check the total flow',
      },
    ]);
  });
});

test('title, label and cautions say that it checks and never sets', () => {
  const calculator = calculators['oxygen-order-check'];
  expect(calculator?.title).toBe('Check an oxygen order: do flow and FiO2 fit?');
  expect(calculator?.results.correspondingFlow?.help).toBe(
    'Use this figure to check the order. It is not a flow to set.',
  );
  expect(given({}).cautions).toContain(
    'This page checks an oxygen order that has already been written, and does not set a flow. Do not change a flow because of a number on this page.',
  );
});
