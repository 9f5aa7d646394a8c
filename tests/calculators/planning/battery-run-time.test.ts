import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import batteryRunTime from '../../../calculators/planning/battery-run-time.ts';
import { ask } from '../ask.ts';

const { answer, value, problems } = ask(batteryRunTime);

describe('run time', () => {
  test('90 watt-hours at 30 watts last 3 hours by the label (by hand)', () => {
    expect(value({ capacity: 90, draw: 30 }, 'label')).toBe(3);
  });

  test('a run timed at the person\u2019s own settings replaces the label', () => {
    const { results } = answer({ capacity: 90, draw: 30, measured: 2.5, share: 80 });
    expect(results.plan?.value).toBeCloseTo(2, 12);
    expect(results.ofLabel?.value).toBeCloseTo(83.333, 3);
    expect(results.label?.value).toBe(3);
  });

  test('a share of the label alone: 3 hours at 80 % are 2.4 (by hand)', () => {
    expect(value({ capacity: 90, draw: 30, share: 80 }, 'plan')).toBeCloseTo(2.4, 12);
    expect(value({ capacity: 90, draw: 30, share: { value: 0.8, unit: '1' } }, 'plan')).toBeCloseTo(2.4, 12);
  });

  test('the time to plan with is never longer than the run time', () => {
    const hours = fc.double({ min: 0.5, max: 24, noNaN: true });
    const percent = fc.double({ min: 10, max: 100, noNaN: true });
    fc.assert(
      fc.property(hours, percent, (measured, share) => {
        expect(value({ capacity: 90, draw: 30, measured, share }, 'plan')).toBeLessThanOrEqual(measured * (1 + 1e-12));
      }),
    );
  });

  test('more draw, less time', () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 200, noNaN: true }), (draw) => {
        expect(value({ capacity: 90, draw: draw * 1.1 }, 'label')).toBeLessThan(value({ capacity: 90, draw }, 'label'));
      }),
    );
  });
});

describe('what is said beside it', () => {
  test('an untested battery with nothing kept back says both', () => {
    expect(answer({ capacity: 90, draw: 30 }).cautions.slice(0, 2)).toEqual([
      'Nothing is kept back for age, cold or leak.',
      'This run time comes from the label only. The battery has not been tested at the person\u2019s own settings.',
    ]);
  });

  test('a measured time far above the label is questioned', () => {
    expect(answer({ capacity: 90, draw: 30, measured: 4, share: 80 }).cautions[0]).toBe(
      'The measured time is well above the label. Check both numbers, and that the right battery was timed.',
    );
  });

  test('the bench study is shown as a table and moves no number (Falaize 2014, abstract)', () => {
    const { tables } = answer({ capacity: 90, draw: 30 });
    expect(tables[0]?.rows.map(({ label, cells }) => `${label}: ${cells}`)).toEqual([
      'Rate from 10 to 20 a minute: 18 % shorter (SD 11)',
      'Leak, pressure support: 13 % shorter (SD 15)',
      'Leak, volume control: 18 % longer (SD 20)',
      'PEEP of 5 cmH2O added: no significant change',
      'Volume control or pressure support: no significant change',
    ]);
  });

  test('what to do when a ventilator stops stands before the fields', () => {
    expect(batteryRunTime.before).toEqual([
      'If the ventilator stops and the person cannot breathe well without it, ventilate by hand and call emergency services. The calculation can wait.',
    ]);
  });

  test('no draw is refused', () => {
    expect(problems({ capacity: 90, draw: 0 })).toEqual([
      { field: 'draw', message: 'Power drawn is between 1 and 1000 W. 0 is outside that' },
    ]);
  });
});
