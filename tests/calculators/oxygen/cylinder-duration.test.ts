import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';
import { ukSizes, usSizes } from '../../../calculators/oxygen/cylinders.ts';

type Inputs = Parameters<typeof calculate>[1];
const psi = (value: number) => ({ value, unit: '[psi]' });
const given = (inputs: Inputs) => {
  const outcome = calculate('cylinder-duration', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problems = (inputs: Inputs) => {
  const outcome = calculate('cylinder-duration', inputs);
  return outcome.ok ? outcome.results : outcome.problems;
};

describe('United States', () => {
  test('size D, 2000 psi, 0.5 L/min, 200 psi left: 576 minutes (worked example of a how-to article)', () => {
    const outcome = given({ country: 'us', usSize: 'D', gauge: psi(2000), residual: psi(200), flow: 0.5 });
    expect(outcome.results.minutes?.value).toBeCloseTo(576, 6);
    expect(outcome.results.hours?.value).toBeCloseTo(9.6, 6);
  });

  test('size E, 2200 psi, 2 L/min, nothing left: 308 minutes (worked example of a second how-to article)', () => {
    const outcome = given({ country: 'us', usSize: 'E', gauge: psi(2200), residual: 0, flow: 2 });
    expect(outcome.results.minutes?.value).toBeCloseTo(308, 6);
    expect(outcome.cautions).toContain('This calculation counts to the last litre and leaves nothing in reserve.');
  });

  test('200 psi is left unless the reader says otherwise, and the page says so', () => {
    const silent = given({ country: 'us', usSize: 'D', gauge: psi(2000), flow: 0.5 });
    expect(silent.results.minutes?.value).toBeCloseTo(576, 6);
    expect(silent.cautions).toContain('200 psi is left in the cylinder, as in two how-to articles.');
  });

  test('a gauge in bar gives the same as the gauge in psi', () => {
    const inPsi = given({ country: 'us', usSize: 'H', gauge: psi(1100), residual: psi(200), flow: 5 }).results;
    const inBar = given({
      country: 'us',
      usSize: 'H',
      gauge: 1100 * 0.0689475729316836,
      residual: 200 * 0.0689475729316836,
      flow: 5,
    }).results;
    expect(inPsi.minutes?.value).toBeCloseTo(565.2, 6);
    expect(inBar.minutes?.value).toBeCloseTo(565.2, 6);
  });

  test('a factor works on pressure, so a share of full is not enough', () => {
    expect(problems({ country: 'us', usSize: 'D', gaugeShare: 50, flow: 2 })).toEqual([
      {
        field: 'gauge',
        message: 'Enter the gauge pressure in psi: a US factor works on pressure, not on a share of full',
      },
    ]);
  });
});

describe('United Kingdom', () => {
  test('a CD of 460 L, half full, at 2 L/min lasts 115 minutes (contents: journal paper on transport oxygen)', () => {
    expect(
      given({ country: 'uk', ukSize: 'CD', gaugeShare: 50, residual: 0, flow: 2 }).results.minutes?.value,
    ).toBeCloseTo(115, 9);
    expect(given({ country: 'uk', ukSize: 'CD', gauge: 115, residual: 0, flow: 2 }).results.minutes?.value).toBeCloseTo(
      115,
      9,
    );
  });

  test('a full D of 340 L at 2 L/min lasts 170 minutes, less what is left', () => {
    const full = { country: 'uk', ukSize: 'D', gauge: 137, flow: 2 };
    expect(given({ ...full, residual: 0 }).results.minutes?.value).toBeCloseTo(170, 9);
    expect(given({ ...full, residual: 13.7 }).results.minutes?.value).toBeCloseTo(153, 9);
  });

  test('no reserve is published, so it has to be said', () => {
    expect(problems({ country: 'uk', ukSize: 'D', gauge: 100, flow: 2 })).toEqual([
      {
        field: 'residual',
        message:
          'Enter the pressure to leave in the cylinder. No figure is published for UK cylinders; 0 counts to the last litre',
      },
    ]);
  });

  test('a size that is known from memory says so, one that was read does not', () => {
    const memory = 'The contents of a UK HX are not yet checked: read the litres on its label.';
    expect(given({ country: 'uk', ukSize: 'HX', gauge: 200, residual: 20, flow: 2 }).cautions).toContain(memory);
    expect(given({ country: 'uk', ukSize: 'CD', gauge: 200, residual: 20, flow: 2 }).cautions.join()).not.toContain(
      'unchecked',
    );
    expect(
      Object.entries(ukSizes)
        .filter(([, { standing }]) => standing === 'checked')
        .map(([size]) => size),
    ).toEqual(['D', 'CD', 'F']);
  });
});

describe('the lists', () => {
  // Litres for each psi: two general how-to articles.
  test.each([
    ['D', 0.16],
    ['E', 0.28],
    ['G', 2.41],
    ['H', 3.14],
    ['K', 3.14],
    ['M', 1.56],
  ])('US %s gives %s litres for each psi', (usSize, litresPerPsi) => {
    const { litres } = given({ country: 'us', usSize, gauge: psi(1200), residual: psi(200), flow: 2 }).results;
    expect(litres?.value).toBeCloseTo(1000 * litresPerPsi, 6);
  });

  // D, CD and F: journal paper on transport oxygen. All others from memory.
  test.each([
    ['C', 170, 137],
    ['D', 340, 137],
    ['CD', 460, 230],
    ['DD', 460, 230],
    ['ZD', 605, 300],
    ['E', 680, 137],
    ['F', 1360, 137],
    ['HX', 2300, 230],
    ['ZX', 3040, 300],
    ['G', 3400, 137],
    ['J', 6800, 137],
  ])('a full UK %s holds %s litres at %s bar', (ukSize, litres, gauge) => {
    expect(given({ country: 'uk', ukSize, gauge, residual: 0, flow: 2 }).results.litres?.value).toBeCloseTo(litres, 9);
  });
});

describe('letters never cross a border', () => {
  test('a UK size under the United States is refused', () => {
    expect(problems({ country: 'us', ukSize: 'D', gauge: psi(2000), flow: 2 })).toEqual([
      { field: 'ukSize', message: 'The country is the United States, but a UK size was chosen. Clear UK D' },
    ]);
  });

  test('a US size under the United Kingdom is refused, even beside a UK one', () => {
    expect(problems({ country: 'uk', usSize: 'E', ukSize: 'E', gauge: 100, residual: 0, flow: 2 })).toEqual([
      { field: 'usSize', message: 'The country is the United Kingdom, but a US size was chosen. Clear US E' },
    ]);
  });

  test('no letter holds the same in both countries', () => {
    const shared = Object.keys(usSizes).filter((size) => Object.hasOwn(ukSizes, size));
    expect(shared).toEqual(['D', 'E', 'G']);
    for (const size of shared) {
      const us = usSizes[size as 'D'].litresPerPsi * 2200;
      expect(Math.abs(us - ukSizes[size as 'D'].litres)).toBeGreaterThan(10);
    }
  });

  test('each answer warns of it', () => {
    expect(given({ country: 'us', usSize: 'D', gauge: psi(2000), flow: 2 }).cautions).toContain(
      'Cylinder letters differ between countries: a D cylinder holds about 340 L in the UK, 350 L in the US and 1500 L in Australia. If you are not sure which country\u2019s size letter a cylinder carries, read the litres on its label.',
    );
  });

  test('the country comes first', () => {
    expect(problems({ usSize: 'D', gauge: psi(2000), flow: 2 })).toEqual([
      { field: 'country', message: 'Choose country the cylinder comes from' },
    ]);
  });
});

describe('the gauge', () => {
  test('psi typed as bar is asked about', () => {
    expect(problems({ country: 'us', usSize: 'D', gauge: 2000, flow: 2 })).toEqual([
      { field: 'gauge', message: 'Gauge pressure is between 0 and 330 bar. Is 2000 in psi?' },
    ]);
  });

  test('more than a full cylinder reads is another size, country or unit', () => {
    expect(problems({ country: 'uk', ukSize: 'D', gauge: 200, residual: 0, flow: 2 })).toEqual([
      {
        field: 'gauge',
        message: 'A full UK D reads about 137 bar. Is it another size or country, or another unit?',
      },
    ]);
    expect(problems({ country: 'us', usSize: 'D', gauge: psi(3000), flow: 2 })).toEqual([
      {
        field: 'gauge',
        message: 'A full US D reads about 2200 psi. Is it another size or country, or another unit?',
      },
    ]);
  });

  test.each([
    ['at the 200 psi that are left', { country: 'us', usSize: 'D', gauge: psi(200) }],
    ['below them', { country: 'us', usSize: 'D', gauge: psi(50) }],
    ['at a reserve of the reader', { country: 'uk', ukSize: 'D', gauge: 20, residual: 20 }],
    ['below it', { country: 'uk', ukSize: 'D', gauge: 5, residual: 20 }],
    ['at nothing', { country: 'uk', ukSize: 'CD', gauge: 0, residual: 0 }],
    ['at nothing, as a share', { country: 'uk', ukSize: 'CD', gaugeShare: 0, residual: 0 }],
  ] as [string, Inputs][])('%s a cylinder is empty: 0 minutes and an alarm first, never a refusal', (_, inputs) => {
    const { results, cautions } = given({ ...inputs, flow: 2 });
    expect([results.minutes?.value, results.hours?.value, results.litres?.value]).toEqual([0, 0, 0]);
    expect(cautions[0]).toBe(
      'The supply is empty. Change to a full supply now. If there is none, start the plan for when oxygen runs out.',
    );
  });

  test('a cylinder with something to use is not called empty', () => {
    expect(given({ country: 'us', usSize: 'D', gauge: psi(201), flow: 2 }).cautions.join()).not.toContain('Empty');
  });

  test('no gauge, reserve and flow is refused for being low', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 137 }),
        fc.integer({ min: 0, max: 150 }),
        fc.double({ min: 0.1, max: 15, noNaN: true }),
        (gauge, residual, flow) => {
          const { results, cautions } = given({ country: 'uk', ukSize: 'D', gauge, residual, flow });
          expect(results.minutes?.value === 0).toBe(gauge <= residual);
          expect(cautions.some((caution) => caution.startsWith('The supply is empty'))).toBe(gauge <= residual);
        },
      ),
    );
  });

  test('one gauge reading, not two', () => {
    expect(problems({ country: 'uk', ukSize: 'CD', gauge: 100, gaugeShare: 50, residual: 0, flow: 2 })).toEqual([
      {
        field: 'gaugeShare',
        message: 'Enter either the gauge pressure or how full the gauge shows it to be, not both. Clear one',
      },
    ]);
    expect(problems({ country: 'uk', ukSize: 'CD', residual: 0, flow: 2 })).toEqual([
      { field: 'gauge', message: 'Enter the gauge pressure, with its unit' },
    ]);
  });
});

test('time rises with the gauge, falls with flow and with what is left', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 40, max: 120, noNaN: true }),
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.double({ min: 0.5, max: 14, noNaN: true }),
      (gauge, residual, flow) => {
        const minutes = (more: Inputs) =>
          given({ country: 'uk', ukSize: 'D', gauge, residual, flow, ...more }).results.minutes?.value ?? Number.NaN;
        const value = minutes({});
        expect(minutes({ gauge: gauge + 5 })).toBeGreaterThan(value);
        expect(minutes({ flow: flow + 0.5 })).toBeLessThan(value);
        expect(minutes({ residual: residual + 5 })).toBeLessThan(value);
        expect(minutes({ flow: { value: flow * 1000, unit: 'mL/min' } })).toBeCloseTo(value, 6);
      },
    ),
  );
});

test('what is taken to be left in reserve is said where it was not typed, and so is a reserve of nothing', () => {
  const cautions = (inputs: Inputs) =>
    given({ country: 'us', usSize: 'D', gauge: psi(2000), flow: 1, ...inputs }).cautions.join(' ');
  expect(cautions({})).toContain('psi is left in the cylinder');
  expect(cautions({ residual: psi(300) })).not.toContain('is left in the cylinder');
  expect(cautions({ residual: psi(0) })).toContain('leaves nothing in reserve');
  expect(cautions({ residual: psi(300) })).not.toContain('leaves nothing in reserve');
});
