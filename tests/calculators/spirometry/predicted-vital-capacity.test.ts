import { describe, expect, test } from 'vitest';
import type { RawInputs } from '../../../calculators/calculator.ts';
import { calculate } from '../../../calculators/index.ts';

const answer = (inputs: RawInputs) => {
  const outcome = calculate('predicted-vital-capacity', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: RawInputs) => {
  const outcome = calculate('predicted-vital-capacity', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};
const man = { sex: 'male', age: 45, height: 180, measured: 2.1 };
const woman = { sex: 'female', age: 60, height: 162, measured: 1.9 };
const rowsOf = (inputs: RawInputs) =>
  Object.fromEntries((answer(inputs).tables[0]?.rows ?? []).map(({ label, cells }) => [label, cells]));

describe('vital capacity, per cent of predicted', () => {
  test('with nothing chosen it is FVC under GLI Global', () => {
    // C-GGL-080: z -4.1042.
    expect(answer(man).results.zScore?.value).toBeCloseTo(-4.1042, 2);
    expect(Object.keys(answer(man).results)).toEqual(['predicted', 'percentPredicted', 'lln', 'zScore', 'centile']);
  });

  test('without a reading it gives the predicted value and the lower limit, and nothing else', () => {
    expect(Object.keys(answer({ ...man, measured: undefined }).results)).toEqual(['predicted', 'lln']);
  });

  test('FEV1 has its own result, so that it is never compared with an FVC criterion', () => {
    const results = answer({ ...man, index: 'FEV1' }).results;
    expect(results).toHaveProperty('fev1PercentPredicted');
    expect(results).not.toHaveProperty('percentPredicted');
  });

  test('NHANES III gives no z-score and no centile, and says why', () => {
    const { results, cautions } = answer({ ...man, set: 'nhanes3-1999', group: 'caucasian' });
    expect(Object.keys(results)).toEqual(['predicted', 'percentPredicted', 'lln']);
    expect(cautions).toContain(
      'NHANES III prints a lower limit and no spread, so there is no z-score or centile. The change to its adult equation (men 20, women 18) is from memory.',
    );
  });

  test('a volume typed in millilitres is asked about', () => {
    expect(problems({ ...man, measured: 2100 })).toEqual([
      { field: 'measured', message: 'Measured volume is above 0 and at most 12 L. Is 2100 in mL?' },
    ]);
    expect(answer({ ...man, measured: { value: 2100, unit: 'mL' } }).results).toEqual(answer(man).results);
  });

  test('an age outside the chosen set is refused, even where another set would take it', () => {
    expect(problems({ ...man, age: 75, set: 'ecsc-1993' })).toEqual([
      { field: 'age', message: 'ECSC 1993 is for ages 18 to 70 years. 75 is outside it' },
    ]);
  });

  test('the working shows every formula that ran, in order', () => {
    expect(answer(man).working.map(({ formula }) => formula)).toEqual([
      'medianSpline',
      'median',
      'spreadSpline',
      'spread',
      'skewness',
      'lowerLimit',
      'percentPredicted',
      'zScore',
      'centile',
    ]);
    expect(answer({ ...man, set: 'ecsc-1993' }).working.map(({ formula }) => formula)).toEqual([
      'ecscPredicted',
      'normalLowerLimit',
      'percentPredicted',
      'normalZScore',
      'centile',
    ]);
    expect(
      answer({ ...man, set: 'nhanes3-1999', group: 'mexican-american' }).working.map(({ formula }) => formula),
    ).toEqual(['nhanesPredicted', 'nhanesLowerLimit', 'percentPredicted']);
  });
});

describe('the sets side by side', () => {
  test('every set and group has a row while no group is chosen', () => {
    expect(Object.keys(rowsOf(man))).toEqual([
      'GLI Global 2022 (chosen)',
      'GLI-2012 Caucasian',
      'GLI-2012 African-American',
      'GLI-2012 North East Asian',
      'GLI-2012 South East Asian',
      'GLI-2012 other/mixed',
      'NHANES III Caucasian',
      'NHANES III African-American',
      'NHANES III Mexican-American',
      'ECSC 1993',
    ]);
  });

  test('with a group chosen, the sets that have it show it and the other says that it does not', () => {
    const rows = rowsOf({ ...man, set: 'gli-2012', group: 'north-east-asian' });
    expect(Object.keys(rows)).toEqual([
      'GLI Global 2022',
      'GLI-2012 North East Asian (chosen)',
      'NHANES III',
      'ECSC 1993',
    ]);
    expect(rows['NHANES III']).toEqual(['no group North East Asian', 'no value', 'no value', 'no value']);
  });

  test('whole rows for a man of 45 and 180 cm with 2.1 L, reckoned by hand', () => {
    const rows = rowsOf(man);
    // 5.76 x 1.8 - 0.026 x 45 - 4.34 = 4.858; less 1.64 x 0.61; 2.1 / 4.858; (2.1 - 4.858) / 0.61, which is C-EC-117.
    expect(rows['ECSC 1993']).toEqual(['4.86\u00a0L', '3.86\u00a0L', '43.2\u00a0%', '\u22124.52\u00a0SD']);
    // -0.1933 + 0.00064 x 45 - 0.000269 x 2025 + 0.00018642 x 32400 = 5.3308; the limit with 0.00015695 is 4.3760.
    expect(rows['NHANES III Caucasian']).toEqual(['5.33\u00a0L', '4.38\u00a0L', '39.4\u00a0%', 'not published']);
  });

  test('per cent and z of the published check values stand in the GLI rows', () => {
    const [global, caucasian] = ['GLI Global 2022 (chosen)', 'GLI-2012 Caucasian'] as const;
    // C-GGL-083 and 081; 1.9 L / 0.64278 is 2.956 L.
    expect(rowsOf(woman)[global]?.filter((_, i) => i !== 1)).toEqual([
      '2.96\u00a0L',
      '64.3\u00a0%',
      '\u22122.16\u00a0SD',
    ]);
    // C-G12-041 and 035; 1.9 L / 0.60447 is 3.143 L.
    expect(rowsOf(woman)[caucasian]?.filter((_, i) => i !== 1)).toEqual([
      '3.14\u00a0L',
      '60.4\u00a0%',
      '\u22122.74\u00a0SD',
    ]);
    // C-G12-040 and 033; 2.1 L / 0.39739 is 5.284 L.
    expect(rowsOf(man)[caucasian]?.filter((_, i) => i !== 1)).toEqual([
      '5.28\u00a0L',
      '39.7\u00a0%',
      '\u22124.78\u00a0SD',
    ]);
    // C-GGL-078 and C-G12-023 to 031 (odd): lower limits of a man of 48 and 176 cm.
    const limits = rowsOf({ sex: 'male', age: 48, height: 176, measured: 3 });
    expect(
      [
        global,
        caucasian,
        'GLI-2012 African-American',
        'GLI-2012 North East Asian',
        'GLI-2012 South East Asian',
        'GLI-2012 other/mixed',
      ].map((label) => limits[label]?.[1]),
    ).toEqual(['3.50\u00a0L', '3.87\u00a0L', '3.19\u00a0L', '4.09\u00a0L', '3.41\u00a0L', '3.61\u00a0L']);
  });

  test('a set that does not cover the age says so instead of giving a number', () => {
    const rows = rowsOf({ ...man, age: 85 });
    expect(rows['ECSC 1993']).toEqual(['outside its ages', 'no value', 'no value', 'no value']);
    expect(rows['NHANES III Caucasian']).toEqual(['outside its ages', 'no value', 'no value', 'no value']);
    expect(rows['GLI-2012 Caucasian']?.[0]).toMatch(/ L|\u00a0L/);
  });

  test('a set stretched beyond its heights, or past them altogether, says so', () => {
    expect(rowsOf({ ...man, height: 150 })['ECSC 1993']?.[0]).toBe('3.13\u00a0L (outside its heights)');
    expect(rowsOf({ ...man, height: 100 })['ECSC 1993']?.[0]).toBe('outside its heights');
  });

  test('the row of the chosen set repeats the results', () => {
    const outcome = answer({ ...woman, set: 'gli-2012', group: 'other' });
    const row = outcome.tables[0]?.rows.find(({ label }) => label.endsWith('(chosen)'));
    const { predicted, lln, percentPredicted, zScore } = outcome.results;
    expect(row).toEqual({
      label: 'GLI-2012 other/mixed (chosen)',
      cells: [
        `${predicted?.value.toFixed(2)}\u00a0L`,
        `${lln?.value.toFixed(2)}\u00a0L`,
        `${percentPredicted?.value.toFixed(1)}\u00a0%`,
        `\u2212${Math.abs(zScore?.value ?? Number.NaN).toFixed(2)}\u00a0SD`,
      ],
    });
  });
});

describe('cautions that depend on the person', () => {
  const cautions = (inputs: RawInputs) => answer(inputs).cautions.join('\n');

  test('North East Asian males under GLI-2012: z is far lower than per cent suggests', () => {
    const inputs = { sex: 'male', age: 45, height: 178, measured: 2.5, set: 'gli-2012' };
    const reference = answer({ ...inputs, group: 'caucasian' }).results;
    const asian = answer({ ...inputs, group: 'north-east-asian' }).results;
    // Reference notes of this project: z -4.06 against -6.17, although per cent of predicted is higher.
    expect(reference.zScore?.value).toBeCloseTo(-4.06, 2);
    expect(asian.zScore?.value).toBeCloseTo(-6.17, 2);
    expect(asian.percentPredicted?.value).toBeGreaterThan(reference.percentPredicted?.value ?? Number.NaN);
    expect(cautions({ ...inputs, group: 'north-east-asian' })).toContain('print a very narrow spread');
    expect(cautions({ ...inputs, group: 'caucasian' })).not.toContain('print a very narrow spread');
    expect(cautions({ ...inputs, sex: 'female', group: 'north-east-asian' })).not.toContain(
      'print a very narrow spread',
    );
  });

  test('a child whose age is a whole number is asked for the months', () => {
    expect(cautions({ sex: 'male', age: 14, height: 160 })).toContain('years and months');
    expect(cautions({ sex: 'male', age: 14.25, height: 160 })).not.toContain('years and months');
    expect(cautions({ sex: 'male', age: 40, height: 160 })).not.toContain('years and months');
  });

  test('ECSC says that its limit and z-score are not yet checked, and that a height is outside it', () => {
    expect(cautions({ ...man, set: 'ecsc-1993' })).toContain('rest on a spread that is not yet checked');
    expect(cautions({ ...man, set: 'ecsc-1993', height: 198 })).toContain('men of 155 to 195 cm');
    expect(cautions(man)).not.toContain('rest on a spread that is not yet checked');
  });

  test('more than one and a half times the predicted volume is questioned', () => {
    expect(cautions({ sex: 'female', age: 6, height: 110, measured: 3 })).toContain('More than 150 % of predicted');
    expect(cautions(man)).not.toContain('More than 150 % of predicted');
  });
});

describe('a height that is an estimate', () => {
  test('every result has a low and a high end, and they are the results at the two heights', () => {
    const { results } = answer({ ...man, heightError: 4 });
    const [short, tall] = [176, 184].map((height) => answer({ ...man, height }).results);
    expect(results.predicted).toEqual({
      value: answer(man).results.predicted?.value,
      low: short?.predicted?.value,
      high: tall?.predicted?.value,
      unit: 'L',
    });
    // A taller person is expected to have more, so the same litres are a smaller share.
    expect([results.percentPredicted?.low, results.percentPredicted?.high]).toEqual([
      tall?.percentPredicted?.value,
      short?.percentPredicted?.value,
    ]);
    expect([results.zScore?.low, results.zScore?.high]).toEqual([tall?.zScore?.value, short?.zScore?.value]);
  });

  test('an end that lies outside the heights of the set is said', () => {
    const inputs = { ...man, set: 'ecsc-1993', height: 157 };
    const cautionsAt = (heightError: number) => answer({ ...inputs, heightError }).cautions.join('\n');
    expect(cautionsAt(3)).toContain('men of 155 to 195 cm');
    expect(cautionsAt(2)).not.toContain('men of 155 to 195 cm');
  });

  test('a measured height has no ends', () => {
    for (const result of Object.values(answer(man).results)) expect(Object.keys(result)).toEqual(['value', 'unit']);
  });

  test('an error that takes the height out of the set is refused at its field', () => {
    expect(problems({ sex: 'male', age: 70, height: 130, heightError: 20, set: 'ecsc-1993' })).toEqual([
      {
        field: 'heightError',
        message:
          'With this much error ECSC 1993 gives no usable value at one end of the height. Is the plus or minus in cm right?',
      },
    ]);
  });
});

test('the table says whether it is about the person or about a reading, and that the ECSC limit is from memory', () => {
  expect(answer(man).tables[0]?.caption).toBe(
    'The same reading under each set. The ECSC lower limit and z-score are not yet checked',
  );
  expect(answer({ sex: 'male', age: 45, height: 180 }).tables[0]?.caption).toBe('The same person under each set');
});

test('more than 150 % of predicted is questioned, less is not', () => {
  const warns = (measured: number) =>
    answer({ sex: 'male', age: 45, height: 180, measured }).cautions.some((one) => one.startsWith('More than 150 %'));
  expect([warns(7), warns(8.5)]).toEqual([false, true]);
});
