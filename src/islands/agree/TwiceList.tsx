import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { criterionWords, peopleWords } from '../../../calculators/agreement/criterion-words.ts';
import { twiceToAsk } from '../../../calculators/agreement/meeting.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { decisionTitle } from './CriterionLine.tsx';
import type { Draft } from './draft.ts';

interface Props {
  draft: Draft;
  published: PublishedHere;
  onChange: (next: Partial<Draft>) => void;
}

/** Two thresholds for the same people: a slip, or meant. Asked until someone answers. */
export function TwiceList({ draft, published, onChange }: Props) {
  const agreement: Pick<Agreement, 'marks' | 'minutes'> = { marks: draft.marks, minutes: { meant: draft.meant } };
  const asked = twiceToAsk(agreement, published);
  if (asked.length === 0) return null;
  return (
    <section class="care twice" aria-labelledby="twice-title">
      <h3 id="twice-title">Two thresholds for the same people: are both intended?</h3>
      <ul>
        {asked.map(({ a, b, same }) => (
          <li key={a.id + b.id}>
            {decisionTitle(a.decision, published)}: <b>{criterionWords(a, published.measures)}</b> ({peopleWords(a)})
            and <b>{criterionWords(b, published.measures)}</b> ({peopleWords(b)}).
            {same && ' They are the same: one is enough.'}
            <div class="entry">
              <button type="button" onClick={() => onChange({ meant: [...draft.meant, [a.id, b.id]] })}>
                Both are intended
              </button>
              {[a, b].map((one) => (
                <button
                  key={one.id}
                  type="button"
                  onClick={() => onChange({ marks: draft.marks.filter(({ id }) => id !== one.id) })}
                >
                  Remove {criterionWords(one, published.measures)}
                </button>
              ))}
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
