import type { NumberMeasure, SignMeasure, VisitPart } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { askedTogether } from '../../../calculators/evaluate/asked-together.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { predictedFvc } from '../../../calculators/evaluate/derive.ts';
import { readingOf } from '../../../calculators/evaluate/readings.ts';
import { readingWords } from '../../../calculators/evaluate/say.ts';
import { defaultSet } from '../../../calculators/spirometry/default-set.ts';
import { type Group, groupNames } from '../../../calculators/spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { type Entries, type Entry, without } from './entries.ts';
import { type EvidenceData, toEvidence } from './evidence-data.ts';
import { entriesOf } from './kept.ts';
import type { LastTime } from './last-time.ts';
import { ReadingField } from './ReadingField.tsx';
import { SignField } from './SignField.tsx';
import { SupportField } from './SupportField.tsx';
import { WishesPart } from './WishesPart.tsx';

const partTitles: Record<VisitPart, string> = {
  look: 'Look first',
  wishes: 'Wishes',
  support: 'Ventilation and other support',
  symptoms: 'Symptoms and sleep',
  cough: 'Cough and secretions',
  gas: 'Saturation and carbon dioxide',
  night: 'Overnight recordings',
  nutrition: 'Weight and swallowing',
  blowing: 'Blowing and sniffing tests',
  machine: 'Machine and settings',
  record: 'What the record says (payer rules)',
  travel: 'Travel',
};

interface PartProps {
  part: VisitPart;
  ids: string[];
  data: EvidenceData;
  entries: Entries;
  visit: Visit;
  last: LastTime;
  base: string;
  onChange: (next: Partial<Entries>) => void;
}

/** One stage of the visit, folded until it is reached. */
export function Part({ part, ids, data, entries, visit, last, base, onChange }: PartProps) {
  const { measures, decisions } = data;
  const statuses = part === 'support' ? Object.entries(decisions).filter(([, decision]) => decision.status) : [];
  if (ids.length === 0 && statuses.length === 0 && part !== 'wishes') return null;
  const numbers = ids.filter((id) => measures[id]?.kind === 'number');
  const signs = ids.filter((id) => measures[id]?.kind === 'sign');
  const answered =
    numbers.filter((id) => entries.readings[id]?.text).length + signs.filter((id) => entries.signs[id]).length;
  const open = askedTogether(signs, measures, criteriaFor(visit, toEvidence(data))).filter(
    (id) => entries.signs[id] === undefined,
  );
  return (
    <details class="part" open={part === 'look' || answered > 0}>
      <summary>
        {partTitles[part]} <span class="small">{answered > 0 ? `${answered} entered` : ''}</span>
      </summary>
      {part === 'wishes' && <WishesPart entries={entries} last={last.visit} onChange={onChange} />}
      {statuses.length > 0 && Object.keys(last.supports).length > 0 && last.visit && (
        <button type="button" onClick={() => last.visit && onChange(supportsOf(last.visit, entries))}>
          Supports as on {last.visit.date}
        </button>
      )}
      {statuses.map(([id, decision]) => (
        <SupportField
          key={id}
          id={id}
          label={decision.status?.label ?? decision.title}
          status={entries.supports[id]}
          times={entries.supportTimes[id] ?? {}}
          hours={measures['niv-hours']?.kind === 'number' ? measures['niv-hours'] : undefined}
          last={last.supports[id]}
          onStatus={(status) => onChange({ supports: without(entries.supports, id, status) })}
          onTimes={(times) => onChange({ supportTimes: { ...entries.supportTimes, [id]: times } })}
        />
      ))}
      {part === 'night' && (
        <p>
          <a href={`${base}overnight-oximetry/`}>Count an overnight recording</a>{' '}
          <span class="small">from its file, on this device, and put the figures here.</span>
        </p>
      )}
      {numbers.map((id) => (
        <ReadingField
          key={id}
          id={id}
          measure={measures[id] as NumberMeasure}
          entry={entries.readings[id]}
          derived={derivedWords(id, visit, data)}
          last={last.readings[id]}
          notDone={entries.notDone[id]}
          onChange={(entry: Entry) =>
            onChange({
              readings: { ...entries.readings, [id]: entry },
              notDone: without(entries.notDone, id, undefined),
            })
          }
          onNotDone={(reason) => onChange({ notDone: without(entries.notDone, id, reason) })}
        />
      ))}
      {part === 'blowing' && <PredictionChoice entries={entries} visit={visit} onChange={onChange} />}
      {signs.map((id) => (
        <SignField
          key={id}
          id={id}
          measure={measures[id] as SignMeasure}
          value={entries.signs[id]}
          last={last.signs[id]}
          onAnswer={(sign) => onChange({ signs: without(entries.signs, id, sign) })}
        />
      ))}
      {open.length > 2 && (
        <button
          type="button"
          onClick={() =>
            onChange({ signs: { ...entries.signs, ...Object.fromEntries(open.map((id) => [id, 'absent' as const])) } })
          }
        >
          All others were asked: no
        </button>
      )}
    </details>
  );
}

function PredictionChoice({
  entries,
  visit,
  onChange,
}: {
  entries: Entries;
  visit: Visit;
  onChange: (next: Partial<Entries>) => void;
}) {
  const { set, group } = entries.prediction;
  const groups = forcedSets[set].groups;
  const predicted = predictedFvc(visit, entries.prediction);
  return (
    <>
      <ChoiceInput
        id="visit-set"
        label="Reference set for per cent predicted"
        options={Object.entries(forcedSets).map(([id, { name }]) => ({ value: id, label: name }))}
        value={set}
        help="Keep one set in a series, and name it in the note."
        onChoose={(value) => onChange({ prediction: { set: (value || defaultSet) as ForcedSet } })}
      />
      {groups.length > 0 && (
        <ChoiceInput
          id="visit-group"
          label="Group named on the earlier report"
          options={groups.map((id) => ({ value: id, label: groupNames[id] }))}
          value={group ?? ''}
          onChoose={(value) => onChange({ prediction: { set, group: value === '' ? undefined : (value as Group) } })}
        />
      )}
      {!predicted.ok && visit.readings['vc-litres'] && <p class="small">{predicted.message}</p>}
    </>
  );
}

function derivedWords(id: string, visit: Visit, { measures, decisions }: EvidenceData): string | undefined {
  const reading = readingOf(id, visit, measures);
  const measure = measures[id];
  if (!reading?.from || !measure) return undefined;
  const from = [...new Set(reading.from)].map((one) => measures[one]?.short ?? decisions[one]?.status?.label ?? one);
  return `${readingWords(reading, measure)}, from ${from.join(' and ')}`;
}

/** Where supports stood last time, for those that nobody has answered yet today. */
function supportsOf(last: KeptVisit, entries: Entries): Partial<Entries> {
  const then = entriesOf(last);
  return {
    supports: { ...then.supports, ...entries.supports },
    supportTimes: { ...then.supportTimes, ...entries.supportTimes },
  };
}
