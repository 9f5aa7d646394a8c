/** Files of visits: loaded only when the reader saves or opens one. */

import type { Measures } from '../../../calculators/domain/measure.ts';
import { type FhirOptions, toFhir } from '../../../calculators/exchange/fhir.ts';
import { fhirLacks, fromFhir } from '../../../calculators/exchange/read-fhir.ts';
import { type ReadSeries, readSeries } from '../../../calculators/visit/series.ts';
import type { PastVisit } from '../../../calculators/visit/since.ts';
import { linkFragment, pack } from '../../agreement/link.ts';
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

/**
 * A clinic agreement that came where visits were expected: where it is opened, under the site's own address. It travels
 * after the '#', which no server sees. Whether it is a sound one is for that page to say.
 */
export async function agreementPlace(text: string): Promise<string | undefined> {
  try {
    const value: unknown = JSON.parse(text);
    const isAgreement = (value as { format?: unknown } | null)?.format === 'tidemark-agreement';
    return isAgreement ? `agree/open/${linkFragment(await pack(value as object))}` : undefined;
  } catch {
    return undefined;
  }
}

/** A random UUID of version 4; `crypto.randomUUID` is missing where a page is not served safely. */
function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const fixed = [...bytes].map((byte, at) =>
    at === 6 ? (byte & 0x0f) | 0x40 : at === 8 ? (byte & 0x3f) | 0x80 : byte,
  );
  const hex = fixed.map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** With new ids for each file, so that two people's records never share one. */
export const fhirText = (
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string,
  made: FhirOptions['made'],
): string => `${JSON.stringify(toFhir(visits, measures, decisionTitle, { newId, made }), null, 2)}\n`;
