import { expect, test } from 'vitest';
import { outOfRange } from '../../calculators/out-of-range.ts';
import { readEntry } from '../../src/islands/visit/entries.ts';
import { readMeasures } from '../read-content.ts';

const carbonDioxide = {
  label: 'PaCO2',
  unit: 'mm[Hg]',
  accepts: ['kPa'],
  plausible: [25, 110],
  hard: [15, 150],
} as const;

test.for([
  ['another unit would fit', 8, 'mm[Hg]', 'PaCO2 is between 15 and 150 mmHg. Is 8 in kPa?'],
  ['the limits are in the unit typed', 45, 'kPa', 'PaCO2 is between 2 and 20 kPa. Is 45 in mmHg?'],
  ['no unit would fit', 900, 'mm[Hg]', 'PaCO2 is between 15 and 150 mmHg. 900 is outside that'],
] as const)('%s', ([, typed, unit, message]) => {
  expect(outOfRange(carbonDioxide, typed, unit)).toBe(message);
});

test('where the lowest value is refused itself, the message says above', () => {
  const flow = { label: 'Flow', unit: 'L/min', plausible: [1, 10], hard: [0, 15], lowInclusive: false } as const;
  expect(outOfRange(flow, 0, 'L/min')).toBe('Flow is above 0 and at most 15 L/min. 0 is outside that');
});

test('the visit sheet refuses with the same message, a pressure by its magnitude', () => {
  const mip = readMeasures().mip;
  if (mip?.kind !== 'number') throw new Error('no mip');
  const entry = (text: string) => readEntry({ text, unit: 'kPa' }, mip);
  expect(entry('-60')).toEqual({ message: outOfRange(mip, 60, 'kPa') });
  expect(entry('-6')).toMatchObject({ reading: { value: 6, unit: 'kPa' } });
});
