/** What an answer is made from, and the meanings that a line can have. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { Evidence } from '../../calculators/evaluate/evaluate.ts';
import type { PercentOf } from '../../calculators/evaluate/follow.ts';
import type { Calculations } from '../../calculators/query/calculation-words.ts';
import type { AskedReading, AskedSum, AskedVisit, Query, Topic, WordData } from '../../calculators/query/read-query.ts';
import type { EvidenceData } from '../islands/visit/evidence-data.ts';

export interface Answers {
  read: (line: string) => Query;
  /** subjects that have a page, also of a line that says nothing else */
  topics: (line: string) => Topic[];
  /** true once the subjects are there, false where they cannot be had: a line read before is then read again */
  subjects: Promise<boolean>;
  knowsSubjects: () => boolean;
  evidence: Evidence;
  data: EvidenceData;
  calculations: Calculations;
  /** by the reference set of the handbook; not there until a line asks for it */
  percentOf?: PercentOf;
  /** how a clinic's own criterion came to be; only where an agreement is in force */
  agreedLine?: (criterion: Criterion) => string;
}

/** What the search page fetches before the first line. */
export interface SearchData extends EvidenceData {
  calculations: Calculations;
  words: WordData;
}

/** One of the meanings that a line can have. */
export type Meaning = AskedReading | AskedSum | AskedVisit;
