/** Today held against the earlier visits: loaded once there are any. */
import type { Criterion } from '../../../calculators/criteria/criterion.ts';
import type { Measures } from '../../../calculators/criteria/measure.ts';
import type { Person } from '../../../calculators/criteria/person.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import { fallsOf, since, type Trend } from '../../../calculators/criteria/since.ts';
import type { Reading } from '../../../calculators/criteria/visit.ts';
import type { Entries } from './entries.ts';
import { inOrder, keepVisit, pastVisits } from './kept.ts';

export {
  ahead,
  aheadWords,
  chanceWords,
  changeWords,
  leadWords,
  markSources,
  rateWords,
  sinceLines,
  told,
  undatedWords,
  widthWords,
} from '../../../calculators/criteria/since-words.ts';

export interface Compared {
  trends: Trend[];
  /** falls that marks are about, as readings of today */
  falls: Record<string, Reading>;
}

/** @param before  visits of earlier days than the sheet's */
export function compare(
  person: Person,
  entries: Entries,
  before: readonly KeptVisit[],
  measures: Measures,
  marks: readonly Criterion[],
): Compared {
  const visits = pastVisits(person, inOrder([...before, keepVisit(person, entries)]), measures);
  return { trends: since(visits, measures, marks), falls: fallsOf(visits, measures).readings };
}
