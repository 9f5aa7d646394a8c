import fc from 'fast-check';
import { expect, test } from 'vitest';
import deadSpaceShare from '../../../calculators/blood-gas/dead-space-share.ts';
import { ask } from '../ask.ts';

const { value, problems } = ask(deadSpaceShare);

test('arterial 40 and mixed expired 28 make 0.30 (by hand, 12 / 40)', () => {
  expect(value({ paco2: 40, mixedExpired: 28 }, 'share')).toBeCloseTo(0.3, 12);
});

test('the share is the same in kPa', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 4, max: 10, noNaN: true }),
      fc.double({ min: 0.3, max: 0.9, noNaN: true }),
      (kPa, part) => {
        const share = value(
          { paco2: { value: kPa, unit: 'kPa' }, mixedExpired: { value: kPa * part, unit: 'kPa' } },
          'share',
        );
        expect(share).toBeCloseTo(1 - part, 9);
      },
    ),
  );
});

test('an expired CO2 that is not below the arterial one is questioned', () => {
  expect(problems({ paco2: 40, mixedExpired: 40 })).toEqual([
    {
      field: 'mixedExpired',
      message: 'Mixed expired CO2 is below arterial CO2. Are the two values swapped, or in different units?',
    },
  ]);
});
