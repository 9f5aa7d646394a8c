import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate, calculators } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const given = (inputs: Inputs) => {
  const outcome = calculate('oxygen-flow-to-fio2', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('oxygen-flow-to-fio2', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};

describe('nasal cannula', () => {
  // Rule as printed in a respiratory-care teaching page: 24, 28, 32, 36, 40, 44 % for 1 to 6 L/min.
  test.each([
    [1, 24],
    [2, 28],
    [3, 32],
    [4, 36],
    [5, 40],
    [6, 44],
  ])('%s L/min is said to give %s %%', (flow, fio2) => {
    expect(given({ interface: 'cannula', flow }).results.fio2).toEqual({ value: fio2, unit: '%' });
  });

  test('between whole litres the answer says that the line is ours', () => {
    const outcome = given({ interface: 'cannula', flow: 3.5 });
    expect(outcome.results.fio2?.value).toBe(34);
    expect(outcome.cautions).toContain(
      'The rule is published for whole litres. Between whole litres we use a straight line.',
    );
    expect(given({ interface: 'cannula', flow: 3 }).cautions.join()).not.toContain('straight line');
  });

  test('below 1 L/min nothing is published, and a small flow is not called harmless', () => {
    expect(problems({ interface: 'cannula', flow: 0.5 })).toEqual([
      {
        field: 'flow',
        message:
          'The cannula rule runs from 1 to 6 L/min. 0.5 L/min is below that. No FiO2 is published for that flow, and a small flow is not harmless',
      },
    ]);
  });

  test('above 6 L/min the rule is not stretched', () => {
    expect(problems({ interface: 'cannula', flow: 6.1 })).toEqual([
      {
        field: 'flow',
        message:
          'The cannula rule runs from 1 to 6 L/min. 6.1 L/min is above that. Is this a high-flow system? Those systems have their own figures',
      },
    ]);
  });

  test('2000 mL/min is 2 L/min', () => {
    expect(given({ interface: 'cannula', flow: { value: 2000, unit: 'mL/min' } }).results.fio2?.value).toBe(28);
  });

  test('the same flow is stronger in a shallow breath and weaker in a heavy one', () => {
    const estimate = (tidalVolume: number, inspiratoryTime: number) =>
      given({ interface: 'cannula', flow: 2, tidalVolume, inspiratoryTime }).results.estimate?.value;
    // By hand: 250 mL in 1 s is 15 L/min, 500 mL in 1 s is 30, 800 mL in 0.8 s is 60; 21 + 79 x 2 / flow.
    expect(estimate(250, 1)).toBeCloseTo(31.533, 3);
    expect(estimate(500, 1)).toBeCloseTo(26.267, 3);
    expect(estimate(800, 0.8)).toBeCloseTo(23.633, 3);
  });

  test('the three made-up breaths stand in a table beside the rule', () => {
    const [table] = given({ interface: 'cannula', flow: 2 }).tables;
    expect(table).toEqual({
      caption: '2 L/min in three example breaths: the same flow, three mixtures',
      columns: ['Breath', 'Inspiratory flow', 'Simply mixed', 'With 50 mL stored (not yet checked)'],
      rows: [
        { label: 'Shallow: 250 mL in 1 s', cells: ['15 L/min', '32 %', '47 %'] },
        { label: 'The breath the rule assumes: 500 mL in 1 s', cells: ['30 L/min', '26 %', '34 %'] },
        { label: 'Heavy: 800 mL in 0.8 s', cells: ['60 L/min', '24 %', '29 %'] },
      ],
    });
  });

  test('oxygen waiting in nose and throat makes a shallow breath stronger still', () => {
    // By hand: 50 mL waiting and 2 L/min for 1 s (33.3 mL) in 250 mL: 21 + 79 x 83.3 / 250.
    expect(
      given({ interface: 'cannula', flow: 2, tidalVolume: 250, inspiratoryTime: 1 }).results.withWaiting?.value,
    ).toBeCloseTo(47.333, 3);
  });

  test('no breath is said to hold more than pure oxygen', () => {
    expect(
      given({ interface: 'cannula', flow: 4, tidalVolume: 100, inspiratoryTime: 1 }).results.withWaiting?.value,
    ).toBe(100);
  });

  test('what was measured stands beside the rule, which is lower at 6 L/min', () => {
    // Wettstein 2005, abstract: means of 10 healthy adults at rest from 26 % (1 L/min) to 54 % (6 L/min).
    const rule = (flow: number) => given({ interface: 'cannula', flow }).results.fio2?.value ?? Number.NaN;
    expect(rule(6)).toBeLessThan(54);
    expect(given({ interface: 'cannula', flow: 6 }).tables[1]?.rows[0]?.cells).toEqual([
      '1 to 6',
      '26 to 54',
      'read at source',
    ]);
  });
});

describe('masks', () => {
  test('a simple mask shows the outer ends and says that the texts disagree', () => {
    const outcome = given({ interface: 'simple-mask', flow: 6 });
    expect(outcome.results).toEqual({ fio2: { value: 35, low: 35, high: 60, unit: '%' } });
    expect(outcome.cautions).toContain(
      'Texts disagree: 35 to 50, 35 to 60 or 40 to 60 %, all at 5 to 10 L/min. Below 5 L/min carbon dioxide is rebreathed.',
    );
  });

  test('a simple mask below 5 L/min is refused because of rebreathing', () => {
    expect(problems({ interface: 'simple-mask', flow: 4 })).toEqual([
      {
        field: 'flow',
        message:
          'A simple mask is run at 5 to 10 L/min. 4 L/min is below that. At that flow exhaled air stays in the mask and carbon dioxide is rebreathed',
      },
    ]);
  });

  test('a reservoir mask runs at 10 to 15 L/min', () => {
    expect(given({ interface: 'reservoir-mask', flow: 15 }).results).toEqual({
      fio2: { value: 60, low: 60, high: 90, unit: '%' },
    });
    expect(problems({ interface: 'reservoir-mask', flow: 9 })).toEqual([
      {
        field: 'flow',
        message:
          'A reservoir mask is run at 10 to 15 L/min. 9 L/min is below that. At that flow the bag can collapse and carbon dioxide is rebreathed',
      },
    ]);
  });

  test('no sum is made for a reservoir mask', () => {
    const outcome = given({ interface: 'reservoir-mask', flow: 12, inspiratoryFlow: 40 });
    expect(outcome.results.estimate).toBeUndefined();
    expect(outcome.cautions).toContain(
      'There is no calculation for a reservoir mask, because the oxygen comes from the bag.',
    );
  });

  test('a tracheostomy mask has only a range from memory, and it never leads', () => {
    const outcome = given({ interface: 'tracheostomy-mask', flow: 8 });
    expect(outcome.results).toEqual({ fio2Unchecked: { value: 35, low: 35, high: 60, unit: '%' } });
    expect(calculators['oxygen-flow-to-fio2']?.results.fio2Unchecked?.main).toBeUndefined();
    expect(outcome.cautions).toContain(
      'The range for a tracheostomy mask is not yet checked: read a source before relying on it.',
    );
  });
});

describe('Venturi valve', () => {
  // A mask maker's teaching page prints 52 L/min for 24 % at 2 L/min and about 104 at 4 L/min (25 parts of air).
  test('24 % at 2 L/min gives about 52 L/min, and twice the oxygen gives twice the flow and the same mixture', () => {
    const two = given({ interface: 'venturi', percent: '24', flow: 2 }).results;
    const four = given({ interface: 'venturi', percent: '24', flow: 4 }).results;
    expect(two.totalFlow?.value).toBeCloseTo(52.667, 3);
    expect(four.totalFlow?.value).toBeCloseTo(105.333, 3);
    expect(four.fio2).toEqual(two.fio2);
  });

  test('the percent must be chosen, for the flow alone says nothing', () => {
    expect(problems({ interface: 'venturi', flow: 4 })).toEqual([
      { field: 'percent', message: 'Choose the percentage printed on the Venturi valve' },
    ]);
  });

  test('a flow below the one printed on the valve is pointed out', () => {
    expect(given({ interface: 'venturi', percent: '35', flow: 4 }).cautions).toContain(
      'A 35 % valve is usually printed with 8 L/min. With less oxygen the total flow is smaller, and the person draws in room air as well.',
    );
    expect(given({ interface: 'venturi', percent: '35', flow: 8 }).cautions.join()).not.toContain('printed with');
  });

  test('a breath within the total flow gets the percent, a larger one draws in room air', () => {
    const at = (inspiratoryFlow: number) =>
      given({ interface: 'venturi', percent: '60', flow: 15, inspiratoryFlow }).results.estimate?.value;
    expect(at(25)).toBeCloseTo(60, 9);
    // By hand: 21 + 79 x 15 / 60.
    expect(at(60)).toBeCloseTo(40.75, 9);
  });

  test('40 L/min of oxygen is no Venturi flow', () => {
    expect(problems({ interface: 'venturi', percent: '40', flow: 40 })).toEqual([
      { field: 'flow', message: 'A Venturi valve is run at 1 to 15 L/min of oxygen. 40 L/min is outside that' },
    ]);
  });
});

describe('the breath', () => {
  test('litres per second and litres per minute give the same sum', () => {
    const perSecond = given({ interface: 'cannula', flow: 3, inspiratoryFlow: { value: 0.5, unit: 'L/s' } });
    const perMinute = given({ interface: 'cannula', flow: 3, inspiratoryFlow: 30 });
    expect(perSecond.results).toEqual(perMinute.results);
  });

  test('half a breath is asked about', () => {
    expect(problems({ interface: 'cannula', flow: 2, tidalVolume: 400 })).toEqual([
      { field: 'inspiratoryTime', message: 'Enter the time to breathe in, to go with the tidal volume' },
    ]);
    expect(problems({ interface: 'cannula', flow: 2, inspiratoryTime: 1 })).toEqual([
      { field: 'tidalVolume', message: 'Enter the tidal volume, to go with the time to breathe in' },
    ]);
  });

  test('a typed inspiratory flow is used and the rest is said to be unused', () => {
    const outcome = given({
      interface: 'cannula',
      flow: 2,
      inspiratoryFlow: 20,
      tidalVolume: 500,
      inspiratoryTime: 1,
    });
    expect(outcome.results.inspiratoryFlow?.value).toBe(20);
    expect(outcome.cautions).toContain(
      'The inspiratory flow you typed is used. The size and time of the breath are ignored.',
    );
  });

  test('more oxygen than the breath takes in gives no number', () => {
    const outcome = given({ interface: 'simple-mask', flow: 8, inspiratoryFlow: 6 });
    expect(outcome.results.estimate).toBeUndefined();
    expect(outcome.cautions).toContain(
      'The oxygen flow is larger than the inspiratory flow of this breath, so the calculation does not apply. The mixture is close to pure oxygen.',
    );
  });

  test('FiO2 rises with oxygen, falls with inspiratory flow, and stays between air and pure oxygen', () => {
    const estimate = (flow: number, inspiratoryFlow: number) =>
      given({ interface: 'cannula', flow, inspiratoryFlow }).results.estimate?.value ?? Number.NaN;
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 5.9, noNaN: true }),
        fc.double({ min: 6, max: 150, noNaN: true }),
        (flow, inspiratoryFlow) => {
          const value = estimate(flow, inspiratoryFlow);
          expect(value).toBeGreaterThan(20.93);
          expect(value).toBeLessThanOrEqual(100);
          expect(estimate(flow + 0.1, inspiratoryFlow)).toBeGreaterThan(value);
          expect(estimate(flow, inspiratoryFlow + 1)).toBeLessThan(value);
        },
      ),
    );
  });
});

describe('caution', () => {
  test('the hypoventilation caution stands before the fields', () => {
    expect(calculators['oxygen-flow-to-fio2']?.before?.[0]).toBe(
      'Oxygen alone can hide and worsen hypoventilation. In eight people with neuromuscular disease, oxygen at 0.5 to 2 L/min raised carbon dioxide by a mean of 28 mmHg (Gay and Edmonds 1995, abstract read). Treat weak breathing first, with ventilation.',
    );
  });

  test('every answer says that it cannot be used backwards', () => {
    expect(given({ interface: 'cannula', flow: 2 }).cautions).toContain(
      'Do not work backwards on this page to choose a flow for a target FiO2. The prescriber decides the oxygen flow, and its effect is judged by saturation and carbon dioxide.',
    );
  });

  test('a wanted FiO2 is not an input and a flow of oxygen is not a result', () => {
    const calculator = calculators['oxygen-flow-to-fio2'];
    expect(Object.keys(calculator?.fields ?? {})).not.toContain('fio2');
    expect(Object.keys(calculator?.results ?? {})).not.toContain('flow');
  });

  test('a child is refused', () => {
    expect(problems({ interface: 'cannula', flow: 1, age: 17 })).toEqual([
      { field: 'age', message: 'These figures are for adults aged 18 and over. Ask the paediatric team for a child' },
    ]);
  });
});
