/** Today compared with the earlier visits: loaded once there are any. */
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import type { Reading } from '../../../calculators/domain/visit.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { fallsOf, type PastVisit, since, type Trend } from '../../../calculators/visit/since.ts';
import type { Entries } from './entries.ts';
import { inOrder, keepVisit, pastVisits } from './kept.ts';

export {
  ahead,
  aheadWords,
  chanceWords,
  changeSentence,
  eachOnce,
  kindOfChange,
  leadWords,
  markSources,
  rateLines,
  rateWords,
  sinceLines,
  told,
  undatedWords,
  widthWords,
} from '../../../calculators/visit/since-words.ts';

export interface Compared {
  trends: Trend[];
  /** falls that criteria are about, as readings of today */
  falls: Record<string, Reading>;
  /** the visit before this one, with the falls that could be told on that day */
  previous: PastVisit | undefined;
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
  return {
    trends: since(visits, measures, marks),
    falls: fallsOf(visits, measures).readings,
    previous: previousOf(visits.slice(0, -1), measures),
  };
}

function previousOf(earlier: readonly PastVisit[], measures: Measures): PastVisit | undefined {
  const last = earlier.at(-1);
  if (last === undefined) return undefined;
  const readings = { ...fallsOf(earlier, measures).readings, ...last.visit.readings };
  return { ...last, visit: { ...last.visit, readings } };
}
