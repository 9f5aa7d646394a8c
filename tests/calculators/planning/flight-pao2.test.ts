import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import flightPao2, { gong } from '../../../calculators/planning/flight-pao2.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(flightPao2);
const air = { gas: 'air' };

describe('the regressions', () => {
  // Dillard 1989, abstract: 18 men, mean PaO2 72.4 mmHg at the ground and 47.4 at 8000 ft, mean FEV1 31 % of predicted
  test('both Dillard forms that can be tried give the mean measured in the chamber, within 0.2 mmHg', () => {
    const { results } = answer({ ...air, pao2: 72.4, fev1Percent: 31 });
    expect(Math.abs((results.dillardPercent?.value ?? 0) - 47.4)).toBeLessThan(0.2);
    expect(Math.abs((results.dillardAlone?.value ?? 0) - 47.4)).toBeLessThan(0.2);
  });

  test('the misprinted 1.7652 would miss that mean by 16 mmHg, so 17.652 is used', () => {
    expect(0.41 * 72.4 + 1.7652).toBeLessThan(32);
    expect(value({ ...air, pao2: 72.4 }, 'dillardAlone')).toBeCloseTo(0.41 * 72.4 + 17.652, 9);
  });

  test('FEV1 of 1.2 L with PaO2 of 70 is 48.8 mmHg (by hand)', () => {
    expect(value({ ...air, pao2: 70, fev1: 1.2 }, 'dillardLitres')).toBeCloseTo(36.33 + 14.226 - 1.76, 9);
  });

  test('Gong at 8000 ft is 0.88 + 0.68 x PaO2 (2019 abstract), so the altitude term fits', () => {
    fc.assert(
      fc.property(fc.double({ min: 40, max: 100, noNaN: true }), (ground) => {
        expect(gong.run({ thousandFeet: 8, ground })).toBeCloseTo(0.88 + 0.68 * ground, 9);
      }),
    );
  });

  test('only what was typed is used', () => {
    expect(Object.keys(answer({ ...air, pao2: 70 }).results)).toEqual(['dillardAlone', 'gong']);
    expect(Object.keys(answer({ ...air, pao2: 70, fev1: 1, fev1Percent: 40 }).results)).toEqual([
      'dillardAlone',
      'dillardPercent',
      'dillardLitres',
      'gong',
    ]);
  });

  test('at another cabin altitude only Gong is left, and the page says why', () => {
    const { results, cautions } = answer({ ...air, pao2: 70, fev1: 1, altitude: 6000 });
    expect(Object.keys(results)).toEqual(['gong']);
    expect(cautions[0]).toBe(
      'The Dillard forms hold at 8000\u00a0ft only and are left out. The altitude term of the Gong form is not yet checked.',
    );
  });

  test('2438 metres is the same cabin as 8000 ft', () => {
    const inMetres = answer({ ...air, pao2: 70, altitude: { value: 2438, unit: 'm{altitude}' } });
    expect(inMetres.results.dillardAlone).toBeDefined();
  });
});

describe('what is said first', () => {
  test('the warnings stand before the fields', () => {
    expect(flightPao2.before).toEqual([
      'None of the flight equations was made for neuromuscular disease; all come from studies of obstructive lung disease.',
      'The flight equations predict a need for oxygen too often: compared with a hypoxic challenge test, they considerably overestimated the need for oxygen.',
      'In flight, ventilation comes before oxygen. Oxygen alone can let CO2 rise unnoticed. A hypoxic challenge test with CO2 measurement, arranged by the team, is a better guide than the equations.',
    ]);
  });

  test('the threshold of 50 is shown for each, below or not below, and never as a clearance', () => {
    const { tables } = answer({ ...air, pao2: 75 });
    expect(tables).toEqual([
      {
        caption:
          'The result is compared with 50 mmHg; below this, a review advises oxygen. A higher result does not mean that someone is fit to fly',
        columns: ['Regression', 'Predicted', 'Mark'],
        rows: [
          { label: 'Dillard, PaO2 alone', cells: ['48\u00a0mmHg', 'below 50'] },
          { label: 'Gong', cells: ['52\u00a0mmHg', 'not below 50'] },
        ],
      },
    ]);
  });
});

describe('who it is not for', () => {
  test.each([
    ['supported', 'Cannot tell: this PaO2 was taken on oxygen or ventilation, and the equations start from room air'],
    [
      'not-known',
      'Cannot tell: it is not known whether this was on air or oxygen, and the equations start from room air',
    ],
  ])('a PaO2 that is %s cannot tell', (gas, message) => {
    expect(problems({ gas, pao2: 70 })).toEqual([{ field: 'gas', message }]);
  });

  test('a child is refused', () => {
    expect(problems({ ...air, pao2: 70, age: 12 })).toEqual([
      {
        field: 'age',
        message: 'These equations come from adults aged 18 and over. The paediatric team tests a child',
      },
    ]);
  });

  test('what was breathed has to be said', () => {
    expect(problems({ pao2: 70 })).toEqual([{ field: 'gas', message: 'Choose what was breathed' }]);
  });
});

test('from 18 on, and with no age, there is an answer', () => {
  expect(value({ ...air, pao2: 70, age: 18 }, 'dillardAlone')).toBe(value({ ...air, pao2: 70 }, 'dillardAlone'));
  expect(problems({ ...air, pao2: 70, age: 17.9 })).toMatchObject([{ field: 'age' }]);
});
