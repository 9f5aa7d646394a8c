import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawInputs } from '../../../calculators/calculator.ts';
import { calculate } from '../../../calculators/index.ts';

const answer = (inputs: RawInputs) => {
  const outcome = calculate('supine-fall', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
};

describe('fall in vital capacity on lying flat', () => {
  test('4 litres sitting and 3 lying is a fall of a quarter', () => {
    expect(answer({ upright: 4, supine: 3 }).results.fall).toEqual({ value: 25, unit: '%' });
  });

  test('the fall is a share of the upright value, not of the lying one', () => {
    expect(answer({ upright: 4, supine: 2 }).results.fall?.value).toBe(50);
  });

  test('a larger lying value is a negative fall, expected in high cord injury and otherwise repeated', () => {
    const { results, cautions } = answer({ upright: 2.5, supine: 2.6 });
    expect(results.fall?.value).toBeCloseTo(-4, 12);
    expect(cautions[0]).toBe(
      'The lying value is larger. In high spinal cord injury a larger lying value is expected; otherwise repeat the upright reading.',
    );
  });

  test('healthy people stand beside it: mean 7.5 %, upper limit 19 % (Allen 1985), and 25 % (Fromageot 2001)', () => {
    const rows = answer({ upright: 4, supine: 3 }).tables[0]?.rows ?? [];
    expect(rows.map(({ cells }) => cells[0])).toEqual([
      'mean 7.5 (SD 5.7), upper 95 % limit 19',
      'mean 8.2 (SD 7.7), upper 95 % limit 24',
      'mean 11.2 (SD 13.4), upper 95 % limit 38',
      'above 25: 79 % sensitive and 90 % specific for a weak diaphragm',
    ]);
  });

  test('in cord injury the published falls are left out', () => {
    const { tables, cautions } = answer({ upright: 2, supine: 2.4, cordInjury: 'yes' });
    expect(tables).toEqual([]);
    expect(cautions[0]).toBe(
      'In high spinal cord injury the vital capacity is often larger lying down. The published figures for the fall are left out, because they do not apply.',
    );
  });

  test('a zero is a failed test and not a volume', () => {
    const outcome = calculate('supine-fall', { upright: 0, supine: 2 });
    expect(outcome).toEqual({
      ok: false,
      problems: [
        { field: 'upright', message: 'Vital capacity upright is above 0 and at most 12 L. 0 is outside that' },
      ],
    });
  });

  test('the smaller the lying value, the larger the fall, and never 100 %', () => {
    const litres = fc.double({ min: 0.2, max: 8, noNaN: true });
    fc.assert(
      fc.property(litres, litres, litres, (upright, a, b) => {
        fc.pre(Math.abs(a - b) > 1e-9);
        const fallAt = (supine: number) => answer({ upright, supine }).results.fall?.value ?? Number.NaN;
        expect(fallAt(Math.min(a, b))).toBeGreaterThan(fallAt(Math.max(a, b)));
        expect(fallAt(a)).toBeLessThan(100);
      }),
    );
  });
});
