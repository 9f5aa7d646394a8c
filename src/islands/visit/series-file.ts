/** Files of visits: loaded only when the reader saves or opens one. */

import type { Measures } from '../../../calculators/domain/measure.ts';
import { toFhir } from '../../../calculators/exchange/fhir.ts';
import { fhirLacks, fromFhir } from '../../../calculators/exchange/read-fhir.ts';
import { type ReadSeries, readSeries } from '../../../calculators/visit/series.ts';
import type { PastVisit } from '../../../calculators/visit/since.ts';
import type { EvidenceData } from './evidence-data.ts';

export { writeSeries } from '../../../calculators/visit/series.ts';

/** `lacks` says what a file of that kind cannot hold, `leftOut` what in it was not taken. */
export type ReadAny = ReadSeries & { lacks?: string; leftOut?: string[] };

/** A saved series or an HL7 FHIR R4 Bundle, told apart by what the file says it is. */
export function readAny(text: string, data: Pick<EvidenceData, 'measures' | 'decisions'> | undefined): ReadAny {
  if (data === undefined || !/"resourceType"\s*:/.test(text)) return readSeries(text);
  const read = fromFhir(text, data.measures, (id) => Object.hasOwn(data.decisions, id));
  return read.ok ? { ...read, lacks: fhirLacks } : read;
}

export const fhirText = (
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string,
): string => `${JSON.stringify(toFhir(visits, measures, decisionTitle), null, 2)}\n`;
