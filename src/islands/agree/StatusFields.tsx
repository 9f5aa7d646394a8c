import { type Status, statuses } from '../../../calculators/agreement/agreement.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import type { Draft } from './draft.ts';
import { Day } from './HeaderFields.tsx';

const names: Record<Status, string> = {
  draft: 'Draft',
  agreed: 'Agreed in the meeting',
  signed: 'Signed',
};

/** How far it has got. Until it is agreed, it says DRAFT on the screen, in the file and on paper. */
export function StatusFields({ draft, onChange }: { draft: Draft; onChange: (next: Partial<Draft>) => void }) {
  const by = draft.signedBy;
  return (
    <>
      <ChoiceInput
        id="agree-status"
        label="Status"
        options={statuses.map((value) => ({ value, label: names[value] }))}
        value={draft.status}
        help="A draft says DRAFT on every screen, in its file and on paper. Choose Signed when every role has signed the paper."
        onChoose={(value) =>
          onChange({
            status: value as Status,
            ...(value === 'signed' && by.length === 0 ? { signedBy: draft.agreedBy } : {}),
          })
        }
      />
      {draft.status === 'signed' && (
        <>
          <Day
            id="signed-on"
            label="Signed on"
            value={draft.signedOn || draft.agreed}
            onType={(signedOn) => onChange({ signedOn })}
          />
          <fieldset class="field choice">
            <legend>Signed by (roles)</legend>
            <div class="entry">
              {[...new Set([...draft.agreedBy, ...by])].map((role) => (
                <label key={role} class="chip">
                  <input
                    type="checkbox"
                    checked={by.includes(role)}
                    onChange={(event) =>
                      onChange({
                        signedBy: event.currentTarget.checked ? [...by, role] : by.filter((one) => one !== role),
                      })
                    }
                  />
                  {role}
                </label>
              ))}
            </div>
          </fieldset>
        </>
      )}
    </>
  );
}
