import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import {
  criterionWords,
  departureWords,
  originWords,
  peopleWords,
  spanWords,
} from '../../../calculators/agreement/agreement-words.ts';
import { departureOf } from '../../../calculators/agreement/local-criteria.ts';
import type { PublishedHere } from '../../agreement/published.ts';

/** One agreed mark in full: rule, people, where it comes from, why, and how it departs. */
export function MarkLine({ mark, published }: { mark: AgreedCriterion; published: PublishedHere }) {
  const departs = departureOf(mark, published);
  return (
    <>
      <b>{criterionWords(mark, published.measures)}</b>
      <span class="also">{peopleWords(mark)}</span>
      {departs && (
        <span class="also departs">
          {departureWords[departs]} ({spanWords(mark, published)})
        </span>
      )}
      <span class="by">
        {originWords(mark, published, (id) => published.data.sources[id] ?? id)}.
        {!departs && mark.value !== undefined && ` Beside it, ${spanWords(mark, published)}.`}
      </span>
      {mark.reason && <span class="by">Reason: {mark.reason}</span>}
    </>
  );
}

export const decisionTitle = (id: string, { decisions }: PublishedHere): string =>
  Object.hasOwn(decisions, id) ? (decisions[id]?.title ?? id) : id;
