/**
 * LOINC codes and categories of what is exported.
 *
 * A measure may carry a LOINC code itself (content/measures.yaml). Where the code depends on how the reading was taken, or
 * is of something that is no measure, it stands here with what was read. A reading that does not say how it was taken gets
 * the wider code, or none: bicarbonate has one for arterial blood and one for serum, and none while the sample is not told.
 *
 * @source  read on 2026-11-29 through the stored public text: HL7 FHIR vital signs profiles (9279-1, as /min), US Core and
 *          MII (8302-2), the FSH of the German COVID-19 data set of HL7 Germany (2019-8 'in Arterial blood', 2020-6
 *          capillary, 11557-6 blood), HL7 FHIR examples f003 (11557-6 'in Blood') and f203 (1963-8 'in Serum or Plasma'), two
 *          public code lists with displays (1960-4 'in Arterial blood'), MII lung function (19868-9, 19866-3; project
 *          standards note)
 */
import type { Measure } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';

export interface LoincRule {
  measure: string;
  code: string;
  /** what the code is of, in short */
  of: string;
  /** the way of taking that the code names; without it the code is for any or an unknown way */
  method?: string;
}

/** The narrower codes first. */
export const loincRules: readonly LoincRule[] = [
  { measure: 'respiratory-rate', code: '9279-1', of: 'breathing rate' },
  { measure: 'height', code: '8302-2', of: 'body height' },
  { measure: 'paco2', code: '2019-8', of: 'CO2 in arterial blood', method: 'arterial' },
  { measure: 'paco2', code: '2020-6', of: 'CO2 in capillary blood', method: 'capillary' },
  { measure: 'paco2', code: '11557-6', of: 'CO2 in blood' },
  { measure: 'bicarbonate', code: '1960-4', of: 'bicarbonate in arterial blood', method: 'arterial' },
  { measure: 'bicarbonate', code: '1963-8', of: 'bicarbonate in serum or plasma', method: 'serum' },
  { measure: 'vc-litres', code: '19868-9', of: 'forced vital capacity by spirometry', method: 'forced' },
  { measure: 'vc-litres', code: '19866-3', of: 'slow vital capacity', method: 'slow' },
];

const isTakenSo = (method: string, reading: Reading | undefined): boolean =>
  new RegExp(`\\b${method}\\b`, 'i').test(reading?.method ?? '');

/** The LOINC code of a reading, if it can have one. */
export function loincOf(id: string, measure: Measure | undefined, reading?: Reading): string | undefined {
  const rule = loincRules.find(
    (one) =>
      one.measure === id && (one.method === undefined ? !isOtherWay(id, reading) : isTakenSo(one.method, reading)),
  );
  if (rule) return rule.code;
  return measure?.loinc && !isSlow(reading) ? measure.loinc.code : undefined;
}

/** A way of taking that no code is for: the wider code would hide it. */
const isOtherWay = (id: string, reading: Reading | undefined): boolean =>
  (reading?.method ?? '').trim() !== '' &&
  loincRules.some(({ measure, method }) => measure === id && method !== undefined);

/** The codes are of forced capacity. What is known to be slow, or worked out from litres that could be, does not get one. */
const isSlow = (reading: Reading | undefined): boolean =>
  /slow/i.test(reading?.method ?? '') ||
  (reading?.from?.some((from) => from.startsWith('vc-litres')) === true && !/forced/i.test(reading.method ?? ''));

const categories = 'http://terminology.hl7.org/CodeSystem/observation-category';
const categoryWords = {
  'vital-signs': 'Vital Signs',
  laboratory: 'Laboratory',
  procedure: 'Procedure',
  survey: 'Survey',
  exam: 'Exam',
  therapy: 'Therapy',
  'social-history': 'Social History',
} as const;
export type Category = keyof typeof categoryWords;

const vitalSigns = ['spo2', 'respiratory-rate', 'weight', 'height'];
const laboratory = [
  'paco2',
  'morning-earlobe-pco2',
  'bicarbonate',
  'base-excess',
  'nocturnal-paco2',
  'paco2-overnight-rise',
];

/** Where a record files it: by what it is, else by the part of the visit in which it is asked. */
export function categoryOf(id: string, measure?: Measure): Category {
  if (vitalSigns.includes(id)) return 'vital-signs';
  if (laboratory.includes(id)) return 'laboratory';
  if (measure?.kind === 'number')
    return measure.part === 'record' || measure.part === 'travel' ? 'survey' : 'procedure';
  return measure?.part === 'look' || measure?.part === 'cough' ? 'exam' : 'survey';
}

export const category = (code: Category) => [
  { coding: [{ system: categories, code, display: categoryWords[code] }], text: categoryWords[code] },
];
