import type { Decisions } from '../../../calculators/criteria/decision.ts';
import { diseaseNames } from '../../../calculators/criteria/diseases.ts';
import type { Measures } from '../../../calculators/criteria/measure.ts';
import { flagWords, gasWords, readingWords } from '../../../calculators/criteria/say.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import { supportStatusWords, type Visit, wishWords } from '../../../calculators/criteria/visit.ts';
import type { CardText, Entries } from './entries.ts';
import { printOnly } from './print.ts';

interface Props {
  visit: Visit;
  entries: Entries;
  measures: Measures;
  decisions: Decisions;
  /** the visit before this one */
  last: KeptVisit | undefined;
  onChange: (next: Partial<Entries>) => void;
}

const baselines = [
  'spo2',
  'fvc-percent',
  'vc-litres',
  'peak-cough-flow',
  'paco2',
  'bicarbonate',
  'niv-hours',
  'weight',
];

const typed: [keyof CardText, string, string][] = [
  ['interface', 'Mask or mouthpiece, and its size', 'as worn today'],
  ['settings', 'Settings as ordered', 'copied from the order, with its date'],
  ['contacts', 'Who to ring', 'ventilation service, family, equipment supplier'],
];

/** One page for the hospital bag: what a stranger in an emergency has to know first. */
export function Card({ visit, entries, measures, decisions, last, onChange }: Props) {
  const put = (name: keyof CardText, text: string) => onChange({ card: { ...entries.card, [name]: text } });
  const known = baselines.flatMap((id) => {
    const reading = visit.readings[id];
    const measure = measures[id];
    return reading && measure
      ? [
          [
            `${measure.short} ${readingWords(reading, measure)}`,
            gasWords(reading, measure),
            ...flagWords(reading, measure, measures),
          ]
            .filter(Boolean)
            .join(', '),
        ]
      : [];
  });
  const supports = Object.entries(visit.supports ?? {}).filter(([, status]) => status !== 'none');
  return (
    <details class="card">
      <summary>Emergency card for the hospital bag</summary>
      {last?.card && Object.values(entries.card).every((text) => text === '') && (
        <p>
          <button type="button" onClick={() => last.card && onChange({ card: last.card })}>
            Take over what was written on {last.date}
          </button>{' '}
          <span class="small">Then check it against today.</span>
        </p>
      )}
      {typed.map(([name, label, hint]) => (
        <div key={name} class="field">
          <label for={`card-${name}`}>{label}</label>
          <textarea
            id={`card-${name}`}
            rows={2}
            placeholder={hint}
            value={entries.card[name]}
            onInput={(event) => put(name, event.currentTarget.value)}
          />
        </div>
      ))}
      <article class="sheet" aria-label="Emergency card">
        <h2>Breathing emergency card</h2>
        <p>
          <b>{visit.disease ? diseaseNames[visit.disease] : 'Neuromuscular disease'}.</b> The breathing muscles are
          weak. The lungs may be healthy. <b>Bring the person's own ventilator, mask, cough device and chargers.</b>
        </p>
        <p class="care">
          <b>Oxygen alone can hide and worsen failing ventilation.</b> Support ventilation and clear secretions first;
          give oxygen in a controlled way, with carbon dioxide measured, as the treating team decides.
        </p>
        <dl>
          <dt>Measured on {entries.date} (may not be usual for this person)</dt>
          <dd>{known.length > 0 ? known.join('; ') : 'not measured'}</dd>
          <dt>Supports</dt>
          <dd>
            {supports.length > 0
              ? supports
                  .map(([id, status]) => `${decisions[id]?.status?.label ?? id}: ${supportStatusWords[status]}`)
                  .join('; ')
              : 'none recorded'}
          </dd>
          <dt>Interface</dt>
          <dd>{entries.card.interface || 'not filled in'}</dd>
          <dt>Settings as ordered</dt>
          <dd>{entries.card.settings || 'not filled in: see the machine and the order'}</dd>
          <dt>How this person answers</dt>
          <dd>{entries.answers || 'not recorded: ask, and give time'}</dd>
          <dt>Wishes</dt>
          <dd>
            {entries.wishes.length > 0 ? entries.wishes.map((wish) => wishWords[wish]).join('; ') : 'not recorded: ask'}
          </dd>
          <dt>Who to ring</dt>
          <dd>{entries.card.contacts || 'not filled in'}</dd>
        </dl>
        <p class="small">
          Filled in by the person's care team from their own readings. Not an order. Check it is still true.
        </p>
      </article>
      <button type="button" onClick={() => printOnly('card')}>
        Print the card
      </button>
    </details>
  );
}
