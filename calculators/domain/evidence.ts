import type { Criterion } from './criterion.ts';
import type { Measures } from './measure.ts';

/** What a visit is compared with: every row, what the rows are about, and the decision each belongs to. */
export interface Evidence {
  criteria: readonly Criterion[];
  measures: Measures;
  /** decision of each `support` value */
  decisionOf: (support: Criterion['support']) => string | undefined;
}
