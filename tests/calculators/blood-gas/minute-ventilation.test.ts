import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import minuteVentilation from '../../../calculators/blood-gas/minute-ventilation.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(minuteVentilation);

describe('minute and alveolar ventilation', () => {
  test('14 breaths of 500 mL with 150 mL of dead space: 7.0 and 4.9 L/min (by hand)', () => {
    const inputs = { breath: 500, rate: 14, deadSpace: 150 };
    expect(value(inputs, 'minute')).toBe(7);
    expect(value(inputs, 'alveolar')).toBeCloseTo(4.9, 12);
    expect(value(inputs, 'lost')).toBe(30);
  });

  test('the same litres a minute in smaller breaths always clear less', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 8, max: 20, noNaN: true }),
        fc.double({ min: 1.05, max: 2, noNaN: true }),
        (rate, faster) => {
          const calm = { breath: 7000 / rate, rate, deadSpace: 150 };
          const quick = { breath: 7000 / (rate * faster), rate: rate * faster, deadSpace: 150 };
          expect(value(quick, 'minute')).toBeCloseTo(value(calm, 'minute'), 9);
          expect(value(quick, 'alveolar')).toBeLessThan(value(calm, 'alveolar'));
        },
      ),
    );
  });

  test('2.2 mL for each kg of ideal weight: 70 kg is 154 mL, and 1 mL a pound is the same rule', () => {
    expect(value({ breath: 500, rate: 14, idealWeight: 70 }, 'deadSpace')).toBeCloseTo(154, 9);
    expect(value({ breath: 500, rate: 14, idealWeight: { value: 154, unit: '[lb_av]' } }, 'deadSpace')).toBeCloseTo(
      154,
      0,
    );
  });

  test('a typed dead space wins over the rule', () => {
    expect(value({ breath: 500, rate: 14, deadSpace: 200, idealWeight: 70 }, 'deadSpace')).toBe(200);
  });

  test('the table holds the litres and lets the breath shrink, until all of it is dead space', () => {
    expect(answer({ breath: 500, rate: 12, deadSpace: 160 }).tables[0]).toEqual({
      caption: 'The same 6.0\u00a0L/min with other tidal volumes',
      columns: ['Rate', 'Breath', 'Alveolar ventilation'],
      rows: [
        { label: '8\u00a0/min', cells: ['750\u00a0mL', '4.7\u00a0L/min'] },
        { label: '12\u00a0/min', cells: ['500\u00a0mL', '4.1\u00a0L/min'] },
        { label: '16\u00a0/min', cells: ['375\u00a0mL', '3.4\u00a0L/min'] },
        { label: '20\u00a0/min', cells: ['300\u00a0mL', '2.8\u00a0L/min'] },
        { label: '30\u00a0/min', cells: ['200\u00a0mL', '1.2\u00a0L/min'] },
        { label: '40\u00a0/min', cells: ['150\u00a0mL', 'cannot tell: all dead space'] },
      ],
    });
  });
});

describe('what cannot be told', () => {
  test('without a dead space there is no alveolar figure', () => {
    const { results, cautions } = answer({ breath: 500, rate: 14 });
    expect(Object.keys(results)).toEqual(['minute']);
    expect(cautions[0]).toBe('Without a dead space or an ideal weight, alveolar ventilation cannot be calculated.');
  });

  test('a breath no larger than the dead space gets a warning and no number', () => {
    const { results, cautions } = answer({ breath: 150, rate: 40, deadSpace: 150 });
    expect(results.alveolar).toBeUndefined();
    expect(cautions[0]).toBe(
      'By this rule the whole breath is dead space, so alveolar ventilation cannot be calculated. A breath this small clears very little CO2: measure the CO2, and act on how the person looks.',
    );
  });

  test('half a litre typed as millilitres is asked about', () => {
    expect(problems({ breath: 0.5, rate: 14 })).toEqual([
      { field: 'breath', message: 'Breath (tidal volume) is between 30 and 3000 mL. Is 0.5 in L?' },
    ]);
  });
});
