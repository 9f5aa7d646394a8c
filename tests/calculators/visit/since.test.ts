/** Expected values are worked out by hand from the formula beside each test; the line itself is tested in `trend/`. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dateOf, dayCount } from '../../../calculators/calendar.ts';
import type { Reading, Visit } from '../../../calculators/domain/visit.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { fitLine, halfWidthOn, valueOn } from '../../../calculators/trend/line.ts';
import { chanceOf, repeatabilityOf } from '../../../calculators/visit/repeatability.ts';
import { fallsOf, type PastVisit, since, type Trend } from '../../../calculators/visit/since.ts';
import { readEvidence } from '../../read-content.ts';

const evidence = readEvidence();
const { measures, criteria } = evidence;
const als = { disease: 'als', ageYears: 61, sex: 'female', heightCm: 164 } as const;

const at = (
  date: string,
  readings: Visit['readings'],
  set = 'gli-2022-global',
  person: Partial<Visit> = als,
): PastVisit => ({ date, set, visit: { ...person, readings, signs: {} } });
const percent = (value: number, more: Partial<Reading> = {}): Reading => ({ value, unit: '%', ...more });
const pressure = (value: number, more: Partial<Reading> = {}): Reading => ({ value, unit: 'cm[H2O]', ...more });
const days = (start: string, ...after: number[]) => after.map((day) => dateOf(dayCount(start) + day));

function trend(measure: string, visits: PastVisit[], mark?: string): Trend {
  const found = since(visits, measures, mark === undefined ? [] : criteria.filter(({ id }) => id === mark)).find(
    (one) => one.measure === measure,
  );
  if (!found) throw new Error(`no trend of ${measure}`);
  return found;
}

describe('days without a clock', () => {
  test.each([
    ['2026-11-25', '2026-11-25', 0],
    ['2026-02-28', '2026-03-01', 1],
    ['2028-02-28', '2028-03-01', 2],
    ['1999-12-31', '2000-01-01', 1],
    // 24 leap days among 2004 to 2096; 2100 has none
    ['2000-03-01', '2100-03-01', 36_524],
  ])('from %s to %s are %i days', (from, to, expected) => {
    expect(dayCount(to) - dayCount(from)).toBe(expected);
    expect(dateOf(dayCount(to))).toBe(to);
  });
});

describe('change since last time', () => {
  const [first = '', second = ''] = days('2026-08-01', 0, 61);

  test('from 80 to 74 per cent predicted is -6 points, -7.5 per cent, and -2.99 points a month', () => {
    const found = trend('fvc-percent', [
      at(first, { 'fvc-percent': percent(80) }),
      at(second, { 'fvc-percent': percent(74) }),
    ]);
    expect(found.change).toMatchObject({ value: -6, percent: -7.5, from: first, to: second, days: 61 });
    // -6 / 61 days x 30.4375 days in a month
    expect(found.perMonth?.value).toBeCloseTo(-2.9939, 4);
    expect(found.perMonth).not.toHaveProperty('low');
    expect(found.perMonth?.readings).toBe(2);
  });

  test('80, 71 and 60 per cent 50 days apart fall by 6.1 points a month, and the interval is 1.6 to 10.6', () => {
    const [one = '', two = '', three = ''] = days('2026-05-01', 0, 50, 100);
    const found = trend('fvc-percent', [
      at(one, { 'fvc-percent': percent(80) }),
      at(two, { 'fvc-percent': percent(71) }),
      at(three, { 'fvc-percent': percent(60) }),
    ]);
    // Slope -0.2 a day. Distances from the line -1/3, 2/3, -1/3: scatter sqrt(2/3 / 1) = 0.8165; t for 1 degree of freedom
    // 12.706; over sqrt(5000 days^2): 0.14672 a day; all times 30.4375
    expect(found.perMonth?.value).toBeCloseTo(-6.0875, 4);
    expect(found.perMonth?.low).toBeCloseTo(-6.0875 - 4.4657, 3);
    expect(found.perMonth?.high).toBeCloseTo(-6.0875 + 4.4657, 3);
  });

  test('a change from nothing has no per cent: from no ventilation to nine hours', () => {
    const hours = (value: number): Reading => ({ value, unit: 'h/d' });
    const found = trend('niv-hours', [at(first, { 'niv-hours': hours(0) }), at(second, { 'niv-hours': hours(9) })]);
    expect(found.change?.value).toBe(9);
    expect(found.change).not.toHaveProperty('percent');
  });

  test('another reference set for spirometry leaves the saturations comparable', () => {
    const air = (value: number): Visit['readings'] => ({ spo2: percent(value, { gas: 'air' }) });
    const found = trend('spo2', [at(first, air(96)), at(second, air(93), 'nhanes3-1999')]);
    expect(found.change?.value).toBe(-3);
  });

  test('one thing that nobody recorded is said, not only two', () => {
    const litres = (value: number): Visit['readings'] => ({ 'vc-litres': { value, unit: 'L', method: 'forced' } });
    expect(trend('vc-litres', [at(first, litres(2.4)), at(second, litres(2.1))]).notes.join('; ')).toContain(
      'Not recorded each time: posture',
    );
  });

  test('litres of a child of 17 can hide a fall, and of an adult of 18 they cannot by growing', () => {
    const notes = (ageYears: number) =>
      trend(
        'vc-litres',
        [first, second].map((date) =>
          at(date, { 'vc-litres': { value: 2, unit: 'L', posture: 'upright' } }, 'gli-2022-global', {
            ...als,
            ageYears,
          }),
        ),
      ).notes.join('; ');
    expect(notes(17)).toContain('as a child grows');
    expect(notes(18)).not.toContain('as a child grows');
  });

  test('a sniff typed as -48 and then as 42 has fallen by 6, not risen by 90', () => {
    expect(trend('snip', [at(first, { snip: pressure(-48) }), at(second, { snip: pressure(42) })]).change?.value).toBe(
      -6,
    );
  });

  test('a reading in kPa is told in the unit of the measure', () => {
    const found = trend('snip', [at(first, { snip: { value: 5, unit: 'kPa' } }), at(second, { snip: pressure(45) })]);
    // 5 kPa = 5000 / 98.0665 cmH2O
    expect(found.change?.value).toBeCloseTo(45 - 50.9858, 3);
  });

  test('one reading is no trend', () => {
    expect(since([at(first, { snip: pressure(40) })], measures)).toEqual([]);
  });

  test('getting older is no change, nor is the length of a recording or the time since a device was started', () => {
    const seen = (hours: number, started: number) => ({
      'recording-hours': { value: hours, unit: 'h' as const },
      'days-since-start': { value: started, unit: 'd' as const },
      snip: pressure(40),
    });
    const found = since([at(first, seen(7, 60)), at(second, seen(6, 121))], measures);
    expect(found.map(({ measure }) => measure)).toEqual(['snip', 'snip-or-mip-best']);
  });

  test('visits may come in any order', () => {
    const visits = [at(second, { snip: pressure(40) }), at(first, { snip: pressure(50) })];
    expect(trend('snip', visits).change?.value).toBe(-10);
  });
});

describe('beyond repeatability', () => {
  test.each([
    ['vc-litres', 2, 1.79, false],
    ['vc-litres', 2, 1.78, true],
    // 11 per cent of 1 L is 0.11 L: less than two blows of one session may differ
    ['vc-litres', 1, 0.86, false],
    ['vc-litres', 1, 0.85, true],
    ['fvc-percent', 80, 72, false],
    ['fvc-percent', 80, 71, true],
    // 11 per cent of 100
    ['fvc-percent', 100, 89.05, false],
    ['fvc-percent', 100, 89, true],
    ['mip', 50, 35, false],
    ['mip', 50, 34, true],
    ['mep', 60, 43, false],
    ['mep', 60, 42, true],
  ])('%s from %f to %f: %s', (measure, from, to, beyond) => {
    expect(repeatabilityOf(measure, from, to)).toMatchObject({ known: true, beyond });
  });

  test.each(['snip', 'peak-cough-flow', 'paco2', 'spo2', 'weight'])('of %s is not known, and says so', (measure) => {
    const found = repeatabilityOf(measure, 50, 10);
    expect(found.known).toBe(false);
    if (!found.known) expect(found.words).toMatch(/^Not known/);
  });

  test.each([
    // percent of the reading, and never less than two blows of one session
    ['fvc-percent', 60, 6.6],
    ['vc-litres', 2, 0.22],
    ['vc-litres', 1, 0.15],
    ['mip', 50, 15.42],
    ['mep', 50, 17.84],
    // half the distance of the limits of agreement, 15.20 and -27.32; 1.96 x sqrt(2) x 1.06 mmHg
    ['snip', 50, 21.26],
    ['paco2', 45, 2.93817],
    ['morning-earlobe-pco2', 6, 2.93817 * 0.133322387415],
  ])('an interval about %s of %f rests on a difference of %f at least', (measure, reading, difference) => {
    const found = chanceOf(measure, reading);
    expect(found?.difference).toBeCloseTo(difference, 5);
    expect(found?.found).not.toBe('');
    expect(found?.source).toMatch(/\d{4}/);
  });

  test.each(['peak-cough-flow', 'spo2', 'bicarbonate', 'niv-hours'])(
    'about %s nothing is published to rest on',
    (measure) => {
      expect(chanceOf(measure, 50)).toBeUndefined();
    },
  );

  test('of the better of sniff and mouth pressure it is that of the test that was taken', () => {
    const [one = '', two = ''] = days('2026-05-01', 0, 60);
    const best = (test: 'snip' | 'mip') =>
      trend('snip-or-mip-best', [at(one, { [test]: pressure(60) }), at(two, { [test]: pressure(40) })]).change
        ?.repeatability.known;
    expect([best('snip'), best('mip')]).toEqual([false, true]);
  });

  test('each figure names in whom it was found and where', () => {
    for (const measure of ['vc-litres', 'fvc-percent', 'mip', 'mep']) {
      const found = repeatabilityOf(measure, 50, 40);
      if (found.known) {
        expect(found.found).not.toBe('');
        expect(found.source).toMatch(/\d{4}/);
      }
    }
  });
});

describe('readings that cannot be compared', () => {
  const [first = '', second = '', third = ''] = days('2026-05-01', 0, 60, 120);

  test('a change of posture starts the series anew and says so', () => {
    const found = trend('vc-litres', [
      at(first, { 'vc-litres': { value: 3, unit: 'L', posture: 'upright' } }),
      at(second, { 'vc-litres': { value: 2.8, unit: 'L', posture: 'upright' } }),
      at(third, { 'vc-litres': { value: 1.9, unit: 'L', posture: 'supine' } }),
    ]);
    expect(found).not.toHaveProperty('change');
    expect(found).not.toHaveProperty('perMonth');
    expect(found.notes).toContain(
      `Counted from ${third} on, because the reading of ${second} differs in posture. A change of posture, method or reference set can look like a fall or hide one`,
    );
  });

  test('a change of reference set makes no fall of per cent predicted, and leaves litres alone', () => {
    const visits = [
      at(first, { 'fvc-percent': percent(80), 'vc-litres': { value: 3, unit: 'L', posture: 'upright' } }, 'gli-2012'),
      at(
        second,
        { 'fvc-percent': percent(72), 'vc-litres': { value: 2.9, unit: 'L', posture: 'upright' } },
        'gli-2022-global',
      ),
    ];
    expect(trend('fvc-percent', visits)).not.toHaveProperty('change');
    expect(trend('fvc-percent', visits).notes.join(' ')).toContain('reference set');
    expect(trend('vc-litres', visits).change?.value).toBeCloseTo(-0.1, 12);
  });

  test('a saturation on oxygen is not compared with one on air', () => {
    const found = trend('spo2', [
      at(first, { spo2: percent(93, { gas: 'air' }) }),
      at(second, { spo2: percent(97, { gas: 'oxygen' }) }),
    ]);
    expect(found).not.toHaveProperty('change');
    expect(found.notes.join(' ')).toContain('what was breathed');
  });

  test('the better of sniff and mouth pressure is no series when the test changes', () => {
    const found = trend('snip-or-mip-best', [at(first, { mip: pressure(60) }), at(second, { snip: pressure(45) })]);
    expect(found).not.toHaveProperty('change');
    expect(found.notes.join(' ')).toContain('test');
  });

  test('less than a month apart gives a change and no rate; the 1st of February to the 1st of March is a month', () => {
    const short = trend('snip', [at('2026-11-01', { snip: pressure(50) }), at('2026-11-28', { snip: pressure(45) })]);
    expect(short.change?.value).toBe(-5);
    expect(short).not.toHaveProperty('perMonth');
    expect(short.notes.join(' ')).toContain('less than 1 month');
    expect(
      trend('snip', [at('2026-02-01', { snip: pressure(50) }), at('2026-03-01', { snip: pressure(45) })]).perMonth,
    ).toBeDefined();
  });

  test('in Guillain-Barr\u00e9 syndrome no rate a month is worked out', () => {
    const found = trend('vc-litres', [
      at(first, { 'vc-litres': { value: 3, unit: 'L', posture: 'upright' } }, undefined, { disease: 'gbs' }),
      at(second, { 'vc-litres': { value: 2, unit: 'L', posture: 'upright' } }, undefined, { disease: 'gbs' }),
    ]);
    expect(found).not.toHaveProperty('perMonth');
    expect(found.notes.join(' ')).toContain('In acute disease');
  });

  test('a flagged test stands in the notes', () => {
    const found = trend('fvc-percent', [
      at(first, { 'fvc-percent': percent(80) }),
      at(second, { 'fvc-percent': percent(70, { flags: ['leak'] }) }),
    ]);
    expect(found.notes.join(' ')).toContain(`Some tests were flagged (${second})`);
  });
});

describe('when a threshold could be reached', () => {
  const mark = 'nice-mnd-fvc-lt-50';
  const dates = days('2026-02-01', 0, 60, 121, 180, 240);
  const visits = (values: number[], more: Partial<Reading> = {}) =>
    values.map((value, place) => at(dates[place] ?? '', { 'fvc-percent': percent(value, more) }));
  const crossing = (list: PastVisit[], measure = 'fvc-percent', id = mark) => trend(measure, list, id).crossings[0];

  test('two readings give no date', () => {
    expect(crossing(visits([80, 70]))).toMatchObject({
      state: 'no-date',
      why: expect.stringContaining('only two readings'),
    });
  });

  test('three or more give the earliest day, the day of the line, and the latest where there is one', () => {
    const values = [82, 76.5, 72, 65.8, 60.9];
    const found = crossing(visits(values));
    if (found?.state !== 'dated') throw new Error(JSON.stringify(found));
    const line = fitLine(
      values.map((value, place) => ({ day: dayCount(dates[place] ?? ''), value })),
      (mean) => 0.11 * mean,
    );
    if (!line) throw new Error('no line');
    const on = dayCount(found.line);
    expect(valueOn(line, on)).toBeCloseTo(50, 0);
    // At each end the edge of the 95 per cent interval is at the threshold, to the day.
    const edge = (date: string, sign: 1 | -1) =>
      valueOn(line, dayCount(date)) + sign * (halfWidthOn(line, dayCount(date)) ?? 0);
    expect(edge(found.earliest, -1)).toBeGreaterThanOrEqual(50 - 1e-6);
    expect(edge(dateOf(dayCount(found.earliest) + 1), -1)).toBeLessThan(50);
    expect(edge(found.latest ?? '', 1)).toBeLessThanOrEqual(50 + 1e-6);
    expect(edge(dateOf(dayCount(found.latest ?? '') - 1), 1)).toBeGreaterThan(50);
    expect(found.earliest < found.line && found.line < (found.latest ?? '')).toBe(true);
  });

  test('readings exactly on a line from 80 by 10 in 20 days reach 50 on day 60; within 28 days of March there is no rate', () => {
    const exact = days('2026-03-01', 0, 14, 28).map((date, place) =>
      at(date, { 'fvc-percent': percent(80 - place * 7) }),
    );
    const month = days('2026-03-01', 0, 20, 40).map((date, place) =>
      at(date, { 'fvc-percent': percent(80 - place * 10) }),
    );
    expect(crossing(exact)).toMatchObject({ state: 'no-date', why: expect.stringContaining('no rate') });
    expect(crossing(month)).toMatchObject({ state: 'dated', line: days('2026-03-01', 60)[0] });
  });

  test('a threshold that is reached needs no date', () => {
    expect(crossing(visits([60, 55, 49]))?.state).toBe('crossed');
    // 'below 50' is not crossed by 50 itself
    expect(crossing(visits([60, 55, 50]))?.state).not.toBe('crossed');
  });

  test('a rising carbon dioxide is looked ahead to from below', () => {
    const rising = dates
      .slice(0, 4)
      .map((date, place) =>
        at(date, { paco2: { value: 38 + place * 1.5 + (place % 2) * 0.1, unit: 'mm[Hg]', method: 'arterial' } }),
      );
    const found = crossing(rising, 'paco2', 'nice-mnd-paco2-gt-6-kpa-within-1-week');
    expect(found?.state).toBe('dated');
    // 6 kPa in the unit of the measure
    expect(found?.mark).toBeCloseTo(
      measures.paco2?.kind === 'number' && measures.paco2.unit === 'kPa' ? 6 : 45.0037,
      3,
    );
  });

  test('a level line, and a fall that is not sure, give no date and say why', () => {
    expect(crossing(visits([70, 71, 70.5, 71]))).toMatchObject({
      state: 'no-date',
      why: expect.stringContaining('not falling'),
    });
    expect(crossing(visits([62, 61, 60]))).toMatchObject({
      state: 'no-date',
      why: 'The fall could be chance: the 95 % interval of the change contains zero. A fall is not ruled out: measure again',
    });
  });

  test('a line that needs more than two years gives none, though the edge of its interval is there sooner', () => {
    // 4 points a year from 64 to 50
    const slow = days('2022-02-01', 0, 365, 730, 1095, 1460).map((date, place) =>
      at(date, { 'fvc-percent': percent(80 - 4 * place) }),
    );
    expect(crossing(slow)).toMatchObject({
      state: 'no-date',
      why: expect.stringContaining('more than 24 months'),
    });
    // 8 points a year from 64 to 50 are 21 months
    const faster = days('2024-02-01', 0, 365, 730).map((date, place) =>
      at(date, { 'fvc-percent': percent(80 - 8 * place) }),
    );
    expect(crossing(faster)?.state).toBe('dated');
  });

  test('a line that is already there, though the last reading is not, is no date and no comfort', () => {
    expect(crossing(visits([80, 65, 48, 50.5]))).toMatchObject({
      state: 'no-date',
      why: expect.stringContaining('Plan as if the last reading had reached it too'),
    });
  });

  test('a saturation never has a date, on air, falling steadily, and says why', () => {
    for (const gas of ['air', 'oxygen', undefined] as const)
      for (const values of [
        [98, 97, 96],
        [99, 97, 95.5, 95],
        [97, 96],
      ]) {
        const air = values.map((value, place) =>
          at(dates[place] ?? '', { spo2: percent(value, gas === undefined ? {} : { gas }) }),
        );
        expect(crossing(air, 'spo2', 'nice-mnd-spo2-le-94-blood-gas')).toMatchObject({
          state: 'no-date',
          why: expect.stringContaining('never projected'),
        });
      }
  });

  test('nor has what is counted from a night of saturations', () => {
    const share = (value: number) => percent(value, { gas: 'air' });
    const nights = dates
      .slice(0, 4)
      .map((date, place) => at(date, { 'nocturnal-time-spo2-below-90-percent': share(1 + place * 2) }));
    expect(
      crossing(nights, 'nocturnal-time-spo2-below-90-percent', 'aci2012-spo2-lt-90-over-10-percent'),
    ).toMatchObject({
      state: 'no-date',
      why: expect.stringContaining('never projected'),
    });
  });

  test('a cough flow has none: how far two of them differ by chance is not published', () => {
    const flows = [360, 330, 300, 280].map((value, place) =>
      at(dates[place] ?? '', { 'peak-cough-flow': { value, unit: 'L/min' } }),
    );
    const found = trend('peak-cough-flow', flows, 'aan-als-mie-pcf-lt-270');
    expect(found.perMonth).not.toHaveProperty('low');
    expect(found.crossings[0]).toMatchObject({ state: 'no-date', why: expect.stringContaining('No published figure') });
  });

  describe('whatever the readings', () => {
    const marks = {
      'fvc-percent': [mark, '%', 50],
      snip: ['nice-mnd-snip-or-mip-lt-40', 'cm[H2O]', 40],
      spo2: ['nice-mnd-spo2-le-94-blood-gas', '%', 94],
    } as const;
    /** Readings above the threshold, in any order or falling. */
    const series = (measure: keyof typeof marks) =>
      fc
        .tuple(
          fc.boolean(),
          fc.array(fc.tuple(fc.integer({ min: 20, max: 150 }), fc.double({ min: 0.02, max: 0.9, noNaN: true })), {
            minLength: 2,
            maxLength: 7,
          }),
        )
        .map(([falling, steps]) => {
          const [, unit, below] = marks[measure];
          const heights = steps.map(([, above]) => above);
          if (falling) heights.sort((one, other) => other - one);
          let day = dayCount('2020-01-01');
          return steps.map(([gap], place) => {
            day += gap;
            const value = below + (heights[place] ?? 0) * (measure === 'spo2' ? 6 : 60);
            return at(dateOf(day), { [measure]: { value, unit, gas: 'air' } });
          });
        });
    const crossingsOf = (measure: keyof typeof marks, list: PastVisit[]) => {
      const [id] = marks[measure];
      const found = since(list, measures, criteria).find((one) => one.measure === measure);
      return {
        found,
        crossings: found?.crossings.filter(({ criterion }) => criterion === id || measure === 'spo2') ?? [],
      };
    };

    test('no date where the interval of the rate contains zero', () => {
      const seen = { unsure: 0, dated: 0 };
      fc.assert(
        fc.property(series('fvc-percent'), (list) => {
          const { found, crossings } = crossingsOf('fvc-percent', list);
          const rate = found?.perMonth;
          const sure = rate?.high !== undefined && rate.low !== undefined && rate.low * rate.high > 0;
          for (const { state } of crossings) {
            if (!sure) expect(state).not.toBe('dated');
            seen[state === 'dated' ? 'dated' : 'unsure'] += 1;
          }
          if (rate && rate.readings > 2) expect((rate.high ?? 0) - (rate.low ?? 0)).toBeGreaterThan(0.01);
        }),
        { numRuns: 2000 },
      );
      expect(seen.unsure).toBeGreaterThan(100);
      expect(seen.dated).toBeGreaterThan(20);
    });

    test('no line further off than two years', () => {
      fc.assert(
        fc.property(series('fvc-percent'), (list) => {
          const { found, crossings } = crossingsOf('fvc-percent', list);
          const last = dayCount(found?.points.at(-1)?.date ?? '');
          for (const crossing of crossings)
            if (crossing.state === 'dated') expect(dayCount(crossing.line) - last).toBeLessThanOrEqual(731);
        }),
        { numRuns: 1000 },
      );
    });

    test('a saturation is never dated, and each threshold that is not crossed says why', () => {
      fc.assert(
        fc.property(series('spo2'), (list) => {
          for (const crossing of crossingsOf('spo2', list).crossings) {
            expect(crossing.state).not.toBe('dated');
            if (crossing.state === 'no-date') expect(crossing.why).toContain('never projected');
          }
        }),
        { numRuns: 500 },
      );
    });
  });

  test('a criterion of another measure is passed over', () => {
    expect(trend('fvc-percent', visits([80, 70, 60]), 'nice-mnd-snip-or-mip-lt-40').crossings).toEqual([]);
  });
});

describe('falls that published criteria are about', () => {
  const nice = 'nice-mnd-snip-or-mip-fall-gt-10-per-3-months';
  const held = (visits: PastVisit[], id: string) => {
    const last = visits.at(-1)?.visit;
    const { readings } = fallsOf(visits, measures);
    return (
      last &&
      evaluate({ ...last, readings: { ...last.readings, ...readings } }, evidence).find(
        ({ criterion }) => criterion.id === id,
      )
    );
  };

  test('a sniff from 55 to 43 in 92 days is a fall of 11.9 per 3 months, above the 10 of NICE NG42', () => {
    const visits = [at('2026-08-25', { snip: pressure(55) }), at('2026-11-25', { snip: pressure(-43) })];
    const { readings } = fallsOf(visits, measures);
    // (55 - 43) / (92 / 30.4375) x 3
    expect(readings['snip-or-mip-fall-per-3-months']?.value).toBeCloseTo(11.9103, 3);
    expect(readings['snip-or-mip-fall-per-3-months']).toMatchObject({ unit: 'cm[H2O]/(3.mo)', from: ['snip'] });
    // the same over 55
    expect(readings['snip-relative-fall-per-3-months']?.value).toBeCloseTo(21.655, 2);
    expect(held(visits, nice)?.result).toBe('met');
  });

  test('the larger of the two falls counts, and says which test it was', () => {
    const visits = [
      at('2026-08-25', { snip: pressure(55), mip: pressure(70) }),
      at('2026-11-25', { snip: pressure(54), mip: pressure(50) }),
    ];
    expect(fallsOf(visits, measures).readings['snip-or-mip-fall-per-3-months']?.from).toEqual(['mip']);
  });

  test('a sniff is never taken away from a mouth pressure', () => {
    const { readings, missing } = fallsOf(
      [at('2026-08-25', { mip: pressure(60) }), at('2026-11-25', { snip: pressure(40) })],
      measures,
    );
    expect(readings).not.toHaveProperty('snip-or-mip-fall-per-3-months');
    expect(missing['snip-or-mip-fall-per-3-months']).toBe('SNIP: no earlier test; MIP: not tested today');
  });

  test('less than a month apart cannot be told, and the criterion is not called not met', () => {
    const visits = [at('2026-11-01', { snip: pressure(55) }), at('2026-11-28', { snip: pressure(40) })];
    expect(fallsOf(visits, measures).missing['snip-relative-fall-per-3-months']).toBe('SNIP: less than 1 month apart');
    expect(held(visits, nice)?.result).toBe('cannot-tell');
  });

  test('with a visit in between that is too near, the one before it is taken', () => {
    const visits = [
      at('2026-08-25', { snip: pressure(55) }),
      at('2026-11-10', { snip: pressure(45) }),
      at('2026-11-25', { snip: pressure(43) }),
    ];
    expect(fallsOf(visits, measures).readings['snip-or-mip-fall-per-3-months']?.value).toBeCloseTo(11.9103, 3);
  });

  test('a first test today has nothing to fall from: no fall of nothing is made up from visits without it', () => {
    const { readings, missing } = fallsOf(
      [at('2026-08-25', { snip: pressure(55) }), at('2026-11-25', { mip: pressure(50) })],
      measures,
    );
    expect(readings).not.toHaveProperty('vc-or-mip-or-mep-fall-from-baseline-percent');
    expect(missing['vc-or-mip-or-mep-fall-from-baseline-percent']).toContain('no earlier test');
  });

  test('a rise is a fall below nothing, and not met', () => {
    const visits = [at('2026-08-25', { snip: pressure(40) }), at('2026-11-25', { snip: pressure(50) })];
    expect(fallsOf(visits, measures).readings['snip-or-mip-fall-per-3-months']?.value).toBeCloseTo(-9.9253, 3);
    expect(held(visits, nice)?.result).toBe('not-met');
  });

  test('another posture is another test', () => {
    const visits = [
      at('2026-08-25', { snip: pressure(55, { posture: 'upright' }) }),
      at('2026-11-25', { snip: pressure(40, { posture: 'supine' }) }),
    ];
    expect(fallsOf(visits, measures).missing['snip-or-mip-fall-per-3-months']).toContain('done differently');
  });

  test('a blocked nose at the later sniff is carried as a leak that reads high; one at the earlier too leaves the direction open', () => {
    const later = { snip: pressure(40, { flags: ['blocked-nose'] }) };
    expect(
      fallsOf([at('2026-08-25', { snip: pressure(55) }), at('2026-11-25', later)], measures).readings[
        'snip-or-mip-fall-per-3-months'
      ],
    ).toMatchObject({ flags: ['leak'], from: ['snip'] });
    expect(
      fallsOf([at('2026-08-25', { snip: pressure(55, { flags: ['tired'] }) }), at('2026-11-25', later)], measures)
        .readings['snip-or-mip-fall-per-3-months'],
    ).toMatchObject({ flags: ['tired', 'leak'], from: ['snip', 'snip'] });
  });

  test('a fall carries the posture of both tests, and no flag where there is none', () => {
    const supine = (value: number) => ({ snip: pressure(value, { posture: 'supine' }) });
    const fall = (one: Visit['readings'], other: Visit['readings']) =>
      fallsOf([at('2026-08-25', one), at('2026-11-25', other)], measures).readings['snip-or-mip-fall-per-3-months'];
    expect(fall(supine(55), supine(43))).toMatchObject({ posture: 'supine' });
    expect(Object.keys(fall({ snip: pressure(55) }, { snip: pressure(43) }) ?? {}).sort()).toEqual([
      'from',
      'unit',
      'value',
    ]);
  });

  test('in Guillain-Barr\u00e9 syndrome 2.6 L and then 1.7 L is 34.6 per cent from the first, above the 30 of Lawn 2001', () => {
    const gbs = { disease: 'gbs', ageYears: 44, sex: 'male' } as const;
    const visits = [
      at('2026-11-24', { 'vc-litres': { value: 2.6, unit: 'L' }, mip: pressure(35) }, undefined, gbs),
      at('2026-11-25', { 'vc-litres': { value: 1700, unit: 'mL' }, mip: pressure(30) }, undefined, gbs),
    ];
    const fall = fallsOf(visits, measures).readings['vc-or-mip-or-mep-fall-from-baseline-percent'];
    // 0.9 / 2.6
    expect(fall?.value).toBeCloseTo(34.6154, 4);
    expect(fall).toMatchObject({ unit: '%', from: ['vc-litres'] });
    expect(held(visits, 'gbs-fall-gt-30-percent')?.result).toBe('met');
  });

  test('no visit, and one visit, have no falls', () => {
    expect(fallsOf([], measures)).toEqual({ readings: {}, missing: {} });
    expect(fallsOf([at('2026-11-25', { snip: pressure(40) })], measures).readings).toEqual({});
  });
});
