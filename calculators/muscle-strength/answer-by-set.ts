/**
 * The answer of a pressure calculator: one set that the reader chose, with every other set beside it.
 *
 * The sets disagree so much that the choice can matter more than the reading: for a man of 40 the
 * predicted expiratory pressure is 233 cmH2O in one and 141 in another, and the same 116 is 50 or 82 per
 * cent. So one set is named and used, none is averaged, and the spread is printed. Sets that nobody
 * here has read are in a table of their own.
 */

import type { Formula } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { type Refusal, type ResultTable, type ResultValue, refuse } from '../outcome.ts';
import { convert, show, showNumber } from '../quantity.ts';
import { type Standing, standingWords } from '../standing.ts';
import { type Body, type Line, percentOfPredicted, predict, toCmH2O } from './predicted-pressure.ts';
import { type PublishedSet, published, type SetId } from './published-sets.ts';

/** A row of the side-by-side table that is not a line: limits alone, or pooled means. */
export interface ExtraRow {
  set: SetId;
  /** where it differs from the set's name */
  label?: string;
  /** cmH2O; undefined when the row does not apply to this person */
  predicted?: number | undefined;
  lower?: number;
  /** printed in place of the lower limit, such as a range */
  instead?: string;
  standing: Standing;
  note?: string;
}

type Results = { predicted: Omit<ResultValue, 'unit'> } & Partial<
  Record<'lowerLimit' | 'percentPredicted' | 'measuredPressure', Omit<ResultValue, 'unit'>>
>;

/**
 * What each pressure calculator does once its fields are read.
 *
 * @param extra  rows beyond the lines, for this person
 * @param step   runs a formula and keeps its line of working
 */
export function answerBySet(
  lines: readonly Line[],
  extra: (sex: Sex, age: number) => readonly ExtraRow[],
  given: { set: SetId; sex: Sex; measured: number | undefined } & Body,
  step: (formula: Formula, values: Record<string, number>) => number,
): { results: Results; cautions: string[]; tables: ResultTable[] } | Refusal {
  const { set, sex, measured, ...body } = given;
  const found = predict(lines, set, sex, body);
  if (!found.ok) return refuse(found.field, found.message);
  const inOwnUnit = step(found.line.predicted, only(found.line.predicted, found.values));
  const predicted = toCmH2O(found.line.predicted, inOwnUnit);
  if (found.line.lower) step(found.line.lower, only(found.line.lower, { ...found.values, predicted: inOwnUnit }));
  const { tables, shares } = sideBySide(lines, extra(sex, body.age), sex, body, measured);
  const { standing } = found.line;
  return {
    results: {
      predicted: { value: predicted },
      ...(found.lower === undefined ? {} : { lowerLimit: { value: found.lower } }),
      ...(measured === undefined
        ? {}
        : {
            percentPredicted: { value: step(percentOfPredicted, { measured, predicted }) },
            measuredPressure: { value: measured },
          }),
    },
    cautions: [
      `Predicted by ${published[set].name}, ${standingWords[standing]}. Write the set next to the per cent.`,
      ...(standing === 'from-memory' ? ['This set is not yet checked. Read the paper before relying on it.'] : []),
      ...(found.lower === undefined ? ['This set has no usable lower limit for this person.'] : []),
      ...spread(shares),
      ...(measured !== undefined && measured < 20
        ? [
            `Below 20\u00a0cmH2O. If the meter shows kPa, ${showNumber(measured, 1)}\u00a0kPa is ${show(convert(measured, 'kPa', 'cm[H2O]'), 'cm[H2O]', 0)}: check the unit.`,
          ]
        : []),
    ],
    tables,
  };
}

const only = (formula: Formula, values: Record<string, number>): Record<string, number> =>
  Object.fromEntries(Object.keys(formula.symbols).map((name) => [name, values[name] ?? Number.NaN]));

function spread(shares: number[]): string[] {
  if (shares.length < 2) return [];
  const [low, high] = [Math.min(...shares), Math.max(...shares)];
  return [
    `The same reading is ${showNumber(low, 0)} to ${showNumber(high, 0)}\u00a0% of predicted, depending on the set, including sets not yet checked. See the tables.`,
  ];
}

const howKnown = (standing: Standing, note: string | undefined): string =>
  note === undefined ? standingWords[standing] : `${standingWords[standing]}; ${note}`;

interface Row {
  label: string;
  /** whether its numbers were read anywhere; false for those from memory */
  read: boolean;
  /** cmH2O; undefined where the set does not apply to this person */
  predicted?: number | undefined;
  lower: string;
  known: string;
}

/** Every set for people of this age group; a set outside its ages says so and prints no number. */
function sideBySide(
  lines: readonly Line[],
  extra: readonly ExtraRow[],
  sex: Sex,
  body: Body,
  measured: number | undefined,
): { tables: ResultTable[]; shares: number[] } {
  const shareOf = (predicted: number | undefined) =>
    measured === undefined || predicted === undefined ? undefined : percentOfPredicted.run({ measured, predicted });
  const fromLines = rowsOfLines(lines, sex, body);
  const rows = [...fromLines, ...extra.map(rowOfExtra)];
  const tableOf = (caption: string, listed: Row[]): ResultTable[] =>
    listed.length === 0 ? [] : [setTable(caption, listed, measured === undefined ? undefined : shareOf)];
  return {
    shares: fromLines.flatMap(({ predicted }) => shareOf(predicted) ?? []),
    tables: [
      ...tableOf(
        'The same person by each reference set that we read. Nothing is averaged; use the same reference set in a series',
        rows.filter(({ read }) => read),
      ),
      ...tableOf(
        'Not yet checked: read the paper before using one of these',
        rows.filter(({ read }) => !read),
      ),
    ],
  };
}

function rowsOfLines(lines: readonly Line[], sex: Sex, body: Body): Row[] {
  const ids = [...new Set(lines.map(({ set }) => set))].filter(
    (id) => (published[id].people === 'child') === isChild(body.age),
  );
  return ids.map((id): Row => {
    const { name, note }: PublishedSet = published[id];
    const found = predict(lines, id, sex, body);
    const standing = found.ok ? found.line.standing : published[id].citation.standing;
    const row = { label: name, read: standing !== 'from-memory' };
    if (!found.ok) return { ...row, lower: 'none', known: found.inTable };
    return { ...row, predicted: found.predicted, lower: lowerWords(found.lower), known: howKnown(standing, note) };
  });
}

const rowOfExtra = ({ set, label, predicted, lower, instead, standing, note }: ExtraRow): Row => ({
  label: label ?? published[set].name,
  read: standing !== 'from-memory',
  predicted,
  lower: instead ?? lowerWords(lower),
  known: howKnown(standing, note),
});

const lowerWords = (lower: number | undefined): string =>
  lower === undefined ? 'none published' : show(lower, 'cm[H2O]', 0);

/** @param shareOf  per cent of predicted; undefined where nothing was measured, and the column is then left out */
function setTable(
  caption: string,
  rows: readonly Row[],
  shareOf: ((predicted: number | undefined) => number | undefined) | undefined,
): ResultTable {
  return {
    caption,
    columns: ['Set', 'Predicted', 'Lower limit', ...(shareOf ? ['Of predicted'] : []), 'How it was checked'],
    rows: rows.map(({ label, predicted, lower, known }) => {
      const share = shareOf?.(predicted);
      return {
        label,
        cells: [
          predicted === undefined ? 'none' : show(predicted, 'cm[H2O]', 0),
          lower,
          ...(shareOf ? [share === undefined ? 'none' : show(share, '%', 0)] : []),
          known,
        ],
      };
    }),
  };
}

/** Cautions that hold for every volitional pressure. */
export const pressureCautions = [
  'A leak at the lips, a poor effort or tiredness makes the reading low. A test with a leak, a poor effort or tiredness can show that the pressure is at or above a threshold, but cannot show that the pressure is below the threshold. Never report a pressure from a faulty test as below a threshold without saying what was wrong.',
  'Most thresholds are in cmH2O, not per cent of predicted. Never compare a percentage of predicted with a threshold in cmH2O.',
  'A reading in kPa mistaken for cmH2O is ten times too small.',
] as const;
