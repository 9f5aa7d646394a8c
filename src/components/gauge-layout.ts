/**
 * Positions on a gauge: the scale, one tick for each value, and labels that never overlap. Pure; drawn by
 * GaugeDrawing.tsx.
 */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import { convert, type UnitCode } from '../../calculators/quantity.ts';

export interface Tick {
  /** in the measure's own unit */
  value: number;
  y: number;
  /** the side of the threshold on which the criterion is met */
  side: 'below' | 'above';
  /** whether the value itself counts: a full end or an open one, as on a number line */
  closed: boolean;
  lines: string[];
  labelY: number;
}

export interface GaugeLayout {
  height: number;
  top: number;
  bottom: number;
  low: number;
  high: number;
  steps: { value: number; y: number }[];
  ticks: Tick[];
  /** numbers from memory: drawn apart, on the other side of the staff */
  unchecked: { value: number; y: number; side: 'below' | 'above' }[];
}

const lineHeight = 17;
const labelGap = 6;
const charactersALine = 34;
const topMargin = 16;

interface GaugeRow {
  criterion: Criterion;
  value: number;
  who: string;
}

/** Rows of a numeric measure with their value in its own unit. */
export function gaugeRows(
  criteria: readonly Criterion[],
  id: string,
  measure: NumberMeasure,
  name: (source: string) => string,
): GaugeRow[] {
  return criteria.flatMap((criterion) => {
    const conditions = [criterion, ...(criterion.alternative ? [criterion.alternative] : [])].filter(
      (condition) => condition.measure === id,
    );
    return conditions.flatMap(({ value, unit, comparator }) =>
      typeof value === 'number' && /[<>]/.test(comparator)
        ? [
            {
              criterion: { ...criterion, comparator } as Criterion,
              value: convert(value, (unit ?? measure.unit) as UnitCode, measure.unit),
              who: name(criterion.source),
            },
          ]
        : [],
    );
  });
}

export function layOut(
  rows: readonly GaugeRow[],
  measure: NumberMeasure,
  say: (value: number, comparator: string) => string,
): GaugeLayout | undefined {
  if (rows.length === 0) return undefined;
  const values = rows.map((row) => row.value);
  const [low, high] = scale(Math.min(...values), Math.max(...values), measure);
  const led = rows.filter((row) => row.criterion.standing !== 'from-memory');
  const groups = [...Map.groupBy(led, (row) => `${row.value} ${row.criterion.comparator}`).values()].sort(
    (a, b) => (b[0]?.value ?? 0) - (a[0]?.value ?? 0),
  );
  const labels = groups.map((group) => {
    const [first] = group as [GaugeRow];
    return { first, lines: [say(first.value, first.criterion.comparator), ...wrap(namesOf(group))] };
  });
  const labelsHeight = labels.reduce((sum, { lines }) => sum + lines.length * lineHeight + labelGap, 0);
  const top = topMargin;
  const bottom = top + Math.max(220, labelsHeight);
  const y = (value: number) => tenth(bottom - ((value - low) / (high - low)) * (bottom - top));
  let free = top - lineHeight / 2;
  const ticks = labels.map(({ first, lines }, at) => {
    const tickY = y(first.value);
    const rest = labels.slice(at).reduce((sum, label) => sum + label.lines.length * lineHeight + labelGap, 0);
    // As near its tick as the labels above allow, and never so low that those below run off the staff.
    const labelY = tenth(Math.max(free, Math.min(tickY - lineHeight / 2, bottom + lineHeight / 2 - rest)));
    free = labelY + lines.length * lineHeight + labelGap;
    return { value: first.value, y: tickY, side: sideOf(first), closed: closedAt(first), lines, labelY };
  });
  const unchecked = [
    ...new Map(
      rows.filter((row) => row.criterion.standing === 'from-memory').map((row) => [`${row.value}${sideOf(row)}`, row]),
    ).values(),
  ]
    .filter((row) => !led.some((other) => other.value === row.value && sideOf(other) === sideOf(row)))
    .map((row) => ({ value: row.value, y: y(row.value), side: sideOf(row) }));
  return {
    height: tenth(Math.max(bottom, free) + topMargin),
    top,
    bottom,
    low,
    high,
    steps: stepsOf(low, high).map((value) => ({ value, y: y(value) })),
    ticks,
    unchecked,
  };
}

/** A tenth of a unit is finer than any screen draws; more digits only weigh. */
export const tenth = (length: number): number => Math.round(length * 10) / 10;

const sideOf = ({ criterion }: GaugeRow): 'below' | 'above' =>
  criterion.comparator.startsWith('<') ? 'below' : 'above';
const closedAt = ({ criterion }: GaugeRow): boolean => criterion.comparator.endsWith('=');

/** Sources of one tick, each once; a star where the criterion also asks for something else. */
function namesOf(group: readonly GaugeRow[]): string {
  const names = group.map(
    ({ criterion, who }) =>
      `${who}${criterion.alsoRequires.length > 0 ? '*' : ''}${criterion.status === 'current' ? '' : ' (replaced)'}`,
  );
  return [...new Set(names)].join(', ');
}

function wrap(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < charactersALine) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/**
 * The staff reaches a little past the thresholds, within what the measure can be, and starts at zero where zero is
 * near.
 */
function scale(least: number, most: number, measure: NumberMeasure): [number, number] {
  const span = Math.max(most - least, Math.abs(most) * 0.25, 1e-6);
  const step = niceStep((most - least || span) / 4);
  const low = least - span * 0.35;
  const start = least > 0 && low < least * 0.5 ? 0 : low;
  return [
    Math.max(measure.hard[0], Math.floor(start / step) * step),
    Math.min(measure.hard[1], Math.ceil((most + span * 0.35) / step) * step),
  ];
}

function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5].map((digit) => digit * power).find((step) => step >= rough) ?? 10 * power) as number;
}

function stepsOf(low: number, high: number): number[] {
  const step = niceStep((high - low) / 8);
  const first = Math.ceil(low / step - 1e-9);
  return Array.from({ length: Math.floor(high / step + 1e-9) - first + 1 }, (_, at) =>
    Number(((first + at) * step).toPrecision(10)),
  );
}

/** The staff's place across, in the drawing's own units. */
export const staff = 96;

interface Notch {
  /** the piece taken out of the staff */
  cut: string;
  edge: string;
  label: { x: number; y: number; words: string }[];
}

/**
 * Where a clinic's own thresholds are cut into the staff; one beyond the scale is drawn at its end. Labels never
 * overlap.
 */
export function notchesOf(
  thresholds: readonly { value: number; words: string }[],
  { low, high, top, bottom }: Pick<GaugeLayout, 'low' | 'high' | 'top' | 'bottom'>,
): Notch[] {
  let free = Number.NEGATIVE_INFINITY;
  return [...thresholds]
    .sort((a, b) => b.value - a.value)
    .map(({ value, words }) => {
      const share = Math.min(1.02, Math.max(-0.02, (value - low) / (high - low)));
      const y = tenth(bottom - share * (bottom - top));
      const labelY = Math.max(free, y - 4);
      free = labelY + 36;
      return {
        cut: `M${staff - 3} ${tenth(y - 7.5)}h6v15h-6z`,
        edge: `M${staff + 2} ${tenth(y - 9)}h-11v18h11`,
        label: [
          { x: 2, y: labelY, words: 'Local' },
          { x: 2, y: labelY + 16, words },
        ],
      };
    });
}
