/**
 * A night's saturation in figures: how much of it can be used, how low it went, for how long, how often it dropped.
 *
 * Arithmetic only, by the rules in `rules.ts`, which are printed beside the figures. It names no pattern and concludes
 * nothing: what a night means is for those who know the person, the gas breathed, and the carbon dioxide that oximetry
 * does not see.
 *
 * Time is carried by the rows themselves, so that a recorder that writes once in four seconds and one that writes four
 * times a second give the same minutes. One pass for each figure; work grows in step with the number of rows.
 *
 * @param recording  from `readCsv` or `readEdf`
 * @returns figures in seconds and per cent, unrounded, and what became of every row; or why there are none
 */
import type { Recording } from './recording.ts';
import { limits } from './rules.ts';

/** What became of a row. */
export const row = { usable: 0, noValue: 1, outOfRange: 2, fastFall: 3 } as const;

export interface NightFigures {
  usableSeconds: number;
  meanSpo2: number;
  lowestSpo2: number;
  below90Seconds: number;
  atOrBelow88Seconds: number;
  drops3: number;
  drops4: number;
}

/** One hour of the recording, counted from its start; a figure is absent where the hour has no usable row. */
interface HourFigures extends Omit<NightFigures, 'meanSpo2' | 'lowestSpo2'> {
  startSeconds: number;
  meanSpo2?: number;
  lowestSpo2?: number;
}

export interface NightSummary extends NightFigures {
  /** from the first row to the end of the last */
  recordedSeconds: number;
  below90Percent: number;
  atOrBelow88Percent: number;
  longestAtOrBelow88Seconds: number;
  drops3PerHour: number;
  drops4PerHour: number;
  leftOut: { noValueSeconds: number; outOfRangeSeconds: number; fastFallSeconds: number; gapSeconds: number };
  hours: HourFigures[];
  /** for each row of the recording, one of `row` */
  rows: Uint8Array;
  /** printed beside the figures: short trace, much left out */
  cautions: string[];
}

type Summarised = { ok: true; summary: NightSummary } | { ok: false; message: string };

/** smaller differences come from storing decimals in binary, not from blood */
const tiny = 1e-4;

export function summarise(recording: Recording): Summarised {
  const { seconds } = recording;
  if (seconds.length < 2) return { ok: false, message: 'There are fewer than two rows' };
  const step = usualStep(seconds);
  const lasts = durations(seconds, step);
  const rows = sortRows(recording);
  const recordedSeconds = (seconds.at(-1) ?? 0) - (seconds[0] ?? 0) + (lasts.at(-1) ?? 0);
  const left = secondsByKind(rows, lasts);
  const usableSeconds = left[row.usable] ?? 0;
  if (!(usableSeconds > 0))
    return {
      ok: false,
      message: `There is no usable saturation: every row is empty, outside ${limits.lowest} to ${limits.highest}, or in a fast fall. Is the right column used as SpO2?`,
    };

  const hours = hoursOf(recording, rows, lasts, Math.max(1, Math.ceil(recordedSeconds / 3600)));
  countDrops(recording, rows, lasts, hours);
  const night = nightOf(hours, usableSeconds);
  const usableHours = usableSeconds / 3600;
  const summary: NightSummary = {
    ...night,
    recordedSeconds,
    below90Percent: (night.below90Seconds / usableSeconds) * 100,
    atOrBelow88Percent: (night.atOrBelow88Seconds / usableSeconds) * 100,
    longestAtOrBelow88Seconds: longestRun(recording, rows, lasts),
    drops3PerHour: night.drops3 / usableHours,
    drops4PerHour: night.drops4 / usableHours,
    leftOut: {
      noValueSeconds: left[row.noValue] ?? 0,
      outOfRangeSeconds: left[row.outOfRange] ?? 0,
      fastFallSeconds: left[row.fastFall] ?? 0,
      gapSeconds: Math.max(0, recordedSeconds - left.reduce((total, part) => total + part, 0)),
    },
    hours,
    rows,
    cautions: cautionsOf(usableSeconds, recordedSeconds, step),
  };
  return { ok: true, summary };
}

/** How long the rows of each kind last, by the kind's number. */
function secondsByKind(rows: Uint8Array, lasts: Float64Array): Float64Array {
  const seconds = new Float64Array(4);
  for (let at = 0; at < rows.length; at += 1) {
    const kind = rows[at] ?? 0;
    seconds[kind] = (seconds[kind] ?? 0) + (lasts[at] ?? 0);
  }
  return seconds;
}

/** Counts each drop in the hour in which it begins. */
function countDrops(recording: Recording, rows: Uint8Array, lasts: Float64Array, hours: readonly HourFigures[]): void {
  for (const [depth, name] of [
    [3, 'drops3'],
    [4, 'drops4'],
  ] as const)
    for (const start of findDrops(recording, rows, lasts, depth)) {
      const hour = hours[hourOf(recording.seconds, start, hours.length)];
      if (hour) hour[name] += 1;
    }
}

/** The figures of the whole night, from those of its hours. */
function nightOf(hours: readonly HourFigures[], usableSeconds: number): NightFigures {
  const all = (of: (hour: HourFigures) => number) => hours.reduce((total, hour) => total + of(hour), 0);
  return {
    usableSeconds,
    meanSpo2: all(({ meanSpo2 = 0, usableSeconds: seconds }) => meanSpo2 * seconds) / usableSeconds,
    lowestSpo2: Math.min(...hours.map(({ lowestSpo2 }) => lowestSpo2 ?? Number.POSITIVE_INFINITY)),
    below90Seconds: all(({ below90Seconds }) => below90Seconds),
    atOrBelow88Seconds: all(({ atOrBelow88Seconds }) => atOrBelow88Seconds),
    drops3: all(({ drops3 }) => drops3),
    drops4: all(({ drops4 }) => drops4),
  };
}

function cautionsOf(usable: number, recorded: number, step: number): string[] {
  return [
    ...(usable < limits.fewHours * 3600
      ? [
          `Less than ${limits.fewHours} hours of the trace is usable. A whole night may look different (the ${limits.fewHours} hours are common practice, not yet checked).`,
        ]
      : []),
    ...(usable < recorded * 0.8
      ? ['More than a fifth of the recording is left out. Look at the trace before you use any figure.']
      : []),
    ...(step > limits.shortestDrop
      ? [
          `There is one value every ${Math.round(step)} seconds. Short drops fall between the values, so too few drops are counted.`,
        ]
      : []),
  ];
}

/** Median step between rows, from at most some thousand of them spread over the night. */
function usualStep(seconds: Float64Array): number {
  const every = Math.max(1, Math.floor(seconds.length / 4096));
  const steps: number[] = [];
  for (let at = every; at < seconds.length; at += every) {
    const step = (seconds[at] ?? 0) - (seconds[at - 1] ?? 0);
    if (step > 0) steps.push(step);
  }
  steps.sort((a, b) => a - b);
  return steps[Math.floor(steps.length / 2)] ?? 1;
}

/** How long each row counts: to the next, or for the usual step when the next comes late. */
function durations(seconds: Float64Array, step: number): Float64Array {
  const lasts = new Float64Array(seconds.length);
  for (let at = 0; at < seconds.length; at += 1) {
    const toNext = at + 1 < seconds.length ? (seconds[at + 1] ?? 0) - (seconds[at] ?? 0) : step;
    lasts[at] = toNext <= step * 1.5 ? toNext : step;
  }
  return lasts;
}

/**
 * Sorts the rows into usable and left out.
 *
 * A fall is measured against the usable value a second before, not against the row before: a recorder that renews its
 * value once a second and stores it four times would seem to fall four times as fast. Only falls are left out. A rise as
 * fast is what waking up looks like, and leaving it out would hide the next drop.
 */
function sortRows({ seconds, spo2 }: Recording): Uint8Array {
  const rows = new Uint8Array(seconds.length);
  /** usable rows so far, for looking a second back */
  const usable = new Int32Array(seconds.length);
  let count = 0;
  let back = 0;
  let fallStart = -1;
  let fallFrom = 0;
  let lastReal = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < seconds.length; at += 1) {
    const value = spo2[at] ?? Number.NaN;
    const now = seconds[at] ?? 0;
    if (Number.isNaN(value) || value === 0) {
      rows[at] = row.noValue;
      continue;
    }
    if (value < limits.lowest - tiny || value > limits.highest + tiny) {
      rows[at] = row.outOfRange;
      continue;
    }
    if (fallStart >= 0) {
      const ended = value >= fallFrom - limits.fall - tiny || now - lastReal > limits.lost;
      if (!ended && now - (seconds[fallStart] ?? 0) < limits.longestFall) {
        rows[at] = row.fastFall;
        lastReal = now;
        continue;
      }
      // Still low after a minute: no lost contact lasts so long and reads so steadily, and a low stretch is never hidden.
      if (!ended)
        for (let restored = fallStart; restored < at; restored += 1)
          if (rows[restored] === row.fastFall) {
            rows[restored] = row.usable;
            usable[count] = restored;
            count += 1;
          }
      fallStart = -1;
    }
    lastReal = now;
    while (back + 1 < count && (seconds[usable[back + 1] ?? 0] ?? 0) <= now - 1) back += 1;
    const before = usable[back] ?? 0;
    const apart = now - (seconds[before] ?? 0);
    if (count > 0 && apart > 0 && (spo2[before] ?? 0) - value > limits.fall * Math.max(1, apart) + tiny) {
      fallStart = at;
      fallFrom = spo2[before] ?? 0;
      rows[at] = row.fastFall;
      continue;
    }
    usable[count] = at;
    count += 1;
  }
  return rows;
}

function longestRun({ seconds, spo2 }: Recording, rows: Uint8Array, lasts: Float64Array): number {
  let longest = 0;
  let run = 0;
  let lastEnd = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < rows.length; at += 1) {
    if (rows[at] !== row.usable) continue;
    const now = seconds[at] ?? 0;
    if (now - lastEnd > limits.lost) run = 0;
    run = (spo2[at] ?? 100) <= limits.atOrBelow + tiny ? run + (lasts[at] ?? 0) : 0;
    longest = Math.max(longest, run);
    lastEnd = now + (lasts[at] ?? 0);
  }
  return longest;
}

/**
 * Rows at which a drop of that depth begins.
 *
 * The highest value of the last 90 seconds is kept in a queue whose values fall from front to back, so that each row
 * enters and leaves once.
 */
function findDrops({ seconds, spo2 }: Recording, rows: Uint8Array, lasts: Float64Array, depth: number): number[] {
  const found: number[] = [];
  const queue = new Int32Array(rows.length);
  let head = 0;
  let tail = 0;
  let peak = -1;
  let low = 0;
  let lastEnd = Number.NEGATIVE_INFINITY;
  const time = (at: number) => seconds[at] ?? 0;
  const level = (at: number) => spo2[at] ?? 0;
  const from = (at: number) => {
    head = 0;
    tail = 1;
    queue[0] = at;
    peak = -1;
  };
  for (let at = 0; at < rows.length; at += 1) {
    if (rows[at] !== row.usable) continue;
    const now = time(at);
    const lost = now - lastEnd > limits.lost + tiny;
    lastEnd = now + (lasts[at] ?? 0);
    if (lost) {
      from(at);
      continue;
    }
    const value = level(at);
    if (peak < 0) {
      while (tail > head && level(queue[tail - 1] ?? 0) <= value + tiny) tail -= 1;
      queue[tail] = at;
      tail += 1;
      while (now - time(queue[head] ?? 0) > limits.longestDrop) head += 1;
      const highest = queue[head] ?? at;
      if (level(highest) - value >= depth - tiny) {
        peak = highest;
        low = value;
      }
      continue;
    }
    low = Math.min(low, value);
    const lasted = now - time(peak);
    if (lasted > limits.longestDrop + tiny) from(at);
    else if (value >= level(peak) - limits.back - tiny || value >= low + depth - tiny) {
      if (lasted >= limits.shortestDrop - tiny) found.push(peak);
      from(at);
    }
  }
  return found;
}

/** Totals of each hour, in plain arrays of numbers: objects would make a long night slow. */
function hoursOf({ seconds, spo2 }: Recording, rows: Uint8Array, lasts: Float64Array, count: number): HourFigures[] {
  const usable = new Float64Array(count);
  const sums = new Float64Array(count);
  const below90 = new Float64Array(count);
  const atOrBelow88 = new Float64Array(count);
  const lowest = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  for (let at = 0; at < rows.length; at += 1) {
    if (rows[at] !== row.usable) continue;
    const value = spo2[at] ?? 0;
    const lasted = lasts[at] ?? 0;
    const hour = hourOf(seconds, at, count);
    usable[hour] = (usable[hour] ?? 0) + lasted;
    sums[hour] = (sums[hour] ?? 0) + value * lasted;
    if (value < limits.below - tiny) below90[hour] = (below90[hour] ?? 0) + lasted;
    if (value <= limits.atOrBelow + tiny) atOrBelow88[hour] = (atOrBelow88[hour] ?? 0) + lasted;
    if (value < (lowest[hour] ?? 0)) lowest[hour] = value;
  }
  return Array.from(usable, (usableSeconds, hour) => ({
    startSeconds: hour * 3600,
    usableSeconds,
    ...(usableSeconds > 0 ? { meanSpo2: (sums[hour] ?? 0) / usableSeconds, lowestSpo2: lowest[hour] ?? 0 } : {}),
    below90Seconds: below90[hour] ?? 0,
    atOrBelow88Seconds: atOrBelow88[hour] ?? 0,
    drops3: 0,
    drops4: 0,
  }));
}

const hourOf = (seconds: Float64Array, at: number, hours: number): number =>
  Math.min(hours - 1, Math.floor(((seconds[at] ?? 0) - (seconds[0] ?? 0)) / 3600));
