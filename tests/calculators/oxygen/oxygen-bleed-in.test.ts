import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const usual = { supply: 'cylinder', minuteVentilation: 8, intentionalLeak: 27, unintentionalLeak: 5 };
const given = (inputs: Inputs) => {
  const outcome = calculate('oxygen-bleed-in', { ...usual, ...inputs });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('oxygen-bleed-in', { ...usual, ...inputs });
  return outcome.ok ? outcome.results : outcome.problems;
};
const litre = (min: number, max: number) => fc.double({ min, max, noNaN: true });

test('4 L/min into 40 L/min is 28.9 %, and the working shows both steps', () => {
  const outcome = given({ oxygenFlow: 4 });
  // By hand: 21 + 79 x 4 / 40.
  expect(outcome.results.fio2?.value).toBeCloseTo(28.9, 9);
  expect(outcome.working.map((line) => line.formula)).toEqual(['total', 'mix']);
});

test('a cylinder gives one figure, a concentrator a span', () => {
  expect(given({ oxygenFlow: 4 }).results.fio2?.low).toBeUndefined();
  const { fio2 } = given({ oxygenFlow: 4, supply: 'concentrator' }).results;
  // By hand: 21 + (93, 87, 96 - 21) / 10.
  expect(fio2?.value).toBeCloseTo(28.2, 9);
  expect(fio2?.low).toBeCloseTo(27.6, 9);
  expect(fio2?.high).toBeCloseTo(28.5, 9);
});

test('a purity that was measured is used as it is', () => {
  const { fio2 } = given({ oxygenFlow: 4, supply: 'concentrator', purity: 91 }).results;
  expect(fio2?.value).toBeCloseTo(28, 9);
  expect(fio2?.low).toBeUndefined();
});

test('1 L/min at usual leaks hardly raises FiO2 above air', () => {
  // By hand: 21 + 79 / 40.
  expect(given({ oxygenFlow: 1 }).results.fio2?.value).toBeCloseTo(22.975, 9);
});

test('FiO2 rises with oxygen, falls with every kind of leak, and stays between air and the purity', () => {
  fc.assert(
    fc.property(
      litre(0.1, 14),
      litre(3, 40),
      litre(12, 100),
      litre(0, 100),
      litre(80, 100),
      (oxygenFlow, minuteVentilation, intentionalLeak, unintentionalLeak, purity) => {
        const inputs = {
          supply: 'concentrator',
          oxygenFlow,
          minuteVentilation,
          intentionalLeak,
          unintentionalLeak,
          purity,
        };
        const fio2 = (more: Inputs) => given({ ...inputs, ...more }).results.fio2?.value ?? Number.NaN;
        const value = fio2({});
        expect(value).toBeGreaterThan(20.93);
        expect(value).toBeLessThanOrEqual(purity);
        expect(fio2({ oxygenFlow: oxygenFlow + 0.5 })).toBeGreaterThan(value);
        expect(fio2({ unintentionalLeak: unintentionalLeak + 5 })).toBeLessThan(value);
        expect(fio2({ intentionalLeak: intentionalLeak + 5 })).toBeLessThan(value);
        expect(fio2({ minuteVentilation: minuteVentilation + 5 })).toBeLessThan(value);
      },
    ),
  );
});

test('a leak typed in L/s is the same leak', () => {
  expect(given({ oxygenFlow: 2, intentionalLeak: { value: 0.45, unit: 'L/s' } }).results).toEqual(
    given({ oxygenFlow: 2, intentionalLeak: 27 }).results,
  );
});

test('the table shows the same flow thinned by more leak', () => {
  expect(given({ oxygenFlow: 4 }).tables).toEqual([
    {
      caption: 'The same oxygen flow when the mask leaks more (air is 21 %)',
      columns: ['Unintentional leak', 'Total flow out', 'Mean FiO2'],
      rows: [
        { label: '5\u00a0L/min, as entered', cells: ['40\u00a0L/min', '28.9\u00a0%'] },
        { label: '10 L/min more', cells: ['50\u00a0L/min', '27.3\u00a0%'] },
        { label: '20 L/min more', cells: ['60\u00a0L/min', '26.3\u00a0%'] },
        { label: '40 L/min more', cells: ['80\u00a0L/min', '25.0\u00a0%'] },
      ],
    },
  ]);
});

test('more oxygen than leaves the circuit is refused', () => {
  expect(problems({ oxygenFlow: 10, minuteVentilation: 5, intentionalLeak: 2, unintentionalLeak: 0 })).toEqual([
    {
      field: 'oxygenFlow',
      message:
        'Oxygen flow of 10 L/min is more than the 7.0 L/min that leaves the circuit. Check the leak and the minute ventilation',
    },
  ]);
});

test('a leak that nobody read is asked for and not taken as none', () => {
  expect(problems({ oxygenFlow: 2, unintentionalLeak: undefined })).toEqual([
    { field: 'unintentionalLeak', message: 'Enter unintentional leak' },
  ]);
});

describe('cautions', () => {
  // Directions: Schwartz 2004, abstract.
  test.each([
    [
      'mask',
      'machine',
      'With the leak port in the mask, FiO2 was higher with oxygen at the machine outlet than at the mask (Schwartz 2004).',
    ],
    [
      'mask',
      'mask',
      'With the leak port in the mask, oxygen added at the mask escapes through the port. FiO2 was lower than with oxygen at the machine outlet (Schwartz 2004).',
    ],
    [
      'circuit',
      'mask',
      'With the leak port in the circuit, FiO2 was higher with oxygen at the mask than at the machine outlet (Schwartz 2004).',
    ],
    [
      'circuit',
      'machine',
      'With the leak port in the circuit, FiO2 was lower with oxygen at the machine outlet than at the mask (Schwartz 2004).',
    ],
  ])('port in the %s, oxygen at the %s: what the bench saw', (leakPort, bleedSite, text) => {
    expect(given({ oxygenFlow: 2, leakPort, bleedSite }).cautions).toContain(text);
  });

  test('a place that was not noted is asked for', () => {
    expect(given({ oxygenFlow: 2, leakPort: 'mask' }).cautions).toContain(
      'FiO2 depends on where the oxygen goes in and where the leak port is, and the calculation ignores both. Write down both places.',
    );
  });

  test('a leak port that hardly leaks is an alarm of its own', () => {
    expect(given({ oxygenFlow: 2, intentionalLeak: 8 }).cautions).toContain(
      'An intentional leak below 10 L/min hardly clears carbon dioxide (not yet checked). Check the figure and the leak port.',
    );
    expect(given({ oxygenFlow: 2 }).cautions.join()).not.toContain('hardly clears');
  });

  test('pressure and leak are named as what moves FiO2, and the page is no way to set a flow', () => {
    expect(given({ oxygenFlow: 2 }).cautions).toEqual(
      expect.arrayContaining([
        'This page estimates the mean FiO2 over the breath; the page does not measure FiO2. Do not work backwards on this page to choose an oxygen flow.',
        'Higher pressure or more leak lowers FiO2 at the same oxygen flow. Fixing a leak raises FiO2 at the same oxygen flow. Check FiO2 again after changing the pressure or the leak.',
      ]),
    );
  });
});

test('a span that is the concentrator’s alone is called so, and a leak too small to clear carbon dioxide is questioned', () => {
  const countOf = (inputs: Inputs, words: string) =>
    given({ oxygenFlow: 2, ...inputs }).cautions.filter((one) => one.startsWith(words)).length;
  expect(countOf({ supply: 'concentrator' }, 'The range shows only the uncertainty of the concentrator')).toBe(1);
  expect(countOf({ supply: 'cylinder' }, 'The range shows only the uncertainty of the concentrator')).toBe(0);
  expect([9.9, 10].map((intentionalLeak) => countOf({ intentionalLeak }, 'An intentional leak below 10'))).toEqual([
    1, 0,
  ]);
});
