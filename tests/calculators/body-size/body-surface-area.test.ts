import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

test('90 kg at 160 cm is exactly 2 square metres (Mosteller: root of 14400 / 3600)', () => {
  const outcome = calculate('body-surface-area', { weight: 90, height: 160 });
  expect(outcome.ok && outcome.results.surfaceArea).toEqual({ value: 2, unit: 'm2' });
});

test('metres typed as centimetres are caught', () => {
  expect(calculate('body-surface-area', { weight: 90, height: 1.6 })).toEqual({
    ok: false,
    problems: [{ field: 'height', message: 'Height is between 50 and 250 cm. Is 1.6 in m?' }],
  });
});
