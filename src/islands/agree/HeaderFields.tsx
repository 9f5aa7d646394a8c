import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { isPhoneNumber, limits } from '../../../calculators/agreement/agreement.ts';
import { phoneRemark } from '../../../calculators/agreement/meeting.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import type { Draft } from './draft.ts';

interface Props {
  draft: Draft;
  published: PublishedHere | undefined;
  onChange: (next: Partial<Draft>) => void;
}

const usualRoles = [
  'Physician',
  'Respiratory therapist',
  'Physiotherapist',
  'Nurse',
  'Speech and language therapist',
  'Dietitian',
  'Person who lives with the disease',
];

/** Who the clinic is, who agreed, until when; whom to call and how long things take. */
export function HeaderFields({ draft, published, onChange }: Props) {
  const sets = published?.data.sets ?? [];
  const set = sets.find(({ id }) => id === draft.referenceSet);
  return (
    <>
      <Text id="clinic" label="Name of the clinic" value={draft.clinic} onType={(clinic) => onChange({ clinic })} />
      <Text
        id="jurisdiction"
        label="Country or region"
        optional
        value={draft.jurisdiction}
        onType={(jurisdiction) => onChange({ jurisdiction })}
      />
      <Roles
        legend="Who was present (roles, no names)"
        chosen={draft.present}
        onChange={(present) => onChange({ present })}
      />
      <Roles
        legend="Who agreed (roles, no names)"
        chosen={draft.agreedBy}
        onChange={(agreedBy) => onChange({ agreedBy })}
      >
        {draft.present.length > 0 && (
          <button type="button" onClick={() => onChange({ agreedBy: draft.present })}>
            Everyone who was present
          </button>
        )}
      </Roles>
      <Day id="agreed" label="Agreed on" value={draft.agreed} onType={(agreed) => onChange({ agreed })} />
      <Day id="review" label="To be reviewed by" value={draft.review} onType={(review) => onChange({ review })} />
      <ChoiceInput
        id="agree-set"
        label="Reference set for per cent predicted"
        options={sets.map(({ id, name }) => ({ value: id, label: name }))}
        value={draft.referenceSet}
        optional
        help="Each new visit sheet opens with the reference set that you choose here. Use the same reference set for all readings in a series."
        onChoose={(referenceSet) => onChange({ referenceSet, group: '' })}
      />
      {set && set.groups.length > 0 && (
        <ChoiceInput
          id="agree-group"
          label="Group named on the reports"
          options={set.groups.map(({ id, name }) => ({ value: id, label: name }))}
          value={draft.group}
          optional
          onChoose={(group) => onChange({ group })}
        />
      )}
      <Text
        id="stale"
        label="Months after which a saved copy of the handbook says it is old"
        narrow
        value={draft.staleAfterMonths}
        onType={(staleAfterMonths) => onChange({ staleAfterMonths })}
      />
      <Rows
        legend="Whom to call"
        help="These phone numbers are shown on the urgent pages of every device that uses this agreement. The emergency number stays first in the list of phone numbers."
        name="phone"
        fields={[
          ['label', 'Who, and when'],
          ['number', 'Number'],
        ]}
        rows={draft.phones}
        remark={({ number = '' }) =>
          number.trim() === ''
            ? undefined
            : isPhoneNumber(number.trim())
              ? phoneRemark(number.trim())
              : 'This is not a phone number. Use digits, spaces and + ( ) . / -'
        }
        most={limits.phones}
        onChange={(phones) => onChange({ phones: phones as Draft['phones'] })}
      />
      <Rows
        legend="Usual waits for equipment"
        help="The decision pages show these waiting times, so that support is arranged before it is needed."
        name="wait"
        fields={[
          ['what', 'What'],
          ['weeks', 'Weeks'],
        ]}
        rows={draft.waits}
        most={limits.waits}
        onChange={(waits) => onChange({ waits: waits as Draft['waits'] })}
      />
    </>
  );
}

interface TextProps {
  id: string;
  label: string;
  value: string;
  optional?: boolean;
  narrow?: boolean;
  problem?: string | undefined;
  onType: (text: string) => void;
}

export function Text({ id, label, value, optional, narrow, problem, onType }: TextProps) {
  return (
    <div class="field">
      <label for={`agree-${id}`}>
        {label}
        {optional && <span class="small"> (if wanted)</span>}
      </label>
      <div class={narrow ? 'entry' : 'entry long'}>
        <input
          id={`agree-${id}`}
          type="text"
          autocomplete="off"
          value={value}
          aria-invalid={problem ? 'true' : undefined}
          aria-describedby={problem ? `agree-${id}-problem` : undefined}
          onInput={(event) => onType(event.currentTarget.value)}
        />
      </div>
      {problem && (
        <p class="problem" id={`agree-${id}-problem`}>
          {problem}
        </p>
      )}
    </div>
  );
}

export function Day({ id, label, value, onType }: Pick<TextProps, 'id' | 'label' | 'value' | 'onType'>) {
  return (
    <div class="field">
      <label for={`agree-${id}`}>{label}</label>
      <div class="entry">
        <input id={`agree-${id}`} type="date" value={value} onChange={(event) => onType(event.currentTarget.value)} />
      </div>
    </div>
  );
}

function Roles({
  legend,
  chosen,
  onChange,
  children,
}: {
  legend: string;
  chosen: string[];
  onChange: (chosen: string[]) => void;
  children?: ComponentChildren;
}) {
  const [other, setOther] = useState('');
  const put = (role: string, on: boolean) => onChange(on ? [...chosen, role] : chosen.filter((one) => one !== role));
  const add = () => {
    const role = other.trim();
    if (role !== '' && !chosen.includes(role)) put(role, true);
    setOther('');
  };
  const shown = [...usualRoles, ...chosen.filter((role) => !usualRoles.includes(role))];
  return (
    <fieldset class="field choice">
      <legend>{legend}</legend>
      <div class="entry">
        {shown.map((role) => (
          <label key={role} class="chip">
            <input
              type="checkbox"
              checked={chosen.includes(role)}
              onChange={(event) => put(role, event.currentTarget.checked)}
            />
            {role}
          </label>
        ))}
      </div>
      <div class="entry long">
        <input
          type="text"
          aria-label={`Another role: ${legend}`}
          placeholder="Another role"
          autocomplete="off"
          value={other}
          onInput={(event) => setOther(event.currentTarget.value)}
        />
        <button type="button" onClick={add}>
          Add role
        </button>
        {children}
      </div>
    </fieldset>
  );
}

interface RowsProps {
  legend: string;
  help: string;
  name: string;
  fields: [string, string][];
  rows: Record<string, string>[];
  most: number;
  /** what looks wrong with a row */
  remark?: (row: Record<string, string>) => string | undefined;
  onChange: (rows: Record<string, string>[]) => void;
}

/** A short list of two-field rows, one under the other on a phone. */
function Rows({ legend, help, name, fields, rows, most, remark, onChange }: RowsProps) {
  const put = (place: number, field: string, text: string) =>
    onChange(rows.map((row, at) => (at === place ? { ...row, [field]: text } : row)));
  return (
    <fieldset class="field choice rows">
      <legend>{legend}</legend>
      <p class="small">{help}</p>
      {rows.map((row, place) => (
        <div key={place} class="entry">
          {fields.map(([field, label], at) => (
            <label key={field} class={at === 0 ? 'wide-part' : ''}>
              <span class="small">
                {label} {place + 1}
              </span>
              <input
                type="text"
                inputMode={field === 'number' ? 'tel' : field === 'weeks' ? 'decimal' : 'text'}
                autocomplete="off"
                value={row[field] ?? ''}
                onInput={(event) => put(place, field, event.currentTarget.value)}
              />
            </label>
          ))}
          <button
            type="button"
            aria-label={`Remove ${name} ${place + 1}`}
            onClick={() => onChange(rows.filter((_, at) => at !== place))}
          >
            Remove
          </button>
          {remark?.(row) && (
            <p class="problem" role="status">
              {remark(row)}
            </p>
          )}
        </div>
      ))}
      {rows.length < most && (
        <button
          type="button"
          onClick={() => onChange([...rows, Object.fromEntries(fields.map(([field]) => [field, '']))])}
        >
          Add a {name}
        </button>
      )}
    </fieldset>
  );
}
