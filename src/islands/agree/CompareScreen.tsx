import '../../styles/form.css';
import { useState } from 'preact/hooks';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { useReady } from '../use-ready.ts';
import { ChangedEvidence } from './ChangedEvidence.tsx';
import { AgainstPublished, Difference } from './Difference.tsx';
import { type Choice, Pick } from './Pick.tsx';
import { usePublished, waitingWords } from './use-published.ts';

interface Picked {
  choice: Choice;
  agreement: Agreement | undefined;
}

/** Two agreements, or one and the published criteria, as a readable difference. */
export function CompareScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const [from, setFrom] = useState<Picked>();
  const [to, setTo] = useState<Picked>();
  return (
    <form method="dialog" class="agree" onSubmit={(event) => event.preventDefault()}>
      <fieldset disabled={!ready || !published}>
        {!(ready && published) && <p class="care late">{waitingWords(loaded)}</p>}
        {published && (
          <>
            <Pick
              id="compare-from"
              label="Compare"
              offered={['published', 'force', 'draft', 'demonstration', 'file']}
              start="published"
              published={published}
              base={base}
              onPick={setFrom}
            />
            <Pick
              id="compare-to"
              label="With"
              offered={['force', 'draft', 'demonstration', 'file']}
              start="force"
              published={published}
              base={base}
              onPick={setTo}
            />
          </>
        )}
      </fieldset>
      {published && to?.agreement && (
        <div class="entry">
          <button type="button" onClick={() => print()}>
            Print the comparison
          </button>
        </div>
      )}
      {published && to?.agreement && (
        <section class="compared" aria-labelledby="compared-title">
          <h2 id="compared-title">
            {from?.agreement
              ? `${from.agreement.clinic}, ${from.agreement.agreed}, and ${to.agreement.clinic}, ${to.agreement.agreed}`
              : `${to.agreement.clinic}, ${to.agreement.agreed}, beside the published criteria`}
          </h2>
          {from?.agreement ? (
            <>
              <ChangedEvidence agreement={to.agreement} published={published} />
              <Difference from={from.agreement} to={to.agreement} published={published} />
            </>
          ) : from?.choice === 'published' ? (
            <AgainstPublished agreement={to.agreement} published={published} />
          ) : null}
        </section>
      )}
    </form>
  );
}
