import type { NumberMeasure } from '../../../calculators/domain/measure.ts';
import { convert, convertible, show, type UnitCode } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import { QuantityInput } from '../QuantityInput.tsx';
import { type Entry, readEntry } from './entries.ts';
import { How } from './How.tsx';

interface Props {
  id: string;
  measure: NumberMeasure;
  entry: Entry | undefined;
  /** a reading worked out from others, shown when none was typed */
  derived: string | undefined;
  /** what it was last time */
  last: string | undefined;
  notDone: string | undefined;
  /** reasons why it was not done that fit this test */
  reasons: readonly string[];
  onChange: (entry: Entry) => void;
  onNotDone: (reason: string | undefined) => void;
}

const gases = [
  { value: 'air', label: 'Room air' },
  { value: 'oxygen', label: 'On oxygen' },
  { value: 'ventilation', label: 'On ventilator' },
] as const;

const postures = [
  { value: 'upright', label: 'Sitting up' },
  { value: 'supine', label: 'Lying flat' },
] as const;

/** One reading: number, unit, and what decides how far it can be trusted. */
export function ReadingField({ id, measure, entry, derived, last, notDone, reasons, onChange, onNotDone }: Props) {
  const now: Entry = entry ?? { text: '', unit: measure.unit };
  const accepts: UnitCode[] = [measure.unit, ...measure.accepts];
  const read = readEntry(now, measure);
  const problem = read && 'message' in read ? read.message : undefined;
  const unusual = read && 'unusual' in read ? read.unusual : undefined;
  const filled = now.text.trim() !== '';
  const needsGas = measure.roomAir && filled && now.gas === undefined;
  return (
    <div class="reading" data-measure={id}>
      <QuantityInput
        id={`visit-${id}`}
        label={`${measure.label}${measure.of ? `, ${measure.of}` : ''}`}
        typed={now}
        accepts={accepts}
        problem={problem ?? unusual}
        converted={filled ? convertedWords(now, measure) : undefined}
        aside={
          !filled &&
          !derived && (
            <select
              class="not-done"
              aria-label={`${measure.label}: not done, because`}
              value={notDone ?? ''}
              onChange={(event) => onNotDone(event.currentTarget.value || undefined)}
            >
              <option value="">Not done?</option>
              {notDone && !reasons.includes(notDone) && <option value={notDone}>{notDone}</option>}
              {reasons.map((reason) => (
                <option key={reason} value={reason}>
                  {reason}
                </option>
              ))}
            </select>
          )
        }
        onType={(typed) => onChange({ ...now, ...typed })}
      />
      <How words={measure.how} />
      {last && <p class="small last">Last: {last}</p>}
      {derived && !filled && <p class="small derived">Calculated: {derived}</p>}
      {measure.roomAir && (filled || now.gas) && (
        <Chips
          name={`visit-${id}-gas`}
          legend="Taken on"
          options={gases}
          value={now.gas}
          onChoose={(gas) => onChange({ ...now, gas: gas as Entry['gas'] })}
        />
      )}
      {needsGas && <p class="small">Air or oxygen was not recorded, so room-air criteria stay 'cannot tell'.</p>}
      {measure.posture === 'any' && filled && (
        <Chips
          name={`visit-${id}-posture`}
          legend="Posture"
          options={postures}
          value={now.posture}
          onChoose={(posture) => onChange({ ...now, posture: posture as Entry['posture'] })}
        />
      )}
      {measure.methods && filled && (
        <Chips
          name={`visit-${id}-method`}
          legend="Method"
          options={methodsOf(measure.methods).map((method) => ({ value: method, label: method }))}
          value={now.method}
          onChoose={(method) => onChange({ ...now, method })}
        />
      )}
      {measure.ways && filled && (
        <Chips
          name={`visit-${id}-way`}
          legend={measure.ways.label}
          options={measure.ways.options.map((way) => ({ value: way, label: way }))}
          value={now.method}
          onChoose={(method) => onChange({ ...now, method })}
        />
      )}
      {measure.flags.length > 0 && filled && (
        <QualityFlags measure={measure} flags={now.flags ?? []} onFlags={(flags) => onChange({ ...now, flags })} />
      )}
    </div>
  );
}

interface FlagsProps {
  measure: NumberMeasure;
  flags: readonly string[];
  onFlags: (flags: string[]) => void;
}

function QualityFlags({ measure, flags, onFlags }: FlagsProps) {
  return (
    <fieldset class="field choice flags">
      <legend class="small">Quality: tick what was wrong</legend>
      <div class="entry">
        {measure.flags.map((flag) => (
          <label key={flag.id} class="chip">
            <input
              type="checkbox"
              checked={flags.includes(flag.id)}
              onChange={(event) => {
                const others = flags.filter((one) => one !== flag.id);
                onFlags(event.currentTarget.checked ? [...others, flag.id] : others);
              }}
            />
            {flag.label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

interface ChipsProps {
  name: string;
  legend: string;
  options: readonly { value: string; label: string }[];
  value: string | undefined;
  last?: string | undefined;
  onChoose: (value: string | undefined) => void;
}

export function Chips({ name, legend, options, value, last, onChoose }: ChipsProps) {
  return (
    <fieldset class="field choice">
      <legend>
        {legend}
        {last && <span class="small last"> Last: {last}</span>}
      </legend>
      <div class="entry">
        {options.map((option) => (
          <label key={option.value} class="chip">
            <input
              type="radio"
              name={name}
              checked={value === option.value}
              onClick={() => value === option.value && onChoose(undefined)}
              onChange={() => onChoose(option.value)}
            />
            {option.label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** With the one that is taken for it by mistake: a blood gas drawn from a vein. */
const methodsOf = (methods: readonly string[]): string[] => [...methods, 'venous'];

/** '= 45.0 mmHg' when the number was typed in another unit than the marks are printed in. */
function convertedWords(entry: Entry, measure: NumberMeasure): string | undefined {
  const read = readNumber(entry.text, entry.unit, measure.label, [measure.unit, ...measure.accepts]);
  if (!read.ok || read.quantity.unit === measure.unit || !convertible(read.quantity.unit, measure.unit))
    return undefined;
  return `= ${show(convert(read.quantity.value, read.quantity.unit, measure.unit), measure.unit, Math.max(1, measure.decimals))}`;
}
