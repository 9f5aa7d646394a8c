import { describe, expect, test } from 'vitest';
import {
  estimated,
  fromLimits,
  fromStandardError,
  showAge,
  showHeight,
} from '../../../calculators/body-size/estimated-height.ts';

describe('the error of an estimated height', () => {
  test('a standard error of 4 cm is a range of 7.84 cm either way', () => {
    const { results } = estimated(160, fromStandardError(4, 'the paper'));
    expect(results.height).toEqual({ value: 160, low: 160 - 7.84, high: 160 + 7.84 });
    expect(results.heightError?.value).toBeCloseTo(7.84, 12);
  });

  test('uneven limits stay uneven, and the larger side is carried on', () => {
    const { results } = estimated(170, fromLimits(19.8, 5.7, 'one series'));
    expect(results.height.low).toBeCloseTo(150.2, 12);
    expect(results.height.high).toBeCloseTo(175.7, 12);
    expect(results.heightError).toEqual({ value: 19.8 });
  });

  test('where it came from and what to do with it are said', () => {
    expect(estimated(170, fromLimits(19.8, 5.7, 'the limits of one series')).cautions).toEqual([
      'The range is the limits of one series.',
      'Carry the error forward: on the page about predicted vital capacity, enter this height with its plus or minus.',
    ]);
  });

  test('that 1.96 standard errors is our own choice is said', () => {
    expect(fromStandardError(3.5, 'Someone').from).toBe(
      '1.96 times the standard error of 3.5 cm that Someone printed. Taking it as a 95 % range is our own choice, not the paper\u2019s',
    );
  });

  test('no published error gives no range, and says that this is unknown and not small', () => {
    const found = estimated(170, undefined);
    expect(found.results).toEqual({ height: { value: 170 } });
    expect(found.cautions).toEqual([
      'No published error was found for this equation, so no range is shown. The error is unknown, not small: other equations are wrong by 7 cm and more.',
    ]);
  });
});

test('a table cell shows the range in brackets where there is one', () => {
  expect(showHeight(175.2)).toBe('175\u00a0cm');
  expect(showHeight(175.2, fromLimits(8, 8, ''))).toBe('175\u00a0cm (167 to 183)');
});

test('nobody of 17.96 years is told that 18 is too young', () => {
  expect([showAge(17.96), showAge(16.67), showAge(70)]).toEqual(['17.9', '16.6', '70']);
});
