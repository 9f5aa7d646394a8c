/**
 * The calculations of a typed line, done in place: the result, what it was worked out from, and the calculator filled in with
 * the same numbers. A number that is missing is asked for here.
 */
import type { Calculator, Field } from '../../calculators/calculator.ts';
import { personOfSex, sexes } from '../../calculators/domain/age-and-sex.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import type { Person } from '../../calculators/domain/person.ts';
import type { Reading, Visit } from '../../calculators/domain/visit.ts';
import { readingWords } from '../../calculators/evaluate/say.ts';
import type { Answer, Outcome, Problem, ResultTable, ResultValue } from '../../calculators/outcome.ts';
import { isUnit, type Quantity, show, showNumber, units } from '../../calculators/quantity.ts';
import type { Calculations } from '../../calculators/query/calculation-words.ts';
import { calculationsOf, type WantedCalculation } from '../../calculators/query/calculations.ts';
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { register } from '../../calculators/register.ts';
import { type Child, link, make } from '../browser/dom.ts';
import { writeEntries } from '../person/store.ts';
import { choice } from './choice.ts';

export interface Change {
  person: (fact: Partial<Person>) => void;
  asked: (changed: AskedVisit) => void;
}

/** What the line asks for by its words, what follows from its readings, or both. */
export type Which = 'asked' | 'following' | 'all';

interface Known {
  words: Calculations;
  measures: Measures;
  base: string;
  /** what studies say of a value of this measure */
  studiesOn: (measure: string) => string[];
}

/** Empty where the line asks for nothing and its readings are not enough for anything. */
export function workedOut(
  asked: AskedVisit,
  person: Person,
  visit: Visit,
  { words, measures, base, studiesOn }: Known,
  change: Change,
  which: Which,
): HTMLElement[] {
  const all = calculationsOf(asked, person, words);
  const wanted = all.filter(({ taken }) => which === 'all' || (taken !== undefined) === (which === 'asked'));
  const done = new Set(all.flatMap(({ calculator }) => resultMeasures[calculator] ?? []));
  const derived = Object.entries(which === 'asked' ? {} : visit.readings)
    .filter(([id, reading]) => reading.from !== undefined && !done.has(id))
    .flatMap(([id, reading]) => [
      make('p', 'said', readingName(id, reading, measures), id === postureFall ? pointsFallen(visit) : ''),
      ...studies(studiesOn(id)),
    ]);
  if (wanted.length + derived.length === 0) return [];
  const items = wanted.map((one) => {
    const item = make('div', 'sum');
    if (one.taken) item.append(make('p', 'small', one.title));
    register[one.calculator]?.().then(
      ({ default: calculator }) =>
        item.replaceChildren(...itemView(one, calculator, asked, { base, studiesOn }, change)),
      () => item.append(link(`${base}calculators/${one.calculator}/`, 'The calculator')),
    );
    return item;
  });
  return [make('section', 'worked', make('h3', '', 'Worked out'), ...items, ...derived)];
}

/** Readings that a calculation below shows: the derived ones are not said twice. */
const resultMeasures: Record<string, readonly string[]> = {
  'supine-fall': ['fvc-drop-supine-percent'],
  'predicted-vital-capacity': ['fvc-percent', 'fvc-supine-percent'],
  'litres-per-kilogram': ['vc-per-kilogram'],
};

function readingName(id: string, reading: Reading, measures: Measures): string {
  const measure = measures[id];
  return measure ? `${measure.short}: ${readingWords(reading, measure)}` : id;
}

const postureFall = 'fvc-drop-supine-percent';
const studies = (words: readonly string[]): HTMLElement[] => words.map((one) => make('p', 'small', one));

/** Per cent of predicted sitting and lying: the fall in points stands beside the fall in per cent of the sitting value. */
function pointsFallen({ readings }: Visit): string {
  const [sitting, lying] = [readings['fvc-percent'], readings['fvc-supine-percent']];
  if (sitting === undefined || lying === undefined || sitting.from !== undefined || lying.from !== undefined) return '';
  const points = Number((sitting.value - lying.value).toFixed(1));
  return ` (${points} points)`;
}

function itemView(
  wanted: WantedCalculation,
  calculator: Calculator,
  asked: AskedVisit,
  { base, studiesOn }: Pick<Known, 'base' | 'studiesOn'>,
  change: Change,
): HTMLElement[] {
  // A child without an age is no adult: no adult's line is used, and the age is asked for.
  const needsAge =
    asked.person.child === true && wanted.inputs.age === undefined && calculator.fields.age !== undefined;
  const outcome: Outcome = needsAge
    ? { ok: false, problems: [{ field: 'age', message: 'A child: enter the age' }] }
    : calculator.calculate(wanted.inputs);
  const [first, ...others] = calculator.before ?? [];
  const before = first === undefined ? [] : [beforeUse(first)];
  if (outcome.ok)
    return [
      ...before,
      ...resultsView(calculator, outcome),
      ...studies(Object.values(calculator.results).flatMap(({ measure }) => (measure ? studiesOn(measure) : []))),
      note(wanted, calculator, outcome, base),
      ...cautionsView([...others, ...outcome.cautions]),
      ...outcome.tables.map(tableView),
    ];
  // It only followed from readings, and cannot be done with them: nobody asked for it.
  if (!wanted.taken) return [];
  const bothSexes = outcome.problems.every(({ field }) => field === 'sex') ? bySex(wanted, calculator) : [];
  return [
    ...before,
    make('p', 'said', make('b', '', wanted.title)),
    ...bothSexes,
    ...(bothSexes.length > 0 ? [] : outcome.problems).map((problem) =>
      askFor(problem, wanted, calculator, asked, change),
    ),
    note(wanted, calculator, undefined, base),
  ];
}

/** What must be known before the number is used stands before it. */
function beforeUse(words: string): HTMLElement {
  const aside = make('aside', 'care', make('p', '', words));
  aside.setAttribute('aria-label', 'Before you use the number');
  return aside;
}

/** Where only the sex is missing the answer for each is worth more than a question. */
const bySex = (wanted: WantedCalculation, calculator: Calculator): HTMLElement[] =>
  sexes.flatMap((sex) => {
    const outcome = calculator.calculate({ ...wanted.inputs, sex });
    return outcome.ok ? [make('p', 'said', `${personOfSex[sex]}: `, ...mainFigures(calculator, outcome))] : [];
  });

function mainFigures(calculator: Calculator, { results }: Answer): Child[] {
  return mainResults(calculator, results).flatMap(([name, found], at) => {
    const spec = calculator.results[name];
    return spec ? [at > 0 ? '; ' : '', `${spec.label} `, make('b', '', figure(found, spec.decimals))] : [];
  });
}

function resultsView(calculator: Calculator, { results }: Answer): HTMLElement[] {
  return mainResults(calculator, results).flatMap(([name, found]) => {
    const spec = calculator.results[name];
    return spec ? [make('p', 'said', `${spec.label}: `, make('b', '', figure(found, spec.decimals)))] : [];
  });
}

/** The figures that people come for; all of them where none is marked. */
function mainResults({ results: specs }: Calculator, results: Answer['results']): [string, ResultValue][] {
  const all = Object.entries(results);
  const main = all.filter(([name]) => specs[name]?.main);
  return main.length > 0 ? main : all;
}

function figure({ value, unit, low, high }: ResultValue, decimals: number): string {
  if (low === undefined || high === undefined) return show(value, unit, decimals);
  const span = `${showNumber(low, decimals)} to ${show(high, unit, decimals)}`;
  return value === low || value === high ? span : `${show(value, unit, decimals)} (${span})`;
}

/** What it was worked out from, what was assumed, and the way to the calculator. */
function note(
  { inputs, assumed, title, calculator: id }: WantedCalculation,
  calculator: Calculator,
  outcome: Answer | undefined,
  base: string,
): HTMLElement {
  const from = Object.entries(calculator.fields).flatMap(([name, field]) => {
    const given = inputs[name];
    if (given === undefined || field.kind === 'series') return [];
    const words = inputWords(field, given);
    const label = field.label.charAt(0).toLowerCase() + field.label.slice(1);
    return [field.kind === 'choice' ? words : `${label} ${words}`];
  });
  const way = link(
    `${base}calculators/${id}/`,
    outcome ? `${title}: the calculator with these numbers` : 'The calculator',
  );
  way.addEventListener('click', () => writeEntries(`fill:${id}`, inputs));
  return make(
    'p',
    'small',
    from.length > 0 ? `From: ${from.join(', ')}. ` : '',
    assumed.length > 0 ? `Assumed: ${assumed.join('; ')}. ` : '',
    way,
  );
}

function inputWords(field: Field, given: WantedCalculation['inputs'][string]): string {
  if (field.kind === 'choice') return field.options.find(({ value }) => value === given)?.label ?? String(given);
  if (isQuantity(given)) return `${Number(given.value.toPrecision(6))} ${units[given.unit].symbol}`.trim();
  return String(given);
}

const isQuantity = (given: unknown): given is Quantity =>
  typeof given === 'object' &&
  given !== null &&
  'unit' in given &&
  typeof given.unit === 'string' &&
  isUnit(given.unit);

const cautionsView = (cautions: readonly string[]): HTMLElement[] =>
  cautions.length === 0
    ? []
    : [
        make(
          'details',
          '',
          make('summary', '', `Before you use it (${cautions.length})`),
          make('ul', 'small', ...cautions.map((caution) => make('li', '', caution))),
        ),
      ];

/** The same question under the other published figures, folded. */
function tableView({ caption, columns, rows }: ResultTable): HTMLElement {
  const cell = (tag: 'th' | 'td', words: string, scope = '') => {
    const element = make(tag, '', words);
    if (scope) element.setAttribute('scope', scope);
    return element;
  };
  const head = make('tr', '', ...columns.map((words) => cell('th', words, 'col')));
  const body = rows.map(({ label, cells }) =>
    make('tr', '', cell('th', label, 'row'), ...cells.map((words) => cell('td', words))),
  );
  const table = make('table', '', make('thead', '', head), make('tbody', '', ...body));
  return make('details', '', make('summary', '', caption), make('div', 'scroll', table));
}

/** A choice as buttons, a number as a field; anything else as the calculator's own message. */
function askFor(
  { field: name, message }: Problem,
  { taken, inputs }: WantedCalculation,
  calculator: Calculator,
  asked: AskedVisit,
  change: Change,
): HTMLElement {
  const field = calculator.fields[name];
  const set = (given: { numbers?: Record<string, Quantity>; choices?: Record<string, string> }) =>
    change.asked({
      ...asked,
      taken: (asked.taken ?? []).map((one) =>
        one === taken
          ? {
              ...one,
              numbers: { ...one.numbers, ...given.numbers },
              choices: { ...one.choices, ...given.choices },
            }
          : one,
      ),
    });
  if (inputs[name] !== undefined || field === undefined || field.kind === 'series') return make('p', '', `${message}.`);
  if (field.kind === 'choice')
    return choice(
      `${message}.`,
      field.options.map(({ value, label }) => [label, value] as const),
      (value) =>
        name === 'sex'
          ? change.person({ sex: value === 'female' ? 'female' : 'male' })
          : set({ choices: { [name]: value } }),
    );
  const input = make('input', '');
  input.inputMode = 'decimal';
  input.size = 6;
  const problem = make('span', 'problem');
  input.addEventListener('change', () => {
    const value = Number(input.value.replace(',', '.'));
    if (input.value.trim() === '' || !Number.isFinite(value)) {
      problem.textContent = ` ${field.label} is a number.`;
      return;
    }
    if (name === 'age') change.person({ ageYears: value });
    else if (name === 'height') change.person({ heightCm: value });
    else set({ numbers: { [name]: { value, unit: field.unit } } });
  });
  return make('label', 'entry', `${field.label}: `, input, ` ${units[field.unit].symbol}`, problem);
}
