import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import { departureWords, originWords, spanWords } from '../../../calculators/agreement/agreement-words.ts';
import { criterionWords, peopleWords } from '../../../calculators/agreement/criterion-words.ts';
import { departureOf } from '../../../calculators/agreement/local-criteria.ts';
import type { PublishedHere } from '../../agreement/published.ts';

/** One agreed criterion in full: rule, people, where it comes from, why, and how it departs. */
export function CriterionLine({ criterion, published }: { criterion: AgreedCriterion; published: PublishedHere }) {
  const departs = departureOf(criterion, published);
  return (
    <>
      <b>{criterionWords(criterion, published.measures)}</b>
      <span class="also">{peopleWords(criterion)}</span>
      {departs && (
        <span class="also departs">
          {departureWords[departs]} ({spanWords(criterion, published)})
        </span>
      )}
      <span class="by">
        {originWords(criterion, published, (id) => published.data.sources[id] ?? id)}.
        {!departs && criterion.value !== undefined && ` Beside it, ${spanWords(criterion, published)}.`}
      </span>
      {criterion.reason && <span class="by">Reason: {criterion.reason}</span>}
    </>
  );
}

export const decisionTitle = (id: string, { decisions }: PublishedHere): string =>
  Object.hasOwn(decisions, id) ? (decisions[id]?.title ?? id) : id;
