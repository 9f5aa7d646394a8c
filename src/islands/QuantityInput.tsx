import type { ComponentChildren } from 'preact';
import { type UnitCode, units } from '../../calculators/quantity.ts';

export interface TypedQuantity {
  text: string;
  unit: UnitCode;
}

interface Props {
  id: string;
  label: string;
  typed: TypedQuantity;
  /** units on offer; with one, it is printed beside the field */
  accepts: readonly UnitCode[];
  help?: string | undefined;
  problem?: string | undefined;
  optional?: boolean | undefined;
  /** what a number in '{reading}' is in, once the test is chosen */
  readingUnit?: UnitCode | undefined;
  /** the number converted into the unit that thresholds are printed in */
  converted?: string | undefined;
  /** beside the field, in the same row */
  aside?: ComponentChildren;
  onType: (typed: TypedQuantity) => void;
  onLeave?: () => void;
}

/** A number with its unit always in sight. Text, not type=number: a wheel or a comma never changes or loses what was typed. */
export function QuantityInput({
  id,
  label,
  typed,
  accepts,
  help,
  problem,
  optional,
  readingUnit,
  converted,
  aside,
  onType,
  onLeave,
}: Props) {
  const described = [help && `${id}-help`, problem && `${id}-problem`, converted && `${id}-converted`]
    .filter(Boolean)
    .join(' ');
  return (
    <div class="field">
      <label for={id}>
        {label}
        {optional && <span class="small"> (if known)</span>}
      </label>
      <div class="entry">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          value={typed.text}
          aria-invalid={problem ? 'true' : undefined}
          aria-describedby={described || undefined}
          onInput={(event) => onType({ ...typed, text: event.currentTarget.value })}
          onBlur={onLeave}
        />
        {accepts.length === 1 ? (
          <span class="unit">{units[typed.unit === '{reading}' && readingUnit ? readingUnit : typed.unit].symbol}</span>
        ) : (
          <select
            aria-label={`Unit of ${label}`}
            value={typed.unit}
            onChange={(event) => onType({ ...typed, unit: event.currentTarget.value as UnitCode })}
          >
            {accepts.map((code) => (
              <option key={code} value={code}>
                {units[code].symbol || '-'}
              </option>
            ))}
          </select>
        )}
        {converted && (
          <span class="small" id={`${id}-converted`}>
            {converted}
          </span>
        )}
        {aside}
      </div>
      {problem && (
        <p class="problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
      {help && (
        <p class="small" id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  );
}
