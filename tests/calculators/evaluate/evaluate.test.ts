import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Criterion, isEvaluated } from '../../../calculators/domain/criterion.ts';
import { type Reading, type Sign, supportStatuses, type Visit } from '../../../calculators/domain/visit.ts';
import { doubtsIn } from '../../../calculators/evaluate/doubt.ts';
import { evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain } from '../../../calculators/evaluate/explain.ts';
import { contradictions } from '../../../calculators/evaluate/implied.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { calculate } from '../../../calculators/index.ts';
import { convert, convertible, type UnitCode } from '../../../calculators/quantity.ts';
import {
  anyReading,
  anyVisit,
  criteria,
  evidence,
  finding,
  madeUp,
  measures,
  numberMeasure,
  reading,
  result,
  resultOf,
  row,
  visit,
} from './setup.ts';

const seen = (readings: Record<string, Reading>, signs: Record<string, Sign> = {}, more: Partial<Visit> = {}): Visit =>
  visit({ readings, signs, ...more });

const percent = (value: number, more: Partial<Reading> = {}) => reading(value, '%', more);
const pressure = (value: number, more: Partial<Reading> = {}) => reading(value, 'cm[H2O]', more);

/** Everything a reader sees of each finding, for comparing two visits that should give the same. */
const summaries = (findings: readonly Finding[]) =>
  findings.map(({ criterion, result, missing, flags, parts }) => ({
    id: criterion.id,
    result,
    missing,
    flags,
    parts: parts.map(({ measure, truth }) => [measure, truth]),
  }));

/** Decided by supports, hours and what was breathed together. */
const onVentilation = ({ measure, alsoRequires }: Criterion): boolean =>
  /already-on-niv|oxygen-without/.test(JSON.stringify([measure, alsoRequires]));

/** 'Unless ...': nobody asked counts as met, and asking may then turn it. */
const hasException = ({ alsoRequires }: Criterion): boolean =>
  alsoRequires.some((requirement) => !('anyOf' in requirement) && requirement.unanswered !== undefined);

/** As toEqual, but quick where nothing differs. */
const expectSame = (one: unknown, other: unknown): void => {
  if (JSON.stringify(one) !== JSON.stringify(other)) expect(one).toEqual(other);
};

describe('rule 1: three results, and unknown is never not met', () => {
  test('a reading that was not taken cannot be told', () => {
    expect(result('nice-mnd-fvc-lt-50', visit())).toBe('cannot-tell');
  });

  test('a reading that is no number cannot be told', () => {
    expect(result('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': percent(Number.NaN) }))).toBe('cannot-tell');
    expect(result('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': percent(Number.POSITIVE_INFINITY) }))).toBe(
      'cannot-tell',
    );
  });

  test('a sign that nobody asked about cannot be told', () => {
    expect(result('aan-als-orthopnoea', visit())).toBe('cannot-tell');
    expect(result('aan-als-orthopnoea', seen({}, { orthopnoea: 'absent' }))).toBe('not-met');
    expect(result('aan-als-orthopnoea', seen({}, { orthopnoea: 'present' }))).toBe('met');
  });

  test('one part known false makes an and not met, whatever else is unknown', () => {
    expect(result('nice-mnd-fvc-lt-80-with-symptoms', seen({ 'fvc-percent': percent(85) }))).toBe('not-met');
    const none = { 'symptoms-or-signs-of-respiratory-impairment': 'absent' } as const;
    expect(result('nice-mnd-fvc-lt-80-with-symptoms', seen({}, none))).toBe('not-met');
  });

  test('one part known true and another unknown cannot be told', () => {
    expect(result('nice-mnd-fvc-lt-80-with-symptoms', seen({ 'fvc-percent': percent(70) }))).toBe('cannot-tell');
  });

  test('an or is met by either, false only by both', () => {
    const fshd = (readings: Record<string, Reading>, signs: Record<string, Sign>) =>
      result('aan-fshd-fvc-lt-60-refer', seen(readings, signs, { disease: 'fshd' }));
    expect(fshd({}, { 'sleep-related-respiratory-symptoms': 'present' })).toBe('met');
    expect(fshd({ 'fvc-percent': percent(55) }, {})).toBe('met');
    expect(fshd({ 'fvc-percent': percent(65) }, {})).toBe('cannot-tell');
    expect(fshd({ 'fvc-percent': percent(65) }, { 'sleep-related-respiratory-symptoms': 'absent' })).toBe('not-met');
  });

  test('what would settle it is named, and nothing is named when it is settled', () => {
    const open = finding('nice-mnd-fvc-lt-80-with-symptoms', seen({ 'fvc-percent': percent(70) }));
    expect(open?.missing).toEqual(['symptoms-or-signs-of-respiratory-impairment']);
    expect(finding('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': percent(70) }))?.missing).toEqual([]);
  });

  test('a part that counts from an age on is false below it, and unknown while the age is', () => {
    const litres = (ageYears: number | undefined, vc: number | undefined) =>
      finding(
        'dmd2010-cough-fvc-lt-40-or-1-25-l',
        seen(
          { 'fvc-percent': percent(45), ...(vc === undefined ? {} : { 'vc-litres': reading(vc, 'L') }) },
          {},
          { disease: 'dmd', ageYears },
        ),
      );
    expect(litres(16, 1.2)?.result).toBe('met');
    expect(litres(15.9, 1.2)?.result).toBe('not-met');
    expect(litres(15.9, undefined)?.result).toBe('not-met');
    expect(litres(16, undefined)?.missing).toEqual(['vc-litres']);
    expect(litres(undefined, 1.2)).toMatchObject({ result: 'cannot-tell', missing: ['age'] });
    expect(litres(undefined, undefined)?.missing).toEqual(['age', 'vc-litres']);
    expect(litres(undefined, 1.3)?.result).toBe('not-met');
  });
});

describe('rule 2: nothing is rounded before it is compared', () => {
  test('49.6 is below 50', () => {
    expect(result('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': percent(49.6) }))).toBe('met');
    expect(result('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': percent(49.999999999) }))).toBe('met');
  });

  test('4.1 L/s is 246 L/min and not a hair below it', () => {
    const below246 = madeUp({ measure: 'peak-cough-flow', comparator: '<', value: 246, unit: 'L/min' });
    const atOrBelow246 = madeUp({ measure: 'peak-cough-flow', comparator: '<=', value: 246, unit: 'L/min' });
    for (const flow of [reading(4.1, 'L/s'), reading(246, 'L/min')]) {
      expect(resultOf(below246, seen({ 'peak-cough-flow': flow }))).toBe('not-met');
      expect(resultOf(atOrBelow246, seen({ 'peak-cough-flow': flow }))).toBe('met');
    }
  });

  test('6 kPa stays 6: not above 6 kPa, and above 45 mmHg', () => {
    const six = seen({ paco2: reading(6, 'kPa') });
    expect(result('nice-mnd-paco2-gt-6-kpa-within-1-week', six)).toBe('not-met');
    expect(result('ca-als-paco2-gt-45', six)).toBe('met');
  });

  test('45 mmHg is 5.9995 kPa: not above 6 kPa; 45.0037 mmHg is 6.000001 kPa: just above', () => {
    const gas = (value: number) => seen({ paco2: reading(value, 'mm[Hg]') });
    expect(result('nice-mnd-paco2-gt-6-kpa-within-1-week', gas(45))).toBe('not-met');
    expect(result('nice-mnd-paco2-gt-6-kpa-within-1-week', gas(45.0036))).toBe('not-met');
    expect(result('nice-mnd-paco2-gt-6-kpa-within-1-week', gas(45.0037))).toBe('met');
    expect(result('ca-als-paco2-gt-45', gas(45))).toBe('not-met');
  });

  test('a value worked out from others is as inexact as one converted: 60 x 0.7 of 60 is 70 per cent', () => {
    const below70 = madeUp({ measure: 'fvc-percent', comparator: '<', value: 70, unit: '%' });
    const nearly = percent(69.99999999999999, { from: ['vc-litres'] });
    expect(resultOf(below70, seen({ 'fvc-percent': nearly }))).toBe('not-met');
    expect(resultOf(below70, seen({ 'fvc-percent': percent(69.99999999999999) }))).toBe('met');
  });

  test('a unit that measures something else cannot be told', () => {
    const wrong = finding('nice-mnd-fvc-lt-50', seen({ 'fvc-percent': reading(1.9, 'L') }));
    expect(wrong?.result).toBe('cannot-tell');
    expect(wrong?.parts[0]?.obstacle).toEqual({ kind: 'unit', unit: 'L' });
  });

  const pairs = Object.entries(measures).flatMap(([id, measure]) =>
    measure.kind === 'number' && measure.accepts.length > 0
      ? measure.accepts.map((other): [string, UnitCode, UnitCode] => [id, measure.unit, other])
      : [],
  );
  test('pressures, flows, volumes, times and weights are each accepted in more than one unit', () => {
    const dimensions = new Set(pairs.map(([, unit, other]) => `${unit} ${other}`));
    for (const pair of [
      'cm[H2O] kPa',
      'cm[H2O] mm[Hg]',
      'mm[Hg] kPa',
      'kPa mm[Hg]',
      'L/min L/s',
      'L mL',
      'min h',
      'kg [lb_av]',
    ])
      expect(dimensions).toContain(pair);
  });

  test.each(pairs)('%s says the same in %s and in %s, for every mark', (id, unit, other) => {
    fc.assert(
      fc.property(anyVisit, anyReading(id), (someone, taken) => {
        const own = { ...taken, value: convert(taken.value, taken.unit, unit), unit };
        const same = { ...own, value: convert(own.value, unit, other), unit: other };
        const asked = (one: Reading) =>
          summaries(evaluate({ ...someone, readings: { ...someone.readings, [id]: one } }, evidence));
        expectSame(asked(same), asked(taken));
      }),
      { numRuns: 25 },
    );
  });
});

describe('rule 3: a named disease keeps its own marks', () => {
  test.each(['sma', 'dmd', 'gbs', 'mg', 'sci-acute', 'other-chronic'] as const)(
    '%s borrows none from another',
    (disease) => {
      const shown = evaluate(visit({ disease }), evidence).map(({ criterion }) => criterion.disease);
      expect(new Set(shown)).toEqual(new Set(['any', ...(shown.includes(disease) ? [disease] : [])]));
    },
  );

  test('in Guillain-Barré, myasthenia and acute cord injury only acute, emergency and same-day marks of any disease show', () => {
    for (const disease of ['gbs', 'mg', 'sci-acute'] as const)
      for (const { criterion } of evaluate(visit({ disease }), evidence))
        if (criterion.disease === 'any')
          expect(criterion.acute === true || ['emergency', 'same-day'].includes(criterion.urgency)).toBe(true);
  });

  test('no payer rule shows in an acute disease', () => {
    for (const disease of ['gbs', 'mg', 'sci-acute'] as const)
      expect(evaluate(visit({ disease }), evidence).filter(({ criterion }) => criterion.use === 'coverage')).toEqual(
        [],
      );
  });

  test('a missing disease, age or sex gives unknown and says which', () => {
    const below = { 'fvc-percent': percent(40), snip: pressure(30) };
    expect(finding('nice-mnd-fvc-lt-50', seen(below, {}, { disease: undefined }))).toMatchObject({
      result: 'cannot-tell',
      missing: ['disease'],
    });
    expect(finding('nice-mnd-fvc-lt-50', seen(below, {}, { ageYears: undefined }))).toMatchObject({
      result: 'cannot-tell',
      missing: ['age'],
    });
    expect(
      finding(
        'nice-mnd-snip-or-mip-lt-65-men-with-symptoms',
        seen(below, { orthopnoea: 'present' }, { sex: undefined }),
      ),
    ).toMatchObject({ result: 'cannot-tell', missing: ['sex'] });
    expect(finding('bts-child-measure-pcf-over-12-years', visit({ ageYears: undefined }))?.missing).toEqual(['age']);
  });
});

describe('rule 4: adults and children never mix, and cough flow is hidden under 12', () => {
  test.each([
    [17.99, 'out-of-scope', 'met'],
    [18, 'met', 'out-of-scope'],
  ])('at %s the adult mark is %s and the child mark %s', (ageYears, adult, child) => {
    const low = seen({ 'fvc-percent': percent(40) }, {}, { disease: 'sma', ageYears });
    expect(result('chest-nmd-fvc-lt-50', low)).toBe(adult);
    expect(result('bts-child-vc-lt-60-annual-sleep-assessment', low)).toBe(child);
  });

  test('no mark on any cough flow is shown at 11, whoever wrote it', () => {
    for (const disease of ['sma', 'dmd', 'als'] as const)
      for (const { criterion } of evaluate(visit({ disease, ageYears: 11.99 }), evidence))
        expect(criterion.measure).not.toMatch(/peak-cough-flow$/);
  });
});

describe('rule 5: a saturation speaks for room air only', () => {
  const saturation = (value: number, gas?: Reading['gas']) =>
    seen({ spo2: percent(value, { gas }) }, { 'known-lung-disease': 'absent' });

  test.each(['oxygen', 'ventilation', undefined] as const)('taken on %s it cannot be told, high or low', (gas) => {
    for (const value of [80, 94, 99]) {
      expect(result('nice-mnd-spo2-le-94-blood-gas', saturation(value, gas))).toBe('cannot-tell');
      expect(result('fallback-low-spo2-think-ventilation-and-secretions', saturation(value, gas))).toBe('cannot-tell');
    }
  });

  test('a saturation below 90 alarms on any gas, and a good one on oxygen reassures nobody', () => {
    for (const gas of ['air', 'oxygen', 'ventilation', undefined] as const)
      expect(result('fallback-spo2-lt-90-any-gas', saturation(89, gas))).toBe('met');
    const good = evaluate(saturation(99, 'oxygen'), evidence).filter(
      ({ criterion, parts }) => parts.some(({ measure }) => measure === 'spo2') && !criterion.anyGas,
    );
    expect(good.length).toBeGreaterThan(3);
    expect(
      good.filter(({ parts }) => parts.some(({ measure, truth }) => measure === 'spo2' && truth !== 'cannot-tell')),
    ).toEqual([]);
  });

  test('an and that is false for another reason stays false on oxygen', () => {
    const lungs = seen({ spo2: percent(90, { gas: 'oxygen' }) }, { 'known-lung-disease': 'present' });
    expect(result('nice-mnd-spo2-le-94-blood-gas', lungs)).toBe('not-met');
  });

  test('the same holds for a night recording, except where the source says any gas', () => {
    const night = (gas: Reading['gas']) =>
      seen(
        {
          'nocturnal-minutes-spo2-at-or-below-88': reading(20, 'min', { gas }),
          'nocturnal-consecutive-minutes-spo2-at-or-below-88': reading(20, 'min', { gas }),
          'recording-hours': reading(7, 'h'),
        },
        { 'sleep-related-respiratory-symptoms': 'present' },
      );
    expect(result('aci2012-spo2-le-88-5-consecutive-min', night('oxygen'))).toBe('cannot-tell');
    expect(result('aci2012-spo2-le-88-5-consecutive-min', night('air'))).toBe('met');
    expect(result('us-rad-sleep-spo2-le-88-for-5-min', night('oxygen'))).toBe('met');
  });

  test('any gas is said of the main reading only: another saturation in the same mark still needs room air', () => {
    const night = {
      measure: 'nocturnal-minutes-spo2-at-or-below-88',
      comparator: '>=',
      value: 5,
      unit: 'min',
    } as const;
    const either = madeUp({ measure: 'spo2', comparator: '<', value: 90, unit: '%', anyGas: true, alternative: night });
    const minutes = (gas: Reading['gas']) =>
      resultOf(either, seen({ spo2: percent(95, { gas: 'oxygen' }), [night.measure]: reading(9, 'min', { gas }) }));
    expect([minutes('oxygen'), minutes('air')]).toEqual(['cannot-tell', 'met']);
  });

  test('as the alternative of another mark it needs room air just the same', () => {
    const either = (gas: Reading['gas']) =>
      result('ats2004-dmd-daytime-pco2-gt-50', seen({ spo2: percent(85, { gas }) }, {}, { disease: 'dmd' }));
    expect(either('oxygen')).toBe('cannot-tell');
    expect(either('air')).toBe('met');
  });
});

describe('rule 6: litres are litres and per cent is per cent', () => {
  test('1.9 L without a per cent predicted leaves every per cent mark open, and is never 1.9 per cent', () => {
    const litres = evaluate(seen({ 'vc-litres': reading(1.9, 'L') }), evidence);
    const byPercent = litres.filter(({ criterion }) => criterion.measure === 'fvc-percent');
    expect(byPercent.length).toBeGreaterThan(5);
    expect(byPercent.filter(({ parts }) => parts[0]?.truth !== 'cannot-tell')).toEqual([]);
    expect(result('evidence-mnd-air-travel-fvc-lt-2-7-l-needs-test', seen({ 'vc-litres': reading(1900, 'mL') }))).toBe(
      'met',
    );
  });

  test('a reading taken lying flat is not held against an upright mark, nor the other way round', () => {
    const lying = seen({ 'fvc-percent': percent(40, { posture: 'supine' }) });
    expect(finding('nice-mnd-fvc-lt-50', lying)?.parts[0]?.obstacle).toEqual({ kind: 'posture', posture: 'supine' });
    expect(result('ca-als-fvc-upright-lt-65', lying)).toBe('cannot-tell');
    const sitting = seen({ 'fvc-supine-percent': percent(40, { posture: 'upright' }) });
    expect(result('evidence-als-supine-fvc-lt-75', sitting)).toBe('cannot-tell');
  });

  test('a mark that names a posture keeps to it, even where its measure counts in any', () => {
    const upright = madeUp({ measure: 'vc-litres', comparator: '<', value: 1, unit: 'L', posture: 'upright' });
    const litres = (posture: Reading['posture']) =>
      resultOf(upright, seen({ 'vc-litres': reading(0.9, 'L', { posture }) }));
    expect([litres('supine'), litres('upright'), litres(undefined)]).toEqual(['cannot-tell', 'met', 'met']);
  });

  test('litres count in any posture', () => {
    const lying = seen({ 'vc-litres': reading(0.9, 'L', { posture: 'supine' }) });
    expect(result('bts-air-travel-fvc-lt-1-l-challenge-test', lying)).toBe('met');
  });
});

describe('rule 7: the better of sniff and mouth pressure', () => {
  const best = (readings: Record<string, Reading>) => result('nice-mnd-snip-or-mip-lt-40', seen(readings));

  test('both done: the larger, whatever the sign and the unit', () => {
    expect(best({ snip: pressure(38), mip: pressure(62) })).toBe('not-met');
    expect(best({ snip: pressure(-62), mip: pressure(38) })).toBe('not-met');
    expect(best({ snip: pressure(38), mip: reading(6, 'kPa') })).toBe('not-met'); // 6 kPa is 61 cmH2O
    expect(best({ snip: pressure(38), mip: reading(3, 'kPa') })).toBe('met'); // 3 kPa is 31 cmH2O
  });

  test('one done: that one; none: cannot tell', () => {
    expect(best({ snip: pressure(38) })).toBe('met');
    expect(best({ mip: pressure(41) })).toBe('not-met');
    expect(best({})).toBe('cannot-tell');
  });

  test('for every other mark the two stay apart', () => {
    expect(result('chest-nmd-snip-weaker-than-40', seen({ mip: pressure(20) }))).toBe('cannot-tell');
    expect(result('chest-nmd-mip-weaker-than-40', seen({ snip: pressure(20) }))).toBe('cannot-tell');
  });

  test('the flags are those of the reading that was taken', () => {
    const both = { snip: pressure(38, { flags: ['blocked-nose'] }), mip: pressure(62) };
    expect(finding('nice-mnd-snip-or-mip-lt-40', seen(both))?.flags).toEqual([]);
    expect(finding('nice-mnd-snip-or-mip-lt-40', seen({ snip: both.snip }))?.flags).toEqual([
      { measure: 'snip-or-mip-best', flag: 'blocked-nose' },
    ]);
  });
});

describe('rule 8: a fall is held per 3 months', () => {
  const months = (value: number) => ({ value, unit: 'mo{span}' });
  const fall = (later: number, after: number) =>
    calculate('decline-rate', {
      test: 'snip',
      sameMethod: 'yes',
      readings: [
        { time: 0, value: 60 },
        { time: months(after), value: later },
      ],
    });

  test('60 then 48 three months later is 12 per 3 months, more than 10; over six months it is 6', () => {
    for (const [after, expected] of [
      [3, 'met'],
      [6, 'not-met'],
    ] as const) {
      const outcome = fall(48, after);
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const { value, unit } = outcome.results.fallInThreeMonths ?? { value: Number.NaN, unit: '%' };
      const taken = { 'snip-or-mip-fall-per-3-months': reading(value, unit, { from: ['snip'] }) };
      expect(result('nice-mnd-snip-or-mip-fall-gt-10-per-3-months', seen(taken))).toBe(expected);
    }
  });

  test('less than a month apart there is no fall to hold, so the mark cannot be told', () => {
    expect(fall(48, 0.9).ok).toBe(false);
    expect(result('nice-mnd-snip-or-mip-fall-gt-10-per-3-months', visit())).toBe('cannot-tell');
  });

  test('a slope a month is not a fall per 3 months', () => {
    const slope = { 'snip-or-mip-fall-per-3-months': reading(12, 'cm[H2O]/mo') };
    expect(result('nice-mnd-snip-or-mip-fall-gt-10-per-3-months', seen(slope))).toBe('cannot-tell');
  });

  test('a rise is no fall, and its sign is kept', () => {
    const rise = { 'snip-or-mip-fall-per-3-months': reading(-15, 'cm[H2O]/(3.mo)') };
    expect(result('nice-mnd-snip-or-mip-fall-gt-10-per-3-months', seen(rise))).toBe('not-met');
  });
});

describe('rules 9 and 13: a flagged reading is evaluated, and never without its flag', () => {
  test('a leaky FVC below 50 is met with the flag in the same sentence', () => {
    const leaky = seen({ 'fvc-percent': percent(48, { flags: ['leak'] }) });
    const one = finding('nice-mnd-fvc-lt-50', leaky);
    expect(one?.result).toBe('met');
    expect(one?.flags).toEqual([{ measure: 'fvc-percent', flag: 'leak' }]);
    expect(explain(one as Finding, measures)).toContain('flagged: leak');
  });

  // One rule: a flagged reading shows only what its error cannot have made.
  test.each<[string, string, Record<string, Reading>, Truth, RegExp]>([
    [
      'a leak, above',
      'nice-mnd-fvc-lt-50',
      { 'fvc-percent': percent(55, { flags: ['leak'] }) },
      'not-met',
      /is not below 50/,
    ],
    [
      'a leak, below',
      'nice-mnd-fvc-lt-50',
      { 'fvc-percent': percent(48, { flags: ['leak'] }) },
      'met',
      /reads below 50.*may be higher/,
    ],
    [
      'a doubtful height, above',
      'nice-mnd-fvc-lt-50',
      { 'fvc-percent': percent(55, { flags: ['height-doubtful'] }) },
      'cannot-tell',
      /cannot rule out a value below 50/,
    ],
    [
      'a blocked nose, below',
      'aan-als-snp-lt-40',
      { snip: pressure(38, { flags: ['blocked-nose'] }) },
      'met',
      /reads below 40.*may be higher/,
    ],
    [
      'a spike in a cough, above',
      'aarc-nmd-pcf-lt-270-cough-assist',
      { 'peak-cough-flow': reading(300, 'L/min', { flags: ['spike'] }) },
      'cannot-tell',
      /cannot rule out a value below 270/,
    ],
    [
      'carbon dioxide soon after NIV, not above',
      'nice-mnd-paco2-gt-6-kpa-within-1-week',
      { paco2: reading(5.6, 'kPa', { flags: ['just-off-niv'] }) },
      'cannot-tell',
      /cannot rule out a value above 6/,
    ],
    [
      'carbon dioxide soon after NIV, above',
      'nice-mnd-paco2-gt-6-kpa-within-1-week',
      { paco2: reading(6.4, 'kPa', { flags: ['just-off-niv'] }) },
      'met',
      /is above 6/,
    ],
  ])('%s', (_, id, readings, expected, words) => {
    const one = finding(id, seen(readings));
    expect(one?.result).toBe(expected);
    expect(explain(one as Finding, measures)).toMatch(words);
    expect(explain(one as Finding, measures)).toContain('flagged: ');
  });

  test('no flagged reading that may read low is ever plainly below, whatever the criterion', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        for (const one of evaluate(someone, evidence))
          for (const part of one.parts) {
            const measure = measures[part.measure];
            if (part.truth === 'cannot-tell' || part.reading === undefined || measure?.kind !== 'number') continue;
            if (doubtsIn(part.truth, part.condition.comparator, part.reading, measure, measures).length === 0) continue;
            // What is left in doubt asks for attention and says so; it never reassures.
            expect(part.truth).toBe(
              one.criterion.attentionWhen === 'not-met' && part.role !== 'also' ? 'not-met' : 'met',
            );
            if (one.result === 'met') expect(explain(one, measures)).toMatch(/ reads? .*true value may be/s);
          }
      }),
      { numRuns: 60 },
    );
  });

  test('a flag turns no result around: at most it takes back an all-clear; and every finding on the reading carries it', () => {
    fc.assert(
      fc.property(anyVisit, (typed) => {
        // An answer to a whole beside an answer to its part contradict each other whatever a reading says: another test.
        const signs = Object.fromEntries(
          Object.entries(typed.signs).filter(([id]) => {
            const measure = measures[id];
            return measure?.kind === 'sign' && !measure.anyOf && !measure.allOf && measure.impliedBy.length === 0;
          }),
        );
        const someone = { ...typed, signs };
        const bare = Object.fromEntries(
          Object.entries(someone.readings).map(([id, { flags, ...rest }]) => [id, rest]),
        ) as Record<string, Reading>;
        const findings = evaluate(someone, evidence);
        const unflagged = evaluate({ ...someone, readings: bare }, evidence);
        for (const [at, { result, criterion }] of findings.entries()) {
          const without = unflagged[at]?.result;
          if (result !== without && !hasException(criterion)) expect([result, without]).toContain('cannot-tell');
        }
        for (const { parts, flags } of findings)
          expect(flags.length).toBe(parts.reduce((sum, { reading }) => sum + (reading?.flags?.length ?? 0), 0));
      }),
      { numRuns: 60 },
    );
  });

  test('a met finding says every flag it carries', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        for (const one of evaluate(someone, evidence)) {
          if (one.result !== 'met') continue;
          const rests = one.parts.filter(({ truth, reading }) => truth === 'met' && (reading?.flags?.length ?? 0) > 0);
          const sentence = explain(one, measures);
          expect(sentence.split('flagged:').length - 1).toBe(rests.length);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('rule 10: findings of different sources stand side by side', () => {
  test('a sniff of 38 is told by every source that names it, none chosen and none averaged', () => {
    const met = evaluate(seen({ snip: pressure(38) }), evidence)
      .filter(({ criterion, result }) => result === 'met' && criterion.measure.startsWith('snip'))
      .map(({ criterion }) => criterion.id);
    expect(met).toEqual(
      expect.arrayContaining([
        'nice-mnd-snip-or-mip-lt-40',
        'aan-als-snp-lt-40',
        'ca-als-snip-le-40',
        'chest-nmd-snip-weaker-than-40',
      ]),
    );
  });

  test('two sources that disagree both stand: at exactly 40 Canada is met and CHEST is not', () => {
    const forty = seen({ snip: pressure(40) });
    expect([result('ca-als-snip-le-40', forty), result('chest-nmd-snip-weaker-than-40', forty)]).toEqual([
      'met',
      'not-met',
    ]);
  });

  test('each mark is told at most once, and what one mark says does not depend on the others', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const findings = evaluate(someone, evidence);
        expect(new Set(findings.map(({ criterion }) => criterion.id)).size).toBe(findings.length);
        for (const one of findings.filter((_, place) => place % 17 === 0))
          expect(summaries(evaluate(someone, { ...evidence, criteria: [one.criterion] }))).toEqual(summaries([one]));
      }),
      { numRuns: 30 },
    );
  });
});

describe('rule 11: how the CO2 was taken', () => {
  const gas = (method: string | undefined) => seen({ paco2: reading(50, 'mm[Hg]', { method }) });

  test.each(['arterial', 'capillary', undefined])('%s feeds a PaCO2 mark', (method) => {
    expect(result('nice-mnd-paco2-gt-6-kpa-within-1-week', gas(method))).toBe('met');
  });

  test.each(['venous', 'end-tidal', 'transcutaneous'])('%s does not', (method) => {
    expect(finding('nice-mnd-paco2-gt-6-kpa-within-1-week', gas(method))?.parts[0]?.obstacle).toEqual({
      kind: 'method',
      method,
    });
  });

  test('a mark that takes any method takes end-tidal, skin and blood, and a blood value stands in for it', () => {
    const onNiv = { 'already-on-niv': 'present' } as const;
    const any = (readings: Record<string, Reading>) =>
      result('dmd2018-daytime-pco2-gt-45', seen(readings, onNiv, { disease: 'dmd' }));
    for (const method of ['arterial', 'capillary', 'end-tidal', 'transcutaneous'])
      expect(any({ 'awake-co2-any-method': reading(46, 'mm[Hg]', { method }) })).toBe('met');
    expect(any({ paco2: reading(46, 'mm[Hg]') })).toBe('met');
    expect(any({ 'awake-co2-any-method': reading(46, 'mm[Hg]', { method: 'venous' }) })).toBe('cannot-tell');
  });

  test('where several may stand in, the first that was taken does, and not the larger', () => {
    const either = {
      ...numberMeasure('awake-co2-any-method'),
      readFrom: { rule: 'first' as const, measures: ['paco2', 'nocturnal-paco2'] },
    };
    const above = madeUp({ measure: 'either-co2', comparator: '>', value: 45, unit: 'mm[Hg]' });
    const both = seen({ paco2: reading(40, 'mm[Hg]'), 'nocturnal-paco2': reading(55, 'mm[Hg]') });
    expect(resultOf(above, both, { 'either-co2': either })).toBe('not-met');
    expect(resultOf(above, seen({ 'nocturnal-paco2': reading(55, 'mm[Hg]') }), { 'either-co2': either })).toBe('met');
  });

  test('an end-tidal value never feeds an arterial mark', () => {
    const endTidal = seen({ 'awake-co2-any-method': reading(60, 'mm[Hg]', { method: 'end-tidal' }) });
    expect(result('us-rad-paco2-ge-45', endTidal)).toBe('cannot-tell');
  });
});

describe('rule 12: rows that only inform are never evaluated', () => {
  test('info, at, consider and range give no finding, whatever was measured', () => {
    const silent = criteria.filter((criterion) => !isEvaluated(criterion)).map(({ id }) => id);
    expect(silent.length).toBeGreaterThan(5);
    fc.assert(
      fc.property(anyVisit, (someone) =>
        evaluate(someone, evidence).every(({ criterion }) => !silent.includes(criterion.id)),
      ),
      { numRuns: 30 },
    );
  });

  test('where a source cannot tell at its own number, neither can we', () => {
    const assisted = (value: number) =>
      finding(
        'evidence-pcf-160-extubation',
        seen({ 'assisted-peak-cough-flow': reading(value, 'L/min') }, { 'breathing-tube-removal-planned': 'present' }),
      );
    expect(assisted(159.9)?.result).toBe('met');
    expect(assisted(160)).toMatchObject({ result: 'cannot-tell', parts: [{ obstacle: { kind: 'at-threshold' } }, {}] });
    expect(assisted(160.1)?.result).toBe('not-met');
  });

  test('every mark that is evaluated is about something a visit can measure or ask', () => {
    const kinds = criteria.filter(isEvaluated).map(({ measure }) => measures[measure]?.kind);
    expect(new Set(kinds)).toEqual(new Set(['number', 'sign']));
  });

  test('the months between tests are held like any number, and unknown when nobody noted them', () => {
    const interval = (months: number) =>
      result('chest-nmd-pft-at-least-every-6-months', seen({ 'interval-months': reading(months, 'mo') }));
    expect([interval(6), interval(6.1)]).toEqual(['met', 'not-met']);
    expect(result('chest-nmd-pft-at-least-every-6-months', visit())).toBe('cannot-tell');
  });
});

describe('rule 14: support already in place does not silence a mark', () => {
  test.each(supportStatuses)('night NIV %s: the mark is still met, and carries the status', (status) => {
    const low = visit({ readings: { 'fvc-percent': percent(40) }, supports: { 'night-ventilation': status } });
    expect(finding('chest-nmd-fvc-lt-50', low)).toMatchObject({ result: 'met', support: status });
  });

  test('a mark of another decision does not carry it', () => {
    const low = visit({
      readings: { 'peak-cough-flow': reading(200, 'L/min') },
      supports: { 'night-ventilation': 'in-place' },
    });
    expect(finding('aarc-nmd-pcf-lt-270-cough-assist', low)?.support).toBeUndefined();
  });

  test('no status of any support changes any result, but for what is about being on ventilation', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const { supports, ...bare } = someone;
        const results = (one: Visit) =>
          evaluate(one, evidence)
            .filter(({ criterion }) => !onVentilation(criterion))
            .map(({ result }) => result);
        expect(results(someone)).toEqual(results(bare));
      }),
      { numRuns: 40 },
    );
  });
});

describe('pressures', () => {
  test('the sign of a pressure changes nothing, for any mark', () => {
    const signed = Object.entries(measures).flatMap(([id, measure]) =>
      measure.kind === 'number' && measure.magnitude ? [id] : [],
    );
    expect(signed).toEqual(expect.arrayContaining(['snip', 'mip', 'mep', 'snip-or-mip-best', 'suction-pressure']));
    fc.assert(
      fc.property(
        fc.constantFrom(...signed).chain((id) => fc.tuple(fc.constant(id), anyReading(id))),
        anyVisit,
        ([id, taken], someone) => {
          const typedAs = (value: number) =>
            summaries(evaluate({ ...someone, readings: { ...someone.readings, [id]: { ...taken, value } } }, evidence));
          expectSame(typedAs(-taken.value), typedAs(taken.value));
        },
      ),
      { numRuns: 60 },
    );
  });

  test('the sign of a change is kept: a fall of -12 is a rise', () => {
    expect(numberMeasure('fvc-drop-supine-percent').magnitude).toBeUndefined();
    const rise = visit({ disease: 'pompe', readings: { 'fvc-drop-supine-percent': percent(-30) } });
    expect(result('evidence-vc-fall-supine-gt-25-diaphragm', rise)).toBe('not-met');
  });
});

describe('signs made of signs', () => {
  const symptoms = (signs: Record<string, Sign>) => result('nice-mnd-symptoms-or-signs-present', visit({ signs }));
  const whole = measures['symptoms-or-signs-of-respiratory-impairment'];
  const list = whole?.kind === 'sign' ? (whole.anyOf ?? []) : [];

  test('one sign of a list makes the list present', () => {
    expect(list.length).toBeGreaterThan(15);
    for (const sign of list) expect(symptoms({ [sign]: 'present' })).toBe('met');
  });

  test('a list is absent only when every sign of it was asked and is absent', () => {
    const none = Object.fromEntries(list.map((sign) => [sign, 'absent' as const]));
    expect(symptoms(none)).toBe('not-met');
    const { [list[0] ?? '']: _, ...oneOpen } = none;
    expect(symptoms(oneOpen)).toBe('cannot-tell');
  });

  test('an answer to the whole goes before its parts, but "none of these" never outweighs one that is there', () => {
    const whole = 'symptoms-or-signs-of-respiratory-impairment';
    expect(symptoms({ [whole]: 'present', orthopnoea: 'absent' })).toBe('met');
    expect(symptoms({ [whole]: 'absent' })).toBe('not-met');
    expect(symptoms({ [whole]: 'absent', orthopnoea: 'present' })).toBe('met');
  });

  test('all of: both are needed, one absent settles it', () => {
    const both = (signs: Record<string, Sign>) => result('fallback-chest-infection-with-weak-cough', visit({ signs }));
    expect(both({ 'respiratory-infection': 'present', 'weak-cough': 'present' })).toBe('met');
    expect(both({ 'respiratory-infection': 'present' })).toBe('cannot-tell');
    expect(both({ 'respiratory-infection': 'absent' })).toBe('not-met');
    expect(both({ 'respiratory-infection': 'present', 'weak-cough': 'absent' })).toBe('cannot-tell');
    expect(both({ 'respiratory-infection': 'present', 'weak-cough': 'absent', 'ineffective-cough': 'absent' })).toBe(
      'not-met',
    );
  });

  test('one of: any sign will do, and one unknown keeps it open', () => {
    const stacking = (signs: Record<string, Sign>) =>
      result('nice-mnd-cough-bulbar-assisted-stacking', visit({ signs: { 'ineffective-cough': 'present', ...signs } }));
    expect(stacking({ 'bulbar-dysfunction': 'present' })).toBe('met');
    expect(stacking({ 'unassisted-breath-stacking-failed': 'present' })).toBe('met');
    expect(stacking({ 'bulbar-dysfunction': 'absent' })).toBe('cannot-tell');
    expect(stacking({ 'bulbar-dysfunction': 'absent', 'unassisted-breath-stacking-failed': 'absent' })).toBe('not-met');
  });

  test('every mark on a sign is met by that sign and not by its opposite', () => {
    for (const criterion of criteria.filter(({ comparator }) => comparator === 'present' || comparator === 'absent')) {
      const alone: Criterion = {
        ...criterion,
        disease: 'als',
        population: 'any',
        sex: undefined,
        minAgeYears: undefined,
        maxAgeYears: undefined,
        alternative: undefined,
        alsoRequires: [],
      };
      const answered = (sign: Sign) => resultOf(alone, visit({ signs: { [criterion.measure]: sign } }));
      const opposite = criterion.comparator === 'present' ? 'absent' : 'present';
      expect([criterion.id, answered(criterion.comparator as Sign)]).toEqual([criterion.id, 'met']);
      expect([criterion.id, answered(opposite)]).toEqual([criterion.id, 'not-met']);
    }
  });
});

describe('what holds for everybody', () => {
  test('the order of marks, readings and signs changes no finding', () => {
    const turned = <T>(record: Readonly<Record<string, T>>) => Object.fromEntries(Object.entries(record).reverse());
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const backwards = { ...someone, readings: turned(someone.readings), signs: turned(someone.signs) };
        const there = summaries(evaluate(someone, evidence));
        const back = summaries(evaluate(backwards, { ...evidence, criteria: [...criteria].reverse() }));
        expectSame(back.reverse(), there);
      }),
      { numRuns: 60 },
    );
  });

  test('evaluating changes neither the visit nor the marks', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        const before = structuredClone({ someone, criteria });
        evaluate(someone, evidence);
        expect({ someone, criteria }).toEqual(before);
      }),
      { numRuns: 10 },
    );
  });

  // The better of two readings, and a whole answered beside its parts, replace what was there: rule 7 and the measure say so.
  const replaced = new Set(
    Object.entries(measures).flatMap(([id, measure]) => {
      if (measure.kind === 'number') return measure.readFrom ? [id, ...measure.readFrom.measures] : [];
      if (measure.kind !== 'sign') return [];
      // Of two gases the worse one answers the question.
      return [...(measure.anyOf || measure.allOf ? [id] : []), ...measure.impliedBy.map((rule) => rule.measure)];
    }),
  );
  // Where an answer and a reading disagree the more serious one is used, and an exception nobody answered counts as met:
  // there one thing more may turn a finding, and the sheet says so.
  test('measuring or asking one thing more never turns a known finding around, unless the two disagree', () => {
    fc.assert(
      fc.property(anyVisit, fc.infiniteStream(fc.boolean()), (more, coins) => {
        fc.pre(contradictions(more, measures).length === 0);
        const unchanged = <T>(record: Readonly<Record<string, T>>) =>
          Object.fromEntries(Object.entries(record).filter(([id]) => replaced.has(id) || coins.next().value === true));
        const less = { ...more, readings: unchanged(more.readings), signs: unchanged(more.signs) };
        const after = new Map(evaluate(more, evidence).map(({ criterion, result }) => [criterion.id, result]));
        for (const { criterion, result } of evaluate(less, evidence))
          if (result !== 'cannot-tell' && !hasException(criterion) && !onVentilation(criterion))
            expect([criterion.id, after.get(criterion.id)]).toEqual([criterion.id, result]);
      }),
      { numRuns: 100 },
    );
  });

  test('a finding that cannot be told names what would settle it, and no other finding names anything', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        for (const { result, missing } of evaluate(someone, evidence)) {
          expect(missing.length > 0).toBe(result === 'cannot-tell');
          expect(new Set(missing).size).toBe(missing.length);
        }
      }),
      { numRuns: 60 },
    );
  });

  test('every unit of every mark converts into the units its measure is typed in', () => {
    const numbers = criteria.flatMap((criterion) => [
      criterion as { measure: string; unit?: UnitCode | undefined },
      ...(criterion.alternative ? [criterion.alternative] : []),
      ...criterion.alsoRequires.flatMap((requirement) => ('anyOf' in requirement ? [] : [requirement])),
    ]);
    for (const { measure, unit } of numbers) {
      const found = measures[measure];
      if (found?.kind !== 'number' || unit === undefined) continue;
      for (const accepted of [found.unit, ...found.accepts]) expect(convertible(accepted, unit)).toBe(true);
    }
    expect(row('nice-mnd-paco2-gt-6-kpa-within-1-week').unit).toBe('kPa');
  });
});
