import type { ComponentChildren } from 'preact';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import {
  type Change,
  compareAgreements,
  type HeaderField,
  isSame,
} from '../../../calculators/agreement/compare-agreements.ts';
import { criterionWords } from '../../../calculators/agreement/criterion-words.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChangedEvidence } from './ChangedEvidence.tsx';
import { CriterionLine, decisionTitle } from './CriterionLine.tsx';

interface Props {
  from: Agreement | undefined;
  to: Agreement | undefined;
  published: PublishedHere;
}

/** Two agreements as a readable difference, phone numbers first: the line that a reader acts on without looking twice. */
export function Difference({ from, to, published }: Props) {
  const difference = compareAgreements(from, to);
  const { header, phones, waits, marks, same, recorded, minutesDiffer } = difference;
  const evidence = recorded.length > 0 && (
    <p class="care recorded">
      The thresholds are the same; the evidence recorded for them differs ({recorded.length}):{' '}
      {recorded.map(({ to: one }) => one && criterionWords(one, published.measures)).join('; ')}.
    </p>
  );
  if (isSame(difference)) return evidence || <p>The two agreements are the same.</p>;
  const setName = (id: string) => published.data.sets.find((set) => set.id === id)?.name ?? id;
  return (
    <>
      <Lines title="Phone numbers" changes={phones} say={({ label, number }) => `${label}: ${number}`} />
      <Lines
        title="The agreement itself"
        changes={header.map(({ field, from: before, to: after }) => ({
          from: before === undefined ? undefined : { field, text: before },
          to: after === undefined ? undefined : { field, text: after },
        }))}
        say={({ field, text }) => `${fieldNames[field]}: ${field === 'referenceSet' ? setName(text) : text}`}
      />
      <Lines title="Usual waits" changes={waits} say={({ what, weeks }) => `${what}: ${weeks} weeks`} />
      <Lines
        title="Criteria"
        changes={marks}
        say={(criterion) => (
          <>
            <span class="small">{decisionTitle(criterion.decision, published)}</span>
            <span class="also">
              <CriterionLine criterion={criterion} published={published} />
            </span>
          </>
        )}
      />
      {evidence}
      {minutesDiffer && (
        <p>The minutes differ: who was present, dissent, open questions, or which two thresholds are both intended.</p>
      )}
      {same.length > 0 && (
        <details>
          <summary>The same in both ({same.length})</summary>
          <ul>
            {same.map((criterion) => (
              <li key={criterion.id}>{criterionWords(criterion, published.measures)}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

const fieldNames: Record<HeaderField, string> = {
  clinic: 'Clinic',
  jurisdiction: 'Country or region',
  revision: 'Revision',
  status: 'Status',
  signed: 'Signed',
  agreed: 'Agreed on',
  review: 'To be reviewed by',
  agreedBy: 'Agreed by',
  referenceSet: 'Reference set for per cent predicted',
  group: 'Group named on the reports',
  staleAfterMonths: 'Months after which a saved copy of the handbook says it is old',
};

function Lines<T>({
  title,
  changes,
  say,
}: {
  title: string;
  changes: Change<T>[];
  say: (one: T) => ComponentChildren;
}) {
  if (changes.length === 0) return null;
  return (
    <section class="difference">
      <h3>
        {title} ({changes.length})
      </h3>
      <ul class="changes">
        {changes.map(({ from, to }, place) => (
          <li key={place}>
            <strong class="kind">{from === undefined ? 'New' : to === undefined ? 'Removed' : 'Changed'}</strong>
            {from !== undefined && (
              <div class="before">
                {to !== undefined && <span class="small">from </span>}
                {say(from)}
              </div>
            )}
            {to !== undefined && (
              <div class="after">
                {from !== undefined && <span class="small">to </span>}
                {say(to)}
              </div>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Every criterion with what is published beside it: what was kept, what departs. */
export function AgainstPublished({ agreement, published }: { agreement: Agreement; published: PublishedHere }) {
  const decisions = [...new Set(agreement.marks.map(({ decision }) => decision))];
  return (
    <>
      <ChangedEvidence agreement={agreement} published={published} />
      {decisions.map((decision) => (
        <section key={decision}>
          <h3>{decisionTitle(decision, published)}</h3>
          <ul class="agreed-list">
            {agreement.marks
              .filter((criterion) => criterion.decision === decision)
              .map((criterion) => (
                <li key={criterion.id}>
                  <CriterionLine criterion={criterion} published={published} />
                </li>
              ))}
          </ul>
        </section>
      ))}
    </>
  );
}
