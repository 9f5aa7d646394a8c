import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { diseases } from '../../../calculators/domain/diseases.ts';
import { planStates, supportStatuses, wishList } from '../../../calculators/domain/visit.ts';
import { randomFrom } from '../../../calculators/learning/random.ts';
import { unitCodes } from '../../../calculators/quantity.ts';
import { KeptVisit, readSeries, type Series, seriesFormat, writeSeries } from '../../../calculators/visit/series.ts';

const visit = (date: string, more: Partial<KeptVisit> = {}): KeptVisit => ({
  date,
  readings: {
    snip: { text: '-38', unit: 'cm[H2O]', flags: ['blocked-nose'] },
    spo2: { text: '95', unit: '%', gas: 'air' },
  },
  notDone: { mip: 'could not make a seal' },
  signs: { orthopnoea: 'present' },
  supports: { 'night-ventilation': { status: 'in-place', hours: '7', timeOff: 'whole day' } },
  prediction: { set: 'gli-2022-global' },
  wishes: ['no-hospital'],
  answers: 'Answers herself, by letter board',
  asked: 'Blood gas?\nWhen?',
  plan: [{ what: 'Second battery', owner: 'Therapist', due: '2026-12-01', state: 'ordered' }],
  ...more,
});

const series = (...visits: KeptVisit[]): Series => ({
  format: seriesFormat,
  version: 1,
  person: { label: 'Tern 12', disease: 'als', ageYears: 61, sex: 'female', heightCm: 164 },
  visits,
});

function problems(text: string) {
  const found = readSeries(text);
  if (found.ok) throw new Error('was read');
  return found.problems;
}

describe('a file that was saved', () => {
  test('opens again as it was, to the letter', () => {
    const saved = series(visit('2026-08-20'), visit('2026-11-20'));
    expect(readSeries(writeSeries(saved))).toEqual({ ok: true, series: saved });
  });

  test('opens with its visits in the order of their dates', () => {
    const found = readSeries(writeSeries(series(visit('2026-11-20'), visit('2026-08-20'))));
    expect(found.ok && found.series.visits.map(({ date }) => date)).toEqual(['2026-08-20', '2026-11-20']);
  });

  test('a typed -38 stays -38 and is not made 38', () => {
    const found = readSeries(writeSeries(series(visit('2026-11-20'))));
    expect(found.ok && found.series.visits[0]?.readings.snip?.text).toBe('-38');
  });

  const slugs = fc.stringMatching(/^[a-z0-9]{1,8}(-[a-z0-9]{1,8}){0,2}$/);
  const words = fc
    .string({ maxLength: 40 })
    .map((text) => text.replace(/[\p{Cc}\p{Cs}\u00ad\u200b-\u206f\ufeff]/gu, ''));
  const someWords = words.map((text) => `w${text}`);
  const day = fc
    .tuple(fc.integer({ min: 2000, max: 2040 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }))
    .map(([y, m, d]) => `${y}-${String(m).padStart(2, '0')}-${String(d).padStart(2, '0')}`);
  const opt = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
  const anyVisit = fc.record({
    date: day,
    readings: fc.dictionary(
      slugs,
      fc.record({
        text: words,
        unit: fc.constantFrom(...unitCodes),
        gas: opt(fc.constantFrom('air', 'oxygen', 'ventilation')),
        posture: opt(fc.constantFrom('upright', 'supine')),
        method: opt(someWords),
        flags: opt(fc.array(slugs, { maxLength: 3 })),
      }),
    ),
    notDone: fc.dictionary(slugs, someWords),
    signs: fc.dictionary(slugs, fc.constantFrom('present', 'absent')),
    supports: fc.dictionary(slugs, fc.record({ status: fc.constantFrom(...supportStatuses), hours: opt(someWords) })),
    prediction: fc.constant({ set: 'gli-2022-global' as const }),
    wishes: fc.uniqueArray(fc.constantFrom(...wishList)),
    answers: words,
    asked: words,
    notes: opt(words),
    plan: fc.array(
      fc.record({
        what: words,
        owner: words,
        due: fc.oneof(fc.constant(''), day),
        state: fc.constantFrom(...planStates),
      }),
      { maxLength: 3 },
    ),
  });

  test('any series survives being saved and opened, and being saved again gives the same file', () => {
    fc.assert(
      fc.property(
        fc.array(anyVisit, { maxLength: 3 }),
        fc.option(fc.constantFrom(...diseases), { nil: undefined }),
        (visits, disease) => {
          const text = writeSeries({
            format: seriesFormat,
            version: 1,
            person: { disease },
            visits: visits as KeptVisit[],
          });
          const found = readSeries(text);
          if (!found.ok) throw new Error(JSON.stringify(found.problems));
          expect(JSON.parse(writeSeries(found.series)).visits.length).toBe(visits.length);
          const again = readSeries(writeSeries(found.series));
          expect(again).toEqual(found);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('what a file cannot hold', () => {
  const good = series(visit('2026-11-20'));
  const withPerson = (more: object) => JSON.stringify({ ...good, person: { ...good.person, ...more } }, null, 2);

  test.each(['name', 'birthDate', 'identifier', 'address'])(
    'a field called %s is not taken, and the message names its line',
    (field) => {
      const text = withPerson({ [field]: 'x' });
      const line = text.split('\n').findIndex((one) => one.includes(`"${field}"`)) + 1;
      expect(problems(text)).toEqual([
        { path: `person.${field}`, line, message: 'no field of that name is kept here' },
      ]);
    },
  );

  test('the schema itself has no field for a name, a number or a birth date', () => {
    expect(Object.keys(KeptVisit.shape).join(' ')).not.toMatch(/name|birth|identifier|address|phone/i);
  });
});

describe('a broken file says what and where', () => {
  const good = writeSeries(series(visit('2026-08-20'), visit('2026-11-20')));
  const lineOf = (text: string, part: string) => text.split('\n').findIndex((line) => line.includes(part)) + 1;

  test.each([
    ['a word for a unit', '"unit": "%"', '"unit": "percent"', 'visits[0].readings.spo2.unit', 'expected a unit code'],
    [
      'a date that does not exist',
      '"date": "2026-08-20"',
      '"date": "2026-02-30"',
      'visits[0].date',
      'expected a date that exists, such as 2026-11-25, found "2026-02-30"',
    ],
    [
      'a sign that is neither',
      '"orthopnoea": "present"',
      '"orthopnoea": "maybe"',
      'visits[0].signs.orthopnoea',
      'expected one of present, absent, found "maybe"',
    ],
    [
      'a support of another kind',
      '"status": "in-place"',
      '"status": "rented"',
      'visits[0].supports["night-ventilation"].status',
      'found "rented"',
    ],
    ['an age in words', '"ageYears": 61', '"ageYears": "sixty"', 'person.ageYears', 'expected a number, found "sixty"'],
    [
      'a state that is none',
      '"state": "ordered"',
      '"state": "hoped for"',
      'visits[0].plan[0].state',
      'found "hoped for"',
    ],
    ['a disease of another list', '"disease": "als"', '"disease": "ALS"', 'person.disease', 'found "ALS"'],
  ])('%s', (_, from, to, path, message) => {
    const text = good.replace(from, to);
    const [problem] = problems(text);
    expect(problem?.path).toBe(path);
    expect(problem?.line).toBe(lineOf(text, to));
    expect(problem?.message).toContain(message);
  });

  test('a missing field is told at what it is missing from', () => {
    const text = good.replace(/\n {6}"signs": \{[^}]*\},/, '');
    expect(problems(text)[0]).toEqual({
      path: 'visits[0].signs',
      line: lineOf(text, '"date": "2026-08-20"') - 1,
      message: 'expected a group of fields, found nothing',
    });
  });

  test('text of another kind, another file, an older and a newer handbook', () => {
    expect(problems('')[0]?.line).toBe(1);
    expect(problems('Dear colleague')[0]?.message).toContain('expected a value');
    expect(problems('[]')[0]?.message).toContain('expected a saved series');
    expect(problems('{"format": "tidemark-agreement", "version": 1}')[0]?.message).toContain(
      'not a saved series of visits',
    );
    expect(problems('{"format": "tidemark-visits", "version": -1}')[0]?.message).toContain('expected a version from 0');
    expect(problems('{"format": "tidemark-visits",\n"version": 9}')[0]).toEqual({
      path: 'version',
      line: 2,
      message: expect.stringContaining('newer than this copy'),
    });
  });

  test('a file cut off in the middle names the line where it ends', () => {
    const cut = good.slice(0, Math.floor(good.length / 2));
    expect(problems(cut)[0]?.line).toBe(cut.split('\n').length);
  });

  test('a field given twice is a fault: one of the two would be lost', () => {
    expect(problems(good.replace('"text": "-38"', '"text": "38",\n "text": "83"'))[0]?.message).toContain(
      'given twice',
    );
  });

  test('a file that tries to reach the code is a file like any other', () => {
    for (const name of ['__proto__', 'constructor', 'toString']) {
      const found = readSeries(good.replace('"orthopnoea"', `"${name}"`));
      expect(found.ok).toBe(false);
    }
    expect(({} as Record<string, unknown>).present).toBeUndefined();
    expect(
      readSeries(`{"format": "tidemark-visits", "version": 1, "person": {}, "visits": ${'['.repeat(5000)}`).ok,
    ).toBe(false);
  });

  test('a thousand damaged files: never a throw, and what was open before is as it was', () => {
    const dice = randomFrom(7);
    const open = series(visit('2026-05-20'));
    const before = JSON.stringify(open);
    Object.freeze(open);
    Object.freeze(open.visits);
    let refused = 0;
    const pieces = [
      '"',
      '{',
      '}',
      '[',
      ']',
      ',',
      ':',
      '\n',
      '\\',
      'null',
      '1e999',
      '-',
      '0',
      '"a"',
      '\u0000',
      '\ud83d',
      '__proto__',
      '2026-13-01',
      '  ',
    ];
    for (let trial = 0; trial < 1000; trial += 1) {
      let text = good;
      for (let change = 0; change <= dice() * 4; change += 1) {
        const at = Math.floor(dice() * text.length);
        text =
          text.slice(0, at) +
          (pieces[Math.floor(dice() * pieces.length)] ?? '') +
          text.slice(at + Math.floor(dice() * dice() * 60));
      }
      // As a caller would: the open series is put aside only for a whole new one.
      const found = readSeries(text);
      const now = found.ok ? found.series : open;
      if (found.ok) {
        expect(readSeries(writeSeries(found.series))).toEqual({ ok: true, series: found.series });
        continue;
      }
      refused += 1;
      expect(now).toBe(open);
      expect(found.problems.length).toBeGreaterThan(0);
      for (const { line, message } of found.problems) {
        expect(line).toBeGreaterThanOrEqual(1);
        expect(line).toBeLessThanOrEqual(text.split('\n').length);
        expect(message.length).toBeGreaterThan(5);
      }
    }
    expect(JSON.stringify(open)).toBe(before);
    expect(refused).toBeGreaterThan(300);
    expect(refused).toBeLessThan(1000);
  });
});

describe('an older file', () => {
  /** Version 0, as its migration in `series.ts` describes it. */
  const older = `{
  "format": "tidemark-visits",
  "version": 0,
  "person": { "disease": "als", "ageYears": 61, "sex": "female", "heightCm": 164 },
  "visits": [
    {
      "date": "2026-08-20",
      "readings": { "snip": { "value": -42.5, "unit": "cm[H2O]" }, "spo2": { "value": 95, "unit": "%", "gas": "air" } },
      "signs": { "orthopnoea": "absent" },
      "supports": { "night-ventilation": "ordered" },
      "plan": ["Second battery"]
    }
  ]
}`;

  test('of version 0 is brought up to what is read today', () => {
    const found = readSeries(older);
    expect(found).toEqual({
      ok: true,
      migratedFrom: 0,
      series: {
        format: 'tidemark-visits',
        version: 1,
        person: { disease: 'als', ageYears: 61, sex: 'female', heightCm: 164 },
        visits: [
          {
            date: '2026-08-20',
            readings: { snip: { text: '-42.5', unit: 'cm[H2O]' }, spo2: { text: '95', unit: '%', gas: 'air' } },
            notDone: {},
            signs: { orthopnoea: 'absent' },
            supports: { 'night-ventilation': { status: 'ordered' } },
            prediction: { set: 'gli-2022-global' },
            wishes: [],
            answers: '',
            asked: '',
            plan: [{ what: 'Second battery', owner: '', due: '', state: 'asked' }],
          },
        ],
      },
    });
  });

  test('and saved again it is of today and needs no bringing up', () => {
    const found = readSeries(older);
    if (!found.ok) throw new Error('was not read');
    expect(readSeries(writeSeries(found.series))).toEqual({ ok: true, series: found.series });
  });

  test('with a fault in it is refused with the fault, not mended', () => {
    expect(problems(older.replace('"value": 95', '"value": "95"'))[0]?.path).toContain('visits[0].readings.spo2');
    expect(problems(older.replace('"ordered"', '"hired"'))[0]).toMatchObject({
      path: 'visits[0].supports["night-ventilation"].status',
      line: 10,
    });
  });
});
