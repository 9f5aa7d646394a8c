/**
 * Visits as an HL7 FHIR R4 Bundle (type `collection`) of Observations, for a system that can take one in.
 *
 * Units are UCUM. A LOINC code stands only where the measure carries one that was read at a source; every measure carries
 * its name in words and a code of this handbook (`urn:tidemark:measure`). Posture is told in `method`, as the German
 * lung-function examples do; what was breathed is a component, and where nobody wrote it down the component says
 * 'unknown', because unknown is not room air.
 *
 * Nothing identifies the person: the Patient inside each Observation has at most a sex, and no name, number or birth date.
 * Findings are not exported: a finding is not an observation.
 *
 * Not carried: what was planned, wishes, who answers and how, what is asked, notes, the emergency card, the file's label, a
 * visit at which nothing was found, and the reference set where no per cent predicted was worked out. A number is its value
 * and not the text that was typed, without a sign where the measure has none. `read-fhir.ts` opens it again.
 *
 * @source  FHIR R4 (4.0.1): Observation, Bundle, and their published JSON schema, which the tests hold the output against;
 *          `data-absent-reason` codes from memory
 */

import { diseaseNames } from '../domain/diseases.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import { type Reading, supportStatusWords } from '../domain/visit.ts';
import { flagWords } from '../evaluate/say.ts';
import { type UnitCode, units } from '../quantity.ts';
import type { PastVisit } from '../visit/since.ts';

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

export interface FhirObservation {
  resourceType: 'Observation';
  contained?: { resourceType: 'Patient'; id: 'person'; gender: 'female' | 'male' }[];
  status: 'final';
  code: CodeableConcept;
  subject?: { reference: '#person' };
  effectiveDateTime: string;
  valueQuantity?: { value: number; unit?: string; system: string; code: UnitCode };
  valueBoolean?: boolean;
  valueCodeableConcept?: CodeableConcept;
  dataAbsentReason?: CodeableConcept;
  method?: CodeableConcept;
  note?: { text: string }[];
  component?: { code: CodeableConcept; valueCodeableConcept?: CodeableConcept; dataAbsentReason?: CodeableConcept }[];
}

export interface FhirBundle {
  resourceType: 'Bundle';
  type: 'collection';
  entry?: { resource: FhirObservation }[];
}

/** @param visits  with what was derived, so that per cent predicted goes with its litres; each says what it came from */
export function toFhir(
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string = (id) => id,
): FhirBundle {
  const resources = visits.flatMap((past) => observationsOf(past, measures, decisionTitle));
  return {
    resourceType: 'Bundle',
    type: 'collection',
    // An empty list is no FHIR.
    ...(resources.length > 0 ? { entry: resources.map((resource) => ({ resource })) } : {}),
  };
}

function observationsOf(
  { date, visit, set, times = {} }: PastVisit,
  measures: Measures,
  decisionTitle: (id: string) => string,
): FhirObservation[] {
  const about = (code: CodeableConcept): FhirObservation => ({
    resourceType: 'Observation',
    ...(visit.sex === undefined ? {} : { contained: [{ resourceType: 'Patient', id: 'person', gender: visit.sex }] }),
    status: 'final',
    code,
    ...(visit.sex === undefined ? {} : { subject: { reference: '#person' } }),
    effectiveDateTime: date,
  });
  const measured = (value: number | undefined, unit: UnitCode, code: string, text: string): FhirObservation[] =>
    value === undefined || !Number.isFinite(value)
      ? []
      : [{ ...about(local('measure', code, text)), valueQuantity: quantity(value, unit) }];

  return [
    ...(visit.disease
      ? [
          {
            ...about(local('measure', 'disease', 'Disease')),
            valueCodeableConcept: local('disease', visit.disease, diseaseNames[visit.disease]),
          },
        ]
      : []),
    ...measured(visit.ageYears, 'a', 'age-years', 'Age'),
    ...measured(visit.heightCm, 'cm', 'height', 'Height'),
    ...Object.entries(visit.readings).flatMap(([id, reading]) => {
      const measure = measures[id];
      if (!measure || !Number.isFinite(reading.value)) return [];
      return [
        { ...about(codeOf(id, measure, reading)), ...readingParts(reading, measure, measures, decisionTitle, set) },
      ];
    }),
    ...Object.entries(visit.notDone ?? {}).flatMap(([id, reason]) => {
      const measure = measures[id];
      if (!measure || visit.readings[id] || reason.trim() === '') return [];
      return [
        {
          ...about(codeOf(id, measure)),
          dataAbsentReason: {
            ...absent('not-performed', 'Not performed'),
            text: `${noteStart.notDone}${reason.trim()}`,
          },
        },
      ];
    }),
    ...Object.entries(visit.signs).flatMap(([id, sign]) => {
      const measure = measures[id];
      return measure ? [{ ...about(codeOf(id, measure)), valueBoolean: sign === 'present' }] : [];
    }),
    ...Object.entries(visit.supports ?? {}).map(([decision, status]) => ({
      ...about(local('support', decision, decisionTitle(decision))),
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
  measures: Measures,
  nameOf: (id: string) => string,
  set: string | undefined,
): Partial<FhirObservation> {
  const value = measure.kind === 'number' && measure.magnitude ? Math.abs(reading.value) : reading.value;
  const flagged = flagWords(reading, measure, measures);
  const notes = [
    reading.from &&
      reading.from.length > 0 &&
      `${noteStart.from}${[...new Set(reading.from)].map((from) => measures[from]?.label ?? nameOf(from)).join(', ')}`,
    reading.from && set && measure.kind === 'number' && measure.of === 'predicted' && `${noteStart.set}${set}`,
    flagged.length > 0 && `${noteStart.flagged}${flagged.join('; ')}`,
  ].filter((note) => typeof note === 'string');
  const method = methodOf(reading, measure);
  const component = [
    ...(measure.kind === 'number' && (measure.roomAir || reading.gas) ? [breathed(reading.gas)] : []),
    ...(reading.flags ?? []).map((flag) => ({
      code: local('measure', 'flag', 'What went wrong in the test'),
      valueCodeableConcept: local('flag', flag, flagWords({ ...reading, flags: [flag] }, measure, measures)[0] ?? flag),
    })),
  ];
  return {
    valueQuantity: quantity(value, reading.unit),
    ...(method ? { method } : {}),
    ...(notes.length > 0 ? { note: notes.map((text) => ({ text })) } : {}),
    ...(component.length > 0 ? { component } : {}),
  };
}

/** LOINC's own display is left out: ours would not be its words, and the text beside the codes is for people. */
function codeOf(id: string, measure: Measure, reading?: Reading): CodeableConcept {
  const label = measure.kind === 'number' && measure.of ? `${measure.label}, ${measure.of}` : measure.label;
  const coded = measure.loinc && !isSlow(reading) ? [{ system: loinc, code: measure.loinc.code }] : [];
  return { coding: [...coded, { system: `${ours}measure`, code: id, display: label }], text: label };
}

/** The codes are of forced capacity. What is known to be slow, or worked out from litres that could be, does not get one. */
const isSlow = (reading: Reading | undefined): boolean =>
  /slow/i.test(reading?.method ?? '') ||
  (reading?.from?.some((from) => from.startsWith('vc-litres')) === true && !/forced/i.test(reading.method ?? ''));

export const postures = { upright: 'Upright', supine: 'Lying flat' } as const;
const gases = { air: 'Room air', oxygen: 'Oxygen', ventilation: 'On a ventilator' } as const;

/** A measure that is about one posture says which: a supine capacity without it would be read as an upright one. */
function methodOf({ posture: taken, method }: Reading, measure: Measure): CodeableConcept | undefined {
  const own = measure.kind === 'number' && measure.posture !== 'any' ? measure.posture : undefined;
  const posture = taken ?? own;
  const words = [posture && postures[posture], method?.trim()].filter(Boolean).join('; ');
  if (words === '') return undefined;
  return {
    ...(posture
      ? {
          coding: [
            {
              system: `${ours}posture`,
              code: posture,
              display: postures[posture],
              ...(taken ? { userSelected: true as const } : {}),
            },
          ],
        }
      : {}),
    text: words,
  };
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

function quantity(value: number, unit: UnitCode): NonNullable<FhirObservation['valueQuantity']> {
  const { symbol } = units[unit];
  return { value, ...(symbol === '' ? {} : { unit: symbol }), system: ucum, code: unit };
}
