import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { euFromWright } from '../../../calculators/cough/peak-expiratory-flow.ts';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const man = { set: 'nunn-gregg-1989', sex: 'male', age: 40, height: 175 };
const boy = { set: 'hong-kong-2012-child', sex: 'male', age: 10, height: 138 };
const given = (inputs: Inputs) => {
  const outcome = calculate('peak-expiratory-flow', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('peak-expiratory-flow', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};

describe('predicted', () => {
  test('a boy of 10 and 138 cm: 262 L/min on the EU scale (Hong Kong 2012, abstract)', () => {
    const { results, cautions } = given(boy);
    expect(results.predicted?.value).toBeCloseTo(262.02, 1);
    expect(results.predictedEu?.value).toBe(results.predicted?.value);
    expect(cautions.join()).not.toContain('from memory');
  });

  test('a man of 40 and 175 cm: 636 L/min on the Wright scale (Nunn and Gregg, from memory), and it says so', () => {
    const { results, cautions } = given(man);
    expect(results.predicted?.value).toBeCloseTo(636.44, 1);
    expect(cautions).toContain('This set is not yet checked: read the source before relying on it.');
    expect(cautions).toContain('The conversion between the scales is not yet checked.');
  });

  test('the child rule is 5 x height - 400', () => {
    expect(given({ set: 'child-height-rule', sex: 'female', age: 9, height: 130 }).results.predicted?.value).toBe(250);
  });

  test('taller people blow more, in every set', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(
          { set: 'nunn-gregg-1989', age: 40, from: 120, to: 209 },
          { set: 'hong-kong-2012-child', age: 12, from: 100, to: 199 },
          { set: 'child-height-rule', age: 12, from: 100, to: 169 },
        ),
        fc.constantFrom('male', 'female'),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ({ set, age, from, to }, sex, share) => {
          const height = from + (to - from) * share;
          const at = (height: number) => given({ set, sex, age, height }).results.predicted?.value ?? Number.NaN;
          expect(at(height + 1)).toBeGreaterThan(at(height));
        },
      ),
    );
  });
});

describe('the two scales', () => {
  test('400 on the Wright scale is 344 on the EU scale (conversion from memory)', () => {
    expect(euFromWright.run({ wright: 400 })).toBeCloseTo(344.24, 2);
  });

  test('the Wright scale reads high in the middle and low above about 650 (occupational-asthma centre page)', () => {
    expect(euFromWright.run({ wright: 300 })).toBeLessThan(300);
    expect(euFromWright.run({ wright: 500 })).toBeLessThan(500);
    expect(euFromWright.run({ wright: 700 })).toBeGreaterThan(700);
  });

  test('the conversion keeps the order of readings', () => {
    fc.assert(
      fc.property(fc.double({ min: 60, max: 799, noNaN: true }), (wright) => {
        expect(euFromWright.run({ wright: wright + 1 })).toBeGreaterThan(euFromWright.run({ wright }));
      }),
    );
  });

  test('a reading and a prediction on one scale are compared as they are', () => {
    const { results } = given({ ...boy, measured: 131.01, meter: 'eu' });
    expect(results.percent?.value).toBeCloseTo(50, 2);
    expect(results.measuredEu).toBeUndefined();
  });

  test('a Wright reading against an EU set goes to the EU scale first', () => {
    const { results } = given({ ...boy, measured: 400, meter: 'wright' });
    expect(results.measuredEu?.value).toBeCloseTo(344.24, 2);
    expect(results.percent?.value).toBeCloseTo((100 * 344.24) / 262.02, 1);
  });

  test('an EU reading against a Wright set: the prediction goes to the EU scale', () => {
    const { results } = given({ ...man, measured: 300, meter: 'eu' });
    expect(results.percent?.value).toBeCloseTo((100 * 300) / (results.predictedEu?.value ?? Number.NaN), 9);
    expect(results.predictedEu?.value).not.toBeCloseTo(results.predicted?.value ?? Number.NaN, 0);
  });

  test('a reading from a meter of unknown scale is not compared', () => {
    const { results, cautions } = given({ ...boy, measured: 250 });
    expect(results.percent).toBeUndefined();
    expect(cautions).toContain('The scale of the meter is not known, so no percentage of predicted is calculated.');
  });

  test('below 60 on the Wright scale the conversion is not stretched', () => {
    const { results, cautions } = given({ ...boy, measured: 50, meter: 'wright' });
    expect(results.percent).toBeUndefined();
    expect(cautions).toContain(
      'The conversion holds from 60 to 800 L/min on the Wright scale. Outside this range, no percentage of predicted is calculated.',
    );
  });
});

test.each([
  [{ ...man, age: 14 }, 'age', 'This set was made for 15 to 85 years. 14.0\u00a0years is outside it'],
  [{ ...man, age: 86 }, 'age', 'This set was made for 15 to 85 years. 86.0\u00a0years is outside it'],
  [{ ...boy, age: 5 }, 'age', 'This set was made for 6 to 19 years. 5.0\u00a0years is outside it'],
  [{ ...man, height: 110 }, 'height', 'This set holds from 120 to 210 cm. 110\u00a0cm is outside it'],
])('outside the set nothing is predicted: %o', (inputs, field, message) => {
  expect(problems(inputs)).toEqual([{ field, message }]);
});

test('a reading in L/s typed per minute is refused with a question', () => {
  expect(problems({ ...man, measured: 7.2 })).toEqual([
    { field: 'measured', message: 'Peak expiratory flow blown is above 20 and at most 1200 L/min. Is 7.2 in L/s?' },
  ]);
});
