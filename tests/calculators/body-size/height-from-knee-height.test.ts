import { describe, expect, test } from 'vitest';
import { unreadLines } from '../../../calculators/body-size/height-from-knee-height.ts';
import { calculate } from '../../../calculators/index.ts';

const ask = (inputs: Record<string, number | string>) => calculate('height-from-knee-height', inputs);
const answer = (inputs: Record<string, number | string>) => {
  const outcome = ask(inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('the equations that were read', () => {
  test.each([
    // Chumlea 1985: 64.19 + 105.04 - 2.8; 84.88 + 87.84 - 18
    ['chumlea-1985', 'male', 70, 52, 166.43],
    ['chumlea-1985', 'female', 75, 48, 154.72],
    // Donini 2000: 94.87 + 82.16 - 16.1, and 4.8 more for a man
    ['donini-2000', 'male', 70, 52, 165.73],
    ['donini-2000', 'female', 70, 52, 160.93],
    // Taiwan 1998: 85.1 + 86.5 - 4.4; 91.45 + 70.38 - 6.4
    ['taiwan-1998-adult', 'male', 40, 50, 167.2],
    ['taiwan-1998-adult', 'female', 40, 46, 155.43],
  ])('%s, %s of %d with %d cm: %d cm', (set, sex, age, kneeHeight, height) => {
    expect(answer({ set, sex, age, kneeHeight }).results.height?.value).toBeCloseTo(height, 9);
  });

  test('none of them has a published error here, so none is made up', () => {
    const { results, cautions } = answer({ sex: 'male', age: 70, kneeHeight: 52 });
    expect(Object.keys(results)).toEqual(['height']);
    expect(results.height?.low).toBeUndefined();
    expect(cautions[0]).toBe(
      'No published error was found for this equation, so no range is shown. The error is unknown, not small: other equations are wrong by 7 cm and more.',
    );
  });

  test('under 60 the Taiwan equation answers and says where it was made', () => {
    const outcome = answer({ sex: 'male', age: 59.9, kneeHeight: 50 });
    expect(outcome.working.map(({ formula }) => formula)).toEqual(['taiwan-1998-adult-male']);
    expect(outcome.cautions).toContain(
      'Taiwan 1998 comes from adults in Taiwan. Elsewhere it may read too short or too tall; we do not know by how much.',
    );
    expect(answer({ sex: 'male', age: 60, kneeHeight: 50 }).working[0]?.formula).toBe('chumlea-1985-male');
    expect(answer({ sex: 'male', age: 90, kneeHeight: 50 }).working[0]?.formula).toBe('chumlea-1985-male');
  });
});

describe('the equations that were not read in their papers stand apart', () => {
  test('they are in a table of their own, each with how it was checked, and never give the answer', () => {
    const [read, unread] = answer({ sex: 'male', age: 70, kneeHeight: 52 }).tables;
    expect(read?.rows.map(({ label }) => label)).toEqual(['Chumlea 1985', 'Donini 2000', 'Taiwan 1998']);
    expect(unread?.caption).toBe('These were not read in the papers themselves. Read the paper before using one');
    // Chumlea 1998, recalled: 78.31 + 1.94 x 52 - 0.14 x 70 = 169.39
    expect(unread?.rows.map(({ label, cells }) => [label, ...cells])).toEqual([
      ['Chumlea 1998, White, 60 years and over', '169\u00a0cm', 'not yet checked'],
      ['Chumlea 1998, Black, 60 years and over', '166\u00a0cm', 'not yet checked'],
      ['Chumlea 1998, Mexican American, 60 years and over', '167\u00a0cm', 'not yet checked'],
    ]);
  });

  test('under 60 the equations of 1994 show with their spread (71.85 + 1.88 x 50; 1.96 x 3.97)', () => {
    const unread = answer({ sex: 'male', age: 45, kneeHeight: 50 }).tables[1];
    expect(unread?.rows[0]).toEqual({
      label: 'Chumlea 1994, White, 19 to 60 years',
      cells: ['166\u00a0cm (158 to 174)', 'read in a summary'],
    });
  });

  test.each([
    // 1994 as copies by others print them, 1998 recalled: this proves the copying and not the medicine; knee height 50 cm
    ['chumlea-1994-adult', 'male', 'White', 40, 71.85 + 94],
    ['chumlea-1994-adult', 'male', 'Black', 40, 73.42 + 89.5],
    ['chumlea-1994-adult', 'female', 'White', 40, 70.25 + 93.5 - 2.4],
    // 1.86 in every copy read; 1.87 stood here from memory until 2026-11-29
    ['chumlea-1994-adult', 'female', 'Black', 40, 68.1 + 93 - 2.4],
    ['chumlea-1998-elderly', 'male', 'White', 70, 78.31 + 97 - 9.8],
    ['chumlea-1998-elderly', 'male', 'Black', 70, 79.69 + 92.5 - 9.8],
    ['chumlea-1998-elderly', 'male', 'MexicanAmerican', 70, 82.77 + 91.5 - 11.2],
    ['chumlea-1998-elderly', 'female', 'White', 70, 82.21 + 92.5 - 14.7],
    ['chumlea-1998-elderly', 'female', 'Black', 70, 89.58 + 80.5 - 11.9],
    ['chumlea-1998-elderly', 'female', 'MexicanAmerican', 70, 84.25 + 91 - 18.2],
  ])('%s, %s, %s at %d', (set, sex, group, age, height) => {
    const found = unreadLines.filter((one) => one.set === set && one.sex === sex && one.group === group);
    expect(found.map(({ line }) => line.run({ kneeHeight: 50, age }).toFixed(6))).toEqual([height.toFixed(6)]);
  });

  test.each([
    [19, 1994],
    [59, 1994],
    [61, 1998],
  ])('at %d years the equations of %d and no others are shown', (age, year) => {
    const labels = answer({ sex: 'female', age, kneeHeight: 50 }).tables[1]?.rows.map(({ label }) => label) ?? [];
    expect(labels.length).toBeGreaterThan(1);
    expect(labels.filter((label) => !label.includes(String(year)))).toEqual([]);
  });

  test('at 60, which both name, both are shown', () => {
    const labels = answer({ sex: 'female', age: 60, kneeHeight: 50 })
      .tables[1]?.rows.map(({ label }) => label)
      .join();
    expect(labels).toMatch(/1994.*1998/);
  });

  test('an equation outside its ages prints no number', () => {
    const [read] = answer({ sex: 'female', age: 45, kneeHeight: 47 }).tables;
    expect(read?.rows.find(({ label }) => label === 'Donini 2000')?.cells).toEqual(['made for 60 to 90 years']);
  });
});

describe('refusals', () => {
  test.each([
    [
      { sex: 'male', age: 45, kneeHeight: 50, set: 'chumlea-1985' },
      'age',
      'Chumlea 1985 is for 60 to 90 years. At 45 choose Taiwan 1998',
    ],
    [
      { sex: 'male', age: 5, kneeHeight: 30 },
      'age',
      'These equations begin at 19 years. At 5 use the ulna, arm span or the height of a child from a segment',
    ],
    [{ sex: 'male', age: 91, kneeHeight: 50 }, 'age', 'These equations end at 90 years. At 91 measure lying length'],
    [{ sex: 'male', age: 70, kneeHeight: 520 }, 'kneeHeight', 'Knee height is between 30 and 75 cm. Is 520 in mm?'],
  ])('%o', (inputs, field, message) => {
    const outcome = ask(inputs);
    expect(outcome.ok ? 'answered' : outcome.problems).toEqual([{ field, message }]);
  });
});

test.each([
  [12, '12'],
  [18, '18'],
  [18.97, '18.9'],
])('at %d years the equations for 6 to 18 hold, and the page that has them is named', (age, shown) => {
  const outcome = ask({ sex: 'male', age, kneeHeight: 45 });
  expect(outcome.ok ? 'answered' : outcome.problems).toEqual([
    {
      field: 'age',
      message: `These equations begin at 19 years. At ${shown} use the ulna, arm span or the height of a child from a segment, which has the knee-height equations for 6 to 18 years`,
    },
  ]);
});
