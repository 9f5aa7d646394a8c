import type { VisitPart } from '../../../calculators/domain/measure.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { askedTogether } from '../../../calculators/evaluate/asked-together.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { predictedFvc } from '../../../calculators/evaluate/derive.ts';
import type { AskedPart, SheetPart } from '../../../calculators/evaluate/short-visit.ts';
import { defaultSet } from '../../../calculators/spirometry/default-set.ts';
import { type Group, groupNames } from '../../../calculators/spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import type { Entries } from './entries.ts';
import { type SheetData, toEvidence } from './evidence-data.ts';
import { ChoiceField, Field, type FieldProps } from './Field.tsx';
import { entriesOf } from './kept.ts';
import { isAnswered, summaryOfPart } from './part-state.ts';
import { TickList } from './TickList.tsx';
import { WishesLastTime } from './WishesPart.tsx';

export const partTitles: Record<SheetPart, string> = {
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
  remark: 'Anything else',
};

export interface PartProps extends Omit<FieldProps, 'id'> {
  part: SheetPart;
  asked: AskedPart;
  base: string;
  open: boolean;
  moreOpen: boolean;
  onOpen: (open: boolean) => void;
  onMore: (open: boolean) => void;
}

/** One stage of the visit: what the short visit asks, and the rest folded under it. Closed, a line says what was entered. */
export function Part({ part, asked, base, open, moreOpen, onOpen, onMore, ...field }: PartProps) {
  const { data, entries, last, onChange } = field;
  const { short, ticks } = asked;
  const isShort = short.length + ticks.length > 0;
  const rest = restOf(part, asked, data, entries);
  const answered = [...short, ...ticks, ...rest].filter((id) => isAnswered(id, entries, data.measures));
  const words = summaryOfPart([...short, ...ticks, ...rest], entries, data.measures, data.decisions);
  const more = <Rest {...field} part={part} ids={rest} base={base} />;
  return (
    <details class="part" data-part={part} open={open} onToggle={toggled(open, onOpen)}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a summary is pressed by Enter and Space as by a tap */}
      <summary
        onClick={(event) => {
          // What the reader opens or closes is theirs, also when the sheet would have done the same.
          event.preventDefault();
          onOpen(!open);
        }}
      >
        {partTitles[part]}{' '}
        <span class="small line">{open ? answered.length > 0 && `${answered.length} entered` : words}</span>
      </summary>
      {part === 'wishes' && <WishesLastTime entries={entries} last={last.visit} onChange={onChange} />}
      {part === 'support' && <SupportsAsBefore {...field} />}
      {short.map((id) => (
        <Field key={id} id={id} {...field} />
      ))}
      {ticks.length > 0 && (
        <TickList
          ids={ticks}
          measures={data.measures}
          signs={entries.signs}
          last={last.signs}
          onAnswers={(answers) => onChange({ signs: changed(entries.signs, answers) })}
        />
      )}
      {!isShort && more}
      {isShort && rest.length > 0 && (
        <details class="more" open={moreOpen} onToggle={toggled(moreOpen, onMore)}>
          <summary>
            Add more <span class="small">{moreWords(rest, entries, data)}</span>
          </summary>
          {more}
        </details>
      )}
    </details>
  );
}

/** Told only of what the reader, or a link to a field, does: not of what the sheet itself opens and closes. */
const toggled =
  (open: boolean, say: (open: boolean) => void) =>
  ({ currentTarget }: { currentTarget: HTMLDetailsElement }): void => {
    if (currentTarget.open !== open) say(currentTarget.open);
  };

function moreWords(rest: readonly string[], entries: Entries, { measures }: SheetData): string {
  const entered = rest.filter((id) => isAnswered(id, entries, measures)).length;
  return `${rest.length} in this part${entered > 0 ? `, ${entered} entered` : ''}`;
}

const changed = (
  signs: Entries['signs'],
  answers: Record<string, Entries['signs'][string] | undefined>,
): Entries['signs'] =>
  Object.fromEntries(
    Object.entries({ ...signs, ...answers }).filter((entry): entry is [string, Entries['signs'][string]] => !!entry[1]),
  );

/** Under 'Add more': supports that the short visit leaves out, lists to choose from, and the measures. */
export function restOf(part: SheetPart, { short, rest }: AskedPart, data: SheetData, entries: Entries): string[] {
  const supports =
    part === 'support'
      ? Object.entries(data.decisions).flatMap(([id, { status }]) =>
          status && !short.includes(`support:${id}`) ? [`support:${id}`] : [],
        )
      : [];
  const choices = Object.entries(data.sheet.choices).flatMap(([id, choice]) =>
    choice.part === part && (choice.supports?.some((support) => entries.supports[support] === 'in-place') ?? true)
      ? [id]
      : [],
  );
  return [...supports, ...choices, ...rest];
}

type RestProps = Omit<FieldProps, 'id'> & { part: SheetPart; ids: readonly string[]; base: string };

function Rest({ part, ids, base, ...field }: RestProps) {
  const { data, entries, visit, onChange } = field;
  const signs = ids.filter((id) => data.measures[id]?.kind === 'sign');
  const together = askedTogether(signs, data.measures, criteriaFor(visit, toEvidence(data))).filter(
    (id) => entries.signs[id] === undefined,
  );
  return (
    <>
      {part === 'night' && (
        <p>
          <a href={`${base}overnight-oximetry/`}>Count an overnight recording</a>{' '}
          <span class="small">from its file, on this device, and put the figures here.</span>
        </p>
      )}
      {ids.map((id) => {
        const choice = data.sheet.choices[id];
        return choice ? (
          <ChoiceField key={id} id={id} choice={choice} entries={entries} onChange={onChange} />
        ) : (
          <Field key={id} id={id} {...field} />
        );
      })}
      {part === 'blowing' && <PredictionChoice entries={entries} visit={visit} onChange={onChange} />}
      {together.length > 2 && (
        <button
          type="button"
          onClick={() => onChange({ signs: { ...entries.signs, ...Object.fromEntries(together.map(asAbsent)) } })}
        >
          All the others were asked about, and the answer was no
        </button>
      )}
    </>
  );
}

const asAbsent = (id: string): [string, 'absent'] => [id, 'absent'];

function SupportsAsBefore({ entries, last, onChange }: Omit<FieldProps, 'id'>) {
  const { visit } = last;
  if (!visit || Object.keys(last.supports).length === 0) return null;
  return (
    <button type="button" onClick={() => onChange(supportsOf(visit, entries))}>
      Supports as on {visit.date}
    </button>
  );
}

interface PredictionProps {
  entries: Entries;
  visit: Visit;
  onChange: (next: Partial<Entries>) => void;
}

function PredictionChoice({ entries, visit, onChange }: PredictionProps) {
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
        help="Use the same reference set for a series of readings, and name it in the note."
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

/** Where supports stood last time, for those that nobody has answered yet today. */
function supportsOf(last: KeptVisit, entries: Entries): Partial<Entries> {
  const then = entriesOf(last);
  return {
    supports: { ...then.supports, ...entries.supports },
    supportTimes: { ...then.supportTimes, ...entries.supportTimes },
  };
}

/** In the order of a visit; a remark ends it. */
export const sheetParts = (parts: readonly VisitPart[]): SheetPart[] => [...parts, 'remark'];
