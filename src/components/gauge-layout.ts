/**
 * Positions on a scale: the staff, one tick for each threshold, and its label as near to it as the others allow. Pure; drawn by
 * GaugeDrawing.tsx.
 */

import { adultsOfSex } from '../../calculators/domain/age-and-sex.ts';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import type { Disease } from '../../calculators/domain/diseases.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import { comparison, figure, withUnit } from '../../calculators/evaluate/say.ts';
import { convert, type UnitCode } from '../../calculators/quantity.ts';

type Side = 'below' | 'above';

interface Threshold {
  /** in the measure's own unit */
  value: number;
  y: number;
  /** the side of the threshold on which the criterion is met */
  side: Side;
}

export interface Tick extends Threshold {
  /** whether the value itself counts: a full end or an open one, as on a number line */
  closed: boolean;
  /** 'below 50 %'; a star where every criterion there asks for something else as well */
  head: string[];
  /** the source or how many, and for whom */
  lines: string[];
  /** the top of its label */
  labelY: number;
}

/** A number from memory: drawn apart, on the other side of the staff, with a letter that the key explains. */
export interface Unchecked extends Threshold {
  letter: string;
  letterY: number;
  words: string;
}

export interface GaugeLayout {
  height: number;
  top: number;
  bottom: number;
  low: number;
  high: number;
  steps: { value: number; y: number }[];
  ticks: Tick[];
  unchecked: Unchecked[];
}

/** The frame, in the drawing's own units: as wide as a phone shows without making the words smaller. */
export const frame = 340;
/** The staff's place across, and where labels begin. */
export const staff = 88;
export const labelX = staff + 30;
export const lineHeight = 17;
const labelGap = 5;
const topMargin = 16;
const letterHeight = 17;

interface GaugeRow {
  criterion: Criterion;
  value: number;
  /** the threshold as its source has it: 'above 6 kPa (45 mmHg)' */
  words: string;
  source: string;
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
    return conditions.flatMap(({ value, unit = measure.unit, comparator }) =>
      typeof value === 'number' && /[<>]/.test(comparator)
        ? [
            {
              criterion: { ...criterion, comparator } as Criterion,
              value: convert(value, unit as UnitCode, measure.unit),
              words: thresholdWords({ comparator: comparator as '<', value, unit: unit as UnitCode }, measure),
              source: name(criterion.source),
            },
          ]
        : [],
    );
  });
}

/** In the unit of the source, which is how people say it; where the scale has another, with the value on the scale. */
function thresholdWords(threshold: { comparator: '<'; value: number; unit: UnitCode }, measure: NumberMeasure): string {
  const words = comparison(threshold, undefined);
  if (threshold.unit === measure.unit) return words;
  const onScale = Number(convert(threshold.value, threshold.unit, measure.unit).toFixed(measure.decimals ?? 0));
  return `${words} (${withUnit(figure(onScale), measure.unit)})`;
}

export function layOut(rows: readonly GaugeRow[], measure: NumberMeasure): GaugeLayout | undefined {
  if (rows.length === 0) return undefined;
  const values = rows.map((row) => row.value);
  const [low, high] = scale(Math.min(...values), Math.max(...values), measure);
  const isRead = ({ criterion }: GaugeRow) => criterion.standing !== 'from-memory';
  const labels = thresholds(rows.filter(isRead)).map((group) => labelOf(group));
  const open = thresholds(rows.filter((row) => !isRead(row))).filter(
    ([row]) => !labels.some(({ first }) => first.value === row.value && sideOf(first) === sideOf(row)),
  );
  const heights = labels.map(({ head, lines }) => (head.length + lines.length) * lineHeight + labelGap);
  const top = topMargin;
  // A little longer than its labels together, so that each has room to be near its own threshold.
  const bottom = top + Math.max(220, tenth(sum(heights) * 1.2), open.length * letterHeight);
  const y = (value: number) => tenth(bottom - ((value - low) / (high - low)) * (bottom - top));
  const places = spread(
    labels.map(({ first }) => y(first.value) - lineHeight / 2),
    heights,
    top - lineHeight / 2,
    bottom + lineHeight / 2,
  );
  const letters = spread(
    open.map(([row]) => y(row.value)),
    open.map(() => letterHeight),
    top,
    bottom + letterHeight,
  );
  return {
    height: tenth(bottom + lineHeight / 2 + topMargin),
    top,
    bottom,
    low,
    high,
    steps: stepsOf(low, high).map((value) => ({ value, y: y(value) })),
    ticks: labels.map(({ first, head, lines }, at) => ({
      value: first.value,
      y: y(first.value),
      side: sideOf(first),
      closed: first.criterion.comparator.endsWith('='),
      head,
      lines,
      labelY: tenth(places[at] ?? top),
    })),
    unchecked: open.map(([row, ...others], at) => ({
      value: row.value,
      y: y(row.value),
      side: sideOf(row),
      letter: letterOf(at),
      letterY: tenth(letters[at] ?? top),
      words: `${row.words} (${tagsOf([row, ...others])})`,
    })),
  };
}

/** A tenth of a unit is finer than any screen draws; more digits only weigh. */
export const tenth = (length: number): number => Math.round(length * 10) / 10;
const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

const sideOf = ({ criterion }: GaugeRow): Side => (criterion.comparator.startsWith('<') ? 'below' : 'above');
const letterOf = (at: number): string => String.fromCharCode(97 + (at % 26)).repeat(1 + Math.floor(at / 26));

type Group = [GaugeRow, ...GaugeRow[]];

/** Equal thresholds once, the highest first. */
const thresholds = (rows: readonly GaugeRow[]): Group[] =>
  [...Map.groupBy(rows, (row) => `${Number(row.value.toPrecision(9))} ${row.criterion.comparator}`).values()]
    .map((group) => group as Group)
    .sort(([a], [b]) => b.value - a.value);

/** What is written beside a tick. A star: only together with other findings. */
function labelOf(group: Group): { first: GaugeRow; head: string[]; lines: string[] } {
  const [first] = group;
  const starred = group.filter(({ criterion }) => criterion.alsoRequires.length > 0);
  const all = starred.length === group.length;
  const names = (some: readonly GaugeRow[]) => [...new Set(some.map(({ source }) => source))];
  const isCurrent = ({ criterion }: GaugeRow) => criterion.status === 'current';
  const now = names(group.filter(isCurrent));
  const old = names(group.filter((row) => !isCurrent(row)));
  const count = (some: string[], words: string) => (some.length === 1 ? some[0] : `${some.length} ${words}`);
  const who = [
    now.length > 0 && count(now, 'sources'),
    old.length > 0 && (now.length > 0 ? `${old.length} replaced` : `${count(old, 'sources')}, replaced`),
    !all && starred.length > 0 && `${names(starred).length}*`,
  ].filter(Boolean);
  return {
    first,
    head: wrap(`${first.words}${all ? '*' : ''}`, frame - labelX, boldSize),
    lines: wrap(`${who.join(', ')}\u00a0\u00b7 ${tagsOf(group)}`, frame - labelX),
  };
}

/** The trade's own letters: a tag, and not a name. The list below the picture has the names. */
const tags: Record<Disease, string> = {
  ...diseaseShort,
  als: 'ALS',
  dmd: 'DMD',
  dm1: 'DM1',
  sci: 'SCI',
  'other-chronic': 'other',
  gbs: 'GBS',
  mg: 'MG',
  'sci-acute': 'acute SCI',
};

/** For whom, a tag each: 'ALS, DMD (children), any' */
function tagsOf(group: readonly GaugeRow[]): string {
  const found = group.map(({ criterion: { disease, sex, population, acute } }) => {
    const people = sex ? adultsOfSex[sex] : population === 'child' ? 'children' : '';
    const tag = disease === 'any' ? (acute ? 'any acute' : 'any') : tags[disease];
    return people === '' ? tag : `${tag} (${people})`;
  });
  return [...new Set(found)].join(', ');
}

const smallSize = 13;
/** Bold letters are wider: counted as if they were larger. */
export const boldSize = 15.5;

/** About how wide text is, in a font wider than most: what fits by this count fits on any system. */
export function widthOf(text: string, size = smallSize): number {
  const em = [...text].map((letter) =>
    /[ilj.,:;'|!()\u00b7 /\u00a0]/.test(letter)
      ? 0.4
      : /[mwMW%]/.test(letter)
        ? 0.98
        : /[A-Z]/.test(letter)
          ? 0.76
          : 0.65,
  );
  return sum(em) * size;
}

function wrap(text: string, width: number, size = smallSize): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && widthOf(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/**
 * Places for labels in a column: each as near as can be to where it would like to be, none over another, all inside. Labels that
 * would meet are moved together, as one block, to the middle of their wishes.
 *
 * @param wishes  where the top of each would be, from the top down
 */
export function spread(wishes: readonly number[], heights: readonly number[], from: number, to: number): number[] {
  const before = heights.map((_, at) => sum(heights.slice(0, at)));
  const blocks: { total: number; count: number }[] = [];
  for (const [at, wish] of wishes.entries()) {
    blocks.push({ total: wish - (before[at] ?? 0), count: 1 });
    for (let last = blocks.at(-1), above = blocks.at(-2); last && above; last = blocks.at(-1), above = blocks.at(-2)) {
      if (above.total / above.count <= last.total / last.count) break;
      blocks.splice(-2, 2, { total: above.total + last.total, count: above.count + last.count });
    }
  }
  const most = to - sum(heights);
  return blocks
    .flatMap(({ total, count }) => Array<number>(count).fill(total / count))
    .map((place, at) => Math.max(from, Math.min(most, place)) + (before[at] ?? 0));
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

interface Notch {
  /** the piece taken out of the staff */
  cut: string;
  edge: string;
  label: { x: number; y: number; words: string }[];
}

/**
 * Where a clinic's own thresholds are cut into the staff; one beyond the scale is drawn at its end. Their words cover neither each
 * other nor the letters of what is not yet checked.
 *
 * @param letters  the heights of those letters
 */
export function notchesOf(
  values: readonly { value: number; words: string }[],
  { low, high, top, bottom }: Pick<GaugeLayout, 'low' | 'high' | 'top' | 'bottom'>,
  letters: readonly number[] = [],
): Notch[] {
  let free = Number.NEGATIVE_INFINITY;
  return [...values]
    .sort((a, b) => b.value - a.value)
    .map(({ value, words }) => {
      const share = Math.min(1.02, Math.max(-0.02, (value - low) / (high - low)));
      const y = tenth(bottom - share * (bottom - top));
      let labelY = Math.max(free, y - 4);
      for (const letter of [...letters].sort((a, b) => a - b))
        if (letter > labelY - 20 && letter < labelY + 28) labelY = letter + 20;
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
