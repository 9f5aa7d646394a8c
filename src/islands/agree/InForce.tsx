import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { statusSentence } from '../../../calculators/agreement/status.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { hasBuiltIn, kept } from '../../agreement/store.ts';
import { today } from '../../browser/today.ts';
import { ChangedEvidence } from './ChangedEvidence.tsx';
import { Share } from './Share.tsx';

interface Props {
  agreement: Agreement;
  published: PublishedHere | undefined;
  base: string;
}

/** The agreement that this device uses, what is wrong with relying on it, and the ways to share it. */
export function InForce({ agreement, published, base }: Props) {
  const { clinic, agreed, review, revision, marks } = agreement;
  const opened = kept()?.agreement !== undefined;
  return (
    <section aria-labelledby="force-title">
      <h2 id="force-title">In force on this device</h2>
      <p>
        {clinic}, {revision !== undefined && `revision ${revision}, `}
        {agreement.status === 'draft' ? 'DRAFT of' : 'agreed'} {agreed}:{' '}
        {marks.length === 1 ? 'one criterion' : `${marks.length} criteria`}. {statusSentence(agreement)}{' '}
        {!opened && 'This agreement is built into this copy of the handbook. '}
        <a href={`${base}agree/compare/`}>Compare with the published criteria</a>
      </p>
      {review < today() ? (
        <p class="care">
          <strong>Its review was due {review}.</strong> Revise it, even if nothing changes.
        </p>
      ) : (
        <p>Review due {review}.</p>
      )}
      {opened && hasBuiltIn && (
        <p>
          This agreement was opened on this device, and it replaces the one built into this copy.{' '}
          <a href={`${base}agree/open/#built-in`}>Go back to the built-in one</a>
        </p>
      )}
      {published && <ChangedEvidence agreement={agreement} published={published} />}
      <Share agreement={agreement} published={published} base={base} />
    </section>
  );
}
