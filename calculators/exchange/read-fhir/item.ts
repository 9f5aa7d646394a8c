/** What one Observation gives to the visit of its day. */
import type { KeptVisit } from '../../visit/series.ts';

/** `set` puts it on the visit. There may be one of each `key` on a day. */
export interface Item {
  key: string;
  name: string;
  set: (visit: KeptVisit) => void;
}
