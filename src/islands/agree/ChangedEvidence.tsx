import { type Affected, changedEvidence, type RowChange } from '../../../calculators/agreement/agreed-evidence.ts';
import type { AgreedCriterion, Agreement } from '../../../calculators/agreement/agreement.ts';
import { affectedWords } from '../../../calculators/agreement/agreement-words.ts';
import { criterionWords } from '../../../calculators/agreement/criterion-words.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { ruleWords } from '../../../calculators/evaluate/say.ts';
import type { PublishedHere } from '../../agreement/published.ts';

interface Props {
  agreement: Pick<Agreement, 'marks'>;
  published: PublishedHere;
  /** someone of the team has looked again; missing where the agreement cannot be changed */
  onLooked?: (criterion: AgreedCriterion) => void;
}

/** Criteria for the team to look at again, with what was published when they were agreed on, and what is now. */
export function ChangedEvidence({ agreement, published, onLooked }: Props) {
  const affected = changedEvidence(agreement as Agreement, published);
  if (affected.length === 0) return null;
  return (
    <section class="care changed-evidence">
      <h3>The evidence has changed since it was agreed</h3>
      <p>
        For the team to review: {affected.length === 1 ? 'one criterion' : `${affected.length} criteria`}. Until then,
        the agreed criteria are used.
        {onLooked && ' Tick each criterion when someone has reviewed it. It then disappears from this list.'}
      </p>
      <ul>
        {affected.map((one) => (
          <li key={one.criterion.id}>
            <b>{criterionWords(one.criterion, published.measures)}</b>. {affectedWords[one.why]}.
            <Rows affected={one} published={published} />
            {onLooked && (
              <label class="chip">
                <input type="checkbox" checked={false} onChange={() => onLooked(one.criterion)} />
                Evidence reviewed
              </label>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Before and after, row by row; where the agreement does not say what was before, what is published now. */
function Rows({ affected: { rows, now }, published }: { affected: Affected; published: PublishedHere }) {
  const name = (id: string) => {
    const source = published.criteria.find((row) => row.id === id)?.source;
    return source === undefined ? id : (published.data.sources[source] ?? source);
  };
  if (rows === undefined)
    return <p>{nowWords(now, published)} The agreement does not record what the criterion was before.</p>;
  if (rows.length === 0)
    return (
      <p>The thresholds read the same. The conditions behind the thresholds have changed. {nowWords(now, published)}</p>
    );
  return (
    <ul class="changes">
      {rows.map((row) => (
        <li key={row.id}>
          <strong class="kind">
            {kindOf(row)} <span class="small">{name(row.id)}</span>
          </strong>
          {row.before !== undefined && <div class="before">Before: {row.before}</div>}
          {row.after !== undefined && <div class="after">Now: {row.after}</div>}
        </li>
      ))}
    </ul>
  );
}

const kindOf = ({ before, after }: RowChange): string =>
  before === undefined ? 'New' : after === undefined ? 'No longer in the handbook' : 'Changed';

function nowWords(now: readonly Criterion[], published: PublishedHere): string {
  if (now.length === 0) return 'No criterion is published for this measure now.';
  const words = now.map((row) => {
    const measure = published.measures[row.measure];
    const unchecked = row.standing === 'from-memory' ? ', not yet checked' : '';
    return `${published.data.sources[row.source] ?? row.source}: ${ruleWords(measure?.short ?? row.measure, row, measure)}${unchecked}`;
  });
  return `Published now: ${words.join('; ')}.`;
}
