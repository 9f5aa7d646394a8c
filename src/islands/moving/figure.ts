/**
 * A figure that moves: what a reader can change, and the picture that follows. One declaration is what the screen draws,
 * what the server prints at its first values, and what the tests compare with the calculators. No figure does a
 * calculation of its own: every number in `picture` comes out of calculators/.
 */
import type { ResultTable } from '../../../calculators/outcome.ts';
import type { UnitCode } from '../../../calculators/quantity.ts';

interface Slide {
  kind: 'slide';
  label: string;
  unit: UnitCode;
  min: number;
  max: number;
  step: number;
  decimals: number;
  initial: number;
}

export interface Choice {
  kind: 'choice';
  label: string;
  options: readonly { value: string; label: string }[];
  initial: string;
}

export type Control = Slide | Choice;
export type Controls = Record<string, Control>;
export type ValuesOf<C extends Controls> = {
  [K in keyof C]: C[K] extends Slide ? number : C[K] extends { options: readonly { value: infer V }[] } ? V : never;
};

interface Axis {
  label: string;
  low: number;
  high: number;
  every: number;
}

/** How a line is drawn: by weight and dash, never by colour alone. */
export type Look = 'main' | 'dashed' | 'dotted' | 'long' | 'thin';
export type Point = readonly [x: number, y: number];

export interface Line {
  name: string;
  look: Look;
  /** null where there is nothing to draw: the line is broken there */
  points: readonly (Point | null)[];
}

export interface Plot {
  x: Axis;
  y: Axis;
  lines: readonly Line[];
  /** between two lines, washed */
  band?: { name: string; points: readonly (readonly [x: number, low: number, high: number])[] };
  /** a value across the whole picture */
  rules: readonly { across: 'x' | 'y'; at: number; name: string }[];
  dots: readonly { at: Point; look: 'hand' | 'reading' }[];
}

export interface Bar {
  name: string;
  value: number;
  words: string;
  chosen: boolean;
}

export interface Picture {
  draws: { kind: 'plot'; plot: Plot } | { kind: 'bars'; bars: readonly Bar[] };
  /** the numbers of the picture, whole: what a reader who does not see it has */
  table: ResultTable;
  /** the picture in a sentence or two, with its numbers */
  says: string;
  /** what this picture leaves out or rests on */
  notes: readonly string[];
  /** folded: to be found first and read afterwards */
  more?: { summary: string; text: readonly string[] };
}

export interface Moving<C extends Controls = Controls, D = undefined> {
  title: string;
  /** what to try, in a sentence or two */
  about: string;
  /** printed before anything that could be used */
  before?: readonly string[];
  controls: C;
  picture: (values: ValuesOf<C>, data: D) => Picture;
}

/** Declare a figure; the values that `picture` receives are inferred from its controls. */
export const defineMoving = <const C extends Controls, D = undefined>(figure: Moving<C, D>): Moving<C, D> => figure;

export const firstValues = <C extends Controls>(controls: C): ValuesOf<C> =>
  Object.fromEntries(Object.entries(controls).map(([name, { initial }]) => [name, initial])) as ValuesOf<C>;

/** Numbers from `low` to `high`, both ends in, at most `step` apart. */
export function along(low: number, high: number, step: number): number[] {
  const count = Math.max(1, Math.round((high - low) / step));
  return Array.from({ length: count + 1 }, (_, at) => low + ((high - low) * at) / count);
}

/** The end of an axis: the next whole `every` at or above the largest value. */
export const upTo = (largest: number, every: number): number => Math.max(every, Math.ceil(largest / every) * every);
