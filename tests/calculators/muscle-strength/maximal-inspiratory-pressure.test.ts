import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawInputs } from '../../../calculators/calculator.ts';
import { calculate } from '../../../calculators/index.ts';
import mip, { mipLines } from '../../../calculators/muscle-strength/maximal-inspiratory-pressure.ts';
import { published } from '../../../calculators/muscle-strength/published-sets.ts';

const ask = (inputs: RawInputs) => calculate('maximal-inspiratory-pressure', inputs);
const answer = (inputs: RawInputs) => {
  const outcome = ask(inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const resultOf = (inputs: RawInputs, result: string) => answer(inputs).results[result]?.value;
const labels = (inputs: RawInputs) => answer(inputs).tables.flatMap((table) => table.rows.map((row) => row.label));

describe('predicted, by each set', () => {
  test.each([
    // Evans and Whitelaw 2009, abstract: 120 - 20.5; 108 - 21.35
    [{ set: 'evans-whitelaw-2009', sex: 'male', age: 50 }, 99.5],
    [{ set: 'evans-whitelaw-2009', sex: 'female', age: 35 }, 86.65],
    // Harik-Khan 1998, abstract: 126 - 61.68 + 27.44; 171 - 34.7 + 55.965 - 122.595
    [{ set: 'harik-khan-1998', sex: 'male', age: 60, weight: 80 }, 91.76],
    [{ set: 'harik-khan-1998', sex: 'female', age: 50, weight: 65, height: 165 }, 69.67],
    // Araujo 2024, abstract: 137 - 19.95; 107.3 - 28
    [{ set: 'araujo-2024-brazil', sex: 'male', age: 35 }, 117.05],
    [{ set: 'araujo-2024-brazil', sex: 'female', age: 70 }, 79.3],
    // Pessoa 2014, abstract: 63.27 - 22 + 17.96 + 43.5, and without the 17.96
    [{ set: 'pessoa-2014-brazil', sex: 'male', age: 40, weight: 75 }, 102.73],
    [{ set: 'pessoa-2014-brazil', sex: 'female', age: 40, weight: 75 }, 84.77],
    // From memory from here on: Black and Hyatt 1969, Wilson 1984, Neder 1999
    [{ set: 'black-hyatt-1969', sex: 'male', age: 30 }, 124],
    [{ set: 'black-hyatt-1969', sex: 'male', age: 54.9 }, 124],
    [{ set: 'black-hyatt-1969', sex: 'female', age: 40 }, 87],
    [{ set: 'black-hyatt-1969', sex: 'female', age: 54.9 }, 87],
    [{ set: 'black-hyatt-1969', sex: 'female', age: 55 }, 78.55],
    [{ set: 'black-hyatt-1969', sex: 'female', age: 74 }, 63.54],
    [{ set: 'wilson-1984-adult', sex: 'male', age: 45 }, 95.65],
    [{ set: 'wilson-1984-adult', sex: 'female', age: 45, height: 163 }, 72.73],
    [{ set: 'neder-1999-brazil', sex: 'male', age: 50 }, 115.3],
    [{ set: 'neder-1999-brazil', sex: 'female', age: 50 }, 85.9],
    // Wilson 1984, children: boys 44.5 + 22.5 (read in a table), girls 40 + 23.94 (memory)
    [{ set: 'wilson-1984-child', sex: 'male', age: 9, weight: 30 }, 67],
    [{ set: 'wilson-1984-child', sex: 'female', age: 12, weight: 42 }, 63.94],
  ])('%o: %d cmH2O', (inputs, expected) => {
    expect(resultOf(inputs, 'predicted')).toBeCloseTo(expected, 9);
  });

  test('Hautmann is in kPa and is told in cmH2O (from memory: 8.22 + 0.158 x 25 - 0.051 x 50 = 9.62 kPa)', () => {
    // 25 kg/m2: 100 kg at 2 m. 9.62 kPa x 10.19716 = 98.0967 cmH2O; lower limit 60 per cent of it (read)
    const inputs = { set: 'hautmann-2000', sex: 'male', age: 50, height: 200, weight: 100 };
    expect(resultOf(inputs, 'predicted')).toBeCloseTo(98.0967, 3);
    expect(resultOf(inputs, 'lowerLimit')).toBeCloseTo(58.858, 3);
    // women: 6.29 + 3.275 - 1.75 = 7.815 kPa = 79.6908 cmH2O; 59 per cent of it is 47.0176
    expect(resultOf({ ...inputs, sex: 'female' }, 'predicted')).toBeCloseTo(79.6908, 3);
    expect(resultOf({ ...inputs, sex: 'female' }, 'lowerLimit')).toBeCloseTo(47.0176, 3);
  });
});

describe('lower limits', () => {
  test.each([
    // Evans and Whitelaw 2009, abstract: 62 - 7.5; 62 - 17.5
    [{ sex: 'male', age: 50 }, 54.5],
    [{ sex: 'female', age: 35 }, 44.5],
    // less 1.645 standard errors (our step): 91.76 - 36.848; 79.3 - 26.4845
    [{ set: 'harik-khan-1998', sex: 'male', age: 60, weight: 80 }, 54.912],
    [{ set: 'araujo-2024-brazil', sex: 'female', age: 70 }, 52.8155],
    // less 2 SD, from memory: 124 - 44; 87 - 32
    [{ set: 'black-hyatt-1969', sex: 'male', age: 30 }, 80],
    [{ set: 'black-hyatt-1969', sex: 'female', age: 30 }, 55],
    // less 1.645 standard errors, from memory: 115.3 - 28.4585; 85.9 - 14.9695
    [{ set: 'neder-1999-brazil', sex: 'male', age: 50 }, 86.8415],
    [{ set: 'neder-1999-brazil', sex: 'female', age: 50 }, 70.9305],
    // 69.67 - 30.4325; 117.05 - 42.95095
    [{ set: 'harik-khan-1998', sex: 'female', age: 50, weight: 65, height: 165 }, 39.2375],
    [{ set: 'araujo-2024-brazil', sex: 'male', age: 35 }, 74.09905],
  ])('%o: %d cmH2O', (inputs, expected) => {
    expect(resultOf(inputs, 'lowerLimit')).toBeCloseTo(expected, 9);
  });

  test('a set that prints none gives none and says so', () => {
    const outcome = answer({ set: 'pessoa-2014-brazil', sex: 'male', age: 40, weight: 75 });
    expect(outcome.results.lowerLimit).toBeUndefined();
    expect(outcome.cautions).toContain('This set has no usable lower limit for this person.');
  });

  test('a limit that falls below zero is no limit (171 - 55.52 + 43.05 - 130.025 = 28.5, less 30.4)', () => {
    const { results, tables } = answer({ set: 'harik-khan-1998', sex: 'female', age: 80, weight: 50, height: 175 });
    expect(results.predicted?.value).toBeCloseTo(28.505, 9);
    expect(results.lowerLimit).toBeUndefined();
    expect(tables[0]?.rows.find(({ label }) => label === 'Harik-Khan 1998')?.cells[1]).toBe('none published');
  });

  test('the interval of a pooled mean is never printed as a lower limit', () => {
    const row = answer({ sex: 'male', age: 25 }).tables[1]?.rows.find(({ label }) => label.startsWith('Sclauser'));
    // recalled table, men of 18 to 29: mean 128.0, interval 116.3 to 139.5
    expect(row?.cells).toEqual([
      '128\u00a0cmH2O',
      'none',
      'not yet checked; interval of the mean 116 to 140, not a lower limit',
    ]);
  });
});

describe('tables recalled by age band: this proves the copying and not the medicine', () => {
  const cellsOf = (label: string, sex: string, age: number) =>
    answer({ sex, age, set: age > 70 ? 'pessoa-2014-brazil' : 'evans-whitelaw-2009', weight: 70 })
      .tables.flatMap(({ rows }) => rows)
      .find((row) => row.label.startsWith(label))?.cells;

  test.each([
    ['male', [63, 63, 55, 55, 47, 47, 42]],
    ['female', [58, 58, 50, 50, 43, 43, 38]],
  ] as const)('Rodrigues, %s', (sex, limits) => {
    const ages = [20, 39.9, 40, 60.9, 61, 80.9, 81];
    expect(ages.map((age) => cellsOf('Rodrigues', sex, age)?.[1])).toEqual(
      limits.map((limit) => `${limit}\u00a0cmH2O`),
    );
  });

  // sex, first and last age of the band, mean, interval of the mean
  test.each([
    ['male', 18, 29.9, 128, '116 to 140'],
    ['male', 30, 39.9, 129, '118 to 139'],
    ['male', 40, 49.9, 117, '105 to 129'],
    ['male', 50, 59.9, 108, '99 to 118'],
    ['male', 60, 69.9, 93, '85 to 101'],
    ['male', 70, 83.9, 76, '66 to 86'],
    ['female', 18, 29.9, 97, '89 to 105'],
    ['female', 30, 39.9, 89, '85 to 94'],
    ['female', 40, 49.9, 93, '78 to 107'],
    ['female', 50, 59.9, 80, '75 to 85'],
    ['female', 60, 69.9, 75, '67 to 83'],
    ['female', 70, 83.9, 65, '58 to 73'],
  ])('pooled mean, %s from %d to %d', (sex, from, to, mean, interval) => {
    for (const age of [from, to])
      expect(cellsOf('Sclauser', sex, age)).toEqual([
        `${mean}\u00a0cmH2O`,
        'none',
        `not yet checked; interval of the mean ${interval}, not a lower limit`,
      ]);
  });
  test('no pooled mean from 84', () => {
    expect(cellsOf('Sclauser', 'male', 84)).toBeUndefined();
  });
});

describe('the reading', () => {
  test('35, -35 and 3.43 kPa are one reading', () => {
    const inKPa = 35 * 0.0980665;
    const all = [35, -35, { value: inKPa, unit: 'kPa' }, { value: -inKPa, unit: 'kPa' }].map((measured) =>
      answer({ measured, sex: 'male', age: 50 }),
    );
    for (const { results } of all) {
      expect(results.measuredPressure?.value).toBeCloseTo(35, 9);
      expect(results.percentPredicted?.value).toBeCloseTo(3500 / 99.5, 9);
    }
    expect(all[0]).toEqual(all[1]);
  });

  test('7.36 mmHg is 10 cmH2O', () => {
    const measured = { value: 98.0665 / 13.3322387415, unit: 'mm[Hg]' };
    expect(resultOf({ measured, sex: 'male', age: 50 }, 'measuredPressure')).toBeCloseTo(10, 9);
  });

  test('the predicted pressure is 100 per cent of itself, in every set, age and sex', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...mipLines),
        fc.double({ min: 7, max: 90, noNaN: true }),
        fc.double({ min: 40, max: 110, noNaN: true }),
        fc.double({ min: 145, max: 200, noNaN: true }),
        ({ set, sex }, age, weight, height) => {
          const first = ask({ set, sex, age, weight, height });
          if (!first.ok) return;
          const measured = first.results.predicted?.value ?? Number.NaN;
          expect(resultOf({ set, sex, age, weight, height, measured }, 'percentPredicted')).toBeCloseTo(100, 9);
        },
      ),
    );
  });

  test('6 cmH2O in an adult asks about kPa', () => {
    expect(answer({ measured: 6, sex: 'male', age: 50 }).cautions).toContain(
      'Below 20\u00a0cmH2O. If the meter shows kPa, 6.0\u00a0kPa is 61\u00a0cmH2O: check the unit.',
    );
    expect(answer({ measured: 20, sex: 'male', age: 50 }).cautions.join()).not.toContain('If the meter shows kPa');
  });

  test('60 typed as kPa is more than anyone can pull, and the message asks about the unit', () => {
    expect(ask({ measured: { value: 60, unit: 'kPa' }, sex: 'male', age: 50 })).toEqual({
      ok: false,
      problems: [{ field: 'measured', message: 'Measured MIP is between 0 and 39.23 kPa. Is 60 in cmH2O?' }],
    });
  });

  test('without a reading the prediction still stands, and no per cent is printed', () => {
    const { results, tables } = answer({ sex: 'male', age: 50 });
    expect(Object.keys(results)).toEqual(['predicted', 'lowerLimit']);
    expect(tables[0]?.columns).toEqual(['Set', 'Predicted', 'Lower limit', 'How it was checked']);
  });
});

describe('one set is named, none is averaged', () => {
  test('Evans and Whitelaw answers when nobody has chosen', () => {
    const outcome = answer({ measured: 60, sex: 'male', age: 50 });
    expect(outcome.cautions[0]).toBe(
      'Predicted by Evans and Whitelaw 2009, read at source. Write the set next to the per cent.',
    );
    expect(outcome.working.map(({ formula }) => formula)).toEqual([
      'evans-whitelaw-2009-male',
      'evans-whitelaw-2009-male-lower',
      'percentOfPredicted',
    ]);
  });

  test('sets that were read and sets from memory stand in two tables', () => {
    const [read, recalled] = answer({ sex: 'male', age: 60, weight: 70, height: 170 }).tables;
    expect(read?.rows.map(({ label }) => label)).toEqual([
      'Evans and Whitelaw 2009',
      'Harik-Khan 1998',
      'Ara\u00fajo 2024 (Brazil)',
      'Pessoa 2014 (Brazil)',
      'McElvaney 1989',
    ]);
    expect(recalled?.caption).toBe('Not yet checked: read the paper before using one of these');
    expect(recalled?.rows.map(({ label }) => label)).toEqual([
      'Hautmann 2000',
      'Black and Hyatt 1969',
      'Wilson 1984',
      'Neder 1999 (Brazil)',
      'Black and Hyatt, slopes as they circulate',
      'Sclauser Pessoa 2014 (pooled means)',
      'Rodrigues 2017 (cut-offs)',
    ]);
  });

  test('the spread over the sets is said (men of 50 without weight: 142 - 51.5 = 90.5 to 124)', () => {
    expect(answer({ measured: 62, sex: 'male', age: 50 }).cautions).toContain(
      'The same reading is 50 to 69\u00a0% of predicted, depending on the set, including sets not yet checked. See the tables.',
    );
  });

  test('a set outside its ages, or short of an input, prints no number and says why', () => {
    const rows = answer({ measured: 50, sex: 'female', age: 66 }).tables.flatMap(({ rows }) => rows);
    const cellsOf = (label: string) => rows.find((row) => row.label === label)?.cells;
    expect(cellsOf('Wilson 1984')).toEqual(['none', 'none', 'none', 'made for 18 to 65 years']);
    expect(cellsOf('Harik-Khan 1998')).toEqual(['none', 'none', 'none', 'needs height']);
    expect(cellsOf('Pessoa 2014 (Brazil)')).toEqual(['none', 'none', 'none', 'needs weight']);
    // McElvaney 1989, abstract: women over 55, 26 to 124
    expect(cellsOf('McElvaney 1989')).toEqual([
      'none',
      '26 to 124\u00a0cmH2O',
      'none',
      'read at source; 95 % limits for people older than 55, no predicted value',
    ]);
    // Rodrigues 2017, recalled: women of 61 to 80, 43
    expect(cellsOf('Rodrigues 2017 (cut-offs)')?.[1]).toBe('43\u00a0cmH2O');
  });

  test('men over 55 see the line that circulates, called unsupported (120 - 0.25 x 60)', () => {
    const rows = answer({ sex: 'male', age: 60 }).tables[1]?.rows;
    expect(rows?.find(({ label }) => label.startsWith('Black and Hyatt, slopes'))?.cells).toEqual([
      '105\u00a0cmH2O',
      'none published',
      'not yet checked; the paper\u2019s own summary finds no such slope here',
    ]);
    expect(rows?.find(({ label }) => label === 'Black and Hyatt 1969')?.cells).toEqual([
      'none',
      'none',
      'mean of this age band not read',
    ]);
  });

  test('the chosen set has its own row, in whole cmH2O (120 - 20.5; 62 - 7.5)', () => {
    expect(answer({ measured: 60, sex: 'male', age: 50 }).tables[0]?.rows[0]).toEqual({
      label: 'Evans and Whitelaw 2009',
      cells: ['100\u00a0cmH2O', '55\u00a0cmH2O', '60\u00a0%', 'read at source; pooled studies, flanged mouthpiece'],
    });
  });

  test('the limits over 55 start at 55, for men 55 to 161 (McElvaney 1989, abstract)', () => {
    const limits = (age: number) =>
      answer({ sex: 'male', age }).tables[0]?.rows.find(({ label }) => label === 'McElvaney 1989')?.cells[1];
    expect([limits(54.9), limits(55)]).toEqual([undefined, '55 to 161\u00a0cmH2O']);
  });

  test('Black and Hyatt under 55 is a fixed mean; the slope that circulates stands beside it and is called unsupported', () => {
    const rows = answer({ sex: 'male', age: 20 }).tables[1]?.rows ?? [];
    expect(rows.find(({ label }) => label === 'Black and Hyatt 1969')?.cells[0]).toBe('124\u00a0cmH2O');
    expect(rows.find(({ label }) => label.startsWith('Black and Hyatt, slopes'))?.cells).toEqual([
      '126\u00a0cmH2O',
      'none published',
      'not yet checked; the paper\u2019s own summary finds no such slope here',
    ]);
  });
});

describe('children never get an adult set, and adults never a child\u2019s', () => {
  test('whatever is chosen, the people of the set match the age or it is refused', () => {
    fc.assert(
      fc.property(fc.constantFrom(...mipLines), fc.double({ min: 0, max: 120, noNaN: true }), ({ set, sex }, age) => {
        const outcome = ask({ set, sex, age, weight: 40, height: 150 });
        if (!outcome.ok) return;
        expect(published[set].people).toBe(age < 18 ? 'child' : 'adult');
        const shown = outcome.tables.flatMap(({ rows }) => rows.map(({ label }) => label));
        expect(shown.includes('Wilson 1984 (children)')).toBe(age < 18);
        expect(shown.includes('Evans and Whitelaw 2009')).toBe(age >= 18);
      }),
      { numRuns: 500 },
    );
  });

  test('the line is the eighteenth birthday, for the choice and for the table', () => {
    const inputs = { sex: 'male', weight: 60 };
    expect(ask({ ...inputs, age: 17.99 }).ok).toBe(false);
    expect(ask({ ...inputs, age: 18, set: 'wilson-1984-child' }).ok).toBe(false);
    expect(labels({ ...inputs, age: 17.99, set: 'wilson-1984-child' })).toEqual(['Wilson 1984 (children)']);
    expect(ask({ ...inputs, age: 18, set: 'black-hyatt-1969' })).toEqual({
      ok: false,
      problems: [
        {
          field: 'age',
          message:
            'Black and Hyatt 1969 applies from 20 to 74 years. At 18 choose Evans and Whitelaw 2009, Hautmann 2000, Wilson 1984',
        },
      ],
    });
    expect(labels({ ...inputs, age: 18 })).toContain('Evans and Whitelaw 2009');
    expect(labels({ ...inputs, age: 18 })).not.toContain('Wilson 1984 (children)');
  });

  test('a girl of 17 and a half sees the child\u2019s set alone', () => {
    expect(labels({ set: 'wilson-1984-child', sex: 'female', age: 17.5, weight: 50 })).toEqual([
      'Wilson 1984 (children)',
    ]);
  });

  test('only the boys\u2019 line was read; the girls\u2019 line says that it is from memory', () => {
    const warning = 'This set is not yet checked. Read the paper before relying on it.';
    const inputs = { set: 'wilson-1984-child', age: 10, weight: 30 };
    expect(answer({ ...inputs, sex: 'female' }).cautions).toContain(warning);
    expect(answer({ ...inputs, sex: 'male' }).cautions).not.toContain(warning);
    expect(answer({ ...inputs, sex: 'male' }).cautions[0]).toContain('read in a summary');
  });
});

describe('refusals', () => {
  test.each([
    [
      { sex: 'female', age: 10 },
      'age',
      'Evans and Whitelaw 2009 was made on adults. At 10 choose Wilson 1984 (children)',
    ],
    [{ sex: 'female', age: 5 }, 'age', 'Evans and Whitelaw 2009 was made on adults. No set here reaches 5'],
    [
      { sex: 'male', age: 40, weight: 80, set: 'wilson-1984-child' },
      'age',
      'Wilson 1984 (children) was made on children. At 40 choose Evans and Whitelaw 2009, Harik-Khan 1998, Ara\u00fajo 2024 (Brazil), Pessoa 2014 (Brazil), Hautmann 2000, Black and Hyatt 1969, Wilson 1984, Neder 1999 (Brazil)',
    ],
    [
      { sex: 'male', age: 82 },
      'age',
      'Evans and Whitelaw 2009 applies from 18 to 70 years. At 82 choose Harik-Khan 1998, Pessoa 2014 (Brazil), Hautmann 2000',
    ],
    [{ sex: 'male', age: 95 }, 'age', 'Evans and Whitelaw 2009 applies from 18 to 70 years. No set here reaches 95'],
    [
      { sex: 'male', age: 55, set: 'black-hyatt-1969' },
      'set',
      'Black and Hyatt 1969 found no fall with age here, and we did not read its mean for this age band. Choose another set',
    ],
    [{ sex: 'male', age: 60, set: 'harik-khan-1998' }, 'weight', 'Harik-Khan 1998 also needs weight'],
    [{ sex: 'female', age: 45, set: 'wilson-1984-adult' }, 'height', 'Wilson 1984 also needs height'],
    [
      { sex: 'female', age: 45, height: 120, set: 'wilson-1984-adult' },
      'height',
      'Height is 140 to 215 cm in these sets (our limit, no paper prints one). 120 is outside it',
    ],
    [
      { sex: 'male', age: 45, weight: 210, set: 'pessoa-2014-brazil' },
      'weight',
      'Weight is 30 to 200 kg in these sets (our limit, no paper prints one). 210 is outside it',
    ],
    [
      { sex: 'male', age: 8, weight: 11, set: 'wilson-1984-child' },
      'weight',
      'Weight is 12 to 120 kg in these sets (our limit, no paper prints one). 11 is outside it',
    ],
    [
      { sex: 'male', age: 16, weight: 121, set: 'wilson-1984-child' },
      'weight',
      'Weight is 12 to 120 kg in these sets (our limit, no paper prints one). 121 is outside it',
    ],
    [
      { sex: 'female', age: 75, set: 'black-hyatt-1969' },
      'age',
      'Black and Hyatt 1969 applies from 20 to 74 years. At 75 choose Harik-Khan 1998, Ara\u00fajo 2024 (Brazil), Pessoa 2014 (Brazil), Hautmann 2000, Neder 1999 (Brazil)',
    ],
    // 171 - 55.52 + 34.44 - 141.17 = 8.75
    [
      { sex: 'female', age: 80, height: 190, weight: 40, set: 'harik-khan-1998' },
      'set',
      'Harik-Khan 1998 gives 9\u00a0cmH2O for these sizes, which no healthy person has. Choose another set',
    ],
    [{ sex: 'male' }, 'age', 'Enter age'],
  ])('%o', (inputs, field, message) => {
    const outcome = ask(inputs);
    expect(outcome.ok ? 'answered' : outcome.problems).toEqual([{ field, message }]);
  });
});

test('each choice says whom the set was made on and how well it is known', () => {
  const field = mip.fields.set;
  const options = field?.kind === 'choice' ? field.options.map(({ label }) => label) : [];
  expect(options).toEqual([
    'Evans and Whitelaw 2009 (adults of 18 to 70; read at source)',
    'Harik-Khan 1998 (adults of 20 to 90; read at source)',
    'Ara\u00fajo 2024 (Brazil) (adults of 20 to 80; read at source)',
    'Pessoa 2014 (Brazil) (adults of 20 to 89; read at source)',
    'Hautmann 2000 (adults of 18 to 82; not yet checked)',
    'Black and Hyatt 1969 (adults of 20 to 74; not yet checked)',
    'Wilson 1984 (adults of 18 to 65; not yet checked)',
    'Neder 1999 (Brazil) (adults of 20 to 80; not yet checked)',
    'Wilson 1984 (children) (children of 7 to 17; read in a summary or not yet checked)',
  ]);
});
