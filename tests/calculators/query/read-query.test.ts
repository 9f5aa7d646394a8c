/** What a line typed with one thumb is understood to say: the measure, the number, and everything said beside it. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type Disease, diseaseNames } from '../../../calculators/domain/diseases.ts';
import type { Reading } from '../../../calculators/domain/visit.ts';
import { nameWithValue, readingWords } from '../../../calculators/evaluate/say.ts';
import { convert, units } from '../../../calculators/quantity.ts';
import { termsOf } from '../../../calculators/query/names.ts';
import type { AskedReading, AskedSum, Query } from '../../../calculators/query/read-query.ts';
import { samples } from '../../samples.ts';
import { measures, numberMeasure } from '../evaluate/setup.ts';
import { calculationWords, readWhole } from './line-structure.ts';
import { read, vocabulary } from './lines.ts';

const plain = (text: string): string => text.replace(/\s+/g, ' ').trim();
const nameOf = (one: AskedReading | AskedSum): string => {
  if (one.kind === 'sum') return one.title;
  const measure = measures[one.measure];
  return plain(`${measure?.short} ${measure && readingWords(one.reading, measure)}`);
};

/** The readings that a line holds, by themselves or in a visit. */
function readings(line: string): AskedReading[] {
  const query = read(line);
  if (query?.kind === 'reading') return [query];
  if (query?.kind !== 'visit') throw new Error(`"${line}" is read as ${JSON.stringify(query)}`);
  return query.parts.map((part) => ({ ...part, unused: query.notUnderstood }));
}

/** The one reading that a line holds. */
function one(line: string): AskedReading {
  const [first, ...more] = readings(line);
  if (first === undefined || more.length > 0) throw new Error(`"${line}" is read as ${JSON.stringify(read(line))}`);
  return first;
}
const reading = (line: string): Reading => one(line).reading;
const measured = (line: string): [string, number, string] => {
  const { measure, reading } = one(line);
  return [measure, reading.value, reading.unit];
};

interface Wanted {
  typed: string;
  says?: string;
  asks?: string[];
  hints?: string;
}
const wanted: Wanted[] = parse(readFileSync('tests/site/queries.yaml', 'utf8'));

const titleOf = ({ measure: id, reading }: AskedReading): string => {
  const measure = numberMeasure(id);
  return plain(`${nameWithValue(measure, id)} ${readingWords(reading, measure, { unit: measure.unit })}`);
};
/** As on the screen, a word that has a capital inside it stays: pH. */
const capital = (words: string): string =>
  /^[a-z][A-Z]/.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1);

/** The heading of the answer, as the search writes it: the readings, what else was measured, the signs. */
function heading(query: NonNullable<Query>): string {
  const [calculation] = query.kind === 'visit' ? (query.taken ?? []) : [];
  if (calculation && query.kind === 'visit' && query.parts.length + query.others.length === 0)
    return calculationWords[calculation.calculator]?.title ?? '';
  if (query.kind === 'sum') return calculationWords[query.calculator]?.title ?? '';
  if (query.kind === 'reading') return capital(titleOf(query));
  if (query.kind !== 'visit') throw new Error(JSON.stringify(query));
  const signs = Object.entries(query.signs).map(
    ([id, sign]) => `${sign === 'absent' ? 'no ' : ''}${measures[id]?.short}`,
  );
  const others = query.others.map(({ label, typed }) => `${label} ${typed}`);
  const measured = [...query.parts.map(titleOf), ...others];
  const words = (measured.length > 0 ? measured : signs).join(' \u00b7 ');
  return words === '' ? diseaseNames[query.person.disease ?? 'als'] : capital(words);
}

describe('each line that the browser tests type', () => {
  test.each(wanted)('"$typed"', ({ typed, says, asks, hints }) => {
    const query = readWhole(typed);
    if (says !== undefined) {
      if (query === undefined) throw new Error(`"${typed}" is not understood`);
      expect(heading(query)).toBe(says);
    } else if (asks !== undefined) {
      if (query?.kind !== 'ask') throw new Error(JSON.stringify(query));
      expect(query.options.map(nameOf).sort()).toEqual([...asks].sort());
    } else if (hints !== undefined) expect(query?.kind === 'hint' && query.say.startsWith(hints)).toBe(true);
    else expect(query).toBeUndefined();
  });
});

describe('whose reading it is', () => {
  const said: [words: string, Disease][] = [
    ['als', 'als'],
    ['mnd', 'als'],
    ['motor neurone disease', 'als'],
    ['motor neuron', 'als'],
    ['amyotrophic lateral sclerosis', 'als'],
    ['dmd', 'dmd'],
    ['duchenne', 'dmd'],
    ['sma', 'sma'],
    ['spinal muscular atrophy', 'sma'],
    ['dm1', 'dm1'],
    ['myotonic dystrophy', 'dm1'],
    ['steinert', 'dm1'],
    ['pompe', 'pompe'],
    ['lopd', 'pompe'],
    ['acid maltase', 'pompe'],
    ['polio', 'post-polio'],
    ['post-polio', 'post-polio'],
    ['pps', 'post-polio'],
    ['fshd', 'fshd'],
    ['facioscapulohumeral', 'fshd'],
    ['lgmd', 'lgmd'],
    ['limb-girdle', 'lgmd'],
    ['limb girdle', 'lgmd'],
    ['cmd', 'cmd'],
    ['congenital muscular dystrophy', 'cmd'],
    ['gbs', 'gbs'],
    ['guillain-barre', 'gbs'],
    ['Guillain Barré', 'gbs'],
    ['mg', 'mg'],
    ['myasthenia', 'mg'],
    ['myasthenia gravis', 'mg'],
    ['sci', 'sci'],
    ['cord injury', 'sci'],
    ['tetraplegic', 'sci'],
    ['quadriplegia', 'sci'],
    ['acute sci', 'sci-acute'],
    ['acute spinal cord injury', 'sci-acute'],
    ['acute tetraplegia', 'sci-acute'],
    ['becker', 'other-chronic'],
    ['cmt', 'other-chronic'],
    ['charcot-marie-tooth', 'other-chronic'],
    ['myopathy', 'other-chronic'],
  ];
  test.each(said)('%s', (words, disease) => {
    const { person, unused } = one(`fvc 48 ${words}`);
    expect(person.disease).toBe(disease);
    expect(unused).toEqual([]);
  });

  test.each([
    ['63 years', 63],
    ['63 year old', 63],
    ['63 yo', 63],
    ['63 y/o', 63],
    ['63y', 63],
    ['aged 63', 63],
    ['age 63', 63],
    ['18 months', 1.5],
    ['boy 8', 8],
    ['child 12', 12],
    ['girl 17', 17],
  ])('fvc 48 %s: that age, and the number is not the reading', (words, age) => {
    expect(one(`fvc 48 ${words}`).person.ageYears).toBe(age);
    expect(reading(`fvc 48 ${words}`).value).toBe(48);
  });

  test.each([
    ['woman', 'female'],
    ['female', 'female'],
    ['lady', 'female'],
    ['man', 'male'],
    ['gentleman', 'male'],
    ['male', 'male'],
  ])('%s', (words, sex) => {
    const { person } = one(`fvc 48 ${words}`);
    expect(person.sex).toBe(sex);
    // The age of a child still in hand must not be lent to a grown-up.
    expect(Object.hasOwn(person, 'ageYears')).toBe(true);
    expect(person.ageYears).toBeUndefined();
  });

  test('a child without an age is asked for it, with a line to type; with one, not', () => {
    for (const words of ['child', 'boy', 'girl', 'toddler', 'teenager', 'paediatric', 'pediatric']) {
      const query = read(`fvc 48 ${words}`);
      expect([words, query?.kind]).toEqual([words, 'hint']);
    }
    expect(read('4 l nasal child')?.kind).toBe('hint');
    for (const words of ['infant', 'baby', 'newborn']) {
      expect(one(`sats 93 ${words}`).person).toEqual({ ageYears: 0, child: true });
      expect(one(`sats 93 ${words}`).assumed).toContain('under 1 year');
    }
    expect(one('fvc 48 girl 9 years').person).toMatchObject({ ageYears: 9, sex: 'female' });
  });
});

describe('what was breathed', () => {
  test.each([
    ['on air', 'air'],
    ['room air', 'air'],
    ['breathing room air', 'air'],
    ['ra', 'air'],
    ['on oxygen', 'oxygen'],
    ['on 2 l', 'oxygen'],
    ['on 2 l/min', 'oxygen'],
    ['on 2 lpm', 'oxygen'],
    ['on 2 litres of oxygen', 'oxygen'],
    ['on 2 lpm oxygen', 'oxygen'],
    ['2 l nasal', 'oxygen'],
    ['2 l o2', 'oxygen'],
    ['on 1.5 l of oxygen via cannula', 'oxygen'],
    ['on nasal prongs', 'oxygen'],
    ['on niv', 'ventilation'],
    ['on the ventilator', 'ventilation'],
    ['on bilevel', 'ventilation'],
  ])('sats 91 %s', (words, gas) => {
    const { measure, reading, told, assumed, unused } = one(`sats 91 ${words}`);
    expect(unused).toEqual([]);
    expect([measure, reading.value, reading.gas]).toEqual(['spo2', 91, gas]);
    expect(told).toContain(gas === 'ventilation' ? 'on ventilation' : `on ${gas}`);
    expect(assumed).not.toContain('nothing about what was breathed');
  });
  test('not told is not air', () => {
    expect(reading('sats 97')).toEqual({ value: 97, unit: '%' });
    expect(one('sats 97').assumed).toContain('nothing about what was breathed');
  });
  test('a nasal mask is no cannula', () => {
    expect(reading('sats 91 nasal mask').gas).toBeUndefined();
  });
});

describe('how it was taken', () => {
  test.each([
    ['vbg co2 55', 'venous'],
    ['venous co2 55', 'venous'],
    ['cbg co2 55', 'capillary'],
    ['ear lobe co2 55', 'capillary'],
    ['etco2 48', 'end-tidal'],
    ['tcco2 48', 'transcutaneous'],
    ['abg co2 55', 'arterial'],
  ])('%s', (line, method) => expect(reading(line).method).toBe(method));

  test.each(['end-tidal', 'transcutaneous'])('%s co2 48: how it was taken goes along', (method) => {
    expect(one(`${method} co2 48`)).toMatchObject({ measure: 'awake-co2-any-method', reading: { method } });
  });

  test.each([
    ['fvc 48 leak', ['leak']],
    ['fvc 48 no leak', undefined],
    ['fvc 48 without leak', undefined],
    ['fvc 48 poor effort', ['poor-effort']],
    ['fvc 48 poor technique', ['poor-effort']],
    ['fvc 48 tired', ['tired']],
    ['fvc 48 not tired', undefined],
    ['sniff 38 blocked nose', ['blocked-nose']],
    ['sats 91 cold hands', ['cold-hand']],
    ['sats 91 nail varnish', ['nail-varnish']],
    ['sats 91 poor trace', ['poor-trace']],
  ])('%s', (line, flags) => expect(reading(line).flags).toEqual(flags));

  test('lying and sitting', () => {
    expect(measured('supine fvc 42')).toEqual(['fvc-supine-percent', 42, '%']);
    expect(measured('fvc 42 lying')).toEqual(['fvc-supine-percent', 42, '%']);
    expect(measured('vc 1.2 l supine')).toEqual(['vc-litres-supine', 1.2, 'L']);
    expect(reading('fvc 42 sitting').posture).toBe('upright');
    expect(one('fvc 42 sitting').told).toContain('upright');
    expect(one('fvc 42').assumed).toContain('upright');
    expect(readings('fvc 48 supine 35').map(({ measure }) => measure)).toEqual(['fvc-percent', 'fvc-supine-percent']);
  });

  test('a fall or a rise is another measure than the value', () => {
    expect(measured('weight loss 11 %')[0]).toBe('weight-loss-percent');
    expect(measured('supine drop 31')[0]).toBe('fvc-drop-supine-percent');
    const fall = read('fvc fell 30');
    expect(
      fall?.kind === 'ask' &&
        fall.options.some((option) => option.kind === 'reading' && option.measure === 'fvc-percent'),
    ).toBe(false);
    // No criterion is about a rise of vital capacity.
    expect(read('fvc rise 10')).toBeUndefined();
  });

  test('what else is found at night is not turned away', () => {
    expect(one('t88 7 min overnight').measure).toBe('nocturnal-minutes-spo2-at-or-below-88');
    expect(one('rr 28 at night').measure).toBe(one('rr 28').measure);
    expect(readings('etco2 52 at night')).toEqual([]);
    expect(readings('tcco2 52 asleep')).toEqual([]);
  });
  test('the line offered for a child is the one typed, without spaces around it', () => {
    const query = read('  fvc 48 child ');
    expect(query?.kind === 'hint' && query.say).toContain('\u201cfvc 48 child 8 years\u201d');
  });

  test('a gas or a saturation at night is another reading than the one awake', () => {
    for (const line of ['sats 86 overnight', 'co2 52 at night', 'spo2 85 asleep']) {
      const query = read(line);
      if (query?.kind !== 'visit') throw new Error(`"${line}" is read as ${JSON.stringify(query)}`);
      expect([line, query.readings, query.asleep?.length, query.hints[0]?.page !== undefined]).toEqual([
        line,
        {},
        1,
        true,
      ]);
    }
  });
});

describe('units', () => {
  test.each([
    ['pcf 4.5 l/s', 4.5, 'L/s'],
    ['pcf 4.5 lps', 4.5, 'L/s'],
    ['pcf 260 l/min', 260, 'L/min'],
    ['pcf 260 lpm', 260, 'L/min'],
    ['pcf 260 litres per minute', 260, 'L/min'],
    ['vc 900 ml', 900, 'mL'],
    ['vc 1.9 litres', 1.9, 'L'],
    ['vc 1,9 l', 1.9, 'L'],
    ['vc 14 ml/kg', 14, 'mL/kg'],
    ['vc 14 cc/kg', 14, 'mL/kg'],
    ['mip 35 cmh2o', 35, 'cm[H2O]'],
    ['mip 35 cm', 35, 'cm[H2O]'],
    ['mip 3.5 kpa', 3.5, 'kPa'],
    ['co2 52 mmhg', 52, 'mm[Hg]'],
    ['co2 52 torr', 52, 'mm[Hg]'],
    ['co2 6.8 kpa', 6.8, 'kPa'],
    ['bicarb 29 mmol/l', 29, 'mmol/L'],
    ['bicarb 29 meq/l', 29, 'mmol/L'],
    ['rr 28 bpm', 28, '/min'],
    ['rr 28 a minute', 28, '/min'],
    ['ahi 12 per hour', 12, '/h'],
    ['niv 17 h', 17, 'h/d'],
    ['niv 17 hours a day', 17, 'h/d'],
    ['t88 7 minutes', 7, 'min'],
    ['fvc 48 per cent', 48, '%'],
    ['fvc 48 % pred', 48, '%'],
  ])('%s', (line, value, unit) => expect(reading(line)).toMatchObject({ value, unit }));

  test('a unit that the measure does not have is no reading of it', () => {
    expect(read('sats 91 kpa')).toBeUndefined();
    expect(read('pcf 260 mmhg')).toBeUndefined();
  });
  test('a number that can be two things is asked about, never guessed', () => {
    for (const line of ['sniff 4', 'fvc 2', 'mip 5']) expect([line, read(line)?.kind]).toEqual([line, 'ask']);
    expect(measured('fvc 1.9')).toEqual(['vc-litres', 1.9, 'L']);
    expect(read('vc 1,900 ml')?.kind).toBe('hint');
  });
  test('the sign of a pressure says nothing; that of a base excess does', () => {
    expect(measured('mip -35')).toEqual(measured('mip 35'));
    expect(reading('base excess -4').value).toBe(-4);
  });
  test('one blow in two units is two readings', () => {
    expect(
      readings('fvc 2.1 l 48 %')
        .map(({ measure }) => measure)
        .sort(),
    ).toEqual(['fvc-percent', 'vc-litres']);
  });
  test('each usual value of each measure, typed by its short name, is that measure or one of those offered', () => {
    const lost = Object.entries(measures).flatMap(([id, measure]) => {
      // Months beside a number are someone's age.
      if (measure.kind !== 'number' || measure.readFrom || ['a', 'mo'].includes(measure.unit)) return [];
      // No criterion is about it: search names it as a number that it does not use.
      if (measure.sheetOnly || vocabulary.others.some((one) => one.measure === id)) return [];
      const value = Number(((measure.plausible[0] + measure.plausible[1]) / 2).toPrecision(2));
      const query = read(`${measure.short} ${value} ${units[measure.unit].symbol}`);
      const offered =
        query?.kind === 'reading'
          ? [query]
          : query?.kind === 'ask'
            ? query.options
            : query?.kind === 'visit'
              ? [...query.parts, ...query.asks.flatMap(({ options }) => options)]
              : [];
      const found = offered.some(
        (option) =>
          option.kind === 'reading' &&
          option.measure === id &&
          Math.abs(convert(option.reading.value, option.reading.unit, measure.unit) - value) < 1e-9,
      );
      return found || query?.kind === 'hint' ? [] : [`${measure.short} ${value} ${units[measure.unit].symbol}`];
    });
    expect(lost).toEqual([]);
  });
});

describe('oxygen', () => {
  const sum = (line: string): AskedSum => {
    const query = read(line);
    if (query?.kind !== 'sum') throw new Error(`"${line}" is read as ${JSON.stringify(query)}`);
    return query;
  };
  test.each([
    ['4 l nasal', 'cannula', 4],
    ['4 l nasal cannula', 'cannula', 4],
    ['2 lpm prongs', 'cannula', 2],
    ['500 ml/min cannula', 'cannula', 0.5],
    ['simple mask 6', 'simple-mask', 6],
    ['non-rebreather 15 l', 'reservoir-mask', 15],
    ['nrb 15 l', 'reservoir-mask', 15],
    ['trach mask 8 l', 'tracheostomy-mask', 8],
  ])('%s', (line, device, flow) => {
    expect(sum(line).inputs).toEqual({ interface: device, flow: { value: flow, unit: 'L/min' } });
    expect(sum(line).assumed).toContain('an adult');
    expect(sum(line).assumed.includes('L/min')).toBe(!/lpm|l\/min/.test(line));
  });
  test('a valve is told by its per cent, with or without a flow; without either, each is offered', () => {
    expect(sum('venturi 28').inputs).toEqual({ interface: 'venturi', percent: '28' });
    expect(sum('28% venturi 4 l').inputs).toMatchObject({ percent: '28', flow: { value: 4 } });
    const offered = read('venturi 4 l');
    expect(offered?.kind === 'ask' && offered.options.length).toBeGreaterThan(3);
  });
  test('an age goes along', () => {
    expect(sum('2 l cannula 63 years').inputs.age).toEqual({ value: 63, unit: 'a' });
  });
  test.each(['mask leak 24 l/min', 'cannula', 'cannula 2 l 4 l', 'cannula 0', 'mask 8'])('%s is no sum', (line) =>
    expect(read(line)?.kind).not.toBe('sum'),
  );
});

describe('what is not understood', () => {
  test.each([
    '',
    'sniff',
    '48',
    'fvc below 50',
    'fvc < 50',
    'fvc at least 50',
    'cutoff snip 40',
    'bp 120/80',
    '25/11/2026',
  ])('"%s" is left to the full text', (line) => expect(read(line)).toBeUndefined());
  test('words and numbers that had no part are named', () => {
    expect(one('fvc 48 after surgery').unused).toEqual(['after', 'surgery']);
    expect(one('sniff 38 3rd try').unused).toContain('try');
    expect(one('patient is now sniff 38').unused).toEqual([]);
  });
  test('a slip of the finger is said', () => {
    expect(one('snif 38').assumed[0]).toBe('\u201csnif\u201d read as sniff');
    expect(one('bicarbonte 30').measure).toBe('bicarbonate');
    expect(read('xyzzy 38')).toBeUndefined();
  });

  test.each([
    // two letters the other way round, one left out, one too many, one wrong
    ['sinff 38', 'snip'],
    ['sniffx 38', 'snip'],
    ['sniif 38', 'snip'],
    ['satruation 90 on air', 'spo2'],
    ['saturtion 90 on air', 'spo2'],
    ['bicrabonate 30', 'bicarbonate'],
    // eight letters or more: two slips
    ['bicrbonte 30', 'bicarbonate'],
    ['satruatoin 90 on air', 'spo2'],
  ])('%s is %s', (line, measure) => {
    expect(one(line).measure).toBe(measure);
    expect(one(line).assumed[0]).toMatch(/ read as /);
  });
  test.each(['snxxf 38', 'sxxff 38', 'bixxxbonate 30', 'stxxration 90 on xxx', 'fxc 48'])(
    '%s is too far from any name',
    (line) => expect(read(line)).toBeUndefined(),
  );
  test('the posture belongs to the number after it, wherever the first stands', () => {
    const parts = (line: string) => readings(line).map(({ measure, reading }) => [measure, reading.value]);
    const both = [
      ['fvc-percent', 48],
      ['fvc-supine-percent', 35],
    ];
    expect(parts('fvc 48 supine 35')).toEqual(both);
    expect(parts('fvc 48 lying flat 35')).toEqual(both);
    expect(measured('fvc supine 35')).toEqual(['fvc-supine-percent', 35, '%']);
  });

  const word = fc.oneof(
    fc.constantFrom(...[...termsOf(measures, vocabulary).keys()].slice(0, 400)),
    fc.constantFrom(
      'l',
      'l/min',
      '%',
      'kpa',
      'mmhg',
      'on',
      'air',
      '2 l',
      'supine',
      'drop',
      'night',
      'leak',
      'venturi',
      'mask',
      'boy',
      'als',
    ),
    fc.integer({ min: -50, max: 1500 }).map(String),
    fc.double({ min: 0, max: 300, noNaN: true }).map((value) => value.toFixed(2).replace('.', ',')),
    fc.string({ maxLength: 12, unit: 'grapheme' }),
  );
  test('whatever is typed, nothing is thrown, and every number held is finite and inside its hard range', () => {
    fc.assert(
      fc.property(fc.array(word, { maxLength: 9 }), (words) => {
        const query = read(words.join(' '));
        const parts = query?.kind === 'visit' ? [...query.parts, ...query.asks] : query ? [query] : [];
        for (const option of parts.flatMap((part) => (part.kind === 'ask' ? part.options : [part]))) {
          if (option.kind !== 'reading') continue;
          const measure = measures[option.measure];
          if (measure?.kind !== 'number') throw new Error(`${option.measure} is no number`);
          const held = convert(option.reading.value, option.reading.unit, measure.unit);
          expect(held >= measure.hard[0] - 1e-9 && held <= measure.hard[1] + 1e-9).toBe(true);
          expect(option.reading.flags ?? []).toEqual(
            (option.reading.flags ?? []).filter((flag) => measure.flags.some(({ id }) => id === flag)),
          );
        }
      }),
      samples(600, 3000),
    );
  });
});
