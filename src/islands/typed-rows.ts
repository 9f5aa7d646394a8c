import type { SeriesField } from '../../calculators/calculator.ts';
import type { TypedQuantity } from './QuantityInput.tsx';

/** One row as typed, by column name. */
export type TypedRow = Record<string, TypedQuantity>;

export const blankRow = (field: SeriesField): TypedRow =>
  Object.fromEntries(field.columns.map(({ name, unit }) => [name, { text: '', unit }]));
export const blankRows = (field: SeriesField): TypedRow[] =>
  Array.from({ length: Math.max(field.min, 3) }, () => blankRow(field));
