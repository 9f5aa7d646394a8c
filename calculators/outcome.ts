import type { UnitCode } from './quantity.ts';

/** What a calculator answers: results, or the problems that stop it. It never throws, and no result is ever NaN or infinite. */
export type Outcome = Answer | Refusal;

export interface Answer {
  ok: true;
  results: Record<string, ResultValue>;
  /** what a careful colleague would say beside the number; may be empty */
  cautions: string[];
  /** every formula that ran, in order, with the numbers it ran on */
  working: WorkingLine[];
  /** the same question under other published sets, side by side */
  tables: ResultTable[];
}

export interface ResultValue {
  /** full precision: round only for display */
  value: number;
  unit: UnitCode;
  /** ends of the published range or of the carried uncertainty, where there is one */
  low?: number;
  high?: number;
}

export interface WorkingLine {
  /** name of the formula among the calculator's `formulas` */
  formula: string;
  values: Record<string, number>;
  value: number;
}

export interface ResultTable {
  caption: string;
  columns: string[];
  rows: { label: string; cells: string[] }[];
}

export interface Refusal {
  ok: false;
  problems: Problem[];
}

export interface Problem {
  /** name of the field the reader has to look at */
  field: string;
  message: string;
}

export const refuse = (field: string, message: string): Refusal => ({ ok: false, problems: [{ field, message }] });
