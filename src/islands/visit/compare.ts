/** Today compared with the earlier visits: loaded once there are any. */
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import type { Reading } from '../../../calculators/domain/visit.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { fallsOf, since, type Trend } from '../../../calculators/visit/since.ts';
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
} from '../../../calculators/visit/since-words.ts';

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
