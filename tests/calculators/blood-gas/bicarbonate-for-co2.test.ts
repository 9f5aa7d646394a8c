import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import bicarbonateForCo2 from '../../../calculators/blood-gas/bicarbonate-for-co2.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(bicarbonateForCo2);

describe('expected bicarbonate', () => {
  test('Gonzalez 2018: at its mean CO2 of 52.8 the line gives its mean bicarbonate of 29.9 (abstract)', () => {
    expect(value({ paco2: 52.8 }, 'gonzalez')).toBeCloseTo(29.9, 9);
  });

  test('Gonzalez 2018: ten more CO2 bring 4.76 more bicarbonate (abstract, slope 0.476)', () => {
    expect(value({ paco2: 62.8 }, 'gonzalez') - value({ paco2: 52.8 }, 'gonzalez')).toBeCloseTo(4.76, 9);
  });

  test('at 60 mmHg the slopes in use span 31 to 34 mmol/L (by hand)', () => {
    const { results } = answer({ paco2: 60 });
    expect(results.classic?.value).toBeCloseTo(31, 9);
    expect(results.classicHigh?.value).toBeCloseTo(32, 9);
    expect(results.steep?.value).toBeCloseTo(34.2, 9);
    expect(results.acute?.value).toBeCloseTo(26, 9);
  });

  test.each([
    [44.2, true],
    [68.8, true],
    [44.1, false],
    [68.9, false],
  ])('at %s mmHg Gonzalez 2018 %s', (paco2, shown) => {
    const { results, cautions } = answer({ paco2 });
    expect(results.gonzalez !== undefined).toBe(shown);
    const left = `Gonzalez 2018 is left out: it measured people at 44.2 to 68.8\u00a0mmHg, and ${paco2}\u00a0mmHg is outside that range.`;
    expect(cautions.includes(left)).toBe(!shown);
  });

  test('a new rise always expects less than a long-standing one', () => {
    fc.assert(
      fc.property(fc.double({ min: 40.01, max: 80, noNaN: true }), (paco2) => {
        const { acute, ...chronic } = answer({ paco2 }).results;
        for (const line of Object.values(chronic)) expect(line.value).toBeGreaterThan(acute?.value ?? Number.NaN);
      }),
    );
  });

  test('the measured value is set beside every line, and none is chosen', () => {
    expect(answer({ paco2: 60, measured: 30 }).tables).toEqual([
      {
        caption: 'Measured bicarbonate against each line',
        columns: ['Line', 'Expected', 'Measured minus expected'],
        rows: [
          { label: 'New rise', cells: ['26.0\u00a0mmol/L', '4.0\u00a0mmol/L'] },
          { label: 'Long-standing, Gonzalez 2018', cells: ['33.3\u00a0mmol/L', '\u22123.3\u00a0mmol/L'] },
          { label: 'Long-standing, 0.35', cells: ['31.0\u00a0mmol/L', '\u22121.0\u00a0mmol/L'] },
          { label: 'Long-standing, 0.40', cells: ['32.0\u00a0mmol/L', '\u22122.0\u00a0mmol/L'] },
          { label: 'Long-standing, 0.51', cells: ['34.2\u00a0mmol/L', '\u22124.2\u00a0mmol/L'] },
        ],
      },
    ]);
  });
});

describe('outside the lines', () => {
  test('a CO2 that is not raised has nothing to compensate', () => {
    expect(problems({ paco2: 40 })).toEqual([
      {
        field: 'paco2',
        message:
          'These expected values start above 40 mmHg (5.3 kPa). 40.0\u00a0mmHg is not raised, so there is nothing to compensate for',
      },
    ]);
  });

  test('above 80 mmHg no sum is done', () => {
    expect(problems({ paco2: { value: 12, unit: 'kPa' } })).toEqual([
      {
        field: 'paco2',
        message:
          'Above 80 mmHg (10.7 kPa) none of these expected values is known to apply. 90.0\u00a0mmHg is an emergency, whatever the bicarbonate',
      },
    ]);
  });

  test('kilopascals typed as mmHg are asked about', () => {
    expect(problems({ paco2: 8 })).toEqual([
      { field: 'paco2', message: 'PaCO2 is between 15 and 150 mmHg. Is 8 in kPa?' },
    ]);
  });
});
