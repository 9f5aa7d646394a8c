import '../../styles/papers.css';
import type { Decisions } from '../../../calculators/domain/decision.ts';
import { diseaseNames } from '../../../calculators/domain/diseases.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { flagWords, gasWords, readingWords } from '../../../calculators/evaluate/say.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { sayDate } from '../../browser/say-date.ts';
import { cardLines } from './card-lines.ts';
import type { CardText, Entries } from './entries.ts';
import { lastForCard } from './last-time.ts';
import { printOnly } from './print.ts';

interface Props {
  visit: Visit;
  entries: Entries;
  measures: Measures;
  decisions: Decisions;
  /** earlier visits, oldest first */
  before: readonly KeptVisit[];
  /** emergency and same-day findings met at this visit, most urgent first: the act and the finding, a line each */
  urgent?: readonly string[];
  onChange: (next: Partial<Entries>) => void;
}

const baselines = [
  'spo2',
  'fvc-percent',
  'vc-litres',
  'peak-cough-flow',
  'paco2',
  'awake-co2-any-method',
  'bicarbonate',
  'niv-hours',
  'weight',
];

const typed: [keyof CardText, string, string][] = [
  ['interface', 'Mask or mouthpiece, and its size', 'as worn today'],
  ['settings', 'Settings as ordered', 'copied from the order, with its date'],
  ['contacts', 'Who to call', 'ventilation service, family, equipment supplier'],
];

/** One page for the hospital bag: what a stranger in an emergency has to know first. */
export function Card({ visit, entries, measures, decisions, before, urgent = [], onChange }: Props) {
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
  const last = lastForCard(before);
  const lines = cardLines(visit, entries, decisions, last, sayDate);
  const day = entries.date ? sayDate(entries.date) : 'this visit';
  const written = [...urgent, ...Object.values(lines).flat(), ...Object.values(entries.card), known.join('; ')];
  const long = written.reduce((sum, text) => sum + linesOnPaper(text), 0) > 20;
  return (
    <details class="card">
      <summary>Emergency card for the hospital bag</summary>
      {last.card && Object.values(entries.card).every((text) => text === '') && (
        <p>
          <button type="button" onClick={() => last.card && onChange({ card: last.card.what })}>
            Copy what was written on {sayDate(last.card.date)}
          </button>{' '}
          <span class="small">Then check that it is still true today.</span>
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
      <article class={long ? 'sheet long' : 'sheet'} aria-label="Emergency card">
        <h2>Breathing emergency card</h2>
        <div class="by-hand">
          {['Name', 'Date of birth', 'Allergies'].map((label) => (
            <p key={label}>
              {label} <span class="rule" />
            </p>
          ))}
        </div>
        {urgent.length > 0 && (
          <div class="alarm">
            <strong>Urgent at the visit on {day}</strong>
            <ul>
              {[...new Set(urgent)].map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </div>
        )}
        <p>
          <b>{visit.disease ? diseaseNames[visit.disease] : 'Neuromuscular disease'}.</b> The breathing muscles are
          weak. The lungs may be healthy. <b>Bring the person's own ventilator, mask, cough device and chargers.</b>
        </p>
        <p class="care">
          <b>Oxygen alone can hide and worsen failing ventilation.</b> Support ventilation and clear secretions first;
          give controlled oxygen, with carbon dioxide measured, as the treating team decides.
        </p>
        <dl>
          <Row title="Longest time off the ventilator" lines={lines.timeOff} />
          <Row title="Lying flat" lines={[lines.flat]} />
          <Row title="How they communicate" lines={[lines.communicates]} />
          <Row title="Wishes" lines={lines.wishes} />
          <Row title="Supports" lines={lines.supports} />
          <Row title="Mask or mouthpiece" lines={[entries.card.interface || 'not filled in']} />
          <Row
            title="Settings as ordered"
            lines={[entries.card.settings || 'not filled in: see the machine and the order']}
          />
          <Row
            title={`Measured on ${day} (may not be usual for this person)`}
            lines={[known.length > 0 ? known.join('; ') : 'not measured']}
          />
          <Row title="Who to call" lines={[entries.card.contacts || 'not filled in']} />
        </dl>
        <p class="small">
          Written on {day} by the person's care team from their own readings. It is not an order. Check that it is still
          true.
        </p>
      </article>
      <button type="button" onClick={() => printOnly('card')}>
        Print the card
      </button>
    </details>
  );
}

const Row = ({ title, lines }: { title: string; lines: readonly string[] }) => (
  <>
    <dt>{title}</dt>
    {lines.map((line) => (
      <dd key={line}>{line}</dd>
    ))}
  </>
);

/** About how many lines a text takes on the printed card. */
const linesOnPaper = (text: string): number =>
  text.split('\n').reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / 75)), 0);
