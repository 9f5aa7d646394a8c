/**
 * The shape of a calculator: one declaration that the reader, the screen and the tests all use.
 *
 * A calculator file exports `defineCalculator({...})` as its default. The form is drawn from `fields`,
 * the formulas are printed from `formulas` (mathjs syntax, set as MathML when the site is built) and
 * `compute` runs those same formulas through `step`, which is how the working can be shown.
 */
import { askUnit, outOfRange } from './out-of-range.ts';
import type { Answer, Outcome, Problem, Refusal, ResultTable, ResultValue, WorkingLine } from './outcome.ts';
import { convert, convertible, isUnit, show, type UnitCode, units } from './quantity.ts';
import type { Standing } from './standing.ts';
import { wrongUnits } from './wrong-units.ts';

/** A published place behind a number. */
export interface Citation {
  cite: string;
  /** table, equation, page or section; 'abstract' when that is what was read */
  locator: string;
  standing: Standing;
  /** what was read, or what is in doubt */
  note?: string;
}

/** A number that a reader types, with the limits outside which it is questioned or refused. */
export interface TypedNumber {
  label: string;
  /** unit that `compute` receives */
  unit: UnitCode;
  /** other units the reader may type in; the first of `[unit, ...accepts]` is offered first */
  accepts?: readonly UnitCode[];
  /** outside this the answer carries a caution to check the number */
  plausible: readonly [number, number];
  /** outside this the number is refused */
  hard: readonly [number, number];
  /** false when the hard lower end itself is refused, as zero is for a flow that divides */
  lowInclusive?: false;
}

export interface NumberField extends TypedNumber {
  kind: 'number';
  optional?: true;
  /** drop a minus sign before use: pressures are typed as -35 by one clinic and 35 by the next */
  magnitude?: true;
  help?: string;
}

export interface ChoiceField {
  kind: 'choice';
  label: string;
  /** `unit`: the unit of fields declared in '{reading}' when this is chosen, for the screen to print beside them */
  options: readonly { value: string; label: string; unit?: UnitCode }[];
  optional?: true;
  /** used when the reader chooses nothing; leave out where a silent choice could mislead */
  initial?: string;
  help?: string;
}

/** One number of each row of a series. */
interface SeriesColumn extends TypedNumber {
  name: string;
}

/** A table that the reader fills: hours night by night, readings visit by visit. Rows left empty are passed over. */
export interface SeriesField {
  kind: 'series';
  label: string;
  /** what one row is, for the screen: 'Night', 'Reading' */
  row: string;
  columns: readonly SeriesColumn[];
  /** fewest and most filled rows */
  min: number;
  max: number;
  optional?: true;
  help?: string;
}

/** A filled row: its numbers, and its place on the screen (from 1) for messages. */
export type SeriesRow<N extends string = string> = Readonly<Record<N, number>> & { readonly row: number };

export type Field = NumberField | ChoiceField | SeriesField;
export type Fields = Record<string, Field>;

type ValueOf<F extends Field> = F extends { kind: 'number' }
  ? number
  : F extends { kind: 'choice'; options: readonly { value: infer V }[] }
    ? V
    : F extends { kind: 'series'; columns: readonly { name: infer N extends string }[] }
      ? readonly SeriesRow<N>[]
      : never;

/** What `compute` receives: numbers in each field's own unit, choices as their value, a series as its filled rows. */
type InputsOf<F extends Fields> = {
  [K in keyof F]: F[K] extends { optional: true } ? ValueOf<F[K]> | undefined : ValueOf<F[K]>;
};

export interface ResultSpec {
  label: string;
  unit: UnitCode;
  /** digits after the point when shown; comparisons always use the full value */
  decimals: number;
  /**
   * Outside this, the answer asks the reader to check what was typed: numbers that are each plausible can give an absurd
   * result together. Wide, and open towards what is dangerous: a low reading that is real must not be called a slip.
   */
  plausible: readonly [number, number];
  /** the figure a reader came for; others are shown smaller */
  main?: true;
  /** measure that this result is a reading of, if any: id in content/measures.yaml */
  measure?: string;
  help?: string;
}

export interface FormulaSymbol {
  means: string;
  /** printed beside the meaning; '' for a pure number */
  unit: string;
  /** range for the random comparison with mathjs */
  range: readonly [number, number];
}

export interface Formula<V extends string = string> {
  /** what the left-hand side is called */
  result: string;
  /** unit of the result, as mathjs writes it; '' for a pure number */
  unit: string;
  /** right-hand side in mathjs syntax, with the keys of `symbols` as names */
  text: string;
  /**
   * The same right-hand side with units on its constants, so that mathjs can check the dimensions.
   * Leave out where `text` already balances (a physical formula).
   */
  withUnits?: string;
  symbols: Record<V, FormulaSymbol>;
  run: (values: Record<V, number>) => number;
}

/** Declare a formula; the symbol names are inferred, so `run` cannot ask for one that is not declared. */
export const formula = <const V extends string>(f: Formula<V>): Formula<V> => f;

/** For whom and where a calculation is valid. Printed; the refusals themselves are in the fields and in `compute`. */
export interface Holds {
  population: string;
  ages?: string;
  posture?: string;
  notFor?: string;
}

export type Step = <V extends string>(formula: Formula<V>, values: Record<V, number>) => number;

interface Computed {
  results: Record<string, Omit<ResultValue, 'unit'>>;
  cautions?: string[];
  tables?: ResultTable[];
}

interface CalculatorSpec<F extends Fields, R extends Record<string, ResultSpec>> {
  /** equals the file name */
  id: string;
  title: string;
  /** one sentence: what a reader gets from it */
  purpose: string;
  /** heading it is listed under in the register */
  group: CalculatorGroup;
  /** words a reader might look it up by */
  keywords: readonly string[];
  fields: F;
  formulas: Record<string, Formula>;
  results: R;
  holds: Holds;
  /** shown before the fields: what must be known before the number is used */
  before?: readonly string[];
  /** always shown with the answer */
  cautions: readonly string[];
  citations: readonly Citation[];
  /** @returns the results by name in the units declared, or the problems */
  compute: (
    inputs: InputsOf<F>,
    step: Step,
  ) => (Computed & { results: { [K in keyof R]?: Omit<ResultValue, 'unit'> } }) | Refusal;
}

export const calculatorGroups = [
  'size',
  'vital-capacity',
  'strength',
  'cough',
  'oxygen',
  'gas',
  'going-out',
  'decline',
  'sessions',
] as const;
export type CalculatorGroup = (typeof calculatorGroups)[number];

/** One typed value: a bare number is in the field's own unit. */
export type RawEntry = number | string | { value: number; unit: string } | null | undefined;
/** A reader's entry: one value, or for a series its rows by column name. */
export type RawInput = RawEntry | readonly Readonly<Record<string, RawEntry>>[];
export type RawInputs = Record<string, RawInput>;

export interface Calculator extends Omit<CalculatorSpec<Fields, Record<string, ResultSpec>>, 'compute'> {
  calculate: (inputs: RawInputs) => Outcome;
}

export function defineCalculator<const F extends Fields, const R extends Record<string, ResultSpec>>(
  spec: CalculatorSpec<F, R>,
): Calculator {
  const { compute, ...declared } = spec;
  return {
    ...declared,
    formulas: spec.formulas as Record<string, Formula>,
    calculate: (raw) => {
      const read = readInputs(spec.fields, raw);
      if (read.problems.length > 0) return { ok: false, problems: read.problems };
      const names = new Map(Object.entries(spec.formulas).map(([name, f]) => [f, name]));
      const working: WorkingLine[] = [];
      const step: Step = (f, values) => {
        const value = f.run(values);
        working.push({ formula: names.get(f as unknown as Formula) ?? f.result, values, value });
        return value;
      };
      const computed = compute(read.inputs as InputsOf<F>, step);
      if ('problems' in computed) return computed;
      return answer(spec, computed, working, [...read.unusual, ...wrongUnits(spec.fields, read.inputs, raw)]);
    },
  };
}

function answer(
  spec: { results: Record<string, ResultSpec>; fields: Fields; cautions: readonly string[] },
  computed: Computed,
  working: WorkingLine[],
  unusual: string[],
): Outcome {
  const results: Answer['results'] = {};
  for (const [name, { unit }] of Object.entries(spec.results)) {
    const found = computed.results[name];
    if (found === undefined) continue;
    // Extreme but permitted inputs can overflow a power or divide by almost nothing. Say so, never print it.
    if (![found.value, found.low ?? 0, found.high ?? 0].every(Number.isFinite))
      return {
        ok: false,
        problems: [
          {
            field: Object.keys(spec.fields)[0] ?? '',
            message: 'These numbers together give no usable result. Check each one',
          },
        ],
      };
    results[name] = { ...found, unit };
  }
  return {
    ok: true,
    results,
    cautions: [...unusual, ...(computed.cautions ?? []), ...absurd(spec.results, results), ...spec.cautions],
    working,
    tables: computed.tables ?? [],
  };
}

/** Results that no plausible person has, though each number that was typed is plausible alone. */
const absurd = (specs: Record<string, ResultSpec>, results: Answer['results']): string[] =>
  Object.entries(results).flatMap(([name, { value, unit }]) => {
    const spec = specs[name];
    if (!spec || (value >= spec.plausible[0] && value <= spec.plausible[1])) return [];
    return [
      `${spec.label}: ${show(value, unit, spec.decimals)} is unusual. Check each number that was typed, and its unit`,
    ];
  });

interface Read {
  inputs: Record<string, number | string | readonly SeriesRow[] | undefined>;
  problems: Problem[];
  unusual: string[];
}

const isBlank = (entry: unknown): entry is null | undefined | '' =>
  entry === undefined || entry === null || entry === '';

function readInputs(fields: Fields, raw: RawInputs): Read {
  const read: Read = { inputs: {}, problems: [], unusual: [] };
  for (const [name, field] of Object.entries(fields)) {
    const given = Object.hasOwn(raw, name) ? raw[name] : undefined;
    if (isBlank(given) || (field.kind === 'series' && Array.isArray(given) && given.every(isBlankRow))) {
      if (field.kind === 'choice' && field.initial !== undefined) read.inputs[name] = field.initial;
      else if (field.optional) read.inputs[name] = undefined;
      else
        read.problems.push({
          field: name,
          message: `${field.kind === 'choice' ? 'Choose' : 'Enter'} ${inSentence(field.label)}`,
        });
      continue;
    }
    if (field.kind === 'series') {
      const series = readSeries(field, given);
      read.inputs[name] = series.rows;
      read.problems.push(...series.messages.map((message) => ({ field: name, message })));
      read.unusual.push(...series.unusual);
      continue;
    }
    const checked = field.kind === 'choice' ? readChoice(field, given) : readQuantity(field, given);
    if ('message' in checked) read.problems.push({ field: name, message: checked.message });
    else {
      read.inputs[name] = checked.value;
      if (checked.unusual) read.unusual.push(checked.unusual);
    }
  }
  return read;
}

type Checked<V> = { value: V; unusual?: string } | { message: string };
type Given = NonNullable<RawInput>;

function readChoice(field: ChoiceField, given: Given): Checked<string> {
  const found = field.options.find((option) => option.value === given);
  if (found) return { value: found.value };
  return { message: `${field.label} is one of: ${field.options.map((option) => option.label).join(', ')}` };
}

function readSeries(field: SeriesField, given: Given) {
  const rows: SeriesRow[] = [];
  const messages: string[] = [];
  const unusual: string[] = [];
  if (!Array.isArray(given)) return { rows, messages: [`Enter ${inSentence(field.label)} row by row`], unusual };
  for (const [index, entries] of given.entries()) {
    if (isBlankRow(entries)) continue;
    const row: Record<string, number> & { row: number } = { row: index + 1 };
    for (const column of field.columns) {
      const entry = Object.hasOwn(entries, column.name) ? entries[column.name] : undefined;
      const checked = isBlank(entry) ? { message: `Enter ${inSentence(column.label)}` } : readQuantity(column, entry);
      if ('message' in checked) messages.push(`Row ${index + 1}: ${checked.message}`);
      else {
        row[column.name] = checked.value;
        if (checked.unusual) unusual.push(`Row ${index + 1}: ${checked.unusual}`);
      }
    }
    rows.push(row);
  }
  if (rows.length < field.min)
    messages.push(`${field.label}: fill at least ${field.min} rows. Filled now: ${rows.length}`);
  if (rows.length > field.max)
    messages.push(`${field.label}: fill at most ${field.max} rows. Filled now: ${rows.length}`);
  return { rows, messages, unusual };
}

const isBlankRow = (row: unknown): boolean =>
  isBlank(row) || (typeof row === 'object' && Object.values(row).every(isBlank));

function readQuantity(field: TypedNumber & { magnitude?: true }, given: Given): Checked<number> {
  const asked = `Enter ${inSentence(field.label)} as a number in ${units[field.unit].symbol || 'the form shown'}`;
  const quantity = typeof given === 'object' && 'unit' in given ? given : { value: given, unit: field.unit };
  if (typeof quantity.value !== 'number' || !Number.isFinite(quantity.value)) return { message: asked };
  if (!isUnit(quantity.unit) || !convertible(quantity.unit, field.unit))
    return { message: `${field.label} cannot be given in ${quantity.unit}. Use ${listUnits(field)}` };
  const typed = field.magnitude ? Math.abs(quantity.value) : quantity.value;
  const value = convert(typed, quantity.unit, field.unit);
  const [low, high] = field.hard;
  if (value < low || value > high || (field.lowInclusive === false && value === low))
    return { message: outOfRange(field, typed, quantity.unit) };
  if (value < field.plausible[0] || value > field.plausible[1])
    return {
      value,
      unusual: [
        `${field.label} ${typed} ${units[quantity.unit].symbol} is unusual: check that it was read and typed correctly`,
        askUnit(field, typed, quantity.unit),
      ]
        .filter(Boolean)
        .join('. ')
        .replace(/ {2}/g, ' '),
    };
  return { value };
}

const listUnits = (field: TypedNumber): string =>
  [field.unit, ...(field.accepts ?? [])].map((code) => units[code].symbol).join(' or ');

/** 'Height' becomes 'height' inside a sentence; 'SpO2' and 'FVC' stay. */
const inSentence = (label: string): string =>
  /^[A-Z][a-z]+\b/.test(label) && !/^[A-Z][a-z]*[A-Z0-9]/.test(label)
    ? label[0]?.toLowerCase() + label.slice(1)
    : label;
