import '../../styles/form.css';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { age, height } from '../../../calculators/body-size/shared-fields.ts';
import { isEvaluated } from '../../../calculators/criteria/comparator.ts';
import { derive, predictedFvc } from '../../../calculators/criteria/derive.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/criteria/diseases.ts';
import { type Evidence, evaluate, type Finding, readingOf } from '../../../calculators/criteria/evaluate.ts';
import { alarms, shelfOf } from '../../../calculators/criteria/group.ts';
import { withLocal } from '../../../calculators/criteria/local-marks.ts';
import type { Measures, NumberMeasure, SignMeasure, VisitPart } from '../../../calculators/criteria/measure.ts';
import type { NoteInput } from '../../../calculators/criteria/note.ts';
import type { Person, Sex } from '../../../calculators/criteria/person.ts';
import { readingWords } from '../../../calculators/criteria/say.ts';
import { scopeOf } from '../../../calculators/criteria/scope.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import {
  type SupportStatus,
  supportStatuses,
  supportStatusWords,
  type Visit,
} from '../../../calculators/criteria/visit.ts';
import { visitParts } from '../../../calculators/criteria/visit-parts.ts';
import { convert, type UnitCode } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import { type Group, groupNames } from '../../../calculators/spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import { nextPerson, personChanged, readEntries, readPerson, writeEntries, writePerson } from '../../person/store.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { QuantityInput, type TypedQuantity } from '../QuantityInput.tsx';
import { useAgreement } from '../use-agreement.ts';
import { useReady, useSettled } from '../use-ready.ts';
import { Card } from './Card.tsx';
import { type Entries, type Entry, noEntries, toVisit } from './entries.ts';
import { type EvidenceData, toEvidence } from './evidence-data.ts';
import { Alarms, Findings } from './Findings.tsx';
import { Keeping, readEarlier, writeEarlier } from './Keeping.tsx';
import { Note } from './Note.tsx';
import { PlanPart } from './PlanPart.tsx';
import { Chips, ReadingField } from './ReadingField.tsx';
import { SignField } from './SignField.tsx';
import { SinceLast } from './SinceLast.tsx';
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

/** Readings that others are worked out from: asked whatever the criteria in scope name. */
const baseMeasures = ['vc-litres', 'vc-litres-supine', 'weight', 'usual-weight'];

interface PersonTyped {
  age: TypedQuantity;
  height: TypedQuantity;
}

/** One person, one visit: readings in, findings out, a note to copy. Nothing leaves the device. */
export function VisitSheet({ base }: { base: string }) {
  const ready = useReady();
  const [data, setData] = useState<EvidenceData>();
  const [person, setPerson] = useState<Person>({});
  const [typed, setTyped] = useState<PersonTyped>(blankPerson);
  const [entries, setEntries] = useState<Entries>(noEntries);
  const [earlier, setEarlier] = useState<KeptVisit[]>([]);
  const agreement = useAgreement();

  useEffect(() => {
    const text = document.querySelector('#evidence')?.textContent;
    if (text) setData(JSON.parse(text));
    const load = (event?: Event) => {
      const held = readPerson();
      setPerson(held);
      if (event instanceof CustomEvent && event.detail !== 'next') return;
      setTyped(personText(held));
      setEarlier(readEarlier());
      // Entries kept by an earlier build of this page may lack what has been added since.
      setEntries({ ...noEntries(), date: today(), ...readEntries<Entries>('visit') });
    };
    load();
    addEventListener(personChanged, load);
    return () => removeEventListener(personChanged, load);
  }, []);

  // Per cent predicted starts with the clinic's own set, until the reader chooses one for this person.
  useEffect(() => {
    const { referenceSet: set, group } = agreement ?? {};
    const start = () => {
      if (set && readEntries('visit') === undefined) setEntries((now) => ({ ...now, prediction: { set, group } }));
    };
    start();
    addEventListener(personChanged, start);
    return () => removeEventListener(personChanged, start);
  }, [agreement]);

  const change = (next: Partial<Entries>) => {
    const all = { ...entries, ...next };
    setEntries(all);
    writeEntries('visit', all);
  };
  const changePerson = (next: Person) => {
    setPerson(next);
    writePerson(next);
  };
  const typePerson = (field: 'age' | 'height', value: TypedQuantity) => setTyped({ ...typed, [field]: value });
  // Taken when the field is left: "4" on the way to "45" is nobody's age.
  const takePerson = () =>
    changePerson({
      ...person,
      ageYears: readPersonField('age', typed.age).value,
      heightCm: readPersonField('height', typed.height).value,
    });

  const evidence = useMemo(() => data && withLocal(toEvidence(data), agreement), [data, agreement]);
  const visit = useMemo<Visit | undefined>(
    () => data && derive(toVisit(person, entries, data.measures), entries.prediction),
    [data, person, entries],
  );
  const findings = useMemo(() => (evidence && visit ? evaluate(visit, evidence) : []), [evidence, visit]);
  const asked = useMemo(
    () =>
      data && evidence
        ? relevant({ ...data, criteria: [...evidence.criteria] }, person)
        : new Map<VisitPart, string[]>(),
    [data, evidence, person],
  );
  const urgent = alarms(findings).length;
  const met = findings.filter((finding) => finding.result === 'met').length;
  const spoken = useSettled(
    evidence
      ? `${met} marks met, ${findings.filter((finding) => finding.result === 'cannot-tell').length} cannot be told`
      : '',
    1200,
  );

  return (
    <div class="visit">
      <form onSubmit={(event) => event.preventDefault()} autocomplete="off">
        <fieldset disabled={!ready || !data}>
          {!(ready && data) && (
            <p class="care">
              This sheet needs the page's script. Until it has loaded, use the marks on the measuring pages.
            </p>
          )}
          <section class="part" aria-labelledby="person-title">
            <h2 id="person-title">The person</h2>
            <ChoiceInput
              id="visit-disease"
              label="Disease"
              options={diseases.map((code) => ({ value: code, label: diseaseNames[code] }))}
              value={person.disease ?? ''}
              onChoose={(value) => changePerson({ ...person, disease: value === '' ? undefined : (value as Disease) })}
            />
            <QuantityInput
              id="visit-age"
              label="Age"
              typed={typed.age}
              accepts={['a', 'mo']}
              problem={readPersonField('age', typed.age).problem}
              onType={(value) => typePerson('age', value)}
              onLeave={takePerson}
            />
            <ChoiceInput
              id="visit-sex"
              label="Sex used for prediction"
              options={[
                { value: 'female', label: 'Female' },
                { value: 'male', label: 'Male' },
              ]}
              value={person.sex ?? ''}
              onChoose={(value) => changePerson({ ...person, sex: value === '' ? undefined : (value as Sex) })}
            />
            <QuantityInput
              id="visit-height"
              label="Height"
              typed={typed.height}
              accepts={['cm', 'm', '[ft_i]', '[in_i]']}
              problem={readPersonField('height', typed.height).problem}
              onType={(value) => typePerson('height', value)}
              onLeave={takePerson}
            />
            <div class="field">
              <label for="visit-date">Date of the visit</label>
              <div class="entry">
                <input
                  id="visit-date"
                  type="date"
                  value={entries.date}
                  onChange={(event) => change({ date: event.currentTarget.value })}
                />
              </div>
            </div>
            <button type="button" onClick={nextPerson}>
              Next person: clear everything typed
            </button>
          </section>
          {data &&
            visit &&
            visitParts.map((part) => (
              <Part
                key={part}
                part={part}
                ids={asked.get(part) ?? []}
                data={data}
                entries={entries}
                visit={visit}
                onChange={change}
              />
            ))}
        </fieldset>
        {evidence && (
          <p class="tally">
            <a class="button" href="#findings-title">
              {urgent > 0 && <b class="urgent">Urgent: {urgent}. </b>}Findings: {met} met,{' '}
              {findings.filter((finding) => finding.result === 'cannot-tell').length} cannot tell
            </a>
          </p>
        )}
      </form>
      {data && evidence && visit && (
        <section class="found" aria-labelledby="findings-title">
          <h2 id="findings-title">Findings</h2>
          <p class="hidden" role="status">
            {spoken}
          </p>
          <Alarms
            wishes={entries.wishes}
            findings={findings}
            evidence={evidence}
            decisions={data.decisions}
            sources={data.sources}
            base={base}
          />
          {person.disease === undefined && (
            <p class="care">Disease is not given: marks that name a disease stay 'cannot tell'.</p>
          )}
          <Findings
            findings={findings}
            evidence={evidence}
            decisions={data.decisions}
            sources={data.sources}
            base={base}
          />
          <SinceLast person={person} entries={entries} earlier={earlier} data={data} />
          <PlanPart
            entries={entries}
            decisions={data.decisions}
            suggested={[
              ...new Set(
                findings
                  .filter((finding) => finding.result === 'met' && shelfOf(finding.criterion) === 'acted')
                  .flatMap((finding) => evidence.decisionOf(finding.criterion.support) ?? []),
              ),
            ]}
            onChange={change}
          />
          <Card visit={visit} entries={entries} measures={data.measures} decisions={data.decisions} onChange={change} />
          <Note input={noteInput(data, evidence, visit, findings, entries)} />
          <Keeping
            person={person}
            entries={entries}
            earlier={earlier}
            data={data}
            onEarlier={(visits) => {
              setEarlier(visits);
              writeEarlier(visits);
            }}
          />
        </section>
      )}
    </div>
  );
}

const noteInput = (
  data: EvidenceData,
  evidence: Evidence,
  visit: Visit,
  findings: Finding[],
  entries: Entries,
): NoteInput => ({
  visit,
  findings,
  evidence,
  decisions: data.decisions,
  sourceName: (id) => data.sources[id] ?? id,
  date: entries.date,
  evidenceDate: data.date,
  answers: entries.answers,
  planned: entries.plan.map(({ what, owner, due, state }) =>
    [what, owner && `(${owner})`, due && `by ${due}`, `[${state}]`].filter(Boolean).join(' '),
  ),
  asked: entries.asked,
});

interface PartProps {
  part: VisitPart;
  ids: string[];
  data: EvidenceData;
  entries: Entries;
  visit: Visit;
  onChange: (next: Partial<Entries>) => void;
}

function Part({ part, ids, data, entries, visit, onChange }: PartProps) {
  const { measures, decisions } = data;
  const statuses = part === 'support' ? Object.entries(decisions).filter(([, decision]) => decision.status) : [];
  if (ids.length === 0 && statuses.length === 0 && part !== 'wishes') return null;
  const numbers = ids.filter((id) => measures[id]?.kind === 'number');
  const signs = ids.filter((id) => measures[id]?.kind === 'sign');
  const answered =
    numbers.filter((id) => entries.readings[id]?.text).length + signs.filter((id) => entries.signs[id]).length;
  const open = signs.filter((id) => entries.signs[id] === undefined);
  return (
    <details class="part" open={part === 'look' || answered > 0}>
      <summary>
        {partTitles[part]} <span class="small">{answered > 0 ? `${answered} entered` : ''}</span>
      </summary>
      {part === 'wishes' && <WishesPart entries={entries} onChange={onChange} />}
      {statuses.map(([id, decision]) => (
        <Chips
          key={id}
          name={`visit-support-${id}`}
          legend={decision.status?.label ?? decision.title}
          options={supportStatuses.map((status) => ({ value: status, label: supportStatusWords[status] }))}
          value={entries.supports[id]}
          onChoose={(status) =>
            onChange({ supports: without(entries.supports, id, status as SupportStatus | undefined) })
          }
        />
      ))}
      {numbers.map((id) => (
        <ReadingField
          key={id}
          id={id}
          measure={measures[id] as NumberMeasure}
          entry={entries.readings[id]}
          derived={derivedWords(id, visit, measures)}
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
          onAnswer={(sign) => onChange({ signs: without(entries.signs, id, sign) })}
        />
      ))}
      {signs.length > 2 && open.length > 0 && (
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
        onChoose={(value) => onChange({ prediction: { set: (value || 'gli-2022-global') as ForcedSet } })}
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

/** Measures to ask for this person, by part of the visit: what the criteria in scope name, and what those are made of. */
function relevant({ criteria, measures }: EvidenceData, person: Person): Map<VisitPart, string[]> {
  const wanted = new Set(baseMeasures);
  const want = (id: string) => {
    if (wanted.has(id)) return;
    wanted.add(id);
    const measure = measures[id];
    if (measure?.kind === 'sign') for (const part of [...(measure.anyOf ?? []), ...(measure.allOf ?? [])]) want(part);
    if (measure?.kind === 'number') for (const part of measure.readFrom?.measures ?? []) want(part);
  };
  for (const criterion of criteria) {
    if (!isEvaluated(criterion) || scopeOf(criterion, person, measures[criterion.measure]) === 'out') continue;
    want(criterion.measure);
    if (criterion.alternative) want(criterion.alternative.measure);
    for (const requirement of criterion.alsoRequires)
      for (const id of 'anyOf' in requirement ? requirement.anyOf : [requirement.measure]) want(id);
  }
  const parts = new Map<VisitPart, string[]>();
  for (const [id, measure] of Object.entries(measures)) {
    const made =
      (measure.kind === 'sign' && (measure.anyOf ?? measure.allOf)) || (measure.kind === 'number' && measure.readFrom);
    if (!wanted.has(id) || measure.kind === 'schedule' || made || id === 'age-years') continue;
    parts.set(measure.part, [...(parts.get(measure.part) ?? []), id]);
  }
  return parts;
}

function derivedWords(id: string, visit: Visit, measures: Measures): string | undefined {
  const reading = readingOf(id, visit, measures);
  const measure = measures[id];
  if (!reading?.from || !measure) return undefined;
  return `${readingWords(reading, measure)}, from ${reading.from.map((from) => measures[from]?.short ?? from).join(' and ')}`;
}

/** With the entry set, or taken back when there is none. */
function without<T>(from: Record<string, T>, id: string, value: T | undefined): Record<string, T> {
  const { [id]: _, ...others } = from;
  return value === undefined ? others : { ...others, [id]: value };
}

const personFields = { age, height } as const;

function readPersonField(field: 'age' | 'height', { text, unit }: TypedQuantity): { value?: number; problem?: string } {
  if (text.trim() === '') return {};
  const spec = personFields[field];
  const read = readNumber(text, unit, spec.label, [spec.unit, ...spec.accepts]);
  if (!read.ok) return { problem: read.message };
  const value = convert(read.quantity.value, read.quantity.unit, spec.unit as UnitCode);
  const [low, high] = spec.hard;
  if (value < low || value > high)
    return { problem: `${spec.label} is between ${low} and ${high} ${field === 'age' ? 'years' : 'cm'}` };
  return { value };
}

const blankPerson = (): PersonTyped => ({ age: { text: '', unit: 'a' }, height: { text: '', unit: 'cm' } });

const personText = ({ ageYears, heightCm }: Person): PersonTyped => ({
  age: { text: ageYears === undefined ? '' : String(ageYears), unit: 'a' },
  height: { text: heightCm === undefined ? '' : String(heightCm), unit: 'cm' },
});

/** The reader's own day, not Greenwich's. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
