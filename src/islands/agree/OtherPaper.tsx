import type { Agreement, Said } from '../../../calculators/agreement/agreement.ts';
import { digestWords, editionWords } from '../../../calculators/agreement/digest.ts';
import { openingRows } from '../../../calculators/agreement/meeting.ts';
import { versionWords } from '../../../calculators/agreement/status.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { editionHere } from '../../agreement/edition.ts';
import { mostInCode } from '../../agreement/link.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { CriterionLine } from './CriterionLine.tsx';
import { OpeningList } from './OpeningList.tsx';
import { Signatures, StatusLine } from './PaperParts.tsx';
import { QrCode, usePacked } from './Share.tsx';
import type { PaperForm } from './SignScreen.tsx';
import { useDigest } from './use-digest.ts';

interface Props {
  agreement: Agreement;
  published: PublishedHere;
  base: string;
}

/** The other papers of an agreement: for the meeting, for the wall, for checking the phones. */
export function OtherPaper({ form, ...props }: Props & { form: PaperForm }) {
  return (
    <article class={`paper ${form}-paper`}>
      <StatusLine agreement={props.agreement} />
      {form === 'meeting' ? (
        <MeetingPaper {...props} />
      ) : form === 'hand' ? (
        <HandPaper {...props} />
      ) : (
        <TickList {...props} />
      )}
    </article>
  );
}

/** One decision a page: what opens it, what was decided so far, who disagrees, and room to write. */
function MeetingPaper({ agreement, published }: Props) {
  const rows = criteriaFor({}, published, { evaluated: true });
  const decisions = Object.entries(published.decisions)
    .filter(([, { coverage }]) => !coverage)
    .sort(([, a], [, b]) => a.order - b.order);
  return (
    <>
      {decisions.map(([id, decision]) => {
        const agreed = agreement.marks.filter((criterion) => criterion.decision === id);
        const opening = openingRows(decision, rows, 'any');
        return (
          <section key={id} class="page">
            <h2>
              {decision.title}{' '}
              <span class="small">
                {agreement.clinic}, {versionWords(agreement)}
              </span>
            </h2>
            <p>{decision.question}</p>
            {opening.length > 0 && <h3>Thresholds that open the conversation</h3>}
            <OpeningList rows={opening} published={published} />
            <h3>Our criteria</h3>
            {agreed.length === 0 && <p>None yet.</p>}
            <ul class="agreed-list">
              {agreed.map((criterion) => (
                <li key={criterion.id}>
                  <CriterionLine criterion={criterion} published={published} />
                </li>
              ))}
            </ul>
            <SaidList title="Dissent" said={agreement.minutes?.dissent} decision={id} />
            <SaidList title="Open questions" said={agreement.minutes?.open} decision={id} />
            <h3>Notes</h3>
            <div class="room" />
          </section>
        );
      })}
    </>
  );
}

function SaidList({ title, said = [], decision }: { title: string; said: Said[] | undefined; decision: string }) {
  const mine = said.filter((one) => one.decision === decision);
  if (mine.length === 0) return null;
  return (
    <>
      <h3>{title}</h3>
      <ul>
        {mine.map(({ by, says }) => (
          <li key={`${by}${says}`}>
            {by && `${by}: `}
            {says}
          </li>
        ))}
      </ul>
    </>
  );
}

/** For the wall and for handing round: what a phone needs to open it, and what a reader compares. */
function HandPaper({ agreement, base }: Props) {
  const packed = usePacked(agreement, base);
  const digest = useDigest(agreement);
  return (
    <>
      <h2>{agreement.clinic}</h2>
      <p>
        Clinic agreement, {versionWords(agreement)}, to be reviewed by {agreement.review}.
      </p>
      <p class="digest">{digest && digestWords(digest.digest)}</p>
      {packed && packed.bytes <= mostInCode ? (
        <QrCode address={packed.code} />
      ) : packed === undefined ? (
        <p>Preparing the QR code. Wait before you print.</p>
      ) : (
        <p>It is too large for a QR code. Open the file or the link.</p>
      )}
      <p class="small">
        Open it with the phone's camera. The phone shows what would change and asks first. Then compare the digest there
        with the one on this page.
      </p>
      {agreement.phones.length > 0 && <h3>Whom to call</h3>}
      <ul>
        {agreement.phones.map(({ label, number }) => (
          <li key={label + number}>
            {label}: <b>{number}</b>
          </li>
        ))}
      </ul>
      <Signatures agreement={agreement} />
      <p class="small">{editionWords(editionHere())}</p>
    </>
  );
}

const phonesOnList = 18;
/** Every phone of the clinic, one a line, ticked when it shows this digest. */
function TickList({ agreement }: Props) {
  const digest = useDigest(agreement);
  return (
    <>
      <h2>{agreement.clinic}: does every phone show the same agreement?</h2>
      <p>
        {versionWords(agreement)}, to be reviewed by {agreement.review}.
      </p>
      <p class="digest">{digest && digestWords(digest.digest)}</p>
      <p>
        On each phone open the page Clinic agreement. Compare the digest there with the one above, group by group. Tick
        the line only if every group is the same. If a group differs, open the agreement on that phone again.
      </p>
      <table class="ticks">
        <thead>
          <tr>
            <th>Same</th>
            <th>Phone or device</th>
            <th>Who looked</th>
            <th>Date</th>
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: phonesOnList }, (_, place) => (
            <tr key={place}>
              <td>{'\u2610'}</td>
              <td />
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
