import { useState } from 'preact/hooks';
import type { Reading } from '../../../calculators/domain/visit.ts';
import { readingsOf } from '../../../calculators/night-oximetry/readings.ts';
import type { NightSummary } from '../../../calculators/night-oximetry/summary.ts';
import { today } from '../../browser/today.ts';
import type { Night } from '../../night-oximetry/messages.ts';
import { readEntries, writeEntries } from '../../person/store.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { type Entries, type Entry, noEntries } from '../visit/entries.ts';

const gases = [
  { value: 'air', label: 'Room air' },
  { value: 'oxygen', label: 'Oxygen' },
  { value: 'ventilation', label: 'Ventilator' },
  { value: 'unknown', label: 'Not known' },
];

/**
 * Copies the night's figures to the visit sheet: asks first what was breathed, and asks before it replaces anything
 * there.
 */
export function ToVisit({ night, base }: { night: Night; base: string }) {
  const [gas, setGas] = useState('');
  const [asked, setAsked] = useState(false);
  const [done, setDone] = useState(false);
  const readings = readingsOf(
    night.summary as NightSummary,
    gas === 'unknown' || gas === '' ? undefined : (gas as Reading['gas']),
  );
  const put = (replace: boolean) => {
    const entries: Entries = { ...noEntries(), date: today(), ...readEntries<Entries>('visit') };
    const standing = Object.keys(readings).some((id) => (entries.readings[id]?.text ?? '').trim() !== '');
    if (standing && !replace) {
      setAsked(true);
      return;
    }
    writeEntries<Entries>('visit', { ...entries, readings: { ...entries.readings, ...entriesOf(readings) } });
    setAsked(false);
    setDone(true);
  };
  return (
    <section aria-labelledby="to-visit-title">
      <h2 id="to-visit-title">Onto the visit sheet</h2>
      <ChoiceInput
        id="night-gas"
        label="Was the person on air, oxygen or a ventilator that night?"
        options={gases}
        value={gas}
        help="On oxygen or a ventilator, or if it is not known, criteria for room air stay 'cannot tell'."
        onChoose={(value) => {
          setGas(value);
          setDone(false);
        }}
      />
      <p>
        <button type="button" disabled={gas === ''} onClick={() => put(false)}>
          Put these into the visit sheet
        </button>
        {gas === '' && <span class="small"> Say first whether the person was on air, oxygen or a ventilator.</span>}
      </p>
      {asked && (
        <div class="care" role="alert">
          <p>The visit sheet already has figures from a night.</p>
          <p>
            <button type="button" onClick={() => put(true)}>
              Replace them
            </button>{' '}
            <button type="button" onClick={() => setAsked(false)}>
              Leave them
            </button>
          </p>
        </div>
      )}
      <p role="status">
        {done && (
          <>
            All figures from the night are on the <a href={`${base}visit/`}>visit sheet</a>.
          </>
        )}
      </p>
    </section>
  );
}

const entriesOf = (readings: Record<string, Reading>): Record<string, Entry> =>
  Object.fromEntries(
    Object.entries(readings).map(([id, { value, unit, gas, method, flags }]) => [
      id,
      { text: String(value), unit, gas, method, flags: flags === undefined ? undefined : [...flags] },
    ]),
  );
