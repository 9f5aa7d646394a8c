import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const given = (inputs: Inputs) => {
  const outcome = calculate('cough-flow-reference', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('cough-flow-reference', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};

describe('adults', () => {
  // Srithawong 2019, abstract: men 421.30 (SD 99.16), women 325.93 (SD 68.75) L/min.
  test.each([
    ['male', 421.3, 99.16],
    ['female', 325.93, 68.75],
  ])('%s: mean %s, SD %s L/min', (sex, mean, sd) => {
    expect(given({ sex, age: 50 }).results).toEqual({
      adultMean: { value: mean, unit: 'L/min' },
      adultSd: { value: sd, unit: 'L/min' },
    });
  });

  test('the mean is the same at 20 and at 90, and the page says that older people lie lower', () => {
    expect(given({ sex: 'male', age: 20 }).results).toEqual(given({ sex: 'male', age: 90 }).results);
    expect(given({ sex: 'male', age: 80 }).cautions).toContain(
      'The mean is for all adults from 20 to 90. Older people have lower flows, and no values by age are published.',
    );
  });

  test('the usual adult range stands apart as unchecked', () => {
    const unchecked = given({ sex: 'male', age: 50 }).tables.at(-1);
    expect(unchecked?.caption).toBe('Not yet checked: read the source before relying on it');
    expect(unchecked?.rows).toEqual([
      {
        label: 'Usual adult range, often quoted from Leiner 1963',
        cells: ['360 to 840', 'adults', 'not yet checked'],
      },
    ]);
  });

  test('a healthy mean is never called a threshold', () => {
    expect(given({ sex: 'male', age: 50, flow: 210 }).cautions).toContain(
      'The mean in healthy people is not a threshold for support. Thresholds for support are not normal values: they come from studies of people with weak muscles.',
    );
  });
});

describe('children', () => {
  // Bianchi and Baiardi 2008, abstract: 50th centiles 162 to 728 (boys) and 147 to 488 (girls) from 4 to 18 years.
  test.each([
    ['male', 162, 728],
    ['female', 147, 488],
  ])('%s: only the two published ends, at every age from 4 to 18', (sex, at4, at18) => {
    for (let age = 4; age < 19; age += 0.25)
      expect(given({ sex, age }).results).toEqual({
        childAt4: { value: at4, unit: 'L/min' },
        childAt18: { value: at18, unit: 'L/min' },
      });
  });

  test('nothing is drawn between the ends, and a child gets no share', () => {
    const outcome = given({ sex: 'male', age: 11, flow: 300 });
    expect(outcome.results.percentOfMean).toBeUndefined();
    expect(outcome.tables).toEqual([]);
    expect(outcome.cautions).toEqual(
      expect.arrayContaining([
        'Only the values for 4 and 18 years were found. No number is given between them, and you should not estimate one: the table by age is in the paper.',
        'No share is calculated for a child: the values by age were not found.',
      ]),
    );
  });
});

describe('where no set reaches', () => {
  test.each([
    [3.9, 'No cough flow of healthy children under 4 years was found. Most cannot do the test'],
    [19, 'The set for children ends at 18 years and the one for adults begins at 20. Neither set covers 19 years'],
    [19.9, 'The set for children ends at 18 years and the one for adults begins at 20. Neither set covers 19 years'],
    [91, 'The set for adults ends at 90 years'],
  ])('%s years is refused', (age, message) => {
    expect(problems({ sex: 'male', age })).toEqual([{ field: 'age', message }]);
  });
});
