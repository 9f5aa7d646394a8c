import '../../styles/form.css';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { withLocal } from '../../../calculators/agreement/local-marks.ts';
import { age, height } from '../../../calculators/body-size/shared-fields.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/domain/diseases.ts';
import type { Person, Sex } from '../../../calculators/domain/person.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { visitParts } from '../../../calculators/domain/visit-parts.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { type Evidence, evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { categoryOf, needsAttention, tally, tallyWords, urgentFindings } from '../../../calculators/evaluate/group.ts';
import { outsideUsual } from '../../../calculators/evaluate/outside-usual.ts';
import { scopeOf } from '../../../calculators/evaluate/scope.ts';
import { convert, type UnitCode } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import type { NoteInput } from '../../../calculators/visit/note.ts';
import type { KeptVisit, Series } from '../../../calculators/visit/series.ts';
import { askNext } from '../../person/next.ts';
import { nextPerson, personChanged, readEntries, readPerson, writeEntries, writePerson } from '../../person/store.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { QuantityInput, type TypedQuantity } from '../QuantityInput.tsx';
import { useAgreement } from '../use-agreement.ts';
import { useReady, useSettled } from '../use-ready.ts';
import { Card } from './Card.tsx';
import { DidItHappen } from './DidItHappen.tsx';
import { type Entries, isTouched, noEntries, toVisit } from './entries.ts';
import { type EvidenceData, toEvidence } from './evidence-data.ts';
import { Findings, Urgent, urgentLines } from './Findings.tsx';
import { Keeping, readEarlier, writeEarlier } from './Keeping.tsx';
import { entriesOf, inOrder, keepVisit, nextEntries } from './kept.ts';
import { lastTime } from './last-time.ts';
import { Note } from './Note.tsx';
import { moveNoteEdits } from './note-edits.ts';
import { Opening } from './Opening.tsx';
import { Part } from './Part.tsx';
import { PlanPart } from './PlanPart.tsx';
import { relevant } from './relevant.ts';
import { leadWeeks, SinceLast } from './SinceLast.tsx';

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
  const [words, setWords] = useState<typeof import('./compare.ts')>();
  const [cannotCompare, setCannotCompare] = useState(false);
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

  useEffect(() => {
    if (earlier.length > 0)
      import('./compare.ts').then(
        (part) => {
          setWords(part);
          setCannotCompare(false);
        },
        () => setCannotCompare(true),
      );
  }, [earlier.length]);

  const put = (all: Entries) => {
    setEntries(all);
    writeEntries('visit', all);
  };
  const change = (next: Partial<Entries>) => put({ ...entries, ...next });
  const changePerson = (next: Person) => {
    setPerson(next);
    writePerson(next);
  };
  const hold = (visits: readonly KeptVisit[]) => {
    setEarlier([...visits]);
    writeEarlier(visits);
  };
  /** One visit on the sheet, the others beside it; age and height are those of its day. */
  const show = (kept: KeptVisit, others: readonly KeptVisit[], whose: Person) => {
    const then = { ...whose, ageYears: kept.ageYears ?? whose.ageYears, heightCm: kept.heightCm ?? whose.heightCm };
    changePerson(then);
    setTyped(personText(then));
    put({ ...entriesOf(kept), leadWeeks: entries.leadWeeks });
    hold(others);
  };
  const aside = () => (isTouched(entries) ? inOrder([...earlier, keepVisit(person, entries)]) : earlier);
  const showDate = (date: string) => {
    const kept = earlier.find((visit) => visit.date === date);
    if (kept)
      show(
        kept,
        aside().filter((visit) => visit.date !== date),
        person,
      );
  };
  /** An empty sheet for that day; where a visit of that day is among them, that one goes on. */
  const begin = (visits: readonly KeptVisit[], whose: Person, date: string) => {
    const same = visits.find((visit) => visit.date === date);
    if (same)
      return show(
        same,
        visits.filter((visit) => visit !== same),
        whose,
      );
    const last = visits.filter((visit) => visit.date < date).at(-1);
    changePerson(whose);
    setTyped(personText(whose));
    put(last ? nextEntries(last, date) : { ...noEntries(), date });
    hold(visits);
  };
  const open = ({ person: { label: _, ...held }, visits }: Series, whose: 'same' | 'another') => {
    if (whose === 'another') nextPerson();
    const one = whose === 'another' ? held : { ...held, ...person };
    if (whose === 'same' && isTouched(entries)) {
      changePerson(one);
      setTyped(personText(one));
      hold(inOrder([...visits, ...earlier]).filter(({ date }) => date !== entries.date));
    } else begin(inOrder(whose === 'same' ? [...visits, ...earlier] : visits), one, entries.date || today());
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
  const before = useMemo(() => earlier.filter(({ date }) => date < entries.date), [earlier, entries.date]);
  // On the sheet and in the note: a fall that nobody looked for must not read as none.
  const uncompared =
    cannotCompare && before.length > 0
      ? 'Not compared with the earlier visits, since a part of this page did not load: no fall since then is among the findings.'
      : undefined;
  const last = useMemo(() => lastTime(before, data?.measures ?? {}), [before, data]);
  // Marks to look ahead to: those that act, for this person.
  const marks = useMemo(
    () =>
      data && evidence && before.length > 0
        ? evidence.criteria.filter(
            (row) => categoryOf(row) === 'acting' && scopeOf(row, person, data.measures[row.measure]) === 'in',
          )
        : [],
    [data, evidence, before, person],
  );
  const compared = useMemo(
    () =>
      words && data && before.length > 0 ? words.compare(person, entries, before, data.measures, marks) : undefined,
    [words, data, before, marks, person, entries],
  );
  const visit = useMemo<Visit | undefined>(() => {
    if (!data) return undefined;
    const derived = derive(toVisit(person, entries, data.measures), entries.prediction);
    return compared ? { ...derived, readings: { ...compared.falls, ...derived.readings } } : derived;
  }, [data, person, entries, compared]);
  const findings = useMemo(() => (evidence && visit ? evaluate(visit, evidence) : []), [evidence, visit]);
  const asked = useMemo(
    () =>
      data && evidence
        ? relevant({ ...data, criteria: [...evidence.criteria] }, person)
        : (new Map() as ReturnType<typeof relevant>),
    [data, evidence, person],
  );
  const urgent = data ? urgentFindings(findings, data.decisions).length : 0;
  const count = tally(findings);
  const unusual = evidence && visit ? outsideUsual(visit, findings, evidence).length : 0;
  const found = tallyWords(count, unusual);
  // Before anything is entered, hundreds of undecided criteria would only put a reader off.
  const counts = isTouched(entries) || count.met + urgent > 0;
  const spoken = useSettled(
    counts
      ? `${urgent > 0 ? `${urgent} urgent. ` : ''}${found}, ${count.decided} of ${count.of} decided, the others cannot be told yet`
      : '',
    1200,
  );

  return (
    <div class="visit">
      <form onSubmit={(event) => event.preventDefault()} autocomplete="off">
        <fieldset disabled={!ready || !data}>
          {!(ready && data) && (
            <p class="care late">
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
                  onChange={({ currentTarget: { value } }) => {
                    moveNoteEdits(entries.date, value);
                    change({ date: value });
                  }}
                />
              </div>
            </div>
            <Opening
              person={person}
              entries={entries}
              earlier={earlier}
              onOpen={open}
              onShow={showDate}
              onBegin={() => begin(aside(), person, today())}
              today={today()}
              data={data}
            />
            <button type="button" class="clears" onClick={(event) => askNext(event.currentTarget)}>
              Next person: clear everything typed
            </button>
          </section>
          {last.visit && (
            <DidItHappen
              planned={last.visit.plan}
              since={last.visit.date}
              plan={entries.plan}
              onPlan={(plan) => change({ plan })}
            />
          )}
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
                last={last}
                base={base}
                onChange={change}
              />
            ))}
        </fieldset>
        {counts && (
          <p class="tally">
            <a class="button" href="#findings-title">
              {urgent > 0 ? <b class="urgent">Urgent: {urgent}. </b> : 'Findings: '}
              {found}, {count.decided} of {count.of} decided
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
          {counts && (
            <p class="small">
              {found}. {count.decided} of {count.of} decided by what was entered; the others cannot be told yet, which
              is not the same as normal.
            </p>
          )}
          <Urgent
            visit={visit}
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
          {uncompared && (
            <p class="care" role="alert">
              {uncompared} Load the page again when there is a signal: what is typed stays.
            </p>
          )}
          {compared && words && (
            <SinceLast
              trends={compared.trends}
              entries={entries}
              data={data}
              marks={marks}
              words={words}
              onChange={change}
            />
          )}
          <PlanPart
            entries={entries}
            decisions={data.decisions}
            suggested={[
              ...new Set(
                findings
                  .filter((finding) => needsAttention(finding) && categoryOf(finding.criterion) === 'acting')
                  .flatMap((finding) => finding.decision ?? []),
              ),
            ]}
            onChange={change}
          />
          <Card
            visit={visit}
            entries={entries}
            measures={data.measures}
            decisions={data.decisions}
            before={before}
            urgent={urgentLines(findings, data.decisions, evidence, entries.wishes)}
            onChange={change}
          />
          <Note
            input={{
              ...noteInput(data, evidence, visit, findings, entries),
              since:
                compared && words
                  ? words.sinceLines(
                      compared.trends,
                      marks,
                      data.measures,
                      (id) => data.sources[id] ?? id,
                      entries.date,
                      leadWeeks(entries),
                    )
                  : uncompared
                    ? [uncompared]
                    : [],
            }}
          />
          <Keeping person={person} entries={entries} earlier={earlier} data={data} />
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
  supportTimes: entries.supportTimes,
  planned: entries.plan.map(({ what, owner, due, state }) =>
    [what, owner && `(${owner})`, due && `by ${due}`, `[${state}]`].filter(Boolean).join(' '),
  ),
  asked: entries.asked,
});

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
