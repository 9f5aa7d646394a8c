import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Reading, Visit } from '../../../calculators/domain/visit.ts';
import { derive, predictedFvc } from '../../../calculators/evaluate/derive.ts';
import { calculate } from '../../../calculators/index.ts';
import { finding, reading, result, visit } from './setup.ts';

const global = { set: 'gli-2022-global' } as const;
const woman = visit({ sex: 'female', ageYears: 60, heightCm: 162 });
const withReadings = (readings: Record<string, Reading>, more: Partial<Visit> = {}): Visit => ({
  ...woman,
  readings,
  ...more,
});
const derived = (readings: Record<string, Reading>, more: Partial<Visit> = {}) =>
  derive(withReadings(readings, more), global).readings;

const calculated = (id: string, inputs: Parameters<typeof calculate>[1], name: string): number => {
  const outcome = calculate(id, inputs);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.results[name]?.value ?? Number.NaN;
};

describe('per cent predicted from litres', () => {
  test('a woman of 60 and 162 cm who blows 1.9 L is at 64.28 % (GLI Global 2022, published look-up value)', () => {
    expect(derived({ 'vc-litres': reading(1.9, 'L') })['fvc-percent']?.value).toBeCloseTo(64.278, 1);
  });

  test('is what the calculator says, for any adult and any of the sets', () => {
    const someone = fc.record({
      sex: fc.constantFrom('female' as const, 'male' as const),
      ageYears: fc.integer({ min: 20, max: 70 }),
      heightCm: fc.integer({ min: 150, max: 195 }),
      litres: fc.integer({ min: 30, max: 600 }).map((hundredths) => hundredths / 100),
      choice: fc.constantFrom(
        { set: 'gli-2022-global' as const },
        { set: 'gli-2012' as const, group: 'caucasian' as const },
        { set: 'nhanes3-1999' as const, group: 'african-american' as const },
        { set: 'ecsc-1993' as const },
      ),
    });
    fc.assert(
      fc.property(someone, ({ sex, ageYears, heightCm, litres, choice }) => {
        const seen = derive(
          visit({ sex, ageYears, heightCm, readings: { 'vc-litres': reading(litres, 'L') } }),
          choice,
        );
        const expected = calculated(
          'predicted-vital-capacity',
          { sex, age: ageYears, height: heightCm, measured: litres, ...choice },
          'percentPredicted',
        );
        expect(seen.readings['fvc-percent']?.value).toBeCloseTo(expected, 9);
      }),
      { numRuns: 200 },
    );
  });

  test('millilitres and litres give the same per cent', () => {
    const one = derived({ 'vc-litres': reading(1900, 'mL') })['fvc-percent']?.value;
    expect(one).toBeCloseTo(derived({ 'vc-litres': reading(1.9, 'L') })['fvc-percent']?.value ?? 0, 9);
  });

  test('a per cent that was typed is never replaced', () => {
    const typed = reading(55, '%');
    expect(derived({ 'vc-litres': reading(1.9, 'L'), 'fvc-percent': typed })['fvc-percent']).toBe(typed);
  });

  test('without sex, age or height there is none, and the message says what is missing', () => {
    for (const [more, message] of [
      [{ heightCm: undefined }, 'Per cent predicted needs height'],
      [{ sex: undefined, ageYears: undefined }, 'Per cent predicted needs sex, age'],
    ] as [Partial<Visit>, string][]) {
      const litres = withReadings({ 'vc-litres': reading(1.9, 'L') }, more);
      expect(derive(litres, global).readings).not.toHaveProperty('fvc-percent');
      expect(predictedFvc(litres, global)).toEqual({ ok: false, message });
    }
  });

  test('outside the ages of a set, or without a group that the set needs, there is none', () => {
    const litres = withReadings({ 'vc-litres': reading(1.9, 'L') }, { ageYears: 96 });
    expect(derive(litres, global).readings).not.toHaveProperty('fvc-percent');
    const noGroup = predictedFvc(woman, { set: 'gli-2012' });
    expect(noGroup.ok).toBe(false);
    if (!noGroup.ok) expect(noGroup.message.length).toBeGreaterThan(10);
  });

  test('says what it came from, and carries the flags of the blow', () => {
    const { 'fvc-percent': percent } = derived({ 'vc-litres': reading(1.2, 'L', { flags: ['leak'] }) });
    expect(percent).toMatchObject({ unit: '%', from: ['vc-litres'], flags: ['leak'], posture: 'upright' });
    const seen = derive(withReadings({ 'vc-litres': reading(1.2, 'L', { flags: ['leak'] }) }), global);
    expect(finding('nice-mnd-fvc-lt-50', seen)).toMatchObject({
      result: 'met',
      flags: [{ measure: 'fvc-percent', flag: 'leak' }],
    });
  });

  test('a blow recorded as lying flat never becomes an upright per cent', () => {
    const flat = derive(withReadings({ 'vc-litres': reading(1.2, 'L', { posture: 'supine' }) }), global);
    expect(flat.readings['fvc-percent']?.posture).toBe('supine');
    expect(result('nice-mnd-fvc-lt-50', flat)).toBe('cannot-tell');
  });

  test('lying litres give a lying per cent, against the same prediction', () => {
    const { 'fvc-percent': upright, 'fvc-supine-percent': supine } = derived({
      'vc-litres': reading(2, 'L'),
      'vc-litres-supine': reading(1.5, 'L'),
    });
    expect(supine?.posture).toBe('supine');
    expect((supine?.value ?? 0) / (upright?.value ?? 1)).toBeCloseTo(0.75, 12);
  });
});

describe('the fall on lying flat', () => {
  test('4 L sitting and 3 L lying is a fall of 25 per cent, exactly on the line of both published criteria', () => {
    const seen = derive(
      withReadings({ 'vc-litres': reading(4, 'L'), 'vc-litres-supine': reading(3000, 'mL') }, { disease: 'pompe' }),
      global,
    );
    expect(seen.readings['fvc-drop-supine-percent']).toMatchObject({
      value: 25,
      unit: '%',
      from: ['vc-litres', 'vc-litres-supine'],
    });
    expect(result('evidence-vc-fall-supine-gt-25-diaphragm', seen)).toBe('not-met');
    expect(result('pompe-supine-drop-ge-25-refer', seen)).toBe('met');
  });

  test('is what the calculator says', () => {
    const fall = derived({ 'vc-litres': reading(3.1, 'L'), 'vc-litres-supine': reading(2.2, 'L') })[
      'fvc-drop-supine-percent'
    ];
    expect(fall?.value).toBeCloseTo(calculated('supine-fall', { upright: 3.1, supine: 2.2 }, 'fall'), 12);
  });

  test('a larger lying value is a negative fall', () => {
    expect(
      derived({ 'vc-litres': reading(2, 'L'), 'vc-litres-supine': reading(2.2, 'L') })['fvc-drop-supine-percent']
        ?.value,
    ).toBeCloseTo(-10, 12);
  });

  test('needs both, and carries the flags of both once', () => {
    expect(derived({ 'vc-litres': reading(2, 'L') })).not.toHaveProperty('fvc-drop-supine-percent');
    expect(derived({ 'vc-litres-supine': reading(2, 'L') })).not.toHaveProperty('fvc-drop-supine-percent');
    const { 'fvc-drop-supine-percent': fall } = derived({
      'vc-litres': reading(2, 'L', { flags: ['leak', 'tired'] }),
      'vc-litres-supine': reading(1.4, 'L', { flags: ['tired', 'not-flat'] }),
    });
    expect(fall?.flags).toEqual(['leak', 'tired', 'not-flat']);
  });

  test('is not made from two blows of which one was recorded in the wrong posture', () => {
    const flat = derived({
      'vc-litres': reading(2, 'L', { posture: 'supine' }),
      'vc-litres-supine': reading(1.4, 'L'),
    });
    expect(flat).not.toHaveProperty('fvc-drop-supine-percent');
  });

  test('an upright volume of nought gives none, and nothing infinite', () => {
    expect(derived({ 'vc-litres': reading(0, 'L'), 'vc-litres-supine': reading(1, 'L') })).not.toHaveProperty(
      'fvc-drop-supine-percent',
    );
  });
});

describe('volume per kilogram', () => {
  test('1.7 L in 80 kg is 21.25 mL/kg (case E of tests/reference/open-cases), and weight in pounds says the same', () => {
    const perKilogram = derived({ 'vc-litres': reading(1.7, 'L'), weight: reading(80, 'kg') })['vc-per-kilogram'];
    expect(perKilogram).toMatchObject({ value: 21.25, unit: 'mL/kg', from: ['vc-litres', 'weight'] });
    const inPounds = derived({ 'vc-litres': reading(1700, 'mL'), weight: reading(80 / 0.45359237, '[lb_av]') })[
      'vc-per-kilogram'
    ];
    expect(inPounds?.value).toBeCloseTo(21.25, 9);
  });

  test('is what the calculator says', () => {
    expect(
      derived({ 'vc-litres': reading(1.33, 'L'), weight: reading(67.4, 'kg') })['vc-per-kilogram']?.value,
    ).toBeCloseTo(
      calculated('litres-per-kilogram', { vitalCapacity: 1.33, weight: 67.4, weightKind: 'actual' }, 'perKilogram'),
      9,
    );
  });

  test('1.6 L in 80 kg is 20 mL/kg, which is not below 20', () => {
    const seen = derive(
      withReadings({ 'vc-litres': reading(1.6, 'L'), weight: reading(80, 'kg') }, { disease: 'gbs' }),
      global,
    );
    expect(result('gbs-vc-lt-20-ml-kg', seen)).toBe('not-met');
  });

  test('without a weight there is none: unknown, not nought', () => {
    const seen = derive(withReadings({ 'vc-litres': reading(1.2, 'L') }, { disease: 'gbs' }), global);
    expect(result('gbs-vc-lt-20-ml-kg', seen)).toBe('cannot-tell');
  });

  test('an estimated weight flags it', () => {
    const { 'vc-per-kilogram': perKilogram } = derived({
      'vc-litres': reading(1.2, 'L'),
      weight: reading(80, 'kg', { flags: ['estimated'] }),
    });
    expect(perKilogram?.flags).toEqual(['estimated']);
  });
});

describe('weight lost', () => {
  test('from 70 to 63 kg is 10 per cent, which is not more than 10', () => {
    const seen = derive(withReadings({ 'usual-weight': reading(70, 'kg'), weight: reading(63, 'kg') }), global);
    expect(seen.readings['weight-loss-percent']?.value).toBeCloseTo(10, 12);
    expect(result('efns2012-als-gastrostomy-weight-loss-gt-10', seen)).toBe('not-met');
  });

  test('is what the calculator says, and weight gained is negative', () => {
    const loss = derived({ 'usual-weight': reading(64.5, 'kg'), weight: reading(58.2, 'kg') })['weight-loss-percent'];
    expect(loss?.value).toBeCloseTo(calculated('weight-loss', { usual: 64.5, now: 58.2 }, 'loss'), 12);
    expect(
      derived({ 'usual-weight': reading(60, 'kg'), weight: reading(66, 'kg') })['weight-loss-percent']?.value,
    ).toBeCloseTo(-10, 12);
  });
});

test('deriving adds and never takes away, changes nothing that was entered, and twice is the same as once', () => {
  const volumes = fc.record(
    {
      'vc-litres': fc.integer({ min: 0, max: 800 }).map((hundredths) => reading(hundredths / 100, 'L')),
      'vc-litres-supine': fc.integer({ min: 0, max: 800 }).map((hundredths) => reading(hundredths / 100, 'L')),
      weight: fc.integer({ min: 10, max: 200 }).map((kilograms) => reading(kilograms, 'kg')),
      'usual-weight': fc.integer({ min: 10, max: 200 }).map((kilograms) => reading(kilograms, 'kg')),
      'fvc-percent': fc.integer({ min: 1, max: 150 }).map((value) => reading(value, '%')),
    },
    { requiredKeys: [] },
  );
  fc.assert(
    fc.property(volumes, (readings) => {
      const entered = withReadings(readings as Record<string, Reading>);
      const before = structuredClone(entered);
      const once = derive(entered, global);
      expect(entered).toEqual(before);
      expect(once.readings).toMatchObject(entered.readings);
      expect(derive(once, global)).toEqual(once);
      for (const { value } of Object.values(once.readings)) expect(Number.isFinite(value)).toBe(true);
    }),
    { numRuns: 200 },
  );
});
