/**
 * Predicted pressure and lower limit of one person by one published set. Shared by maximal inspiratory,
 * maximal expiratory and sniff pressure.
 *
 * A set is used only for the ages and the people it was measured on. No line is extrapolated.
 */

import { showAge } from '../body-size/estimated-height.ts';
import { type Slopes, straightLine } from '../body-size/straight-line.ts';
import { type Formula, formula, type NumberField } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { convert, show } from '../quantity.ts';
import { type Standing, standingWords } from '../standing.ts';
import { type PublishedSet, published, type SetId } from './published-sets.ts';

/** What was measured on the person; a set takes what it needs. */
export interface Body {
  /** years */
  age: number;
  /** cm */
  height?: number | undefined;
  /** kg */
  weight?: number | undefined;
  /** cm */
  waist?: number | undefined;
}

/** One published equation, with its lower limit where there is one. */
export interface Line {
  set: SetId;
  sex: Sex;
  predicted: Formula;
  /** may use `predicted` */
  lower?: Formula;
  /** how well this very line is known; the set's other lines may differ */
  standing: Standing;
  /** completed years, where one set has several bands */
  band?: readonly [number, number];
}

const cmH2O = { name: 'predicted', unit: 'cmH2O' } as const;
const lowerLimit = { name: 'lowerLimit', unit: 'cmH2O' } as const;
const predictedSymbol = { predicted: { means: 'predicted pressure', unit: 'cmH2O', range: [20, 250] } } as const;

export const predictedLine = (constant: number, slopes: Slopes = {}): Formula => straightLine(cmH2O, constant, slopes);
export const lowerLine = (constant: number, slopes: Slopes = {}): Formula => straightLine(lowerLimit, constant, slopes);
export const lineInKPa = (constant: number, slopes: Slopes): Formula =>
  straightLine({ name: 'predicted', unit: 'kPa' }, constant, slopes);

/** Fifth centile from a standard error of estimate. The paper prints the error; this step is ours. */
export const lessStandardErrors = (see: number): Formula =>
  formula({
    result: 'lowerLimit',
    unit: 'cmH2O',
    text: `predicted - 1.645 * ${see}`,
    withUnits: `predicted - 1.645 * ${see} cmH2O`,
    symbols: predictedSymbol,
    run: ({ predicted }) => predicted - 1.645 * see,
  });

/** A lower limit that was published as so much below predicted. */
export const less = (amount: number): Formula =>
  formula({
    result: 'lowerLimit',
    unit: 'cmH2O',
    text: `predicted - ${amount}`,
    withUnits: `predicted - ${amount} cmH2O`,
    symbols: predictedSymbol,
    run: ({ predicted }) => predicted - amount,
  });

/** A lower limit that was published as a share of predicted. */
export const shareOf = (share: number): Formula =>
  formula({
    result: 'lowerLimit',
    unit: 'kPa',
    text: `${share} * predicted`,
    symbols: { predicted: { means: 'predicted pressure', unit: 'kPa', range: [2, 20] } },
    run: ({ predicted }) => share * predicted,
  });

export const percentOfPredicted = formula({
  result: 'percentPredicted',
  unit: '',
  text: 'measured / predicted * 100',
  symbols: {
    measured: { means: 'measured pressure, as a magnitude', unit: 'cmH2O', range: [5, 250] },
    ...predictedSymbol,
  },
  run: ({ measured, predicted }) => (measured / predicted) * 100,
});

/** Every formula of a calculator, named after set, sex and band. */
export function formulasOf(lines: readonly Line[]): Record<string, Formula> {
  const named = lines.flatMap(({ set, sex, band, predicted, lower }): [string, Formula][] => {
    const name = `${set}-${sex}${band ? `-from-${band[0]}` : ''}`;
    return lower
      ? [
          [name, predicted],
          [`${name}-lower`, lower],
        ]
      : [[name, predicted]];
  });
  return { ...Object.fromEntries(named), percentOfPredicted: percentOfPredicted };
}

export const line = <const S extends SetId>(
  set: S,
  sex: Sex,
  standing: Standing,
  predicted: Formula,
  more: Pick<Line, 'lower' | 'band'> = {},
): Line & { set: S } => ({ set, sex, standing, predicted, ...more });

/** Options of the set field, in the order of the lines; each says whom it is for and how well it is known. */
export function setOptions<S extends SetId>(lines: readonly (Line & { set: S })[]): { value: S; label: string }[] {
  const ids = [...new Set(lines.map(({ set }) => set))];
  return ids.map((value) => {
    const { name, people, ages }: PublishedSet = published[value];
    const known = [...new Set(lines.filter(({ set }) => set === value).map(({ standing }) => standingWords[standing]))];
    return {
      value,
      label: `${name} (${people === 'adult' ? 'adults' : 'children'} of ${ages[0]} to ${ages[1]}; ${known.join(' or ')})`,
    };
  });
}

export const citationsOf = (ids: readonly SetId[]) => ids.map((id) => published[id].citation);

export const measured = {
  kind: 'number',
  label: 'Measured pressure',
  unit: 'cm[H2O]',
  accepts: ['kPa', 'mm[Hg]'],
  plausible: [10, 200],
  hard: [0, 400],
  magnitude: true,
  help: 'Enter the best repeatable effort. A minus sign is ignored: -35 and 35 are the same. Choose the unit that the meter shows.',
} as const satisfies NumberField;

/**
 * Our own ends for body size in these lines, common practice: no paper prints its own, and a straight
 * line runs on to nonsense (women by Wilson fall below zero under 61 cm).
 */
const sizes: Record<PublishedSet['people'], Partial<Record<Size, readonly [number, number]>>> = {
  adult: { height: [140, 215], weight: [30, 200], waist: [50, 180] },
  child: { weight: [12, 120] },
};
const sizeNames = { height: 'Height', weight: 'Weight', waist: 'Waist' } as const;
type Size = keyof typeof sizeNames;

type Prediction =
  | { ok: true; line: Line; predicted: number; lower?: number; values: Record<string, number> }
  /** `inTable` says the same in a few words */
  | { ok: false; field: 'age' | 'set' | Size; message: string; inTable: string };

/**
 * One set's answer for one person, in cmH2O.
 *
 * @returns the line used, predicted pressure and lower limit; or which input prevents it and why
 */
export function predict(lines: readonly Line[], set: SetId, sex: Sex, body: Body): Prediction {
  const { name, people, ages }: PublishedSet = published[set];
  const { age } = body;
  const no = (field: 'age' | 'set' | Size, message: string, inTable: string): Prediction => ({
    ok: false,
    field,
    message,
    inTable,
  });
  const madeFor = `made for ${ages[0]} to ${ages[1]} years`;
  if ((people === 'child') !== isChild(age))
    return no(
      'age',
      `${name} was made on ${people === 'adult' ? 'adults' : 'children'}. ${reaching(lines, age)}`,
      madeFor,
    );
  if (!within(age, ages))
    return no('age', `${name} applies from ${ages[0]} to ${ages[1]} years. ${reaching(lines, age)}`, madeFor);
  const line = lines.find((one) => one.set === set && one.sex === sex && (!one.band || within(age, one.band)));
  if (!line)
    return no(
      'set',
      `${name} found no fall with age here, and we did not read its mean for this age band. Choose another set`,
      'mean of this age band not read',
    );
  for (const size of neededBy(line)) {
    const value = body[size];
    const called = sizeNames[size];
    if (value === undefined)
      return no(size, `${name} also needs ${called.toLowerCase()}`, `needs ${called.toLowerCase()}`);
    const [low, high] = sizes[people][size] ?? [value, value];
    if (value < low || value > high)
      return no(
        size,
        `${called} is ${low} to ${high} ${size === 'weight' ? 'kg' : 'cm'} in these sets (our limit, no paper prints one). ${Number(value.toFixed(1))} is outside it`,
        `${called.toLowerCase()} outside our limits`,
      );
  }
  const values = valuesOf(body);
  const inOwnUnit = line.predicted.run(values);
  const predicted = toCmH2O(line.predicted, inOwnUnit);
  if (predicted < 20)
    return no(
      'set',
      `${name} gives ${show(predicted, 'cm[H2O]', 0)} for these sizes, which no healthy person has. Choose another set`,
      'no usable value for these sizes',
    );
  const lower = line.lower && toCmH2O(line.lower, line.lower.run({ ...values, predicted: inOwnUnit }));
  // A line's lower limit can pass below zero at the ends of its range. That is no limit at all.
  return { ok: true, line, predicted, values, ...(lower !== undefined && lower > 0 ? { lower } : {}) };
}

/** The numbers that a line may use, without those that were not entered. */
function valuesOf({ age, height, weight, waist }: Body): Record<string, number> {
  const bmi = height === undefined || weight === undefined ? undefined : weight / (height / 100) ** 2;
  return Object.fromEntries(
    Object.entries({ age, height, weight, waist, bmi }).flatMap(([name, value]) =>
      value === undefined ? [] : [[name, value]],
    ),
  );
}

export const toCmH2O = (formula: Formula, value: number): number =>
  formula.unit === 'kPa' ? convert(value, 'kPa', 'cm[H2O]') : value;

const within = (age: number, [from, to]: readonly [number, number]): boolean => age >= from && age < to + 1;

function neededBy({ predicted }: Line): Size[] {
  const symbols = Object.keys(predicted.symbols).flatMap((name) => (name === 'bmi' ? ['height', 'weight'] : [name]));
  return (Object.keys(sizeNames) as Size[]).filter((size) => symbols.includes(size));
}

function reaching(lines: readonly Line[], age: number): string {
  const names = [...new Set(lines.map(({ set }) => set))]
    .map((id): PublishedSet => published[id])
    .filter(({ people, ages }) => (people === 'child') === isChild(age) && within(age, ages))
    .map(({ name }) => name);
  return names.length === 0 ? `No set here reaches ${showAge(age)}` : `At ${showAge(age)} choose ${names.join(', ')}`;
}
