import type { NumberMeasure } from '../../../calculators/domain/measure.ts';
import { type SupportStatus, supportStatuses, supportStatusWords } from '../../../calculators/domain/visit.ts';
import { QuantityInput } from '../QuantityInput.tsx';
import { readEntry, type SupportTime, ventilations } from './entries.ts';
import { Chips } from './ReadingField.tsx';

interface Props {
  id: string;
  label: string;
  status: SupportStatus | undefined;
  times: SupportTime;
  /** of all ventilation together: what a day can hold */
  hours: NumberMeasure | undefined;
  last: string | undefined;
  onStatus: (status: SupportStatus | undefined) => void;
  onTimes: (times: SupportTime) => void;
}

/** Where a support stands; and of ventilation in place, the hours of it and the longest time off it. */
export function SupportField({ id, label, status, times, hours, last, onStatus, onTimes }: Props) {
  const ventilation = (ventilations as readonly string[]).includes(id);
  const read = hours && readEntry({ text: times.hours ?? '', unit: 'h/d' }, hours);
  return (
    <div class="support" data-measure={`support:${id}`}>
      <Chips
        name={`visit-support-${id}`}
        legend={label}
        last={last}
        options={supportStatuses.map((one) => ({ value: one, label: supportStatusWords[one] }))}
        value={status}
        onChoose={(one) => onStatus(one as SupportStatus | undefined)}
      />
      {ventilation && status === 'in-place' && (
        <div class="times">
          <QuantityInput
            id={`visit-hours-${id}`}
            label={`${label}: hours in 24`}
            typed={{ text: times.hours ?? '', unit: 'h/d' }}
            accepts={['h/d']}
            problem={read && 'message' in read ? read.message : undefined}
            onType={({ text }) => onTimes({ ...times, hours: text })}
          />
          <div class="field">
            <label for={`visit-off-${id}`}>{label}: longest time off it</label>
            <div class="entry">
              <input
                id={`visit-off-${id}`}
                type="text"
                autocomplete="off"
                placeholder="2 h sitting"
                value={times.timeOff ?? ''}
                onInput={(event) => onTimes({ ...times, timeOff: event.currentTarget.value })}
              />
            </div>
          </div>
        </div>
      )}
    </div>
  );
}
