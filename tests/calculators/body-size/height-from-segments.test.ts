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

  test('the first and the last birthday of a line are inside it', () => {
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

  test('says when the line is from memory', () => {
    const said = 'The Stevenson lines are from memory. Read the paper before relying on one.';
    expect(answer({ age: 7, set: 'stevenson-1995', segment: 'kneeHeight', length: 35 }).cautions).toContain(said);
    expect(answer({ age: 7, set: 'tibia-2015-typical', segment: 'tibialLength', length: 25 }).cautions).not.toContain(
      said,
    );
  });

  test('by tibia shows the other lines for the age beside it', () => {
    const labels = (age: number) =>
      answer({ age, set: 'stevenson-1995', segment: 'tibialLength', length: 20 }).tables[0]?.rows.map(
        ({ label }) => label,
      );
    expect(labels(5)).toEqual([
      'Tibia 2015, cerebral palsy',
      'Tibia 2015, typically developed',
      'Stevenson 1995, from memory',
    ]);
    expect(labels(2.5)).toEqual(['Stevenson 1995, from memory']);
  });

  test('by knee height shows the recalled lines of 1994 apart, from 6 years only', () => {
    const tables = (age: number) =>
      answer({ age, set: 'stevenson-1995', segment: 'kneeHeight', length: 35 }).tables.map(({ caption }) => caption);
    expect(tables(6)).toEqual(['From memory, unchecked: read the paper before using one of these']);
    expect(tables(5)).toEqual([]);
  });

  test('those lines are copied as recalled, with 1.96 of their spread (knee height 40 cm)', () => {
    const rows = answer({ age: 8, set: 'stevenson-1995', segment: 'kneeHeight', length: 40 }).tables[0]?.rows;
    // 40.54 + 88.8, 8.25; 39.6 + 87.2, 8.98; 43.21 + 86, 7.64; 46.59 + 80.8, 8.60
    expect(rows?.map(({ label, cells }) => [label, ...cells])).toEqual([
      ['Chumlea 1994, White boys, 6 to 18 years', '129\u00a0cm (121 to 138)'],
      ['Chumlea 1994, Black boys, 6 to 18 years', '127\u00a0cm (118 to 136)'],
      ['Chumlea 1994, White girls, 6 to 18 years', '129\u00a0cm (122 to 137)'],
      ['Chumlea 1994, Black girls, 6 to 18 years', '127\u00a0cm (119 to 136)'],
    ]);
  });
});

describe('refusals', () => {
  test.each([
    [
      { age: 12.5, segment: 'kneeHeight', length: 40, set: 'stevenson-1995' },
      'age',
      'Stevenson 1995 is for 2 to 12 years. 12.5 is outside it: use the ulna or arm span',
    ],
    [
      { age: 1, segment: 'kneeHeight', length: 20, set: 'stevenson-1995' },
      'age',
      'Stevenson 1995 is for 2 to 12 years. 1 is outside it',
    ],
    [
      { age: 2, segment: 'tibialLength', length: 20, set: 'tibia-2015-typical' },
      'age',
      'The tibia line of 2015 is for 3 to 12 years. 2 is outside it',
    ],
    [
      { age: 40, segment: 'tibialLength', length: 36, set: 'tibia-2015-typical' },
      'age',
      'The tibia line of 2015 is for 3 to 12 years. 40 is outside it: use the ulna or arm span',
    ],
    [
      { age: 6, segment: 'kneeHeight', length: 33, set: 'tibia-2015-cerebral-palsy' },
      'segment',
      'The tibia line of 2015 is for the tibia only. For another segment choose Stevenson 1995',
    ],
    [
      { age: 2.9, segment: 'tibialLength', length: 20, set: 'tibia-2015-cerebral-palsy' },
      'age',
      'The tibia line of 2015 is for 3 to 12 years. 2.9 is outside it',
    ],
    [
      { age: 12.1, segment: 'tibialLength', length: 32, set: 'tibia-2015-cerebral-palsy' },
      'age',
      'The tibia line of 2015 is for 3 to 12 years. 12.1 is outside it: use the ulna or arm span',
    ],
    [{ age: 6, segment: 'tibialLength', length: 25 }, 'set', 'Choose line'],
  ])('%o', (inputs, field, message) => {
    const outcome = ask(inputs);
    expect(outcome.ok ? 'answered' : outcome.problems).toEqual([{ field, message }]);
  });
});
