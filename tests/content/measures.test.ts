/** The measures: ranges, units, the signs that are made of other signs, and what one answer settles. */
import { describe, expect, test } from 'vitest';
import { bicarbonate, breathRate, paco2 } from '../../calculators/blood-gas/shared-fields.ts';
import { age, weight } from '../../calculators/body-size/shared-fields.ts';
import { coughFlow } from '../../calculators/cough/shared-fields.ts';
import type { ImpliedBy, NumberMeasure, SignMeasure, Usual } from '../../calculators/domain/measure.ts';
import type { Reading, Visit } from '../../calculators/domain/visit.ts';
import { evaluate } from '../../calculators/evaluate/evaluate.ts';
import { readingOf, signOf } from '../../calculators/evaluate/readings.ts';
import { measured } from '../../calculators/muscle-strength/predicted-pressure.ts';
import { convert, convertible, units } from '../../calculators/quantity.ts';
import { uprightVitalCapacity } from '../../calculators/spirometry/shared-fields.ts';
import { readCriteria, readEvidence, readMeasures, readSources, readVisitSheet } from '../read-content.ts';

const measures = readMeasures();
const entries = Object.entries(measures);
const numbers = entries.filter((entry): entry is [string, NumberMeasure] => entry[1].kind === 'number');
const signs = entries.filter((entry): entry is [string, SignMeasure] => entry[1].kind === 'sign');
const partsOf = ({ anyOf = [], allOf = [] }: SignMeasure) => [...anyOf, ...allOf];

const visit = (given: Partial<Visit>): Visit => ({ readings: {}, signs: {}, ...given });
const evidence = readEvidence();
const resultOf = (id: string, given: Partial<Visit>) =>
  evaluate(visit(given), evidence).find(({ criterion }) => criterion.id === id)?.result;

describe('numbers', () => {
  test('what is plausible lies inside what is possible', () => {
    const wrong = numbers.filter(
      ([, { plausible, hard }]) =>
        plausible[0] < hard[0] || plausible[1] > hard[1] || plausible[0] >= plausible[1] || hard[0] >= hard[1],
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('every other unit a reader may type converts', () => {
    const wrong = numbers.flatMap(([id, { unit, accepts }]) =>
      accepts.filter((other) => other === unit || !convertible(other, unit)).map((other) => `${id}: ${other}`),
    );
    expect(wrong).toEqual([]);
  });
  test('no cough flow is accepted in both units, so one typed in the other is asked about', () => {
    const [low, high] = (measures['peak-cough-flow'] as NumberMeasure).hard;
    expect(high / units['L/s'].factor).toBeLessThanOrEqual(low);
  });
  test('no CO2 is accepted both in mmHg and in kPa', () => {
    const [low, high] = (measures.paco2 as NumberMeasure).hard;
    expect((high * units['mm[Hg]'].factor) / units.kPa.factor).toBeLessThan(25);
    expect(low).toBeGreaterThan((high * units['mm[Hg]'].factor) / units.kPa.factor / 2);
  });
  test.each([
    ['paco2', paco2],
    ['bicarbonate', bicarbonate],
    ['respiratory-rate', breathRate],
    ['weight', weight],
    ['usual-weight', weight],
    ['age-years', age],
    ['vc-litres', uprightVitalCapacity],
    ['vc-litres-supine', uprightVitalCapacity],
    ['peak-cough-flow', coughFlow],
    ['mip', measured],
  ] as const)('%s has the unit and the limits of the calculators', (id, field) => {
    const { unit, plausible, hard } = measures[id] as NumberMeasure;
    expect({ unit, plausible, hard }).toEqual({ unit: field.unit, plausible: field.plausible, hard: field.hard });
  });
  test('a quality flag is named once in its measure and says which way it errs', () => {
    for (const [id, { flags }] of numbers) {
      const names = flags.map((flag) => flag.id);
      expect({ id, twice: names.filter((name, place) => names.indexOf(name) !== place) }).toEqual({ id, twice: [] });
    }
  });
  test('a leak makes a blow, a sniff or a cough read low, never high', () => {
    const blown = ['fvc-percent', 'fvc-supine-percent', 'vc-litres', 'mip', 'mep', 'peak-cough-flow'];
    for (const id of blown)
      expect({ id, leak: (measures[id] as NumberMeasure).flags.find((flag) => flag.id === 'leak')?.reads }).toEqual({
        id,
        leak: 'low',
      });
  });
  test('pressures are compared without their sign; a fall keeps its sign, so that a rise is never taken for a fall', () => {
    for (const id of ['snip', 'mip', 'mep', 'snip-or-mip-best', 'suction-pressure'])
      expect({ id, magnitude: (measures[id] as NumberMeasure).magnitude }).toEqual({ id, magnitude: true });
    const rise: Reading = { value: -12, unit: 'cm[H2O]/(3.mo)' };
    const given = { disease: 'als', ageYears: 60, readings: { 'snip-or-mip-fall-per-3-months': rise } } as const;
    expect(resultOf('nice-mnd-snip-or-mip-fall-gt-10-per-3-months', given)).toBe('not-met');
  });
  test('a fall on lying flat says nothing in cord injury', () => {
    const { notFor } = measures['fvc-drop-supine-percent'] as NumberMeasure;
    expect(notFor?.diseases).toEqual(['sci', 'sci-acute']);
  });
  test('the better of sniff and mouth pressure is the larger one, whichever sign it was typed with', () => {
    const both = visit({ readings: { snip: { value: 40, unit: 'cm[H2O]' }, mip: { value: -62, unit: 'cm[H2O]' } } });
    expect(readingOf('snip-or-mip-best', both, measures)?.value).toBe(-62);
  });
  test('an arterial gas counts where any way of reading CO2 counts, and a venous one counts nowhere', () => {
    const arterial = { paco2: { value: 48, unit: 'mm[Hg]', method: 'arterial' } } as const;
    const venous = { paco2: { value: 48, unit: 'mm[Hg]', method: 'venous' } } as const;
    const given = { disease: 'dmd', ageYears: 19, signs: { 'already-on-niv': 'present' } } as const;
    expect(resultOf('dmd2018-daytime-pco2-gt-45', { ...given, readings: arterial })).toBe('met');
    expect(resultOf('dmd2018-daytime-pco2-gt-45', { ...given, readings: venous })).toBe('cannot-tell');
  });
  test('the pages of the measuring section are addressed from the root', () => {
    const pages = entries.flatMap(([, { page }]) => page ?? []);
    expect(pages.filter((page) => !/^\/measuring\/[a-z-]+\/$/.test(page))).toEqual([]);
  });
  test('a code for health records passes its check digit', () => {
    const wrong = entries.flatMap(([id, { loinc }]) => (loinc && !hasGoodCheckDigit(loinc.code) ? [id] : []));
    expect(entries.some(([, { loinc }]) => loinc)).toBe(true);
    expect(wrong).toEqual([]);
    // FiO2 is 3150-3 in the source that was read; the remembered 3150-6 is a typing error that the digit catches.
    expect(hasGoodCheckDigit('3150-6')).toBe(false);
  });
});

/** Mod 10 with every second digit from the right doubled, as the Regenstrief Institute defines it for LOINC. */
function hasGoodCheckDigit(code: string): boolean {
  const [body = '', check] = code.split('-');
  const sum = [...body].reverse().reduce((total, digit, place) => {
    const value = Number(digit) * (place % 2 === 0 ? 2 : 1);
    return total + (value > 9 ? value - 9 : value);
  }, 0);
  return String((10 - (sum % 10)) % 10) === check;
}

describe('night oximetry and the gas that was breathed', () => {
  const night = (gas: Reading['gas'], minutes: number) => ({
    disease: 'als' as const,
    ageYears: 60,
    readings: {
      'nocturnal-minutes-spo2-at-or-below-88': { value: minutes, unit: 'min' as const, gas },
      'nocturnal-consecutive-minutes-spo2-at-or-below-88': { value: minutes, unit: 'min' as const, gas },
      'recording-hours': { value: 6, unit: 'h' as const },
    },
  });
  test('minutes counted on oxygen or on NIV cannot be compared with a threshold made on air', () => {
    expect(resultOf('aci2012-spo2-le-88-5-consecutive-min', night('oxygen', 0))).toBe('cannot-tell');
    expect(resultOf('aci2012-spo2-le-88-5-consecutive-min', night('ventilation', 0))).toBe('cannot-tell');
    expect(resultOf('aci2012-spo2-le-88-5-consecutive-min', night(undefined, 0))).toBe('cannot-tell');
    expect(resultOf('aci2012-spo2-le-88-5-consecutive-min', night('air', 0))).toBe('not-met');
  });
  test('the Medicare line is on the prescribed oxygen, whatever that is', () => {
    expect(resultOf('us-rad-sleep-spo2-le-88-for-5-min', night('oxygen', 5))).toBe('met');
    expect(resultOf('us-rad-sleep-spo2-le-88-for-5-min', night('air', 4))).toBe('not-met');
  });
  test('every saturation is a room-air reading, but for those that are taken otherwise by their name', () => {
    const saturations = numbers.filter(([id]) => /spo2/.test(id));
    const byName = saturations.filter(([id]) => /on-niv|challenge/.test(id)).map(([id]) => id);
    expect(byName).toEqual(['night-time-spo2-below-90-on-niv-percent', 'hypoxic-challenge-spo2']);
    const nights = saturations.filter(([id]) => !byName.includes(id));
    expect(nights.map(([id]) => id).sort()).toEqual([
      'nocturnal-consecutive-minutes-spo2-at-or-below-88',
      'nocturnal-consecutive-minutes-spo2-below-90',
      'nocturnal-minutes-spo2-at-or-below-88',
      'nocturnal-spo2-lowest',
      'nocturnal-spo2-mean',
      'nocturnal-time-spo2-below-90-percent',
      'sleep-time-percent-spo2-at-or-below-88',
      'spo2',
    ]);
    expect(nights.filter(([, { roomAir }]) => !roomAir)).toEqual([]);
  });
});

describe('signs made of signs', () => {
  test('every part of a sign is a sign that is asked for itself', () => {
    const wrong = signs.flatMap(([id, sign]) =>
      [...partsOf(sign), ...sign.items.map((item) => item.id)]
        .filter((part) => measures[part]?.kind !== 'sign')
        .map((part) => `${id}: ${part}`),
    );
    expect(wrong).toEqual([]);
  });
  test('a printed list is the list that decides: each item is one of the parts', () => {
    const wrong = signs.flatMap(([id, sign]) =>
      sign.items.filter((item) => !partsOf(sign).includes(item.id)).map((item) => `${id}: ${item.id}`),
    );
    expect(wrong).toEqual([]);
  });
  test('a sign is not made of itself, however far down', () => {
    const reaches = (id: string, seen: readonly string[] = []): string[] => {
      if (seen.includes(id)) return [[...seen, id].join(' > ')];
      const sign = measures[id];
      return sign?.kind === 'sign' ? partsOf(sign).flatMap((part) => reaches(part, [...seen, id])) : [];
    };
    expect(signs.flatMap(([id]) => reaches(id))).toEqual([]);
  });
  test('no sign follows in two ways at once', () => {
    expect(signs.filter(([, { anyOf, allOf }]) => anyOf && allOf).map(([id]) => id)).toEqual([]);
  });
  test('one symptom is enough, and none is told only when every one was asked', () => {
    const list = 'symptoms-or-signs-of-respiratory-impairment';
    expect(signOf(list, visit({ signs: { 'morning-headache': 'present' } }), measures)).toBe('present');
    expect(signOf(list, visit({ signs: { 'morning-headache': 'absent' } }), measures)).toBeUndefined();
    const none = Object.fromEntries(partsOf(measures[list] as SignMeasure).map((part) => [part, 'absent'] as const));
    expect(signOf(list, visit({ signs: none }), measures)).toBe('absent');
  });
  test('the box of NICE NG42 has its 13 lines of symptoms, concentration and memory asked apart, and its 7 signs', () => {
    // symptoms: breathlessness, orthopnoea, chest infections, disturbed sleep, non-refreshing sleep, nightmares, daytime
    // sleepiness, poor concentration and/or memory, confusion, hallucinations, morning headaches, fatigue, poor appetite
    expect((measures['symptoms-or-signs-of-respiratory-impairment'] as SignMeasure).items.length).toBe(13 + 1 + 7);
  });
  test('the European list of 2002 has seven symptoms', () => {
    expect((measures['symptoms-of-respiratory-muscle-weakness'] as SignMeasure).items.length).toBe(7);
  });
  test('a chest infection with a weak cough calls for help today, from the two answers alone', () => {
    const given = { disease: 'fshd', ageYears: 40 } as const;
    const row = 'fallback-chest-infection-with-weak-cough';
    expect(
      resultOf(row, { ...given, signs: { 'respiratory-infection': 'present', 'ineffective-cough': 'present' } }),
    ).toBe('met');
    expect(resultOf(row, { ...given, signs: { 'respiratory-infection': 'present', 'weak-cough': 'present' } })).toBe(
      'met',
    );
    expect(resultOf(row, { ...given, signs: { 'respiratory-infection': 'absent' } })).toBe('not-met');
    expect(resultOf(row, { ...given, signs: { 'respiratory-infection': 'present' } })).toBe('cannot-tell');
  });
  test('sleep symptoms alone do not make sleep-disordered breathing', () => {
    const whole = 'nocturnal-oximetry-abnormal-or-symptomatic-sleep-disordered-breathing';
    expect(
      signOf(whole, visit({ signs: { 'sleep-related-respiratory-symptoms': 'present' } }), measures),
    ).toBeUndefined();
  });
  test('known lung disease asks for a medical check before air is pushed into the chest', () => {
    const given = { disease: 'als', ageYears: 67, signs: { 'known-lung-disease': 'present' } } as const;
    expect(resultOf('caution-lvr-known-lung-disease', given)).toBe('met');
  });
});

describe('answers that follow from readings', () => {
  const sources = readSources();
  const rules = signs.flatMap(([id, { impliedBy }]) => impliedBy.map((rule): [string, ImpliedBy] => [id, rule]));
  const ranges = numbers.flatMap(([id, { usual }]) => usual.map((range): [string, Usual] => [id, range]));
  const named = (id: string, { source, locator }: { source: string; locator: string }) =>
    sources[source] === undefined || locator.trim() === '' ? [`${id}: ${source}`] : [];

  test('each rule and each usual range names a source that is described, with its place', () => {
    expect(rules.length).toBeGreaterThan(20);
    expect(ranges.length).toBeGreaterThan(15);
    expect([...rules, ...ranges].flatMap(([id, one]) => named(id, one))).toEqual([]);
  });
  test('common practice has no published source given, and only common practice', () => {
    const wrong = [...rules, ...ranges].filter(
      ([, { standing, locator }]) => (standing === 'common-practice') !== (locator === 'no published source given'),
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('nothing from memory answers a question or calls a reading abnormal', () => {
    expect([...rules, ...ranges].filter(([, { standing }]) => standing === 'from-memory').map(([id]) => id)).toEqual(
      [],
    );
  });
  test('each rule is about a number that exists, in a unit that converts, inside what can be measured', () => {
    const wrong = rules.flatMap(([id, { measure: from, unit, value }]) => {
      const measure = measures[from];
      if (measure?.kind !== 'number') return [`${id}: ${from} is no number`];
      if (!convertible(unit, measure.unit)) return [`${id}: ${unit} for ${from}`];
      const there = convert(value, unit, measure.unit);
      return there > measure.hard[0] && there < measure.hard[1] ? [] : [`${id}: ${value} ${unit}`];
    });
    expect(wrong).toEqual([]);
  });
  test('each usual range has a limit, in a unit that converts, inside what can be measured', () => {
    const wrong = ranges.flatMap(([id, { low, high, unit }]) => {
      const measure = measures[id] as NumberMeasure;
      if (!convertible(unit, measure.unit)) return [`${id}: ${unit}`];
      const limits = [low, high]
        .filter((limit) => limit !== undefined)
        .map((limit) => convert(limit, unit, measure.unit));
      const inside = limits.every((limit) => limit >= measure.hard[0] && limit <= measure.hard[1]);
      return limits.length > 0 && inside && (low ?? -Infinity) < (high ?? Infinity) ? [] : [`${id}: ${low} to ${high}`];
    });
    expect(wrong).toEqual([]);
  });
  test('a number without a usual range is one that nothing is normal of, or is known to lack one', () => {
    // A setting, a body size, a count of use or of time: none is abnormal by itself.
    const neither = [
      'age-years',
      'weight',
      'usual-weight',
      'oxygen-flow',
      'recording-hours',
      'niv-hours',
      'days-since-start',
      'interval-months',
      'mouthpiece-disconnection',
      'suction-pressure',
      'cabin-altitude',
      'ventilator-ipap',
      'ventilator-epap',
      'ventilator-rate',
    ];
    // Taken from others that have one.
    const taken = numbers.filter(([, { readFrom }]) => readFrom?.rule === 'greatest').map(([id]) => id);
    // No range has been read for these: where no criterion speaks of them, an abnormal value leaves no line yet.
    const lacking = [
      'single-breath-count',
      'egris',
      'borg-breathlessness',
      'hypoxic-challenge-pao2',
      'hypoxic-challenge-spo2',
      'nocturnal-consecutive-minutes-spo2-below-90',
      'manually-assisted-peak-cough-flow',
      'mi-e-peak-cough-flow',
      'assisted-peak-cough-flow',
      'norris-bulbar-score',
      'nocturnal-spo2-mean',
      'nocturnal-spo2-lowest',
      'nocturnal-drops-3-per-hour',
      'nocturnal-drops-4-per-hour',
      'ventilator-leak',
      'ventilator-ahi',
      'nocturnal-minutes-spo2-at-or-below-88',
      'nocturnal-consecutive-minutes-spo2-at-or-below-88',
      'nocturnal-time-spo2-below-90-percent',
      'night-time-spo2-below-90-on-niv-percent',
      'sleep-time-percent-spo2-at-or-below-88',
      'nocturnal-paco2',
      'paco2-overnight-rise',
      'tcco2-or-etco2-peak-rise',
      'tcco2-night-rise',
      'sleep-minutes-co2-above-55',
      'sleep-minutes-co2-rise-10-and-above-50',
      'sleep-time-percent-co2-above-50',
      'sleep-time-percent-co2-rise-10-above-awake',
      'weight-loss-percent',
      'fvc-drop-supine-percent',
      'vc-litres',
      'vc-litres-supine',
      'vc-per-kilogram',
      'vc-or-mip-or-mep-fall-from-baseline-percent',
      'fev1-percent',
      'mip-percent-predicted',
      'mep',
      'snip-or-mip-fall-per-3-months',
      'snip-relative-fall-per-3-months',
    ];
    const without = numbers.filter(([, { usual }]) => usual.length === 0).map(([id]) => id);
    expect(without.filter((id) => ![...neither, ...taken, ...lacking].includes(id))).toEqual([]);
  });
  test('ages run from the younger to the older', () => {
    const wrong = [...rules, ...ranges].filter(
      ([, { minAgeYears = 0, belowAgeYears = 150 }]) => minAgeYears >= belowAgeYears,
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('a range for one sex stands before the one for everybody, which is no stricter', () => {
    for (const [id, { usual }] of numbers) {
      const general = usual.findIndex(({ sex }) => sex === undefined);
      const special = usual.flatMap(({ sex, minAgeYears }, at) =>
        sex !== undefined && minAgeYears === usual[general]?.minAgeYears ? [at] : [],
      );
      for (const at of special) {
        expect([id, at < general]).toEqual([id, true]);
        expect(usual[general]?.low ?? 0).toBeLessThanOrEqual(usual[at]?.low ?? Number.POSITIVE_INFINITY);
      }
    }
  });
  test('a rule gives the abnormal answer, unless it says that it clears; then it gives the healthy one', () => {
    const wrong = rules.filter(([id, { answer, clears }]) => {
      const { abnormal } = measures[id] as SignMeasure;
      const serious = abnormal === 'yes' ? 'present' : 'absent';
      return abnormal === 'neither' || (answer === serious) === (clears === true);
    });
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('a high reading never answers for a measure that is abnormal when low, nor the other way round', () => {
    const low = /^(fvc|vc|snip|mip|mep|peak-cough|manually-assisted|assisted-peak|spo2|fev1)/;
    const falls = /fall|drop/;
    const wrong = rules.filter(([, { measure: from, comparator, clears }]) => {
      const whenLow = low.test(from) && !falls.test(from);
      return (comparator.startsWith('<') === whenLow) === (clears === true);
    });
    expect(wrong.map(([id, { measure: from, comparator }]) => `${id}: ${from} ${comparator}`)).toEqual([]);
  });
  test('a raised CO2 in blood says so whatever another method shows beside it', () => {
    const readings = {
      paco2: { value: 9.3, unit: 'kPa' },
      'awake-co2-any-method': { value: 5.5, unit: 'kPa', method: 'transcutaneous' },
    } as const;
    const given = { disease: 'als', ageYears: 60, readings, signs: { 'acutely-unwell': 'present' } } as const;
    expect(resultOf('fallback-co2-raised-and-unwell', given)).toBe('met');
    const lower = { ...given, readings: { ...readings, paco2: { value: 5.4, unit: 'kPa' } } } as const;
    expect(resultOf('fallback-co2-raised-and-unwell', lower)).toBe('not-met');
  });
});

describe('nothing is asked for nothing', () => {
  test('every measure is named by a row, by another measure, or is a base reading of a visit', () => {
    const base = readVisitSheet().always.flatMap(({ ask }) => ask);
    const named = new Set([
      ...base,
      ...readCriteria().flatMap((row) => [
        row.measure,
        ...(row.alternative ? [row.alternative.measure] : []),
        ...row.alsoRequires.flatMap((also) => ('anyOf' in also ? also.anyOf : [also.measure])),
      ]),
      ...signs.flatMap(([, sign]) => [...partsOf(sign), ...sign.impliedBy.map(({ measure }) => measure)]),
      ...numbers.flatMap(([, { readFrom }]) => readFrom?.measures ?? []),
    ]);
    expect(entries.map(([id]) => id).filter((id) => !named.has(id))).toEqual([]);
  });
});
