import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

const ask = (inputs: Record<string, number | string>) => calculate('height-from-segments', inputs);
const answer = (inputs: Record<string, number | string>) => {
  const outcome = ask(inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('a child\u2019s height', () => {
  test.each([
    // Stevenson 1995, recalled: 4.35 x 20 + 21.8; 3.26 x 25 + 30.8; 2.69 x 35 + 24.2
    ['stevenson-1995', 'upperArmLength', 20, 108.8],
    ['stevenson-1995', 'tibialLength', 25, 112.3],
    ['stevenson-1995', 'kneeHeight', 35, 118.35],
    // Brain Dev 2015, abstract: 3.42 x 25 + 31.82; 3.25 x 25 + 34.45
    ['tibia-2015-cerebral-palsy', 'tibialLength', 25, 117.32],
    ['tibia-2015-typical', 'tibialLength', 25, 115.7],
  ])('%s, %s of %d cm: %d cm', (set, segment, length, height) => {
    expect(answer({ age: 7, set, segment, length }).results.height?.value).toBeCloseTo(height, 9);
  });

  test('goes with 10 cm either way (Haapala, abstract), not with the small spread recalled from the first paper', () => {
    const { results } = answer({ age: 7, set: 'stevenson-1995', segment: 'kneeHeight', length: 35 });
    expect(results.height?.low).toBeCloseTo(108.35, 9);
    expect(results.height?.high).toBeCloseTo(128.35, 9);
    expect(results.heightError?.value).toBe(10);
  });

  test('the first and the last birthday of an equation are inside it', () => {
    for (const [set, age] of [
      ['stevenson-1995', 2],
      ['stevenson-1995', 12],
      ['tibia-2015-cerebral-palsy', 3],
      ['tibia-2015-cerebral-palsy', 12],
      ['tibia-2015-typical', 3],
      ['tibia-2015-typical', 12],
    ] as const)
      expect([set, age, ask({ age, set, segment: 'tibialLength', length: 25 }).ok]).toEqual([set, age, true]);
  });

  test('says when the equation is from memory', () => {
    const expected = 'The Stevenson equations are not yet checked. Read the paper before relying on one.';
    expect(answer({ age: 7, set: 'stevenson-1995', segment: 'kneeHeight', length: 35 }).cautions).toContain(expected);
    expect(answer({ age: 7, set: 'tibia-2015-typical', segment: 'tibialLength', length: 25 }).cautions).not.toContain(
      expected,
    );
  });

  test('by tibia shows the other equations for the age beside it', () => {
    const labels = (age: number) =>
      answer({ age, set: 'stevenson-1995', segment: 'tibialLength', length: 20 }).tables[0]?.rows.map(
        ({ label }) => label,
      );
    expect(labels(5)).toEqual([
      'Tibia 2015, cerebral palsy',
      'Tibia 2015, typically developing',
      'Stevenson 1995, not yet checked',
    ]);
    expect(labels(2.5)).toEqual(['Stevenson 1995, not yet checked']);
  });

  test('by knee height shows the equations of 1994 apart, from 6 years only', () => {
    const tables = (age: number) =>
      answer({ age, set: 'stevenson-1995', segment: 'kneeHeight', length: 35 }).tables.map(({ caption }) => caption);
    expect(tables(6)).toEqual(['These were not read in the papers themselves. Read the paper before using one']);
    expect(tables(5)).toEqual([]);
  });

  test.each([
    // 40.54 + 2.22 x 52; 39.6 + 2.18 x 52; 43.21 + 2.15 x 52; 46.59 + 2.02 x 52, with 1.96 standard errors
    ['chumlea-1994-white-boys', 155.98, 4.21, 'copies by others'],
    ['chumlea-1994-black-boys', 152.96, 4.58, 'copies by others'],
    ['chumlea-1994-white-girls', 155.01, 3.9, 'not yet checked'],
    ['chumlea-1994-black-girls', 151.63, 4.39, 'copies by others'],
  ])('%s from 6 years to the 19th birthday: %d cm', (set, height, error, expected) => {
    for (const age of [6, 12.5, 18, 18.97]) {
      const { results, cautions } = answer({ age, set, segment: 'kneeHeight', length: 52 });
      expect(results.height?.value).toBeCloseTo(height, 9);
      expect(results.heightError?.value).toBeCloseTo(1.96 * error, 9);
      expect(cautions.join(' ')).toContain(expected);
    }
    for (const age of [5.9, 19]) expect(ask({ age, set, segment: 'kneeHeight', length: 52 }).ok).toBe(false);
  });

  test('nobody of 6 to 90 is sent in a circle: by knee height each age has an equation on one of the two pages', () => {
    const adult = (age: number) => calculate('height-from-knee-height', { sex: 'male', age, kneeHeight: 50 }).ok;
    const child = (age: number) => ask({ age, set: 'chumlea-1994-white-boys', segment: 'kneeHeight', length: 50 }).ok;
    for (let age = 6; age <= 90; age += 0.25) expect([age, adult(age), child(age)]).toEqual([age, age >= 19, age < 19]);
  });

  test('those equations are copied as printed, with 1.96 of their spread (knee height 40 cm)', () => {
    const rows = answer({ age: 8, set: 'stevenson-1995', segment: 'kneeHeight', length: 40 }).tables[0]?.rows;
    // 40.54 + 88.8, 8.25; 39.6 + 87.2, 8.98; 43.21 + 86, 7.64; 46.59 + 80.8, 8.60
    expect(rows?.map(({ label, cells }) => [label, ...cells])).toEqual([
      ['Chumlea 1994, White boys, 6 to 18 years', '129\u00a0cm (121 to 138)', 'read in a summary'],
      ['Chumlea 1994, Black boys, 6 to 18 years', '127\u00a0cm (118 to 136)', 'read in a summary'],
      ['Chumlea 1994, White girls, 6 to 18 years', '129\u00a0cm (122 to 137)', 'not yet checked'],
      ['Chumlea 1994, Black girls, 6 to 18 years', '127\u00a0cm (119 to 136)', 'read in a summary'],
    ]);
  });
});

describe('refusals', () => {
  test.each([
    [
      { age: 12.5, segment: 'kneeHeight', length: 40, set: 'stevenson-1995' },
      'age',
      'Stevenson 1995 is for 2 to 12 years. 12.5 is outside it: use the ulna, arm span or, by knee height, Chumlea 1994',
    ],
    [
      { age: 1, segment: 'kneeHeight', length: 20, set: 'stevenson-1995' },
      'age',
      'Stevenson 1995 is for 2 to 12 years. 1 is outside it',
    ],
    [
      { age: 2, segment: 'tibialLength', length: 20, set: 'tibia-2015-typical' },
      'age',
      'The tibia equation of 2015 is for 3 to 12 years. 2 is outside it',
    ],
    [
      { age: 40, segment: 'tibialLength', length: 36, set: 'tibia-2015-typical' },
      'age',
      'The tibia equation of 2015 is for 3 to 12 years. 40 is outside it: use the ulna, arm span or the adult knee-height equations',
    ],
    [
      { age: 6, segment: 'kneeHeight', length: 33, set: 'tibia-2015-cerebral-palsy' },
      'segment',
      'The tibia equation of 2015 is for the tibia only. For another segment choose another equation',
    ],
    [
      { age: 2.9, segment: 'tibialLength', length: 20, set: 'tibia-2015-cerebral-palsy' },
      'age',
      'The tibia equation of 2015 is for 3 to 12 years. 2.9 is outside it',
    ],
    [
      { age: 12.1, segment: 'tibialLength', length: 32, set: 'tibia-2015-cerebral-palsy' },
      'age',
      'The tibia equation of 2015 is for 3 to 12 years. 12.1 is outside it: use the ulna, arm span or, by knee height, Chumlea 1994',
    ],
    [{ age: 6, segment: 'tibialLength', length: 25 }, 'set', 'Choose equation'],
    [
      { age: 18, segment: 'tibialLength', length: 36, set: 'chumlea-1994-white-boys' },
      'segment',
      'Chumlea 1994 is for knee height only. For another segment choose another equation',
    ],
  ])('%o', (inputs, field, message) => {
    const outcome = ask(inputs);
    expect(outcome.ok ? 'answered' : outcome.problems).toEqual([{ field, message }]);
  });
});
