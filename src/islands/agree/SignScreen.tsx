import '../../styles/form.css';
import { useEffect, useState } from 'preact/hooks';
import { type Agreement, staleAfterMonths } from '../../../calculators/agreement/agreement.ts';
import { agreementLine } from '../../../calculators/agreement/digest.ts';
import { twiceToAsk } from '../../../calculators/agreement/meeting.ts';
import { twiceWords } from '../../../calculators/agreement/minutes.ts';
import { editionHere } from '../../agreement/edition.ts';
import { mostInCode } from '../../agreement/link.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { useReady } from '../use-ready.ts';
import { AgainstPublished } from './Difference.tsx';
import { Signatures, StatusLine } from './PaperParts.tsx';
import { type Choice, Pick } from './Pick.tsx';
import { QrCode, usePacked } from './Share.tsx';
import { useDigest } from './use-digest.ts';
import { useOnDemand } from './use-on-demand.ts';
import { usePublished, waitingWords } from './use-published.ts';

const forms = {
  sign: 'The paper to sign',
  meeting: 'For the meeting: one decision a page',
  hand: 'One page: code, digest, phones, signatures',
  phones: 'Tick list: every phone shows the same digest',
} as const;
export type PaperForm = keyof typeof forms;

/** The paper that is signed: everything that was agreed on, with its sources, its reasons and a line for each role. */
export function SignScreen({ base }: { base: string }) {
  const ready = useReady();
  const loaded = usePublished(base);
  const { published } = loaded;
  const [start, setStart] = useState<Choice>();
  const [agreement, setAgreement] = useState<Agreement>();
  const [form, setForm] = useState<PaperForm>('sign');
  const More = useOnDemand(() => import('./OtherPaper.tsx'));
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
          <ChoiceInput
            id="sign-form"
            label="What to print"
            options={Object.entries(forms).map(([value, label]) => ({ value, label }))}
            value={form}
            onChoose={(value) => setForm((value || 'sign') as PaperForm)}
          />
          <div class="entry">
            <button type="button" class="main" disabled={!agreement} onClick={() => print()}>
              Print
            </button>
          </div>
        </fieldset>
      </form>
      {agreement && published && form === 'sign' && <Paper agreement={agreement} published={published} base={base} />}
      {agreement && published && form !== 'sign' && More && (
        <More.OtherPaper form={form} agreement={agreement} published={published} base={base} />
      )}
    </>
  );
}

/** What the meeting did not answer, above the signatures. */
function TwiceOnPaper({ agreement, published }: { agreement: Agreement; published: PublishedHere }) {
  const asked = twiceToAsk(agreement, published);
  if (asked.length === 0) return null;
  return (
    <section class="care">
      <h3>Not answered: are both thresholds meant?</h3>
      <ul>
        {asked.map((pair) => (
          <li key={pair.a.id + pair.b.id}>{twiceWords(pair, published)}</li>
        ))}
      </ul>
    </section>
  );
}

function Paper({ agreement, published, base }: { agreement: Agreement; published: PublishedHere; base: string }) {
  const packed = usePacked(agreement, base);
  const digest = useDigest(agreement);
  const set = published.data.sets.find(({ id }) => id === agreement.referenceSet);
  const group = set?.groups.find(({ id }) => id === agreement.group);
  return (
    <article class="paper">
      <StatusLine agreement={agreement} />
      <h2>{agreement.clinic}: agreed criteria for respiratory support</h2>
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
        {agreement.marks.length === 1 ? 'One criterion' : `${agreement.marks.length} criteria`}. They are shown beside
        the published criteria and never instead of them. They are findings, not orders; a person's own plan and the
        prescriber's orders come first.
      </p>
      <AgainstPublished agreement={agreement} published={published} />
      <TwiceOnPaper agreement={agreement} published={published} />
      <Signatures agreement={agreement} />
      <p class="small">
        {digest && agreementLine(agreement, digest.digest, editionHere())} Based on the evidence of{' '}
        {agreement.evidence.date}. Two agreements with the same digest have the same text. The digest does not say who
        wrote the agreement: the signatures do.
      </p>
      {packed && packed.bytes <= mostInCode && <QrCode address={packed.code} />}
    </article>
  );
}
