/** A bundle opened again: whole where it is ours, by checked codes only where it is not, and never a guess. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { diseases } from '../../../calculators/domain/diseases.ts';
import { supportStatuses } from '../../../calculators/domain/visit.ts';
import { toFhir } from '../../../calculators/exchange/fhir.ts';
import { fromFhir } from '../../../calculators/exchange/read-fhir.ts';
import { randomFrom } from '../../../calculators/learning/random.ts';
import { type KeptVisit, readSeries, type Series, writeSeries } from '../../../calculators/visit/series.ts';
import { pastVisits } from '../../../src/islands/visit/kept.ts';
import { readDecisions, readMeasures } from '../../read-content.ts';

const measures = readMeasures();
const decisions = readDecisions();
const read = (bundle: unknown) =>
  fromFhir(typeof bundle === 'string' ? bundle : JSON.stringify(bundle, null, 2), measures, (id) =>
    Object.hasOwn(decisions, id),
  );
function opened(bundle: unknown) {
  const found = read(bundle);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return found;
}
function problems(bundle: unknown) {
  const found = read(bundle);
  if (found.ok) throw new Error('was read');
  return found.problems;
}
const bundleOf = (series: Series) => toFhir(pastVisits(series.person, series.visits, measures), measures);

const visit = (date: string, more: Partial<KeptVisit> = {}): KeptVisit => ({
  date,
  ageYears: 61,
  heightCm: 164,
  readings: {
    snip: { text: '38', unit: 'cm[H2O]', flags: ['blocked-nose'] },
    'vc-litres': { text: '1.9', unit: 'L', posture: 'upright', method: 'slow' },
    spo2: { text: '95', unit: '%', gas: 'air' },
  },
  notDone: { mip: 'could not make a seal' },
  signs: { orthopnoea: 'present', 'acutely-unwell': 'absent' },
  supports: { 'night-ventilation': { status: 'in-place', hours: '7', timeOff: '2 h, sitting' } },
  prediction: { set: 'gli-2022-global' },
  wishes: [],
  answers: '',
  asked: '',
  plan: [],
  ...more,
});
const series = (...visits: KeptVisit[]): Series => ({
  format: 'tidemark-visits',
  version: 1,
  person: { disease: 'als', ageYears: 61, sex: 'female', heightCm: 164 },
  visits,
});
const clean = (value: unknown) => JSON.parse(JSON.stringify(value));

describe('a bundle of our own', () => {
  test('opens as it was: readings, posture, method, flag, gas, signs, reasons, supports with their hours', () => {
    const saved = series(visit('2026-08-20'), visit('2026-11-20'));
    const found = opened(bundleOf(saved));
    expect(clean(found.series)).toEqual(clean(saved));
    expect(found.leftOut).toEqual([]);
  });

  test('the reference set that per cent predicted was worked out with comes back with it', () => {
    const prediction = { set: 'nhanes3-1999', group: 'caucasian' } as const;
    const found = opened(bundleOf(series(visit('2026-08-20', { prediction }))));
    expect(found.series.visits[0]?.prediction).toEqual(prediction);
    expect(found.series.visits[0]?.readings).not.toHaveProperty('fvc-percent');
  });

  test('plans, wishes and words are what it does not carry', () => {
    const told = { wishes: ['no-hospital' as const], answers: 'by letter board', asked: 'Gas?' };
    expect(clean(opened(bundleOf(series(visit('2026-08-20', told)))).series.visits[0])).toEqual(
      clean(visit('2026-08-20')),
    );
  });

  test('a flag of a file from before flags had codes is known by its words, and an unknown one is listed', () => {
    const bundle = clean(bundleOf(series(visit('2026-08-20'))));
    const sniff = bundle.entry.find((one: { resource: { note?: { text: string }[] } }) =>
      one.resource.note?.[0]?.text.startsWith('Flagged: blocked nose'),
    ).resource;
    delete sniff.component;
    expect(opened(bundle).series.visits[0]?.readings.snip?.flags).toEqual(['blocked-nose']);
    sniff.note[0].text = 'Flagged: sneezed';
    expect(opened(bundle).leftOut.join()).toContain('flag "sneezed" is not known here');
  });

  const numbers = Object.entries(measures).flatMap(([id, measure]) =>
    measure.kind === 'number' && id !== 'age-years' ? [{ id, measure }] : [],
  );
  // Where the sheet works a value out, a bundle carries the value and no reason why it was not measured.
  const workedOut = new Set([
    'fvc-percent',
    'fvc-supine-percent',
    'fvc-drop-supine-percent',
    'vc-per-kilogram',
    'weight-loss-percent',
  ]);
  const signs = Object.entries(measures).flatMap(([id, { kind }]) =>
    kind === 'sign' && id !== 'already-on-niv' ? [id] : [],
  );
  const opt = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
  const aReading = fc.constantFrom(...numbers).chain(({ id, measure }) =>
    fc.record({
      id: fc.constant(id),
      text: fc
        .integer({ min: Math.max(0, Math.ceil(measure.hard[0] * 10)), max: Math.floor(measure.hard[1] * 10) })
        .map((tenths) => String(tenths / 10)),
      unit: fc.constant(measure.unit),
      gas: opt(fc.constantFrom('air' as const, 'oxygen' as const, 'ventilation' as const)),
      posture: opt(fc.constantFrom('upright' as const, 'supine' as const)),
      method: opt(fc.constantFrom('slow', 'forced', 'Upright; by mask', 'arterial')),
      flags:
        measure.flags.length === 0
          ? fc.constant(undefined)
          : opt(
              fc.subarray(
                measure.flags.map((flag) => flag.id),
                { minLength: 1 },
              ),
            ),
    }),
  );
  const day = fc.integer({ min: 1, max: 28 }).map((at) => `2026-0${1 + (at % 9)}-${String(at).padStart(2, '0')}`);
  const aVisit = fc
    .record({
      date: day,
      readings: fc.uniqueArray(aReading, { selector: ({ id }) => id, maxLength: 6 }),
      signs: fc.dictionary(fc.constantFrom(...signs), fc.constantFrom('present' as const, 'absent' as const), {
        maxKeys: 5,
      }),
      notDone: fc.dictionary(
        fc.constantFrom(...numbers.map(({ id }) => id).filter((id) => !workedOut.has(id))),
        fc.constantFrom('too tired', 'declined'),
        { maxKeys: 2 },
      ),
      supports: fc.dictionary(
        fc.constantFrom('night-ventilation', 'cough-help'),
        fc.record({ status: fc.constantFrom(...supportStatuses), hours: fc.constantFrom('7', '2 hours, sitting') }),
      ),
    })
    .map(({ readings, ...others }) =>
      visit(others.date, {
        ...others,
        readings: Object.fromEntries(readings.map(({ id, ...one }) => [id, one])),
      }),
    );

  test('any series comes back as far as a bundle carries it', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(aVisit, { selector: ({ date }) => date, minLength: 1, maxLength: 3 }),
        fc.constantFrom(...diseases),
        (visits, disease) => {
          const saved = { ...series(...visits), person: { ...series().person, disease } };
          const found = opened(bundleOf(saved));
          const byDate = new Map(found.series.visits.map((one) => [one.date, clean(one)]));
          expect(found.series.person).toEqual(saved.person);
          expect(found.leftOut).toEqual([]);
          for (const one of visits) {
            // A measure with a reading was done, whatever else is said of it.
            const notDone = Object.fromEntries(Object.entries(one.notDone).filter(([id]) => !(id in one.readings)));
            expect(byDate.get(one.date)).toEqual(clean({ ...one, notDone }));
          }
          // What is opened is a series that the sheet can save.
          expect(readSeries(writeSeries(found.series)).ok).toBe(true);
        },
      ),
      { numRuns: 100 },
    );
  }, 60_000);
});

const observation = (more: object) => ({
  resourceType: 'Observation',
  status: 'final',
  code: { coding: [{ system: 'http://loinc.org', code: '29463-7' }], text: 'Weight' },
  subject: { reference: 'Patient/1' },
  effectiveDateTime: '2026-11-20T09:30:00+01:00',
  valueQuantity: { value: 58, unit: 'kg', system: 'http://unitsofmeasure.org', code: 'kg' },
  ...more,
});
const bundle = (...resources: object[]) => ({
  resourceType: 'Bundle',
  type: 'searchset',
  entry: resources.map((resource) => ({ resource })),
});
const ucum = (value: number, code: string) => ({ value, system: 'http://unitsofmeasure.org', code });
const loinc = (code: string) => ({ coding: [{ system: 'http://loinc.org', code }] });

describe('a file of the last version', () => {
  test('with a Patient in each Observation, posture in the method and no ids, opens as it did', () => {
    const saved = series(visit('2026-08-20'));
    const now = clean(bundleOf(saved));
    type Part = { code: { coding: { code: string }[] }; valueCodeableConcept: { coding: object[]; text: string } };
    const entry = now.entry
      .filter((one: { resource: { resourceType: string } }) => one.resource.resourceType === 'Observation')
      .map(
        ({
          resource: { id: _, category: __, component = [], method, ...resource },
        }: {
          resource: { id: string; category: object; component?: Part[]; method?: { text: string } };
        }) => {
          const posture = component.find(({ code }) => code.coding[0]?.code === 'posture');
          const words = [posture?.valueCodeableConcept.text, method?.text].filter(Boolean).join('; ');
          const others = component.filter((one) => one !== posture);
          return {
            resource: {
              ...resource,
              contained: [{ resourceType: 'Patient', id: 'person', gender: 'female' }],
              subject: { reference: '#person' },
              ...(words === ''
                ? {}
                : { method: { ...(posture ? { coding: posture.valueCodeableConcept.coding } : {}), text: words } }),
              ...(others.length > 0 ? { component: others } : {}),
            },
          };
        },
      );
    const found = opened({ resourceType: 'Bundle', type: 'collection', entry });
    expect(clean(found.series)).toEqual(clean(saved));
    expect(found.leftOut).toEqual([]);
  });
});

describe('a bundle of another system', () => {
  test('a code that says how the reading was taken gives the reading its method, and height belongs to the person', () => {
    const found = opened(
      bundle(
        observation({ code: loinc('2019-8'), valueQuantity: ucum(6.4, 'kPa') }),
        observation({ code: loinc('19866-3'), valueQuantity: ucum(1.9, 'L') }),
        observation({ code: loinc('9279-1'), valueQuantity: ucum(22, '/min') }),
        observation({ code: loinc('8302-2'), valueQuantity: ucum(164, 'cm') }),
      ),
    );
    expect(found.leftOut).toEqual([]);
    expect(found.series.person.heightCm).toBe(164);
    expect(found.series.visits[0]?.readings).toEqual({
      paco2: { text: '6.4', unit: 'kPa', method: 'arterial' },
      'vc-litres': { text: '1.9', unit: 'L', method: 'slow' },
      'respiratory-rate': { text: '22', unit: '/min' },
    });
  });

  test('two codes of the same thing taken in two ways are not chosen between', () => {
    const both = { coding: [...loinc('2019-8').coding, ...loinc('2020-6').coding], text: 'CO2' };
    const found = opened(bundle(observation({}), observation({ code: both, valueQuantity: ucum(6.4, 'kPa') })));
    expect(found.leftOut[0]).toContain('its codes are about different things');
  });

  test('what has a checked LOINC code is taken; what has not is listed', () => {
    const found = opened(
      bundle(
        { resourceType: 'Patient', gender: 'female', name: [{ text: 'not taken' }], birthDate: '1965-01-01' },
        observation({}),
        observation({ code: loinc('8867-4') }),
        { resourceType: 'Device' },
      ),
    );
    expect(found.series.person.sex).toBe('female');
    expect(found.series.visits[0]?.date).toBe('2026-11-20');
    expect(found.series.visits[0]?.readings).toEqual({ weight: { text: '58', unit: 'kg' } });
    expect(found.leftOut).toEqual([
      'entry[2].resource: 8867-4: not asked on the visit sheet',
      'entry[3].resource: Device is not an Observation',
    ]);
    expect(JSON.stringify(found)).not.toMatch(/not taken|1965/);
  });

  test('a saturation of which nobody says what was breathed is not made one on air', () => {
    const found = opened(bundle(observation({ code: loinc('59408-5'), valueQuantity: ucum(91, '%') })));
    expect(found.series.visits[0]?.readings.spo2).toEqual({ text: '91', unit: '%' });
  });

  test('a capacity whose posture is not told is left out, since its code is of both postures', () => {
    const capacity = observation({ code: loinc('19872-1'), valueQuantity: ucum(60, '%') });
    expect(opened(bundle(observation({}), capacity)).leftOut[0]).toContain('the posture is not given');
  });

  test.each([
    ['entered in error', { status: 'entered-in-error' }],
    ['about someone else', { focus: [{ reference: 'Patient/2' }] }],
    ['below what the instrument reads', { valueQuantity: { ...ucum(20, 'kg'), comparator: '<' } }],
    ['with rules that are not known', { modifierExtension: [{ url: 'x' }] }],
    ['told twice on a day', { valueQuantity: ucum(85, 'kg') }],
  ])('an Observation %s is left out', (_, more) => {
    const good = observation({ code: loinc('59408-5'), valueQuantity: ucum(91, '%') });
    const weights = 'valueQuantity' in more && !('comparator' in more.valueQuantity) ? [observation({})] : [];
    const found = opened(bundle(good, ...weights, observation(more)));
    expect(found.series.visits[0]?.readings).not.toHaveProperty('weight');
    expect(found.leftOut).toHaveLength(1 + weights.length);
  });
});

describe('what is refused, with its place', () => {
  test.each([
    [
      'a wrong unit',
      observation({ valueQuantity: ucum(58, '%') }),
      'entry[0].resource.valueQuantity.code',
      'Weight: expected the unit "kg" or "[lb_av]", found "%"',
    ],
    [
      'a unit in words alone',
      observation({ valueQuantity: { value: 58, unit: 'kg' } }),
      'entry[0].resource.valueQuantity.system',
      'expected "http://unitsofmeasure.org"',
    ],
    [
      'a month for a day',
      observation({ effectiveDateTime: '2026-11' }),
      'entry[0].resource.effectiveDateTime',
      'expected a date that exists',
    ],
    ['no value', observation({ valueQuantity: undefined }), 'entry[0].resource.valueQuantity', 'found nothing'],
    [
      'a number in quotes',
      observation({ valueQuantity: { ...ucum(1, 'kg'), value: '58' } }),
      'entry[0].resource.valueQuantity.value',
      'expected a number, found "58"',
    ],
  ])('%s', (_, resource, path, message) => {
    const [problem] = problems(bundle(resource));
    expect(problem?.path).toBe(path);
    expect(problem?.message).toContain(message);
    expect(problem?.line).toBeGreaterThan(3);
  });

  test('two people, two sexes, two diseases', () => {
    expect(
      problems(bundle(observation({}), observation({ subject: { reference: 'Patient/2' } })))[0]?.message,
    ).toContain('expected one person');
    expect(
      problems(bundle({ resourceType: 'Patient' }, { resourceType: 'Patient' }, observation({})))[0]?.message,
    ).toContain('second Patient');
    const one = bundleOf(series(visit('2026-08-20')));
    const beside = (person: Series['person'], from = 0) => ({
      ...one,
      entry: [...(one.entry ?? []), ...(bundleOf({ ...series(visit('2026-08-21')), person }).entry ?? []).slice(from)],
    });
    // The ids of two tests are counted alike, so without its Patient the second bundle is about the first one's.
    expect(problems(beside({ disease: 'dmd' }, 1))[0]?.message).toContain('expected one disease');
    expect(problems(beside({ disease: 'als', sex: 'male' }))[0]?.message).toContain('expected one person');
  });

  test('no bundle, an empty one, one too long', () => {
    expect(problems('')[0]?.line).toBe(1);
    expect(problems({ resourceType: 'Patient' })[0]?.path).toBe('resourceType');
    expect(problems({ resourceType: 'Bundle' })[0]?.message).toContain('found none');
    expect(problems(' '.repeat(8_000_001))[0]?.message).toContain('at most 8000000 characters');
  });
});

test('a thousand damaged bundles: never a throw, a place for each refusal, and what was open before is as it was', () => {
  const dice = randomFrom(11);
  const good = JSON.stringify(bundleOf(series(visit('2026-08-20'))), null, 1);
  const open = Object.freeze(series(visit('2026-05-20')));
  const before = JSON.stringify(open);
  const pieces = [
    '"',
    '{',
    '}',
    '[]',
    ',',
    'null',
    '1e999',
    '-',
    '0',
    '"a"',
    '\u0000',
    '__proto__',
    '2026-13-01',
    'toString',
  ];
  // Half of them stay JSON: a value somewhere is put in place of another.
  const others = [
    null,
    [],
    {},
    'x',
    '',
    '__proto__',
    -1,
    1e-9,
    true,
    [null],
    { coding: [{ system: 'http://loinc.org', code: '' }] },
  ];
  const swap = (value: unknown): unknown => {
    if (dice() < 0.004) return others[Math.floor(dice() * others.length)];
    if (Array.isArray(value)) return value.map(swap);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, swap(inner)]));
  };
  let refused = 0;
  for (let trial = 0; trial < 1000; trial += 1) {
    let text = trial % 2 === 0 ? JSON.stringify(swap(JSON.parse(good)), null, 1) : good;
    for (let change = 0; trial % 2 === 1 && change <= dice() * 3; change += 1) {
      const at = Math.floor(dice() * text.length);
      text =
        text.slice(0, at) +
        (pieces[Math.floor(dice() * pieces.length)] ?? '') +
        text.slice(at + Math.floor(dice() * dice() * 40));
    }
    const found = read(text);
    if (found.ok) {
      expect(readSeries(writeSeries(found.series)).ok).toBe(true);
      continue;
    }
    refused += 1;
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
}, 60_000);
