import { expect, test } from 'vitest';
import { calculate } from '../../../calculators/index.ts';

type Inputs = Parameters<typeof calculate>[1];
const given = (inputs: Inputs) => {
  const outcome = calculate('oxygen-content', inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.results;
};
const gramsPerLitre = (value: number) => ({ value, unit: 'g/L' });
const kPa = (value: number) => ({ value, unit: 'kPa' });

// Worked examples of an emergency-medicine teaching page, in mL/L: 197, 212.5 and 116. Its dissolved part is
// 0.23 mL/L for each kPa, one part in a hundred below ours, so they agree within 0.2 mL/dL.
test.each([
  [97, 10, 19.7],
  [100, 50, 21.25],
  [57, 4.5, 11.6],
])('haemoglobin 150 g/L at %s %% and %s kPa carries about %s mL/dL', (saturation, po2, expected) => {
  const { content } = given({ haemoglobin: gramsPerLitre(150), saturation, po2: kPa(po2) });
  expect(Math.abs((content?.value ?? Number.NaN) - expected)).toBeLessThan(0.2);
});

test('14 g/dL, 97 % and 90 mmHg: 18.197 on haemoglobin and 0.279 dissolved', () => {
  const { content, bound, dissolved } = given({ haemoglobin: 14, saturation: 97, po2: 90 });
  expect(bound?.value).toBeCloseTo(18.1972, 4);
  expect(dissolved?.value).toBeCloseTo(0.279, 9);
  expect(content?.value).toBeCloseTo(18.4762, 4);
});

test('140 g/L and 14 g/dL are the same blood', () => {
  expect(given({ haemoglobin: gramsPerLitre(140), saturation: 97, po2: 90 })).toEqual(
    given({ haemoglobin: 14, saturation: 97, po2: 90 }),
  );
});

test('g/L typed as g/dL is asked about', () => {
  expect(calculate('oxygen-content', { haemoglobin: 140, saturation: 97, po2: 90 })).toEqual({
    ok: false,
    problems: [{ field: 'haemoglobin', message: 'Haemoglobin is between 2 and 25 g/dL. Is 140 in g/L?' }],
  });
});
