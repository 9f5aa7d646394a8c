import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';
import { venturiFlow } from '../../../calculators/oxygen/interfaces.ts';

type Inputs = Parameters<typeof calculate>[1];
const given = (inputs: Inputs) => {
  const outcome = calculate('venturi', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('ratio and total flow', () => {
  // Percent and oxygen flow: two open teaching pages. Ratio by hand: 76/3, 72/7, 69/10, 65/14, 60/19, 40/39.
  test.each([
    ['24', 2, 76 / 3],
    ['28', 4, 72 / 7],
    ['31', 6, 69 / 10],
    ['35', 8, 65 / 14],
    ['40', 10, 60 / 19],
    ['60', 15, 40 / 39],
  ])('%s %% at %s L/min', (percent, oxygenFlow, ratio) => {
    const { results } = given({ percent, oxygenFlow });
    expect(results.airToOxygen?.value).toBeCloseTo(ratio, 9);
    expect(results.totalFlow?.value).toBeCloseTo(oxygenFlow * (1 + ratio), 9);
  });

  test('24 % at 2 L/min gives about the 52 L/min of a mask maker\u2019s teaching page', () => {
    expect(given({ percent: '24', oxygenFlow: 2 }).results.totalFlow?.value).toBeCloseTo(52.667, 3);
  });

  test('the air drawn in and the oxygen mix back to the percent on the valve', () => {
    for (const [percent, oxygenFlow] of Object.entries(venturiFlow)) {
      const { airToOxygen, totalFlow } = given({ percent, oxygenFlow }).results;
      const oxygen = oxygenFlow * 100 + oxygenFlow * (airToOxygen?.value ?? Number.NaN) * 21;
      expect(oxygen / (totalFlow?.value ?? Number.NaN)).toBeCloseTo(Number(percent), 9);
    }
  });

  test('a stronger valve gives less total flow at the same oxygen flow', () => {
    const totals = Object.keys(venturiFlow).map(
      (percent) => given({ percent, oxygenFlow: 8 }).results.totalFlow?.value,
    );
    expect([...totals].sort((a, b) => Number(b) - Number(a))).toEqual(totals);
  });
});

describe('against the breath', () => {
  test('60 % at 15 L/min falls short of a peak of 60 L/min and says so', () => {
    const outcome = given({ percent: '60', oxygenFlow: 15, peakInspiratoryFlow: 60 });
    // By hand: 21 + 79 x 15 / 60.
    expect(outcome.results.atPeak?.value).toBeCloseTo(40.75, 9);
    expect(outcome.cautions).toContain(
      'The person breathes in faster than the valve delivers, so room air is drawn in as well and the percentage on the valve is not reached.',
    );
  });

  test('a peak that the valve covers gets the percent printed on it', () => {
    const outcome = given({ percent: '28', oxygenFlow: 4, peakInspiratoryFlow: { value: 0.5, unit: 'L/s' } });
    expect(outcome.results.atPeak?.value).toBeCloseTo(28, 9);
    expect(outcome.cautions.join()).not.toContain('faster than the valve');
  });

  test('at the peak nobody gets more than the percent on the valve or less than air', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...Object.keys(venturiFlow)),
        fc.double({ min: 1, max: 15, noNaN: true }),
        fc.double({ min: 5, max: 300, noNaN: true }),
        (percent, oxygenFlow, peakInspiratoryFlow) => {
          const { atPeak } = given({ percent, oxygenFlow, peakInspiratoryFlow }).results;
          expect(atPeak?.value).toBeLessThanOrEqual(Number(percent) + 1e-9);
          expect(atPeak?.value).toBeGreaterThan(21);
        },
      ),
    );
  });

  test('without a measured peak, a total under 60 L/min is pointed out', () => {
    expect(given({ percent: '40', oxygenFlow: 10 }).cautions).toContain(
      'The total flow is under 60 L/min: in distress a person may breathe in faster than that (not yet checked).',
    );
    // 24 % at 2.4 L/min is 63.2 L/min, at 2.2 L/min 57.9.
    expect(given({ percent: '24', oxygenFlow: 2.4 }).cautions.join()).not.toContain('under 60 L/min');
    expect(given({ percent: '24', oxygenFlow: 2.2 }).cautions.join()).toContain('under 60 L/min');
  });
});

test('the percent rules and colours do not', () => {
  expect(given({ percent: '28', oxygenFlow: 4 }).cautions).toContain(
    'Read the percentage printed on the valve. Colours differ between makers.',
  );
});

test('a percent that is on no usual valve is refused', () => {
  expect(calculate('venturi', { percent: '50', oxygenFlow: 12 })).toEqual({
    ok: false,
    problems: [
      {
        field: 'percent',
        message: 'Percent printed on the Venturi valve is one of: 24 %, 28 %, 31 %, 35 %, 40 %, 60 %',
      },
    ],
  });
});

test('the table gives each valve at the flow printed on it (two teaching pages)', () => {
  expect(given({ percent: '28', oxygenFlow: 4 }).tables[0]?.rows).toEqual([
    { label: '24 %', cells: ['2\u00a0L/min', '25.3 to 1', '53\u00a0L/min'] },
    { label: '28 %', cells: ['4\u00a0L/min', '10.3 to 1', '45\u00a0L/min'] },
    { label: '31 %', cells: ['6\u00a0L/min', '6.9 to 1', '47\u00a0L/min'] },
    { label: '35 %', cells: ['8\u00a0L/min', '4.6 to 1', '45\u00a0L/min'] },
    { label: '40 %', cells: ['10\u00a0L/min', '3.2 to 1', '42\u00a0L/min'] },
    { label: '60 %', cells: ['15\u00a0L/min', '1.0 to 1', '30\u00a0L/min'] },
  ]);
});
