/** Files of visits: loaded only when the reader saves or opens one. */
import { toFhir } from '../../../calculators/criteria/fhir.ts';
import type { Measures } from '../../../calculators/criteria/measure.ts';
import type { PastVisit } from '../../../calculators/criteria/since.ts';

export { readSeries as readAny, writeSeries } from '../../../calculators/criteria/series.ts';

export const fhirText = (
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string,
): string => `${JSON.stringify(toFhir(visits, measures, decisionTitle), null, 2)}\n`;
