/** A night made narrow enough to draw: for each column its lowest and highest usable value, and how much was left out. */
import type { Recording } from './recording.ts';
import { row } from './summary.ts';

export interface Trace {
  columns: number;
  /** seconds in a column */
  secondsEach: number;
  /** NaN where a column has no usable value */
  lowest: Float32Array;
  highest: Float32Array;
  /** lowest and highest pulse, where there is one */
  pulseLowest?: Float32Array;
  pulseHighest?: Float32Array;
  /** share of a column's time that is left out, from 0 to 1 */
  leftOut: Float32Array;
}

/** @param most  columns at most; a short recording gets fewer, so that each holds two rows */
export function drawable({ seconds, spo2, pulse }: Recording, rows: Uint8Array, most: number): Trace {
  const columns = Math.max(1, Math.min(most, Math.floor(seconds.length / 2)));
  const first = seconds[0] ?? 0;
  const span = Math.max(1, (seconds.at(-1) ?? 0) - first);
  const secondsEach = span / columns;
  const nothing = () => new Float32Array(columns).fill(Number.NaN);
  const trace: Trace = {
    columns,
    secondsEach,
    lowest: nothing(),
    highest: nothing(),
    leftOut: new Float32Array(columns),
    ...(pulse ? { pulseLowest: nothing(), pulseHighest: nothing() } : {}),
  };
  const total = new Float32Array(columns);
  const keep = (lowest: Float32Array, highest: Float32Array, column: number, value: number) => {
    if (!((lowest[column] ?? Number.NaN) <= value)) lowest[column] = value;
    if (!((highest[column] ?? Number.NaN) >= value)) highest[column] = value;
  };
  for (let at = 0; at < seconds.length; at += 1) {
    const column = Math.min(columns - 1, Math.floor(((seconds[at] ?? 0) - first) / secondsEach));
    total[column] = (total[column] ?? 0) + 1;
    if (rows[at] === row.usable) keep(trace.lowest, trace.highest, column, spo2[at] ?? 0);
    else trace.leftOut[column] = (trace.leftOut[column] ?? 0) + 1;
    const beats = pulse?.[at] ?? 0;
    if (trace.pulseLowest && trace.pulseHighest && beats >= 20 && beats <= 300)
      keep(trace.pulseLowest, trace.pulseHighest, column, beats);
  }
  for (let column = 0; column < columns; column += 1) {
    const rowsHere = total[column] ?? 0;
    // A column with no row at all is a gap in the recording.
    trace.leftOut[column] = rowsHere === 0 ? 1 : (trace.leftOut[column] ?? 0) / rowsHere;
  }
  return trace;
}
