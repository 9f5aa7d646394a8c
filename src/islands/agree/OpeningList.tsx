import { peopleWords } from '../../../calculators/agreement/criterion-words.ts';
import { ruleOf } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { alsoWords, ruleWords } from '../../../calculators/evaluate/say.ts';
import { standingWords } from '../../../calculators/standing.ts';
import type { PublishedHere } from '../../agreement/published.ts';

interface Props {
  rows: readonly Criterion[];
  published: PublishedHere;
}

/** Published thresholds that open the conversation. Each has its conditions and its people, or it would say something else. */
export function OpeningList({ rows, published: { measures, data } }: Props) {
  return (
    <ul>
      {rows.map((row) => (
        <li key={row.id}>
          {[
            ruleWords(measures[row.measure]?.short ?? row.measure, row, measures[row.measure]),
            ...alsoWords(row, measures),
          ].join(', ')}{' '}
          <span class="by">
            {peopleWords({ ...row, rule: ruleOf(row) })} · {data.sources[row.source] ?? row.source}, {row.locator};{' '}
            {standingWords[row.standing]}
          </span>
        </li>
      ))}
    </ul>
  );
}
