import type { NumberMeasure, SignMeasure } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import type { SheetChoice } from '../../../calculators/domain/visit-sheet.ts';
import { readingOf } from '../../../calculators/evaluate/readings.ts';
import { readingWords } from '../../../calculators/evaluate/say.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { type Entries, type Entry, without } from './entries.ts';
import type { SheetData } from './evidence-data.ts';
import type { LastTime } from './last-time.ts';
import { supportOf } from './part-state.ts';
import { ReadingField } from './ReadingField.tsx';
import { SignField } from './SignField.tsx';
import { SupportField } from './SupportField.tsx';
import { AnswersField, RemarkField, WishesField } from './WishesPart.tsx';

export interface FieldProps {
  id: string;
  data: SheetData;
  entries: Entries;
  visit: Visit;
  last: LastTime;
  onChange: (next: Partial<Entries>) => void;
}

/** One field of the sheet, whatever it asks for. */
export function Field(props: FieldProps) {
  const { id, data, entries, last, onChange } = props;
  if (id === 'answers') return <AnswersField entries={entries} onChange={onChange} />;
  if (id === 'wishes') return <WishesField entries={entries} onChange={onChange} />;
  if (id === 'remark') return <RemarkField entries={entries} onChange={onChange} />;
  const support = supportOf(id);
  if (support) return <SupportOf {...props} id={support} />;
  const measure = data.measures[id];
  if (measure?.kind === 'sign')
    return (
      <SignField
        id={id}
        measure={measure as SignMeasure}
        value={entries.signs[id]}
        last={last.signs[id]}
        onAnswer={(sign) => onChange({ signs: without(entries.signs, id, sign) })}
      />
    );
  return measure?.kind === 'number' ? <NumberOf {...props} measure={measure} /> : null;
}

function NumberOf({ id, measure, data, entries, visit, last, onChange }: FieldProps & { measure: NumberMeasure }) {
  return (
    <ReadingField
      id={id}
      measure={measure}
      entry={entries.readings[id]}
      derived={derivedWords(id, visit, data)}
      last={last.readings[id]}
      notDone={entries.notDone[id]}
      reasons={reasonsFor(measure, data)}
      onChange={(entry: Entry) =>
        onChange({
          readings: { ...entries.readings, [id]: entry },
          notDone: without(entries.notDone, id, undefined),
        })
      }
      onNotDone={(reason) => onChange({ notDone: without(entries.notDone, id, reason) })}
    />
  );
}

const reasonsFor = ({ notDone }: NumberMeasure, { sheet }: SheetData): string[] => [
  ...(notDone === undefined ? [] : (sheet.notDone[notDone] ?? [])),
  ...(sheet.notDone.any ?? []),
];

function SupportOf({ id, data: { measures, decisions }, entries, last, onChange }: FieldProps) {
  const hours = measures['niv-hours'];
  return (
    <SupportField
      id={id}
      label={decisions[id]?.status?.label ?? decisions[id]?.title ?? id}
      status={entries.supports[id]}
      times={entries.supportTimes[id] ?? {}}
      hours={hours?.kind === 'number' ? hours : undefined}
      last={last.supports[id]}
      onStatus={(status) => onChange({ supports: without(entries.supports, id, status) })}
      onTimes={(times) => onChange({ supportTimes: { ...entries.supportTimes, [id]: times } })}
    />
  );
}

interface ChoiceProps {
  id: string;
  choice: SheetChoice;
  entries: Entries;
  onChange: (next: Partial<Entries>) => void;
}

/** One of a few that no criterion is about; the option's own caution stands under it. */
export function ChoiceField({ id, choice, entries, onChange }: ChoiceProps) {
  const chosen = entries.choices[id];
  return (
    <div data-measure={id}>
      <ChoiceInput
        id={`visit-${id}`}
        label={choice.label}
        options={Object.entries(choice.options).map(([value, { label }]) => ({ value, label }))}
        value={chosen ?? ''}
        help={(chosen && choice.options[chosen]?.note) || choice.help}
        onChoose={(value) => onChange({ choices: without(entries.choices, id, value === '' ? undefined : value) })}
      />
    </div>
  );
}

function derivedWords(id: string, visit: Visit, { measures, decisions }: SheetData): string | undefined {
  const reading = readingOf(id, visit, measures);
  const measure = measures[id];
  if (!reading?.from || !measure) return undefined;
  const from = [...new Set(reading.from)].map((one) => measures[one]?.short ?? decisions[one]?.status?.label ?? one);
  return `${readingWords(reading, measure)}, from ${from.join(' and ')}`;
}
