import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const out = { hoursOut: 4, flow: 2, extra: 50, country: 'us', usSize: 'D' };
const given = (inputs: Inputs) => {
  const outcome = calculate('concentrator-and-cylinder-plan', { ...out, ...inputs });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('concentrator-and-cylinder-plan', { ...out, ...inputs });
  return outcome.ok ? outcome.results : outcome.problems;
};
const uk = { country: 'uk', usSize: undefined, ukSize: 'CD', residual: 0 };

test('four hours at 2 L/min with half as long again needs 720 L: three US D', () => {
  const { results, cautions } = given({});
  // By hand: 2 x 240 x 1.5 = 720 L; (2000 - 200) x 0.16 = 288 L each; 2.5 cylinders.
  expect(results.litresNeeded?.value).toBeCloseTo(720, 9);
  expect(results.minutesEach?.value).toBeCloseTo(144, 6);
  expect(results.cylinders?.value).toBe(3);
  expect(cautions).toContain('A full US cylinder is counted at 2000 psi, the lower of the figures printed.');
});

test('the same with UK CD needs two', () => {
  const { results } = given(uk);
  expect(results.minutesEach?.value).toBeCloseTo(230, 9);
  expect(results.cylinders?.value).toBe(2);
});

test('a single cylinder is pointed out as one without a spare', () => {
  const spare = 'With one cylinder, there is no spare if the valve sticks or the gauge is wrong (common practice).';
  expect(given({ usSize: 'M' }).cautions).toContain(spare);
  expect(given({}).cautions).not.toContain(spare);
});

test('a US size and a UK size are never mixed', () => {
  expect(problems({ ukSize: 'CD' })).toEqual([
    { field: 'ukSize', message: 'The country is the United States, but a UK size was chosen. Clear UK CD' },
  ]);
});

test('the extra time has no silent figure', () => {
  expect(problems({ extra: undefined })).toEqual([{ field: 'extra', message: 'Enter extra time to carry' }]);
  expect(given({ extra: 0 }).cautions).toContain('There is little or no extra time, and one delay uses it up.');
});

test('a pressure to leave as high as a full cylinder leaves nothing: 0 minutes each, no count, and an alarm first', () => {
  for (const inputs of [{ ...uk, ukSize: 'D', residual: 140 }, { residual: { value: 2000, unit: '[psi]' } }]) {
    const { results, cautions } = given(inputs);
    expect(results.minutesEach?.value).toBe(0);
    expect(results).not.toHaveProperty('cylinders');
    expect(cautions.filter((caution) => !caution.includes('is unusual'))[0]).toBe(
      'No number of these cylinders is enough, because the pressure to leave in each is as high as in a full one. Do not set off on this plan.',
    );
    expect(cautions.join()).not.toContain('no spare');
  }
});

test('the concentrator stands beside the cylinder at the same flow, and the order is followed from both', () => {
  expect(given({}).tables).toEqual([
    {
      caption: 'The same flow from two supplies. With either supply, follow the order as written',
      columns: ['Supply', 'Oxygen in it', 'Pure oxygen at this flow'],
      rows: [
        { label: 'Concentrator at home', cells: ['93\u00a0%', '1.86\u00a0L/min'] },
        { label: 'Cylinder outside', cells: ['100\u00a0%', '2.00\u00a0L/min'] },
      ],
    },
  ]);
  expect(given({ homePurity: 90 }).tables[0]?.rows[0]?.cells).toEqual(['90\u00a0%', '1.80\u00a0L/min']);
});

describe('always', () => {
  test('the cylinders cover the time, and one fewer would not', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 48, noNaN: true }),
        fc.double({ min: 0.25, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        (hoursOut, flow, extra) => {
          const { cylinders, minutesEach } = given({ ...uk, hoursOut, flow, extra }).results;
          const count = cylinders?.value ?? Number.NaN;
          const each = minutesEach?.value ?? Number.NaN;
          const needed = hoursOut * 60 * (1 + extra / 100);
          expect(Number.isInteger(count)).toBe(true);
          expect(count * each).toBeGreaterThanOrEqual(needed - 1e-6);
          expect((count - 1) * each).toBeLessThan(needed + 1e-6);
        },
      ),
    );
  });
});
