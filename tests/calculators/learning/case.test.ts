/** A teaching case says of each criterion it asks about what must come out, once. */
import { expect, test } from 'vitest';
import { z } from '../../../calculators/domain/schema.ts';
import { Case } from '../../../calculators/learning/case.ts';
import { visitOf } from '../../../calculators/learning/case-visit.ts';

const one = {
  title: 'Case A',
  order: 1,
  themes: ['adult'],
  story: 'Invented.',
  person: { disease: 'als', ageYears: 60, sex: 'male', heightCm: 176 },
  readings: { 'vc-litres': { value: 2, unit: 'L', posture: 'upright' } },
  ask: ['a', 'b', 'c', 'd'],
  expected: { met: ['a', 'b'], 'not-met': ['c'], 'cannot-tell': ['d'] },
  arrange: [1, 2, 3].map((text) => ({ text: `${text}`, because: 'because' })),
  explanation: ['So.'],
};

test('a case fits when each criterion stands in exactly one result', () => {
  expect(z.safeParse(Case, one).success).toBe(true);
  expect(z.safeParse(Case, { ...one, expected: { met: ['a', 'b'], 'not-met': ['c'] } }).success).toBe(false);
  expect(z.safeParse(Case, { ...one, expected: { ...one.expected, met: ['a', 'b', 'd'] } }).success).toBe(false);
});

test('its visit has what follows from its readings: per cent predicted from litres', () => {
  const visit = visitOf(Case.parse(one));
  expect(visit.readings['fvc-percent']?.from).toEqual(['vc-litres']);
});
