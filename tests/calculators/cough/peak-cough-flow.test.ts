import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beside } from '../../../calculators/cough/peak-cough-flow.ts';
import { publishedFlows } from '../../../calculators/cough/published-flows.ts';
import { calculate } from '../../../calculators/index.ts';

const flowOf = (inputs: Parameters<typeof calculate>[1]) => {
  const outcome = calculate('peak-cough-flow', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};
const problemOf = (flow: { value: number; unit: string } | number) => {
  const outcome = calculate('peak-cough-flow', { flow });
  return outcome.ok ? outcome.results : outcome.problems;
};
const rowsOf = (inputs: Parameters<typeof calculate>[1]) =>
  flowOf(inputs).tables.flatMap((table) => table.rows.map((row) => [row.label, ...row.cells].join(' | ')));

describe('the unit', () => {
  test('4.5 litres a second is 270 litres a minute, and the working shows the division', () => {
    const outcome = flowOf({ flow: { value: 4.5, unit: 'L/s' }, technique: 'unassisted', state: 'stable', age: 58 });
    expect(outcome.results).toEqual({
      perMinute: { value: 270, unit: 'L/min' },
      perSecond: { value: 4.5, unit: 'L/s' },
    });
    expect(outcome.working).toEqual([{ formula: 'perSecond', values: { perMinute: 270 }, value: 4.5 }]);
  });

  test('a per-minute number typed per second is refused with a question about the unit', () => {
    expect(problemOf({ value: 270, unit: 'L/s' })).toEqual([
      { field: 'flow', message: 'Peak cough flow is above 0.3333 and at most 20 L/s. Is 270 in L/min?' },
    ]);
  });

  test('a per-second number typed per minute is refused with a question about the unit', () => {
    expect(problemOf(4.5)).toEqual([
      { field: 'flow', message: 'Peak cough flow is above 20 and at most 1200 L/min. Is 4.5 in L/s?' },
    ]);
  });

  test('no number is accepted in both units', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 3000, noNaN: true }), (value) => {
        const accepted = (['L/min', 'L/s'] as const).filter(
          (unit) => calculate('peak-cough-flow', { flow: { value, unit } }).ok,
        );
        expect(accepted.length).toBeLessThan(2);
      }),
    );
    for (const edge of [20, 1200])
      expect(
        (['L/min', 'L/s'] as const).filter((unit) => calculate('peak-cough-flow', { flow: { value: edge, unit } }).ok),
      ).toHaveLength(1);
  });

  test('the same flow typed in either unit gives the same answer', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.34, max: 20, noNaN: true }), (perSecond) => {
        const typed = flowOf({ flow: { value: perSecond, unit: 'L/s' } }).results;
        const again = flowOf({ flow: { value: typed.perMinute?.value ?? Number.NaN, unit: 'L/min' } }).results;
        expect(again).toEqual(typed);
        expect(typed.perSecond?.value).toBeCloseTo(perSecond, 12);
      }),
    );
  });

  test.each([0, -4.5, Number.NaN, Number.POSITIVE_INFINITY])('%s is not a flow', (value) => {
    expect(calculate('peak-cough-flow', { flow: value }).ok).toBe(false);
  });

  test('a very weak cough of 25 L/min is taken, with a request to check it', () => {
    expect(flowOf({ flow: 25, technique: 'unassisted', age: 60 }).cautions[0]).toBe(
      'Peak cough flow 25 L/min is unusual: check that it was read and typed correctly',
    );
  });
});

describe('age', () => {
  const underTwelve =
    'Under 12 years no published flow is shown: the numbers come from adults, and no threshold is set for young children. The conversion is correct at any age.';

  test('under 12 the flow is converted, no published flow is shown, and the page says so', () => {
    const outcome = flowOf({ flow: 180, technique: 'unassisted', state: 'stable', age: 11.99 });
    expect(outcome.results.perSecond?.value).toBe(3);
    expect(outcome.tables).toEqual([]);
    expect(outcome.cautions).toContain(underTwelve);
  });

  test('an age in months counts as months', () => {
    expect(flowOf({ flow: 180, age: { value: 143, unit: 'mo' } }).tables).toEqual([]);
    expect(flowOf({ flow: 180, age: { value: 144, unit: 'mo' } }).tables).not.toEqual([]);
  });

  test('from 12 to 17 only flows quoted for that age are shown', () => {
    const shown = rowsOf({ flow: 250, technique: 'unassisted', state: 'stable', age: 15 });
    expect(shown.some((row) => row.startsWith('AARC 2013'))).toBe(true);
    expect(shown.filter((row) => /Sancho|Bach|BTS\/ACPRC/.test(row))).toEqual([]);
  });

  test('at 12 the clinic decides, and a caution says so', () => {
    const caution =
      'At exactly 12 years the clinic decides, because the British guideline for children says "over the age of 12 years". Flows found in adults are left out.';
    expect(flowOf({ flow: 250, age: 12 }).cautions).toContain(caution);
    expect(flowOf({ flow: 250, age: 12.99 }).cautions).toContain(caution);
    expect(flowOf({ flow: 250, age: 13 }).cautions).not.toContain(caution);
    expect(flowOf({ flow: 250, age: 17.99 }).cautions).toContain(
      'Under 18 years the flows found in adults are left out.',
    );
    expect(flowOf({ flow: 250, age: 18 }).cautions.join()).not.toContain('left out');
  });

  test('without an age the page says what it assumed', () => {
    expect(flowOf({ flow: 250 }).cautions).toContain(
      'No age was given, so the published flows are shown as for an adult. They do not apply under 12 years.',
    );
  });

  test('an adult is shown every published flow', () => {
    expect(rowsOf({ flow: 250, age: 40 })).toHaveLength(publishedFlows.length);
  });
});

describe('technique and state', () => {
  test('a stable unassisted flow stands beside Sancho 2007 and not beside the flows of an infection or of tube removal', () => {
    const besides = Object.fromEntries(
      publishedFlows.map((row) => [`${row.source} ${row.technique} ${row.state}`, beside(row, 'unassisted', 'stable')]),
    );
    expect(besides['Sancho 2007, ALS unassisted stable']).toBe('Measured the same way');
    expect(besides['Sancho 2017, ALS, unassisted unassisted infection']).toBe(
      'Not the same: that flow was measured during a chest infection',
    );
    expect(besides['Sancho 2017, ALS, MI-E mi-e infection']).toBe('Not the same: that flow is on MI-E');
    expect(besides['Bach and Saporito 1996 assisted tube-removal']).toBe('Not the same: that flow is assisted');
    expect(besides['AARC 2013, neuromuscular disease unassisted not-stated']).toBe(
      'Same technique; the source does not say whether people were stable or had an infection',
    );
  });

  test('an assisted flow at home is not an assisted flow at extubation', () => {
    expect(beside({ technique: 'assisted', state: 'tube-removal' }, 'manual', 'stable')).toBe(
      'Not the same: that flow was measured at extubation',
    );
  });

  test('a flow on MI-E in an infection stands beside 177 and beside nothing else', () => {
    const same = publishedFlows.filter((row) => beside(row, 'mi-e', 'infection') === 'Measured the same way');
    expect(same.map((row) => row.flow)).toEqual(['below 177 (2.95 L/s)']);
  });

  test('without the technique there is nothing to match', () => {
    expect(new Set(publishedFlows.map((row) => beside(row, undefined, 'stable')))).toEqual(
      new Set(['Cannot tell: technique not recorded']),
    );
    expect(flowOf({ flow: 250, age: 40 }).cautions).toContain(
      'It was not recorded how the cough was assisted, so this flow cannot be compared with any published flow.',
    );
  });

  test('without the state a matching technique is not enough', () => {
    expect(beside({ technique: 'unassisted', state: 'stable' }, 'unassisted')).toBe(
      'Cannot tell: not recorded whether stable or in an infection',
    );
  });

  test('a helped cough is never passed off as the person\u2019s own', () => {
    expect(flowOf({ flow: 250, technique: 'mi-e', age: 40 }).cautions).toContain(
      'A flow on MI-E is not the person\u2019s own cough. Record how it was assisted, and measure the unassisted flow too.',
    );
    expect(flowOf({ flow: 250, technique: 'unassisted', age: 40 }).cautions.join()).not.toContain('own cough');
  });

  test('flows from memory stand in a table of their own that says so', () => {
    const [known, unchecked] = flowOf({ flow: 250, age: 40 }).tables;
    expect(unchecked?.caption).toBe('Not yet checked: read the source before relying on it');
    expect(new Set(unchecked?.rows.map((row) => row.cells.at(-1)))).toEqual(new Set(['not yet checked']));
    expect(known?.rows.map((row) => row.cells.at(-1))).not.toContain('not yet checked');
  });

  test('each published flow has a name of its own', () => {
    expect(new Set(publishedFlows.map((row) => row.source)).size).toBe(publishedFlows.length);
  });

  test('no table, caution or result says met or not met', () => {
    const outcome = flowOf({ flow: 100, technique: 'unassisted', state: 'stable', age: 40 });
    expect(JSON.stringify(outcome)).not.toMatch(/\bmet\b/i);
  });
});
