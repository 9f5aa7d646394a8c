/** Numbers that are each possible and absurd together: a height in inches, a weight in pounds, a figure too many. */
import { describe, expect, test } from 'vitest';
import type { RawInputs } from '../../calculators/index.ts';
import { calculate } from '../../calculators/index.ts';

const cautionsOf = (id: string, inputs: RawInputs): string[] => {
  const outcome = calculate(id, inputs);
  return outcome.ok ? outcome.cautions : outcome.problems.map(({ message }) => message);
};

const inches = /is that inches\? 68 in is 173 cm/;
const pounds = /is that pounds\? 180 lb is 81\.6 kg/;

describe('height', () => {
  const capacity = { sex: 'male', measured: 3.2 };

  test('68 cm for an adult: is that inches? And the share of predicted is called unusual', () => {
    const cautions = cautionsOf('slow-vital-capacity', { ...capacity, age: 60, height: 68 });
    expect(cautions).toContainEqual(expect.stringMatching(inches));
    expect(cautions).toContainEqual(expect.stringMatching(/^Per cent of predicted: .* is unusual/));
  });

  test('a child of that height, an adult of 121 cm, and inches chosen as the unit are not asked about', () => {
    const given: RawInputs[] = [
      { ...capacity, age: 5, height: 108 },
      { ...capacity, age: 60, height: 121 },
      { ...capacity, age: 60, height: { value: 68, unit: '[in_i]' } },
    ];
    for (const inputs of given)
      expect(cautionsOf('slow-vital-capacity', inputs).filter((one) => /inches/.test(one))).toEqual([]);
  });

  test('where no age is asked for, it asks whether this is an adult', () => {
    expect(cautionsOf('body-surface-area', { height: 68, weight: 70 })).toContainEqual(
      expect.stringMatching(/if this is an adult: is that inches/),
    );
    expect(cautionsOf('body-surface-area', { height: 108, weight: 18 }).join()).not.toMatch(/inches/);
  });
});

describe('weight', () => {
  test('180 kg at 173 cm, or alone: is that pounds?', () => {
    expect(cautionsOf('body-mass-index', { weight: 180, height: 173, age: 60 })).toContainEqual(
      expect.stringMatching(pounds),
    );
    expect(cautionsOf('litres-per-kilogram', { vitalCapacity: 3, weight: 180, weightKind: 'actual' })).toContainEqual(
      expect.stringMatching(pounds),
    );
  });

  test('pounds chosen as the unit, and a usual weight, are not asked about', () => {
    for (const weight of [{ value: 180, unit: '[lb_av]' }, 82])
      expect(cautionsOf('body-mass-index', { weight, height: 173, age: 60 }).join()).not.toMatch(/pounds/);
  });
});

test.each<[string, string, RawInputs, RegExp]>([
  [
    'PaCO2 600',
    'co2-and-ventilation',
    { paco2: 90, ventilationNow: 10, ventilationNew: 1.5 },
    /PaCO2 once settled: 600/,
  ],
  [
    'dead space nearly the whole breath',
    'minute-ventilation',
    { breath: 150, rate: 20, deadSpace: 149.9 },
    /lost to dead space: 99.9|lost to dead space: 100/,
  ],
  [
    '76.7 L/min of oxygen',
    'oxygen-order-check',
    { orderedFio2: 60, orderedFlow: 2, totalFlow: 120, supply: 'concentrator', purity: 82 },
    /fits the ordered FiO2: 76\.\d/,
  ],
])('%s is called unusual', (_, id, inputs, words) => {
  expect(cautionsOf(id, inputs)).toContainEqual(expect.stringMatching(words));
});

test('a low reading that is dangerous is not called a slip', () => {
  const low: [string, RawInputs][] = [
    ['slow-vital-capacity', { sex: 'male', age: 60, height: 175, measured: 0.4 }],
    ['sniff-pressure', { measured: 12, set: 'uldry-fitting-1995', sex: 'male', age: 60 }],
    ['litres-per-kilogram', { vitalCapacity: 0.35, weight: 70, weightKind: 'actual' }],
    ['peak-cough-flow', { flow: 40 }],
  ];
  for (const [id, inputs] of low) expect(cautionsOf(id, inputs).join()).not.toMatch(/is unusual\. Check each/);
});
