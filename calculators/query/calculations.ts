/**
 * Calculations that a typed line asks for by name ('ulna 24 cm female 50 years'), or that follow from its readings (sitting
 * and lying vital capacity). Their numbers are taken out of the line before the rest is read as a visit, so that the length
 * of a forearm can become neither a height nor a pressure.
 */
import type { RawInputs } from '../calculator.ts';
import type { Person } from '../domain/person.ts';
import { convert, daysInMonth, isUnit, type Quantity, type UnitCode, units } from '../quantity.ts';
import type { AskedVisit, TakenCalculation } from './asked.ts';
import type { Calculations, CalculationWords, ChoiceWords, NumberWords } from './calculation-words.ts';

/** A calculation that can be tried. Fields that are still missing are asked for by the calculator itself. */
export interface WantedCalculation {
  calculator: string;
  title: string;
  inputs: RawInputs;
  assumed: string[];
  /** asked for by name; otherwise its readings are there and it follows from them */
  taken: TakenCalculation | undefined;
}

// ---- out of the line -------------------------------------------------------------------------------------------------------

const escaped = (phrase: string): string => phrase.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&').replace(/[ -]/g, '[- ]?');
/** Longest first, so that 'ulna length' is taken whole. */
const anyOf = (phrases: readonly string[]): string =>
  [...phrases]
    .sort((a, b) => b.length - a.length)
    .map(escaped)
    .join('|');
const number = String.raw`(?<![\d.,/])(?<value>\d+(?:[.,]\d+)?)`;
const between = ` ?(?:is|of|was|:|=|at|about)? ?`;

/** A line from which pieces are taken; what is taken leaves the end of a clause behind. */
class Line {
  readonly typed: string;
  text: string;
  /** the pieces, as typed */
  readonly pieces: string[] = [];
  constructor(text: string) {
    this.typed = text;
    this.text = text;
  }
  find(pattern: string, text = this.text): RegExpExecArray | null {
    return new RegExp(`(?<![a-z0-9])(?:${pattern})(?![a-z0-9])`, 'd').exec(text);
  }
  /** Takes the group called 'it' where the pattern has one, else all that was found. */
  take(pattern: string): RegExpExecArray | null {
    const found = this.find(pattern);
    if (!found) return null;
    const [from, to] = found.indices?.groups?.it ?? [found.index, found.index + found[0].length];
    this.pieces.push(this.text.slice(from, to).trim());
    this.text = `${this.text.slice(0, from)} ; ${this.text.slice(to)}`;
    return found;
  }
}

/** What a line asks to be worked out, and the line without it. */
export interface LineTaken {
  taken: TakenCalculation[];
  /** the line without the pieces that no other part of the reader may see */
  rest: string;
  /** pieces that were read and that say something else besides: a cannula, that oxygen is breathed */
  peeked: string[];
}

/** @param typed  the line in small letters */
export function takeCalculations(typed: string, words: Calculations): LineTaken {
  let rest = typed;
  const taken: TakenCalculation[] = [];
  const peeked: string[] = [];
  if (!/\d/.test(typed)) return { taken, rest, peeked };
  for (const [calculator, spec] of Object.entries(words)) {
    const line = new Line(rest);
    const lower = takeLower(spec, line);
    const found = takeOne(calculator, spec, line);
    if (!found) continue;
    taken.push({ ...found, numbers: { ...lower, ...found.numbers } });
    if (spec.peek) peeked.push(...line.pieces);
    else rest = line.text;
  }
  return { taken, rest, peeked };
}

function takeOne(calculator: string, spec: CalculationWords, line: Line): TakenCalculation | undefined {
  const all = [...spec.words, ...spec.weak];
  if (all.length === 0 || (spec.unless.length > 0 && line.find(anyOf(spec.unless)))) return undefined;
  const trigger = anyOf(all);
  if (!line.find(trigger)) return takeBeside(calculator, spec, line);
  const strong = spec.words.length > 0 && line.find(anyOf(spec.words)) !== null;
  const numbers: Record<string, Quantity> = {};
  const assumed: string[] = [];
  for (const [name, one] of Object.entries(spec.numbers)) {
    const found = takeNumber(one, line, trigger, assumed);
    if (found) numbers[name] = found;
  }
  const choices: Record<string, string> = {};
  for (const [name, choice] of Object.entries(spec.choices)) {
    const value = chosen(choice, line, choices) ?? byUnit(choice, numbers);
    if (value !== undefined) choices[name] = value;
  }
  const own = Object.values(spec.numbers).filter((one) => one.reading === undefined && one.label === undefined);
  const hasNumber = Object.keys(numbers).length > 0;
  if (!strong && !hasNumber) return undefined;
  if (own.some((one) => !one.optional) && !hasNumber && Object.keys(choices).length === 0) return undefined;
  for (let again = line.take(trigger); again; again = line.take(trigger));
  return { calculator, numbers, choices, assumed };
}

/** '6-8 ml/kg': the first number of a range, so that the second is left with the unit. */
function takeLower({ numbers }: CalculationWords, line: Line): Record<string, Quantity> {
  for (const { lower, units: spelt } of Object.values(numbers))
    for (const [code, spellings] of Object.entries(lower === undefined ? {} : spelt)) {
      const found = line.take(`(?<it>${number} ?(?:-|to) ?)\\d+(?:[.,]\\d+)? ?(?:${anyOf(spellings)})`);
      const told = quantity(found, code);
      if (told && lower !== undefined) return { [lower]: told };
    }
  return {};
}

/** '6 ml/kg woman 168 cm' names no calculation: a number right beside who it is for asks for it by its unit. */
function takeBeside(calculator: string, spec: CalculationWords, line: Line): TakenCalculation | undefined {
  for (const [name, { units: spelt, beside }] of Object.entries(spec.numbers)) {
    if (beside === undefined || line.find(anyOf(beside.unless))) continue;
    const who = anyOf(beside.words);
    const [low, high] = beside.range;
    for (const [code, spellings] of Object.entries(spelt)) {
      const withUnit = `(?<!-)${number} ?(?:${anyOf(spellings)})`;
      for (const place of [
        `(?<=(?<![a-z])(?:${who})[ ;,]*)${withUnit}`,
        `${withUnit}(?=[ ;,]*(?:for )?(?:an? )?(?:\\d+(?:[.,]\\d+)? ?)?(?:${who})(?![a-z]))`,
      ]) {
        const told = quantity(line.find(place), code);
        if (told === undefined || told.value < low || told.value > high) continue;
        line.take(place);
        return { calculator, numbers: { [name]: told }, choices: {}, assumed: [] };
      }
    }
  }
  return undefined;
}

const quantity = (found: RegExpExecArray | null, unit: string | undefined): Quantity | undefined =>
  found && unit !== undefined && isUnit(unit)
    ? { value: Number((found.groups?.value ?? '').replace(',', '.')), unit }
    : undefined;

/** Between a number and the words that it belongs to. */
const towards = ' ?(?:via )?';

/**
 * Right beside its words. With a unit that nothing else has it may stand anywhere ('free'); or where no other name stands
 * right before it ('clause'), so that no vital capacity becomes a flow. Without a unit it has to be inside its range.
 */
function takeNumber(spec: NumberWords, line: Line, trigger: string, assumed: string[]): Quantity | undefined {
  for (const [phrase, value] of Object.entries(spec.means ?? {}))
    if (line.take(anyOf([phrase])))
      return spec.unit !== undefined && isUnit(spec.unit) ? { value, unit: spec.unit } : undefined;
  const own = spec.words.length > 0 ? anyOf(spec.words) : undefined;
  const near = own ?? trigger;
  for (const [code, spellings] of Object.entries(spec.units)) {
    const withUnit = `(?<it>${number} ?(?:${anyOf(spellings)}))`;
    const places = [
      `(?:${near})${between}${withUnit}`,
      // '80 kg was 92': the word belongs to the number after it.
      `${withUnit}(?=${towards}(?:${near})(?![a-z0-9]| ?\\d))`,
      ...(spec.anywhere === 'clause' ? [`(?<=(?:^|[;,]|(?:${near}|${trigger})) *)${withUnit}`] : []),
      ...(spec.anywhere === 'free' ? [withUnit] : []),
    ];
    for (const place of places) {
      const found = line.take(own ? place.replace('(?<it>', '(?:') : place);
      if (found) return quantity(found, code);
    }
  }
  if (!spec.range) return undefined;
  const [low, high] = spec.range;
  const bare = String.raw`(?![.,]?\d| ?%)`;
  for (const pattern of [`(?:${near})${between}(?<it>${number})${bare}`, `(?<it>${number})${towards}(?:${near})`]) {
    const value = quantity(line.find(pattern), spec.unit)?.value;
    if (value === undefined || value < low || value > high) continue;
    if (Object.keys(spec.units).length > 0) assumed.push(`${value} ${units[spec.unit as UnitCode].symbol}`);
    // Words of its own go with the number; the words that ask for the calculation are still needed.
    return quantity(line.take(own ? pattern.replace('(?<it>', '(?:') : pattern), spec.unit);
  }
  return undefined;
}

function chosen(
  { options, frames, when = {} }: ChoiceWords,
  line: Line,
  choices: Record<string, string>,
): string | undefined {
  if (Object.entries(when).some(([other, value]) => (choices[other] ?? value) !== value)) return undefined;
  // Not yet known whose list it is of: the letter stays for the other list too.
  const sure = Object.keys(when).every((other) => choices[other] !== undefined);
  for (const [value, spellings] of Object.entries(options)) {
    const phrases = frames ? frames.flatMap((frame) => spellings.map((one) => frame.replace('{}', one))) : spellings;
    // 'ideal weight 58 kg' says which weight, after its number was taken.
    if (sure ? (line.take(anyOf(phrases)) ?? line.find(anyOf(phrases), line.typed)) : line.find(anyOf(phrases)))
      return value;
  }
  return undefined;
}

const byUnit = ({ fromUnit, units }: ChoiceWords, numbers: Record<string, Quantity>): string | undefined =>
  fromUnit === undefined ? undefined : units[numbers[fromUnit]?.unit ?? ''];

/** Numbers of a calculation that are readings too: a weight, a usual weight. */
export function readingsTaken(taken: readonly TakenCalculation[], words: Calculations): Record<string, Quantity> {
  return Object.fromEntries(
    taken.flatMap(({ calculator, numbers, choices }) =>
      Object.entries(numbers).flatMap(([name, quantity]) => {
        const { gives, givesUnless = {} } = words[calculator]?.numbers[name] ?? {};
        const other = Object.entries(givesUnless).some(([choice, value]) => choices[choice] === value);
        return gives === undefined || other ? [] : [[gives, quantity] as const];
      }),
    ),
  );
}

/** Calculations that weak words ask for, of readings that the rest of the line held. */
export function askedOfReadings(typed: string, asked: AskedVisit, words: Calculations): TakenCalculation[] {
  const named = new Set(asked.taken?.map(({ calculator }) => calculator));
  const line = new Line(typed);
  return Object.entries(words).flatMap(([calculator, { weak, numbers, unlessRead }]) => {
    if (unlessRead === undefined || named.has(calculator) || !line.find(anyOf(weak))) return [];
    const has = (id: string | undefined) => id !== undefined && asked.readings[id] !== undefined;
    const answers = Object.values(numbers).some(({ reading }) => has(reading)) && !unlessRead.some(has);
    return answers ? [{ calculator, numbers: {}, choices: {}, assumed: [] }] : [];
  });
}

// ---- with the rest of the line ---------------------------------------------------------------------------------------------

/**
 * The calculations of a line with everything that the line gave for them: those that it names first.
 *
 * @param person  of the line, and where it says nothing of the visit sheet
 */
export function calculationsOf(asked: AskedVisit, person: Person, words: Calculations): WantedCalculation[] {
  const { taken = [] } = asked;
  const named = taken.flatMap((one) => {
    const spec = words[one.calculator];
    return spec && answerable(spec, one, asked) ? [wanted(one.calculator, spec, asked, person, one)] : [];
  });
  const following = Object.entries(words).flatMap(([calculator, spec]) =>
    named.some((one) => one.calculator === calculator) || !follows(spec, asked, person)
      ? []
      : [wanted(calculator, spec, asked, person)],
  );
  const said = [...named, ...following];
  const change = firstAndLast(asked, words).filter(
    (one) => !said.some(({ calculator }) => calculator === one.calculator),
  );
  return [...said, ...change, ...overTime(asked, words)];
}

/** 'weight 66 kg, was 80': the change between the first and the last of the values, over whatever time. */
function firstAndLast({ series = [] }: AskedVisit, words: Calculations): WantedCalculation[] {
  return Object.entries(words).flatMap(([calculator, { title, ends }]) =>
    series.flatMap(({ measure, values, unit }) => {
      const names = ends?.[measure];
      const [first, last] = [values[0], values.at(-1)];
      if (!names || first === undefined || last === undefined) return [];
      const inputs = { [names.first]: { value: first, unit }, [names.last]: { value: last, unit } };
      return [{ calculator, title, inputs, assumed: [], taken: undefined }];
    }),
  );
}

/** Values over time, where the line says over how long. Between the first and the last they are taken as evenly spaced. */
function overTime({ series = [] }: AskedVisit, words: Calculations): WantedCalculation[] {
  return Object.entries(words).flatMap(([calculator, { title, series: tests }]) =>
    series.flatMap(({ measure, values, unit, overMonths }) => {
      const test = tests?.[measure];
      if (!test || !isUnit(test.unit) || overMonths === undefined) return [];
      const into = test.unit;
      const step = (overMonths * daysInMonth) / (values.length - 1);
      return [
        {
          calculator,
          title,
          inputs: {
            test: test.test,
            sameMethod: 'not-known',
            readings: values.map((value, at) => ({ time: at * step, value: convert(value, unit, into) })),
          },
          assumed: values.length > 2 ? ['evenly spaced in time'] : [],
          taken: undefined,
        },
      ];
    }),
  );
}

/** Words that are said of many things count only where there is something to work out. */
const answerable = ({ numbers }: CalculationWords, taken: TakenCalculation, asked: AskedVisit): boolean => {
  const readings = Object.values(numbers).flatMap(({ reading = [], optional }) => (optional ? [] : reading));
  return (
    Object.keys(taken.numbers).length + Object.keys(taken.choices).length > 0 ||
    readings.length === 0 ||
    readings.some((id) => asked.readings[id] !== undefined)
  );
};

function wanted(
  calculator: string,
  spec: CalculationWords,
  asked: AskedVisit,
  person: Person,
  taken?: TakenCalculation,
): WantedCalculation {
  const always = Object.entries(spec.choices).flatMap(([name, one]) =>
    one.always === undefined ? [] : [[name, one.always] as const],
  );
  return {
    calculator,
    title: spec.title,
    inputs: {
      ...personInputs(person),
      ...Object.fromEntries(always),
      ...readingInputs(spec, asked),
      ...taken?.choices,
      ...taken?.numbers,
    },
    assumed: [...(taken?.assumed ?? []), ...assumedOf(spec, taken)],
    taken,
  };
}

/** What was read out of a unit, or is always taken, in words. */
const assumedOf = ({ choices }: CalculationWords, taken: TakenCalculation | undefined): string[] =>
  Object.entries(choices).flatMap(([name, { assumed, fromUnit, units }]) => {
    const value = taken?.choices[name];
    if (typeof assumed === 'string') return value === undefined ? [assumed] : [];
    const unit = fromUnit === undefined ? undefined : taken?.numbers[fromUnit]?.unit;
    const words = value !== undefined && unit !== undefined && units[unit] === value ? assumed?.[value] : undefined;
    return words === undefined ? [] : [words];
  });

const personInputs = ({ sex, ageYears, heightCm }: Person): RawInputs => ({
  ...(sex === undefined ? {} : { sex }),
  ...(ageYears === undefined ? {} : { age: { value: ageYears, unit: 'a' } }),
  ...(heightCm === undefined ? {} : { height: { value: heightCm, unit: 'cm' } }),
});

function labelled(asked: AskedVisit, label: string): number | undefined {
  const typed = asked.others.find((one) => one.label === label)?.typed;
  const value = typed === undefined ? Number.NaN : Number(typed.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}

function readingInputs(spec: CalculationWords, asked: AskedVisit): RawInputs {
  const inputs: RawInputs = {};
  for (const [name, { reading, gives, label }] of Object.entries(spec.numbers)) {
    const read = asked.readings[reading ?? gives ?? ''];
    const value = label === undefined ? undefined : labelled(asked, label);
    if (read) inputs[name] = { value: read.value, unit: read.unit };
    else if (value !== undefined) inputs[name] = value;
  }
  return inputs;
}

const personField = { sex: 'sex', age: 'ageYears', height: 'heightCm' } as const;

function follows({ follows: needs }: CalculationWords, asked: AskedVisit, person: Person): boolean {
  if (!needs) return false;
  const { readings, labels, person: facts, typedIn } = needs;
  return (
    readings.every((id) => asked.readings[id] !== undefined) &&
    labels.every((label) => labelled(asked, label) !== undefined) &&
    facts.every((fact) => person[personField[fact]] !== undefined) &&
    (typedIn === undefined || readings.some((id) => typedIn.includes(asked.readings[id]?.unit ?? '')))
  );
}
