import '../../styles/form.css';
import { useEffect, useState } from 'preact/hooks';
import { type Agreement, staleAfterMonths } from '../../../calculators/agreement/agreement.ts';
import { agreementLine } from '../../../calculators/agreement/digest.ts';
import { editionHere } from '../../agreement/digest.ts';
import { mostInCode } from '../../agreement/link.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { useReady } from '../use-ready.ts';
import { AgainstPublished } from './Difference.tsx';
import { type Choice, Pick } from './Pick.tsx';
import { QrCode, usePacked } from './Share.tsx';
import { useDigest } from './use-digest.ts';
import { usePublished, waitingWords } from './use-published.ts';

/** The paper that is signed: everything that was agreed on, with its sources, its reasons and a line for each role. */
export function SignScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const [start, setStart] = useState<Choice>();
  const [agreement, setAgreement] = useState<Agreement>();
  useEffect(() => setStart(location.hash === '#draft' ? 'draft' : 'force'), []);
  return (
    <>
      <form method="dialog" class="agree" onSubmit={(event) => event.preventDefault()}>
        <fieldset disabled={!ready || !published}>
          {!(ready && published) && <p class="care late">{waitingWords(loaded)}</p>}
          <div class="pick-room">
            {published && start && (
              <Pick
                id="sign-which"
                label="Which agreement"
                offered={['force', 'draft', 'demonstration', 'file']}
                start={start}
                published={published}
                base={base}
                onPick={(picked) => setAgreement(picked.agreement)}
              />
            )}
          </div>
          <div class="entry">
            <button type="button" class="main" disabled={!agreement} onClick={() => print()}>
              Print
            </button>
          </div>
        </fieldset>
      </form>
      {agreement && published && <Paper agreement={agreement} published={published} base={base} />}
    </>
  );
}

function Paper({ agreement, published, base }: { agreement: Agreement; published: PublishedHere; base: string }) {
  const packed = usePacked(agreement, base);
  const digest = useDigest(agreement);
  const set = published.data.sets.find(({ id }) => id === agreement.referenceSet);
  const group = set?.groups.find(({ id }) => id === agreement.group);
  return (
    <article class="paper">
      <h2>{agreement.clinic}: agreed marks for respiratory support</h2>
      <dl>
        <dt>Agreed</dt>
        <dd>
          {agreement.agreed}, to be reviewed by {agreement.review}
        </dd>
        {agreement.jurisdiction && (
          <>
            <dt>Country or region</dt>
            <dd>{agreement.jurisdiction}</dd>
          </>
        )}
        {set && (
          <>
            <dt>Per cent predicted by</dt>
            <dd>
              {set.name} {group?.name}
            </dd>
          </>
        )}
        <dt>A saved copy says it is old after</dt>
        <dd>{staleAfterMonths(agreement)} months</dd>
        {agreement.phones.length > 0 && (
          <>
            <dt>Whom to call</dt>
            <dd>
              <ul>
                {agreement.phones.map(({ label, number }) => (
                  <li key={label + number}>
                    {label}: {number}
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
        {agreement.waits.length > 0 && (
          <>
            <dt>Usual waits</dt>
            <dd>
              <ul>
                {agreement.waits.map(({ what, weeks }) => (
                  <li key={what}>
                    {what}: {weeks} weeks
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
      </dl>
      <p>
        {agreement.marks.length === 1 ? 'One mark' : `${agreement.marks.length} marks`}. They are shown beside the
        published marks and never instead of them. They are findings to weigh, not orders; a person's own plan and the
        prescriber's orders come first.
      </p>
      <AgainstPublished agreement={agreement} published={published} />
      <h3>Signed for the clinic</h3>
      <table class="signatures">
        <thead>
          <tr>
            <th>Role</th>
            <th>Signature</th>
            <th>Date</th>
          </tr>
        </thead>
        <tbody>
          {agreement.agreedBy.map((role) => (
            <tr key={role}>
              <td>{role}</td>
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">
        {digest && agreementLine(agreement, digest.digest, editionHere())} Agreed on the evidence of{' '}
        {agreement.evidence.date}. Two agreements with the same digest have the same text. The digest does not say who
        wrote it: the signatures do.
      </p>
      {packed && packed.bytes <= mostInCode && <QrCode address={packed.code} />}
    </article>
  );
}
