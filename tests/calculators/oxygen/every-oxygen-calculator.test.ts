import { describe, expect, test } from 'vitest';
import { calculators } from '../../../calculators/index.ts';
import { before } from '../../../calculators/oxygen/before.ts';

const about = Object.values(calculators).filter((calculator) => calculator.group === 'oxygen');

test('every oxygen calculator of this folder is looked at below', () => {
  expect(about.map((calculator) => calculator.id)).toEqual(
    expect.arrayContaining([
      'oxygen-flow-to-fio2',
      'oxygen-bleed-in',
      'oxygen-order-check',
      'venturi',
      'cylinder-duration',
      'liquid-oxygen-duration',
      'concentrator-and-cylinder-plan',
      'saturation-from-po2',
      'oxygen-content',
    ]),
  );
});

describe.each(about.map((calculator) => [calculator.id, calculator] as const))('%s', (_, it) => {
  test('says before its fields that oxygen alone can hide and worsen hypoventilation', () => {
    expect(it.before?.slice(0, before.length)).toEqual([...before]);
    expect(it.citations.some((citation) => citation.cite.startsWith('Gay PC'))).toBe(true);
  });

  test('answers with no oxygen flow to set', () => {
    // The one flow that is ever answered belongs to the check of an order, and its label says what it is for.
    const flows = Object.entries(it.results).filter(([, result]) => result.unit === 'L/min');
    for (const [, result] of flows)
      expect(result.label).toMatch(
        /^(Total flow from the valve|Mean inspiratory flow|Total flow that leaves|Flow that fits the ordered FiO2|Ordered flow minus)/,
      );
  });
});
