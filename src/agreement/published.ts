/** What an agreement is checked against: every published criterion with what a team needs to weigh it. */
import type { Published } from '../../calculators/agreement/local-criteria.ts';
import { type EvidenceData, toEvidence } from '../islands/visit/evidence-data.ts';

export interface PublishedData extends EvidenceData {
  /** measures of the short visit, in the order of the sheet */
  usual: string[];
  /** reference sets for per cent predicted, with the groups that each publishes */
  sets: { id: string; name: string; groups: { id: string; name: string }[] }[];
}

export interface PublishedHere extends Published {
  data: PublishedData;
}

let loading: Promise<PublishedHere> | undefined;

export function published(base: string): Promise<PublishedHere> {
  loading ??= fetch(`${base}data/published.json`)
    .then((response) => response.json())
    .then((data: PublishedData) => ({ ...toEvidence(data), data }));
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}
