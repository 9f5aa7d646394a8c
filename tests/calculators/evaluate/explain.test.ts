import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Reading, type Sign, supportStatuses, type Visit } from '../../../calculators/domain/visit.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords } from '../../../calculators/evaluate/explain.ts';
import { alsoWords, comparison, equality, readingWords, roundedBeside } from '../../../calculators/evaluate/say.ts';
import { compare, convert } from '../../../calculators/quantity.ts';
import { anyVisit, evidence, finding, madeUp, measures, reading, row, visit } from './setup.ts';

/** The sentence for one criterion; no-break spaces as plain ones, so that a test can be read. */
const sentenceFor = (
  id: string,
  readings: Record<string, Reading>,
  signs: Record<string, Sign> = {},
  more: Partial<Visit> = {},
) => {
  const one = finding(id, visit({ readings, signs, ...more }));
  if (!one) throw new Error(`${id} is out of scope`);
  return plain(explain(one, measures));
};
const plain = (words: string) => words.replaceAll('\u00a0', ' ');
const percent = (value: number, more: Partial<Reading> = {}) => reading(value, '%', more);
const pressure = (value: number, more: Partial<Reading> = {}) => reading(value, 'cm[H2O]', more);

describe('met and not met', () => {
  test('a number with its threshold', () => {
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': percent(49.6) })).toBe(
      'FVC 49.6 % predicted is below 50 % predicted.',
    );
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': percent(50) })).toBe(
      'FVC 50 % predicted is not below 50 % predicted.',
    );
  });

  test('a case says of a reading that does not meet where it is; one that equals the threshold has no other side', () => {
    const placed = (value: number) => {
      const one = finding('nice-mnd-fvc-lt-50', visit({ readings: { 'fvc-percent': percent(value) } }));
      return one && plain(explain(one, measures, 'side'));
    };
    expect(placed(62)).toBe('FVC 62 % predicted is above 50 % predicted.');
    expect(placed(50)).toBe('FVC 50 % predicted is not below 50 % predicted.');
    expect(placed(47)).toBe('FVC 47 % predicted is below 50 % predicted.');
  });

  test('at or below is said where equality counts', () => {
    expect(sentenceFor('ca-als-snip-le-40', { snip: pressure(40) })).toBe('SNIP 40 cmH2O is at or below 40 cmH2O.');
    expect(sentenceFor('aci2012-paco2-ge-45', { paco2: reading(45, 'mm[Hg]') })).toBe(
      'PaCO2 45 mmHg is at or above 45 mmHg.',
    );
  });

  test('a minus sign before a pressure is dropped, before a change it stays', () => {
    expect(sentenceFor('chest-nmd-mip-weaker-than-40', { mip: pressure(-35) })).toBe('MIP 35 cmH2O is below 40 cmH2O.');
    expect(sentenceFor('evidence-vc-fall-supine-gt-25-diaphragm', { 'fvc-drop-supine-percent': percent(-4) })).toBe(
      'The fall in VC on lying flat (\u22124 % of the upright value) is not above 25 % of the upright value.',
    );
  });

  test('every part of an and is told when all are met', () => {
    expect(
      sentenceFor('nice-mnd-fvc-lt-80-with-symptoms', { 'fvc-percent': percent(68) }, { orthopnoea: 'present' }),
    ).toBe(
      'FVC 68 % predicted is below 80 % predicted, and there are symptoms or signs of respiratory impairment (orthopnoea).',
    );
  });

  test('of an or the part that is met', () => {
    expect(
      sentenceFor(
        'aan-fshd-fvc-lt-60-refer',
        { 'fvc-percent': percent(70) },
        { 'daytime-sleepiness': 'present' },
        { disease: 'fshd' },
      ),
    ).toBe('There are sleep-related breathing symptoms (daytime sleepiness).');
  });

  test('of an and the part that is known false, of an or both', () => {
    expect(sentenceFor('nice-mnd-fvc-lt-80-with-symptoms', { 'fvc-percent': percent(85) })).toBe(
      'FVC 85 % predicted is not below 80 % predicted.',
    );
    const absent = { 'sleep-related-respiratory-symptoms': 'absent' } as const;
    expect(sentenceFor('aan-fshd-fvc-lt-60-refer', { 'fvc-percent': percent(70) }, absent, { disease: 'fshd' })).toBe(
      'FVC 70 % predicted is not below 60 % predicted, and there are no sleep-related breathing symptoms.',
    );
    const none = {
      'ineffective-cough': 'present',
      'bulbar-dysfunction': 'absent',
      'unassisted-breath-stacking-failed': 'absent',
    } as const;
    expect(sentenceFor('nice-mnd-cough-bulbar-assisted-stacking', {}, none)).toBe(
      'There is no bulbar weakness, and breath stacking without a bag has not failed.',
    );
  });

  test('a part that is false and settles nothing is left out', () => {
    const either = madeUp({
      measure: 'fvc-percent',
      comparator: '<',
      value: 60,
      unit: '%',
      alternative: { measure: 'orthopnoea', comparator: 'present' },
      alsoRequires: [{ measure: 'acutely-unwell', comparator: 'present' }],
    });
    const seen = visit({
      readings: { 'fvc-percent': percent(70) },
      signs: { orthopnoea: 'present', 'acutely-unwell': 'absent' },
    });
    const [one] = evaluate(seen, { ...evidence, criteria: [either] });
    expect(one && explain(one, measures)).toBe('The person is not acutely unwell.');
  });

  test('a sign that should be absent is told as it was found', () => {
    expect(
      sentenceFor(
        'nice-mnd-spo2-le-94-blood-gas',
        { spo2: percent(93, { gas: 'air' }) },
        { 'known-lung-disease': 'present' },
      ),
    ).toBe('Lung disease is known.');
  });

  test('a part that counts from an age on says so below it', () => {
    const small = { 'fvc-percent': percent(45), 'vc-litres': reading(0.9, 'L') };
    expect(sentenceFor('dmd2010-cough-fvc-lt-40-or-1-25-l', small, {}, { disease: 'dmd', ageYears: 13 })).toBe(
      'FVC 45 % predicted is not below 40 % predicted, and VC in litres counts only from the age of 16 years.',
    );
  });

  test('minutes and hours are more than one', () => {
    expect(sentenceFor('onmap2021-second-home-ventilator-over-18-h', { 'niv-hours': reading(19, 'h/d') })).toBe(
      'Ventilator hours (19 h/day) are more than 18 h/day.',
    );
    expect(sentenceFor('aasm-adult-sleep-hypoventilation-co2-gt-55-10-min', {})).toBe(
      'Cannot tell: the minutes asleep with CO2 above 55 mmHg were not measured.',
    );
    expect(
      sentenceFor('us-rad-sleep-spo2-le-88-for-5-min', {
        'nocturnal-minutes-spo2-at-or-below-88': reading(7, 'min'),
        'recording-hours': reading(3, 'h'),
      }),
    ).toBe('The time at SpO2 88 % or less (7 min) is at least 5 min, and a recording of 3 h is at least 2 h.');
  });
});

describe('cannot tell', () => {
  test.each<[string, string, Record<string, Reading>, Record<string, Sign>, Partial<Visit>, string]>([
    ['nothing measured', 'ca-als-paco2-gt-45', {}, {}, {}, 'Cannot tell: PaCO2 was not measured.'],
    ['not asked', 'aan-als-orthopnoea', {}, {}, {}, 'Cannot tell: it is not known whether there is orthopnoea.'],
    [
      'not asked, where the finding itself has a "not"',
      'sma2018-ineffective-cough-mie',
      {},
      {},
      { disease: 'sma' },
      'Cannot tell: it is not known whether the cough clears the chest.',
    ],
    [
      'neither of two tests done',
      'nice-mnd-snip-or-mip-lt-40',
      {},
      {},
      {},
      'Cannot tell: the better of SNIP and MIP is not known.',
    ],
    [
      'a part known true',
      'nice-mnd-fvc-lt-80-with-symptoms',
      { 'fvc-percent': percent(70) },
      {},
      {},
      'FVC 70 % predicted is below 80 % predicted, but you cannot tell whether the criterion is met: it is not known whether there are symptoms or signs of respiratory impairment.',
    ],
    [
      'on oxygen',
      'fallback-low-spo2-think-ventilation-and-secretions',
      { spo2: percent(97, { gas: 'oxygen' }) },
      {},
      {},
      'Cannot tell: this SpO2 was taken on oxygen.',
    ],
    [
      'on ventilation',
      'fallback-low-spo2-think-ventilation-and-secretions',
      { spo2: percent(97, { gas: 'ventilation' }) },
      {},
      {},
      'Cannot tell: this SpO2 was taken on ventilation.',
    ],
    [
      'gas not recorded',
      'fallback-low-spo2-think-ventilation-and-secretions',
      { spo2: percent(97) },
      {},
      {},
      'Cannot tell: it is not recorded whether this SpO2 was taken on room air.',
    ],
    [
      'a night on oxygen',
      'aci2012-spo2-le-88-5-consecutive-min',
      { 'nocturnal-consecutive-minutes-spo2-at-or-below-88': reading(9, 'min', { gas: 'oxygen' }) },
      { 'sleep-related-respiratory-symptoms': 'present', 'complications-of-hypoventilation': 'present' },
      {},
      'There are sleep-related breathing symptoms, and there are complications of hypoventilation, but you cannot tell whether the criterion is met: these minutes in a row at SpO2 88 % or less were taken on oxygen.',
    ],
    [
      'lying flat',
      'nice-mnd-fvc-lt-50',
      { 'fvc-percent': percent(45, { posture: 'supine' }) },
      {},
      {},
      'Cannot tell: this FVC was taken lying flat.',
    ],
    [
      'upright',
      'evidence-als-supine-fvc-lt-75',
      { 'fvc-supine-percent': percent(45, { posture: 'upright' }) },
      {},
      {},
      'Cannot tell: this supine FVC was taken upright.',
    ],
    [
      'another method',
      'ca-als-paco2-gt-45',
      { paco2: reading(48, 'mm[Hg]', { method: 'venous' }) },
      {},
      {},
      'Cannot tell: this PaCO2 was taken by another method (venous).',
    ],
    [
      'another quantity',
      'nice-mnd-fvc-lt-50',
      { 'fvc-percent': reading(1.9, 'L') },
      {},
      {},
      'Cannot tell: this FVC is in a unit that does not convert.',
    ],
    [
      'exactly where the source is silent',
      'evidence-pcf-160-extubation',
      { 'assisted-peak-cough-flow': reading(160, 'L/min') },
      { 'breathing-tube-removal-planned': 'present' },
      {},
      'Removal of a breathing tube is planned, but you cannot tell whether the criterion is met: assisted cough flow is exactly at the threshold, and the source does not say whether a value at the threshold meets the criterion.',
    ],
    [
      'sex missing',
      'nice-mnd-snip-or-mip-lt-65-men-with-symptoms',
      { snip: pressure(50) },
      { orthopnoea: 'present' },
      { sex: undefined },
      'Cannot tell: sex is not given.',
    ],
    [
      'disease and age missing, and no reading',
      'nice-mnd-fvc-lt-50',
      {},
      {},
      { disease: undefined, ageYears: undefined },
      'Cannot tell: disease is not given; age is not given; FVC was not measured.',
    ],
    [
      'an age that is itself the reading is asked for once',
      'dmdcareuk-routine-checks-from-about-6-years',
      {},
      {},
      { disease: 'dmd', ageYears: undefined },
      'Cannot tell: age is not given.',
    ],
    [
      'age decides a part',
      'dmd2010-cough-fvc-lt-40-or-1-25-l',
      { 'fvc-percent': percent(45), 'vc-litres': reading(0.9, 'L') },
      {},
      { disease: 'dmd', ageYears: undefined },
      'Cannot tell: age is not given; VC in litres counts only from the age of 16 years.',
    ],
    [
      'not done, with the reason',
      'nice-mnd-fvc-lt-50',
      {},
      {},
      { notDone: { 'fvc-percent': 'could not make a seal' } },
      'Cannot tell: FVC was not done (could not make a seal).',
    ],
  ])('%s', (_, id, readings, signs, more, expected) => {
    expect(sentenceFor(id, readings, signs, more)).toBe(expected);
  });
});

describe('flags stand in the same sentence', () => {
  test.each<[string[], string]>([
    [
      ['leak'],
      'FVC 48 % predicted reads below 50 % predicted (flagged: leak at mask or mouthpiece, which reads low; the true value may be higher).',
    ],
    [
      ['height-doubtful'],
      'FVC 48 % predicted reads below 50 % predicted (flagged: doubtful height; the true value may be higher or lower).',
    ],
    [
      ['tired', 'unwell'],
      'FVC 48 % predicted reads below 50 % predicted (flagged: tired, which reads low; unwell on the day, which reads low; the true value may be higher).',
    ],
  ])('%s', (flags, expected) => {
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': percent(48, { flags }) })).toBe(expected);
  });

  test('not met is flagged as well: a leak reads low, so not below is all the more true', () => {
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': percent(55, { flags: ['leak'] }) })).toBe(
      'FVC 55 % predicted is not below 50 % predicted (flagged: leak at mask or mouthpiece, which reads low).',
    );
  });

  test('the better of two keeps the words of the one that was taken', () => {
    expect(sentenceFor('nice-mnd-snip-or-mip-lt-40', { snip: pressure(30, { flags: ['blocked-nose'] }) })).toBe(
      'The better of SNIP and MIP (30 cmH2O) reads below 40 cmH2O (flagged: blocked nose, which reads low; the true value may be higher).',
    );
  });

  test('a fall worked out from two blows names the flag and not a direction, since either blow may have leaked', () => {
    const fall = percent(30, { flags: ['leak'], from: ['vc-litres', 'vc-litres-supine'] });
    expect(sentenceFor('evidence-vc-fall-supine-gt-25-diaphragm', { 'fvc-drop-supine-percent': fall })).toBe(
      'The fall in VC on lying flat (30 % of the upright value) reads above 25 % of the upright value (flagged: leak at mask or mouthpiece; the true value may be higher or lower).',
    );
  });

  test('an all-clear that the error may have made says what it cannot rule out', () => {
    const early = percent(96, { gas: 'air', flags: ['just-off-niv'] });
    expect(sentenceFor('fallback-spo2-lt-90-any-gas', { spo2: early })).toContain(
      'SpO2 96 % cannot rule out a value below 90 % (flagged: less than an hour off NIV, which reads high)',
    );
  });

  test('names keep their capitals', () => {
    const early = percent(88, { gas: 'air', flags: ['just-off-niv'] });
    expect(sentenceFor('fallback-spo2-lt-90-any-gas', { spo2: early })).toBe(
      'SpO2 88 % is below 90 % (flagged: less than an hour off NIV, which reads high). This finding applies unless the written plan says that the usual value is this low.',
    );
  });
});

describe('a number is never rounded onto the wrong side', () => {
  test('45 mmHg beside 6 kPa, and 6 kPa beside 45 mmHg', () => {
    expect(sentenceFor('nice-mnd-paco2-gt-6-kpa-within-1-week', { paco2: reading(45, 'mm[Hg]') })).toBe(
      'PaCO2 45 mmHg (just below 6 kPa) is not above 6 kPa.',
    );
    expect(sentenceFor('nice-mnd-paco2-gt-6-kpa-within-1-week', { paco2: reading(45.1, 'mm[Hg]') })).toBe(
      'PaCO2 45.1 mmHg (6.01 kPa) is above 6 kPa.',
    );
    expect(sentenceFor('ca-als-paco2-gt-45', { paco2: reading(6, 'kPa') })).toBe(
      'PaCO2 6 kPa (just above 45 mmHg) is above 45 mmHg.',
    );
  });

  test('litres a second beside litres a minute', () => {
    expect(sentenceFor('evidence-als-pcf-lt-255-stable', { 'peak-cough-flow': reading(4.25, 'L/s') })).toBe(
      'Peak cough flow 4.25 L/s (255 L/min) is not below 255 L/min.',
    );
    expect(sentenceFor('aarc-nmd-pcf-lt-270-cough-assist', { 'peak-cough-flow': reading(4.499, 'L/s') })).toBe(
      'Peak cough flow 4.499 L/s (269.9 L/min) is below 270 L/min.',
    );
  });

  test('a per cent that was worked out', () => {
    const nearly = percent(49.987, { from: ['vc-litres'] });
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': nearly })).toBe(
      'FVC 49.99 % predicted is below 50 % predicted.',
    );
    const clear = percent(46.3187, { from: ['vc-litres'] });
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': clear })).toBe(
      'FVC 46.3 % predicted is below 50 % predicted.',
    );
  });

  test('what was typed is shown as typed', () => {
    expect(sentenceFor('nice-mnd-fvc-lt-50', { 'fvc-percent': percent(49.98765) })).toBe(
      'FVC 49.98765 % predicted is below 50 % predicted.',
    );
  });

  test('without a threshold beside it a worked-out value has the digits of its measure', () => {
    const fvc = measures['fvc-percent'];
    if (!fvc) throw new Error('no FVC');
    expect(plain(readingWords(percent(46.31872, { from: ['vc-litres'] }), fvc))).toBe('46.3 % predicted');
  });

  test('any value beside any threshold stays below, at or above it', () => {
    const near = fc.tuple(
      fc.integer({ min: 1, max: 5000 }),
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.integer({ min: 0, max: 9 }),
    );
    fc.assert(
      fc.property(near, fc.constantFrom(0, 1, 2), ([tenths, by, size], decimals) => {
        const beside = tenths / 10;
        const value = beside + by * 10 ** -size;
        const printed = Number(roundedBeside(value, beside, decimals).replace('\u2212', '-'));
        expect(Math.sign(compare(printed, beside, true))).toBe(Math.sign(compare(value, beside, true)));
      }),
      { numRuns: 2000 },
    );
  });

  test('any gas in either unit is printed on the side that the finding says', () => {
    fc.assert(
      fc.property(fc.double({ min: 44, max: 46, noNaN: true }), (value) => {
        const sentence = sentenceFor('nice-mnd-paco2-gt-6-kpa-within-1-week', { paco2: reading(value, 'mm[Hg]') });
        const [, side, printed] = /\((just below |just above )?([\d.]+) kPa\)/.exec(sentence) ?? [];
        const above = compare(convert(value, 'mm[Hg]', 'kPa'), 6, true) > 0;
        expect(side === undefined ? Number(printed) > 6 : side === 'just above ').toBe(above);
        expect(sentence.includes('is above')).toBe(above);
      }),
      { numRuns: 300 },
    );
  });
});

test('every finding of any visit is one whole sentence, and says that it cannot tell exactly when it cannot', () => {
  fc.assert(
    fc.property(anyVisit, (someone) => {
      for (const one of evaluate(someone, evidence)) {
        const sentence = explain(one, measures);
        expect(sentence).toMatch(/^[A-Z0-9].*[^.]\.$/);
        expect(sentence).not.toMatch(/undefined|null|NaN|Infinity|\[object| {2}|: \.|;\.|\(\)/);
        expect([one.criterion.id, sentence, /cannot tell/i.test(sentence)]).toEqual([
          one.criterion.id,
          sentence,
          one.result === 'cannot-tell',
        ]);
      }
    }),
    { numRuns: 100 },
  );
});

describe('the criterion in words', () => {
  test('the comparison, what equality does, and the rest of the rule', () => {
    const als = row('nice-mnd-fvc-lt-50');
    expect(plain(comparison(als, measures['fvc-percent']))).toBe('below 50 % predicted');
    expect(plain(equality(als))).toBe('A value of exactly 50 % is not low enough to meet the criterion');
    expect(plain(equality(row('ca-als-snip-le-40')))).toBe(
      'A value of exactly 40 cmH2O is low enough to meet the criterion',
    );
    expect(plain(equality(row('evidence-pcf-160-extubation')))).toBe(
      'The source does not say whether a value of exactly 160 L/min is low enough to meet the criterion',
    );
    expect(plain(equality(row('nice-mnd-paco2-gt-6-kpa-within-1-week')))).toBe(
      'A value of exactly 6 kPa is not high enough to meet the criterion',
    );
    expect(plain(equality(row('chest-nmd-pft-at-least-every-6-months')))).toBe(
      'An interval of exactly 6 months is within this limit',
    );
    expect(plain(equality(row('us-rad-continued-coverage-after-3-months')))).toBe(
      'An interval of exactly 61 days is long enough to meet the criterion',
    );
    expect(plain(equality(row('de2009-niv-over-16-h-second-ventilator-and-battery')))).toBe(
      'A time of exactly 16 h/day is not long enough to meet the criterion',
    );
    expect(equality(row('aan-als-orthopnoea'))).toBe('');
    expect(alsoWords(row('ats2004-dmd-daytime-pco2-gt-50'), measures).map(plain)).toEqual(['or SpO2 below 92 %']);
    expect(alsoWords(row('dmd2010-cough-fvc-lt-40-or-1-25-l'), measures).map(plain)).toEqual([
      'or VC below 1.25 L (from 16 years)',
    ]);
    expect(alsoWords(row('nice-mnd-mie-if-stacking-fails-or-infection'), measures)).toEqual([
      'only if one of these applies: assisted breath stacking did not work; chest infection',
    ]);
    expect(alsoWords(row('btsics-nmd-vc-lt-1-l-rr-gt-20'), measures).map(plain)).toEqual([
      'only with VC below 1 L',
      'only if the person is acutely unwell',
    ]);
  });

  test('a sign that has to be absent is said the right way round, with its polarity', () => {
    expect(alsoWords(row('nice-mnd-spo2-le-94-blood-gas'), measures)).toEqual(['only if no lung disease is known']);
    expect(alsoWords(row('nice-mnd-spo2-le-92-lung-disease-blood-gas'), measures)).toEqual([
      'only if lung disease is known',
    ]);
    expect(alsoWords(row('ats2004-dmd-twice-yearly-visits'), measures)).toEqual(['or the person does not walk']);
  });

  test('an exception begins with unless', () => {
    expect(alsoWords(row('fallback-spo2-lt-90-any-gas'), measures)).toEqual([
      'unless the written plan says that the usual value is this low',
    ]);
    // A clinic keeps the rule and not the words of its source.
    const without = [
      { measure: 'already-on-niv', comparator: 'absent', unanswered: 'met' },
      { measure: 'acutely-unwell', comparator: 'present', unanswered: 'met' },
      { measure: 'vc-litres', comparator: '<', value: 1, unit: 'L', unanswered: 'met' },
    ] as const;
    expect(alsoWords({ alsoRequires: [...without] }, measures).map(plain)).toEqual([
      'unless NIV is already in use',
      'unless the person is not acutely unwell',
      'unless VC is not below 1 L',
    ]);
    const criterion = madeUp({ measure: 'hypercapnia', comparator: 'present', alsoRequires: [without[0]] });
    const [one] = evaluate(visit({ signs: { hypercapnia: 'present' } }), { ...evidence, criteria: [criterion] });
    expect(one && explain(one, measures)).toBe('CO2 is raised. This finding applies unless NIV is already in use.');
  });

  test('without clauses of its own a sign is said with its name and its answer', () => {
    const bare = { measure: 'confusion', comparator: 'absent' } as const;
    expect(alsoWords({ alsoRequires: [bare] }, measures)).toEqual(['only if confusion: absent']);
  });
});

test('a support that is there, on order, declined or not tolerated turns a start into a review, and is never an order', () => {
  for (const status of supportStatuses) if (status !== 'none') expect(supportWords[status]).toMatch(/Review/);
});

describe('what decides a criterion that is not met', () => {
  test('of an and, the part that is not met and no other', () => {
    const one = sentenceFor(
      'nice-mnd-fvc-lt-80-with-symptoms',
      { 'fvc-percent': percent(90) },
      { orthopnoea: 'present' },
    );
    expect(one).toBe('FVC 90 % predicted is not below 80 % predicted.');
  });

  test('of an or, every part', () => {
    const one = sentenceFor(
      'aan-fshd-fvc-lt-60-refer',
      { 'fvc-percent': percent(70) },
      Object.fromEntries(
        Object.keys(measures)
          .filter((id) => measures[id]?.kind === 'sign')
          .map((id) => [id, 'absent' as const]),
      ),
      { disease: 'fshd' },
    );
    expect(one).toContain('FVC 70 % predicted is not below 60 % predicted');
    expect(one).toMatch(/, and there are no sleep-related breathing symptoms\.$/);
  });

  test('without an age nothing else is compared with the reader', () => {
    const one = finding('nice-mnd-fvc-lt-50', {
      ...visit({ readings: { 'fvc-percent': percent(45) } }),
      ageYears: undefined,
    });
    if (one) expect(plain(explain(one, measures))).toMatch(/^Cannot tell: age is not given/);
    expect(one).toBeDefined();
  });
});
