import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { statusSentence } from '../../../calculators/agreement/status.ts';

/** How far it has got, above everything else: a draft must not be taken for what was agreed. */
export function StatusLine({ agreement }: { agreement: Agreement }) {
  return agreement.status === 'draft' ? (
    <p class="draft-word">DRAFT</p>
  ) : (
    <p class="status-line">
      {agreement.revision !== undefined && `Revision ${agreement.revision}. `}
      {statusSentence(agreement)}
    </p>
  );
}

/** A line to sign for each role. */
export function Signatures({ agreement }: { agreement: Agreement }) {
  return (
    <>
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
    </>
  );
}
