/**
 * Visits as an HL7 FHIR R4 Bundle (type `collection`) of Observations, for a system that can take one in.
 *
 * Units are UCUM. A LOINC code stands only where one was read at a source (fhir-codes.ts); everything carries its name in
 * words and a code of this handbook (`urn:tidemark:measure`). Posture is a component, so that a supine capacity cannot be
 * taken for an upright one by a reader that skips methods; what was breathed is another, and where nobody wrote it down it
 * says 'unknown', because unknown is not room air. A worked out value is rounded to the digits it is shown with, and how
 * many that are is said in the standard's own extension for precision.
 *
 * Nothing identifies the person: the Patient of the bundle has at most a sex, and no name, number or birth date. The ids are
 * made anew for each file, so that two people's files never share one. Findings are not exported: a finding is not an
 * observation. Which edition and whose agreement were in force stands in a Provenance.
 *
 * Not carried: what was planned, wishes, who answers and how, what is asked, notes, the emergency card, the file's label, a
 * visit at which nothing was found, and the reference set where no per cent predicted was worked out. A number is its value
 * and not the text that was typed, without a sign where the measure has none. `read-fhir.ts` opens it again.
 *
 * @source  FHIR R4 (4.0.1): Observation, Bundle, Provenance, and their published JSON schema, which the tests hold the output
 *          against; `data-absent-reason` codes and the `quantity-precision` extension from memory
 */

import { diseaseNames } from '../domain/diseases.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import { type Reading, supportStatusWords } from '../domain/visit.ts';
import { flagWords } from '../evaluate/say.ts';
import { type UnitCode, units } from '../quantity.ts';
import type { PastVisit } from '../visit/since.ts';
import { type Category, category, categoryOf, loincOf } from './fhir-codes.ts';

export const loinc = 'http://loinc.org';
export const ucum = 'http://unitsofmeasure.org';
export const ours = 'urn:tidemark:';

interface Coding {
  system: string;
  code: string;
  display?: string;
  /** a posture that was ticked, and not taken from what the measure is about */
  userSelected?: true;
}

export interface CodeableConcept {
  coding?: Coding[];
  text: string;
}

/** How our notes begin, for people and for opening the file again. */
export const noteStart = {
  hours: 'Hours in 24: ',
  timeOff: 'Longest time off it: ',
  from: 'Worked out from: ',
  set: 'Reference set: ',
  flagged: 'Flagged: ',
  notDone: 'Not done: ',
} as const;

interface FhirQuantity {
  extension?: { url: string; valueInteger: number }[];
  value: number;
  unit?: string;
  system: string;
  code: UnitCode;
}

interface Component {
  code: CodeableConcept;
  valueCodeableConcept?: CodeableConcept;
  dataAbsentReason?: CodeableConcept;
}

export interface FhirObservation {
  resourceType: 'Observation';
  id: string;
  status: 'final';
  category: CodeableConcept[];
  code: CodeableConcept;
  subject: { reference: string };
  effectiveDateTime: string;
  valueQuantity?: FhirQuantity;
  valueBoolean?: boolean;
  valueCodeableConcept?: CodeableConcept;
  dataAbsentReason?: CodeableConcept;
  method?: CodeableConcept;
  note?: { text: string }[];
  component?: Component[];
}

export interface FhirPatient {
  resourceType: 'Patient';
  id: string;
  gender?: 'female' | 'male';
}

interface FhirProvenance {
  resourceType: 'Provenance';
  id: string;
  target: { reference: string }[];
  recorded: string;
  agent: { who: { display: string } }[];
  entity: { role: 'source'; what: { identifier: { system: string; value: string }; display: string } }[];
}

type FhirResource = FhirObservation | FhirPatient | FhirProvenance;

export interface FhirBundle {
  resourceType: 'Bundle';
  meta?: { source: string };
  type: 'collection';
  entry?: { fullUrl: string; resource: FhirResource }[];
}

export interface FhirOptions {
  /** a new UUID for each resource; without it they are counted, which is for tests and never for a file */
  newId?: (() => string) | undefined;
  /** what the file was made with: the handbook's edition, the moment, and the clinic agreement in force */
  made?:
    | { edition: string; recorded: string; agreement?: { name: string; digest: string | undefined } | undefined }
    | undefined;
}

/** @param visits  with what was derived, so that per cent predicted goes with its litres; each says what it came from */
export function toFhir(
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string = (id) => id,
  { newId = counted(), made }: FhirOptions = {},
): FhirBundle {
  const sex = visits.find(({ visit }) => visit.sex !== undefined)?.visit.sex;
  const patient: FhirPatient = { resourceType: 'Patient', id: newId(), ...(sex === undefined ? {} : { gender: sex }) };
  const about = { measures, decisionTitle, newId, subject: { reference: urlOf(patient) } };
  const observations = visits.flatMap((past) => observationsOf(past, about));
  const resources: FhirResource[] = [
    patient,
    ...observations,
    ...(made ? [provenanceOf(observations, newId(), made)] : []),
  ];
  return {
    resourceType: 'Bundle',
    ...(made ? { meta: { source: `${ours}handbook:${made.edition}` } } : {}),
    type: 'collection',
    // An empty list is no FHIR.
    ...(observations.length > 0
      ? { entry: resources.map((resource) => ({ fullUrl: urlOf(resource), resource })) }
      : {}),
  };
}

const urlOf = ({ id }: { id: string }): string => `urn:uuid:${id}`;

function counted(): () => string {
  let count = 0;
  return () => {
    count += 1;
    return `00000000-0000-4000-8000-${count.toString(16).padStart(12, '0')}`;
  };
}

function provenanceOf(
  observations: readonly FhirObservation[],
  id: string,
  { edition, recorded, agreement }: NonNullable<FhirOptions['made']>,
): FhirProvenance {
  const source = (system: string, value: string, display: string) => ({
    role: 'source' as const,
    what: { identifier: { system: `${ours}${system}`, value }, display },
  });
  return {
    resourceType: 'Provenance',
    id,
    target: observations.map((one) => ({ reference: urlOf(one) })),
    recorded,
    agent: [{ who: { display: 'Tidemark visit sheet, filled in by the care team' } }],
    entity: [
      source('handbook', edition, `Handbook, edition of ${edition}`),
      ...(agreement
        ? // Without a digest (a browser over http works none out) the name alone identifies it.
          [source('agreement', agreement.digest ?? agreement.name, `Clinic agreement of ${agreement.name}`)]
        : []),
    ],
  };
}

interface About {
  measures: Measures;
  decisionTitle: (id: string) => string;
  newId: () => string;
  subject: { reference: string };
}

function observationsOf({ date, visit, set, times = {} }: PastVisit, context: About): FhirObservation[] {
  const { measures, decisionTitle, newId, subject } = context;
  const about = (filed: Category, code: CodeableConcept): FhirObservation => ({
    resourceType: 'Observation',
    id: newId(),
    status: 'final',
    category: category(filed),
    code,
    subject,
    effectiveDateTime: date,
  });
  const personal = (value: number | undefined, unit: UnitCode, id: string, text: string): FhirObservation[] =>
    value === undefined || !Number.isFinite(value)
      ? []
      : [{ ...about(categoryOf(id), codeOf(id, text)), valueQuantity: quantity(value, unit) }];
  const measured = (id: string, measure: Measure, reading?: Reading): FhirObservation =>
    about(categoryOf(id, measure), codeOf(id, nameOf(measure), measure, reading));

  return [
    ...(visit.disease
      ? [
          {
            ...about('survey', local('measure', 'disease', 'Disease')),
            valueCodeableConcept: local('disease', visit.disease, diseaseNames[visit.disease]),
          },
        ]
      : []),
    ...personal(visit.ageYears, 'a', 'age-years', 'Age'),
    ...personal(visit.heightCm, 'cm', 'height', 'Height'),
    ...Object.entries(visit.readings).flatMap(([id, reading]) => {
      const measure = measures[id];
      if (!measure || !Number.isFinite(reading.value)) return [];
      return [{ ...measured(id, measure, reading), ...readingParts(reading, measure, context, set) }];
    }),
    ...Object.entries(visit.notDone ?? {}).flatMap(([id, reason]) => {
      const measure = measures[id];
      if (!measure || visit.readings[id] || reason.trim() === '') return [];
      const because = { ...absent('not-performed', 'Not performed'), text: `${noteStart.notDone}${reason.trim()}` };
      return [{ ...measured(id, measure), dataAbsentReason: because }];
    }),
    ...Object.entries(visit.signs).flatMap(([id, sign]) => {
      const measure = measures[id];
      return measure ? [{ ...measured(id, measure), valueBoolean: sign === 'present' }] : [];
    }),
    ...Object.entries(visit.supports ?? {}).map(([decision, status]) => ({
      ...about('therapy', local('support', decision, decisionTitle(decision))),
      valueCodeableConcept: local('support-status', status, supportStatusWords[status]),
      ...supportTimes(times[decision]),
    })),
  ];
}

/** Hours and time off go as they were told: 'two hours, sitting' is no quantity. */
function supportTimes({
  hours,
  timeOff,
}: {
  hours?: string | undefined;
  timeOff?: string | undefined;
} = {}): Pick<FhirObservation, 'note'> {
  const told = [hours && `${noteStart.hours}${hours}`, timeOff && `${noteStart.timeOff}${timeOff}`].filter(
    (note) => typeof note === 'string' && note !== '',
  );
  return told.length > 0 ? { note: told.map((text) => ({ text: String(text) })) } : {};
}

function readingParts(
  reading: Reading,
  measure: Measure,
  { measures, decisionTitle }: About,
  set: string | undefined,
): Partial<FhirObservation> {
  // A typed value goes as it was typed; a value that was worked out has no more digits than it is shown with.
  const digits = reading.from && measure.kind === 'number' ? measure.decimals : undefined;
  const shown = digits === undefined ? reading.value : Number(reading.value.toFixed(digits));
  const value = measure.kind === 'number' && measure.magnitude ? Math.abs(shown) : shown;
  const flagged = flagWords(reading, measure, measures);
  const notes = [
    reading.from &&
      reading.from.length > 0 &&
      `${noteStart.from}${[...new Set(reading.from)].map((from) => measures[from]?.label ?? decisionTitle(from)).join(', ')}`,
    reading.from && set && measure.kind === 'number' && measure.of === 'predicted' && `${noteStart.set}${set}`,
    flagged.length > 0 && `${noteStart.flagged}${flagged.join('; ')}`,
  ].filter((note) => typeof note === 'string');
  const method = reading.method?.trim();
  const component: Component[] = [
    ...(measure.kind === 'number' && (measure.roomAir || reading.gas) ? [breathed(reading.gas)] : []),
    ...postureOf(reading, measure),
    ...(reading.flags ?? []).map((flag) => ({
      code: local('measure', 'flag', 'What went wrong in the test'),
      valueCodeableConcept: local('flag', flag, flagWords({ ...reading, flags: [flag] }, measure, measures)[0] ?? flag),
    })),
  ];
  return {
    valueQuantity: quantity(value, reading.unit, digits),
    ...(method ? { method: { text: method } } : {}),
    ...(notes.length > 0 ? { note: notes.map((text) => ({ text })) } : {}),
    ...(component.length > 0 ? { component } : {}),
  };
}

const nameOf = (measure: Measure): string =>
  measure.kind === 'number' && measure.of ? `${measure.label}, ${measure.of}` : measure.label;

/** LOINC's own display is left out: ours would not be its words, and the text beside the codes is for people. */
function codeOf(id: string, text: string, measure?: Measure, reading?: Reading): CodeableConcept {
  const code = loincOf(id, measure, reading);
  const coded = code === undefined ? [] : [{ system: loinc, code }];
  return { coding: [...coded, { system: `${ours}measure`, code: id, display: text }], text };
}

export const postures = { upright: 'Upright', supine: 'Lying flat' } as const;
const gases = { air: 'Room air', oxygen: 'Oxygen', ventilation: 'On a ventilator' } as const;

/** A measure that is about one posture says which: a supine capacity without it would be read as an upright one. */
function postureOf({ posture: taken }: Reading, measure: Measure): Component[] {
  const own = measure.kind === 'number' && measure.posture !== 'any' ? measure.posture : undefined;
  const posture = taken ?? own;
  if (posture === undefined) return [];
  const words = postures[posture];
  return [
    {
      code: local('measure', 'posture', 'Posture'),
      valueCodeableConcept: {
        coding: [
          {
            system: `${ours}posture`,
            code: posture,
            display: words,
            ...(taken ? { userSelected: true as const } : {}),
          },
        ],
        text: words,
      },
    },
  ];
}

const breathed = (gas: Reading['gas']) => ({
  code: local('measure', 'gas-breathed', 'What was breathed'),
  ...(gas === undefined
    ? { dataAbsentReason: absent('unknown', 'Unknown') }
    : { valueCodeableConcept: local('gas', gas, gases[gas]) }),
});

const local = (list: string, code: string, text: string): CodeableConcept => ({
  coding: [{ system: `${ours}${list}`, code, display: text }],
  text,
});

const absent = (code: string, display: string): CodeableConcept => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code, display }],
  text: display,
});

const precision = 'http://hl7.org/fhir/StructureDefinition/quantity-precision';

/** With the number of digits after the point, since JSON does not keep a nought at the end. */
function quantity(value: number, unit: UnitCode, digits?: number): FhirQuantity {
  const { symbol } = units[unit];
  const [, after = ''] = String(value).split('.');
  return {
    ...(/e/i.test(String(value)) ? {} : { extension: [{ url: precision, valueInteger: digits ?? after.length }] }),
    value,
    ...(symbol === '' ? {} : { unit: symbol }),
    system: ucum,
    code: unit,
  };
}
