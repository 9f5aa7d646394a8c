import '../styles/form.css';
import type { ComponentChildren, ComponentType } from 'preact';
import { useEffect, useId, useMemo, useState } from 'preact/hooks';
import type {
  Calculator,
  Field,
  Fields,
  RawEntry,
  RawInputs,
  ResultSpec,
  TypedNumber,
} from '../../calculators/calculator.ts';
import type { Answer, Outcome } from '../../calculators/outcome.ts';
import { show, type UnitCode, units } from '../../calculators/quantity.ts';
import { type ReadNumber, readNumber } from '../../calculators/read-number.ts';
import { register } from '../../calculators/register.ts';
import { personChanged, readEntries, readPerson, writePerson } from '../person/store.ts';
import { type BesideProps, beside } from './beside/beside.ts';
import { ChoiceInput } from './ChoiceInput.tsx';
import { QuantityInput, type TypedQuantity } from './QuantityInput.tsx';
import { ResultTable } from './ResultTable.tsx';
import type { SeriesInput } from './SeriesInput.tsx';
import { blankRows, type TypedRow } from './typed-rows.ts';
import { useSettled } from './use-ready.ts';
import { type PrintedFormula, workingText } from './working.ts';

interface Declared {
  fields: Fields;
  results: Record<string, ResultSpec>;
  cautions: readonly string[];
  formulas: Record<string, PrintedFormula>;
}

export interface CalculatorFormProps {
  id: string;
  declared: Declared;
}
interface Props extends CalculatorFormProps {
  /**
   * the component that fills a table: passed in by the few calculators that need one, so that the others do not load it
   */
  Series?: typeof SeriesInput;
}

type TypedField = string | TypedQuantity | TypedRow[];
type Typed = Record<string, TypedField>;

/** Fields, one call to the calculator, one view of its answer. The server prints the fields disabled and never a result. */
export function CalculatorForm({ id, declared, Series }: Props) {
  const { fields } = declared;
  const prefix = useId();
  const [calculator, setCalculator] = useState<Calculator>();
  const [typed, setTyped] = useState<Typed>(() => blank(fields));
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());

  useEffect(() => {
    register[id]?.().then((module) => setCalculator(module.default));
    const fill = (event?: Event) =>
      setTyped((now) =>
        withPerson(fields, event instanceof CustomEvent && event.detail === 'next' ? blank(fields) : now),
      );
    fill();
    // Numbers that a typed line already gave: see src/search/worked-out.ts.
    const given = readEntries<RawInputs>(`fill:${id}`);
    if (given)
      void import('./given.ts').then(({ typedFrom }) => setTyped((now) => ({ ...now, ...typedFrom(fields, given) })));
    addEventListener(personChanged, fill);
    return () => removeEventListener(personChanged, fill);
  }, [id, fields]);

  const { inputs, misread } = useMemo(() => readAll(fields, typed), [fields, typed]);
  const outcome = useMemo(() => calculator?.calculate(inputs), [calculator, inputs]);
  const problems = problemsOf(outcome, misread);
  const answer = outcome?.ok && Object.keys(misread).length === 0 ? outcome : undefined;
  const answered = answer !== undefined;
  const [Beside, setBeside] = useState<ComponentType<BesideProps>>();
  useEffect(() => {
    if (answered) beside[id]?.().then((module) => setBeside(() => module.default));
  }, [answered, id]);
  const spoken = useSettled(answer ? sentence(answer, declared.results) : '');

  const change = (name: string, value: TypedField) => {
    const next = { ...typed, [name]: value };
    setTyped(next);
    // A number is carried on only when its field is left: "4" on the way to "45" is nobody's age.
    if (typeof value === 'string') {
      keepPerson(fields, next);
      setLeft((now) => new Set(now).add(name));
    }
  };
  const leave = (name: string) => {
    setLeft((now) => new Set(now).add(name));
    keepPerson(fields, typed);
  };
  const shown = (name: string): string | undefined => {
    const entry = typed[name];
    return left.has(name) && !isEmpty(entry) ? problems[name] : undefined;
  };
  const readingUnit = chosenUnit(fields, typed);
  const waiting = Object.keys(problems).filter((name) => shown(name) === undefined);

  return (
    <form method="dialog" onSubmit={(event) => event.preventDefault()} autocomplete="off">
      <fieldset disabled={calculator === undefined}>
        {Object.entries(fields).map(([name, field]) => (
          <FieldInput
            key={name}
            id={`${prefix}-${name}`}
            field={field}
            entry={typed[name]}
            problem={shown(name)}
            readingUnit={readingUnit}
            Series={Series}
            onChange={(value) => change(name, value)}
            onLeave={() => leave(name)}
          />
        ))}
      </fieldset>
      <div class="result">
        {calculator === undefined && (
          <p class="waiting">
            This calculation needs JavaScript. If JavaScript is switched off, follow the worked example on this page.
          </p>
        )}
        {calculator !== undefined && answer === undefined && (
          <p class="waiting">
            {waiting.length > 0
              ? `Still needed: ${waiting.map((name) => fields[name]?.label.toLowerCase() ?? name).join(', ')}.`
              : 'There is no result. Read the message above.'}
          </p>
        )}
        {answer && (
          <AnswerView answer={answer} declared={declared}>
            {Beside && calculator && <Beside calculator={calculator} inputs={inputs} answer={answer} />}
          </AnswerView>
        )}
      </div>
      <p class="hidden" role="status">
        {spoken}
      </p>
    </form>
  );
}

interface FieldInputProps {
  id: string;
  field: Field;
  entry: TypedField | undefined;
  problem: string | undefined;
  readingUnit: UnitCode | undefined;
  Series: Props['Series'];
  onChange: (value: TypedField) => void;
  onLeave: () => void;
}

function FieldInput({ id, field, entry, problem, readingUnit, Series, onChange, onLeave }: FieldInputProps) {
  if (field.kind === 'choice')
    return (
      <ChoiceInput
        id={id}
        label={field.label}
        options={field.options}
        value={typeof entry === 'string' ? entry : ''}
        help={field.help}
        problem={problem}
        optional={field.optional}
        onChoose={onChange}
      />
    );
  if (field.kind === 'series')
    return (
      Series && (
        <Series
          id={id}
          field={field}
          rows={Array.isArray(entry) ? entry : blankRows(field)}
          problem={problem}
          readingUnit={readingUnit}
          onType={onChange}
          onLeave={onLeave}
        />
      )
    );
  return (
    <QuantityInput
      id={id}
      label={field.label}
      typed={isQuantity(entry) ? entry : { text: '', unit: field.unit }}
      accepts={[field.unit, ...(field.accepts ?? [])]}
      help={field.help}
      problem={problem}
      optional={field.optional}
      readingUnit={readingUnit}
      onType={onChange}
      onLeave={onLeave}
    />
  );
}

function AnswerView({
  answer,
  declared,
  children,
}: {
  answer: Answer;
  declared: Declared;
  children: ComponentChildren;
}) {
  const extra = answer.cautions.filter((caution) => !declared.cautions.includes(caution));
  return (
    <>
      <dl>
        {Object.entries(answer.results).map(([name, { value, unit, low, high }]) => {
          const spec = declared.results[name];
          if (!spec) return null;
          const span = low !== undefined && high !== undefined;
          // A span with no middle of its own: the ends are the answer.
          const ends = span && (value === low || value === high);
          return (
            <div key={name}>
              <dt>{spec.label}</dt>
              <dd class={spec.main ? 'main' : ''}>
                {ends
                  ? `${show(low, unit, spec.decimals)} to ${show(high, unit, spec.decimals)}`
                  : show(value, unit, spec.decimals)}
                {span && !ends && (
                  <span class="span">
                    {' '}
                    ({show(low, unit, spec.decimals)} to {show(high, unit, spec.decimals)})
                  </span>
                )}
              </dd>
              {spec.help && <dd class="small">{spec.help}</dd>}
            </div>
          );
        })}
      </dl>
      {extra.map((caution) => (
        <p key={caution} class="care">
          {caution}
        </p>
      ))}
      {children}
      {answer.tables.map((table) => (
        <ResultTable key={table.caption} table={table} />
      ))}
      {answer.working.length > 0 && (
        <details>
          <summary>Working, with these numbers</summary>
          {answer.working.map((line, place) => {
            const formula = declared.formulas[line.formula];
            return (
              formula && (
                <p key={`${place}:${line.formula}`} class="working">
                  {workingText(line, formula)}
                </p>
              )
            );
          })}
        </details>
      )}
    </>
  );
}

const sentence = (answer: Answer, results: Record<string, ResultSpec>): string =>
  Object.entries(answer.results)
    .filter(([name]) => results[name]?.main)
    .map(([name, { value, unit }]) => `${results[name]?.label}: ${show(value, unit, results[name]?.decimals ?? 0)}`)
    .join('. ');

/** The unit of the test chosen, where the calculator asks which test the numbers are of. */
function chosenUnit(fields: Fields, typed: Typed): UnitCode | undefined {
  for (const [name, field] of Object.entries(fields)) {
    const unit = field.kind === 'choice' && field.options.find(({ value }) => value === typed[name])?.unit;
    if (unit) return unit;
  }
  return undefined;
}

const isQuantity = (entry: TypedField | undefined): entry is TypedQuantity =>
  typeof entry === 'object' && !Array.isArray(entry);

function isEmpty(entry: TypedField | undefined): boolean {
  if (Array.isArray(entry)) return entry.every((row) => Object.values(row).every(isEmpty));
  return isQuantity(entry) ? entry.text.trim() === '' : !entry;
}

const blank = (fields: Fields): Typed =>
  Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, blankField(field)]));

function blankField(field: Field): TypedField {
  if (field.kind === 'choice') return field.initial ?? '';
  return field.kind === 'series' ? blankRows(field) : { text: '', unit: field.unit };
}

function readAll(fields: Fields, typed: Typed): { inputs: RawInputs; misread: Record<string, string> } {
  const inputs: RawInputs = {};
  const misread: Record<string, string> = {};
  for (const [name, field] of Object.entries(fields)) {
    const entry = typed[name];
    if (typeof entry === 'string') inputs[name] = entry;
    else if (isQuantity(entry) && field.kind === 'number') {
      const read = readTyped(entry, field);
      if (read?.ok) inputs[name] = read.quantity;
      else if (read) misread[name] = read.message;
    } else if (Array.isArray(entry) && field.kind === 'series') {
      const rows: Record<string, RawEntry>[] = [];
      for (const [at, row] of entry.entries()) {
        rows[at] = {};
        for (const column of field.columns) {
          const read = readTyped(row[column.name], column);
          if (read?.ok) rows[at][column.name] = read.quantity;
          else if (read) misread[name] ??= `Row ${at + 1}: ${read.message}`;
        }
      }
      inputs[name] = rows;
    }
  }
  return { inputs, misread };
}

/** @returns undefined where nothing was typed */
const readTyped = (
  typed: TypedQuantity | undefined,
  { label, unit, accepts = [] }: TypedNumber,
): ReadNumber | undefined =>
  typed === undefined || typed.text.trim() === ''
    ? undefined
    : readNumber(typed.text, typed.unit, label, [unit, ...accepts]);

function problemsOf(outcome: Outcome | undefined, misread: Record<string, string>): Record<string, string> {
  const found =
    outcome && !outcome.ok
      ? Object.fromEntries(outcome.problems.map((problem) => [problem.field, problem.message]))
      : {};
  return { ...found, ...misread };
}

const carried = { age: ['ageYears', 'a'], height: ['heightCm', 'cm'] } as const satisfies Record<
  string,
  ['ageYears' | 'heightCm', UnitCode]
>;

/** Height, age and sex of the current person, where a field asks for them and nothing was typed yet. */
function withPerson(fields: Fields, typed: Typed): Typed {
  const person = readPerson();
  const next = { ...typed };
  if (fields.sex?.kind === 'choice' && next.sex === '' && person.sex) next.sex = person.sex;
  for (const [name, [key, unit]] of Object.entries(carried)) {
    const entry = next[name];
    if (fields[name]?.kind === 'number' && isQuantity(entry) && entry.text === '' && person[key] !== undefined)
      next[name] = { text: String(person[key]), unit };
  }
  return next;
}

/** What was typed here goes with the person to the next calculator, until 'next person'. */
function keepPerson(fields: Fields, typed: Typed): void {
  const person = readPerson();
  const next = { ...person };
  if (typed.sex === 'male' || typed.sex === 'female') next.sex = typed.sex;
  for (const [name, [key, unit]] of Object.entries(carried)) {
    const entry = typed[name];
    const field = fields[name];
    if (field?.kind !== 'number' || !isQuantity(entry)) continue;
    const read = readTyped(entry, field);
    if (!read?.ok) continue;
    const value = (read.quantity.value * units[read.quantity.unit].factor) / units[unit].factor;
    if (value >= field.plausible[0] && value <= field.plausible[1]) next[key] = value;
  }
  if (JSON.stringify(next) !== JSON.stringify(person)) writePerson(next);
}
