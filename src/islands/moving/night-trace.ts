/** An invented night to look through: find the pattern first, then read what was put in. */
import { limits } from '../../../calculators/night-oximetry/rules.ts';
import { type NightSummary, summarise } from '../../../calculators/night-oximetry/summary.ts';
import { drawable } from '../../../calculators/night-oximetry/trace.ts';
import type { ResultTable } from '../../../calculators/outcome.ts';
import { show } from '../../../calculators/quantity.ts';
import { defineMoving, type Plot, type Point } from './figure.ts';
import { hoursOfNight, type NightName, nightOf, nights } from './nights.ts';

const columns = 220;
const windowMinutes = 30;

const summaries = new Map<NightName, ReturnType<typeof summarise>>();
function summaryOf(night: NightName): ReturnType<typeof summarise> {
  const known = summaries.get(night) ?? summarise(nightOf(night));
  summaries.set(night, known);
  return known;
}

/** The whole night narrow enough to draw: each column from its highest to its lowest usable value. */
function wholeNight(night: NightName): (Point | null)[] {
  const summary = summaryOf(night);
  if (!summary.ok) return [];
  const { lowest, highest, secondsEach } = drawable(nightOf(night), summary.summary.rows, columns);
  return Array.from({ length: columns }, (_, column) => {
    const hour = ((column + 0.5) * secondsEach) / 3600;
    const [low, high] = [lowest[column] ?? Number.NaN, highest[column] ?? Number.NaN];
    return Number.isNaN(low) ? [null] : [[hour, high] as const, [hour, low] as const];
  }).flat();
}

/** Half an hour as the sensor gave it, lost contact and all. */
function closeUp(night: NightName, from: number): (Point | null)[] {
  const { seconds, spo2 } = nightOf(night);
  const points: (Point | null)[] = [];
  for (let second = from * 3600; second < (from + windowMinutes / 60) * 3600; second += 3) {
    const value = spo2[second] ?? Number.NaN;
    points.push(Number.isNaN(value) ? null : [((seconds[second] ?? 0) - from * 3600) / 60, value]);
  }
  return points;
}

const clockOf = (hours: number): string =>
  `${Math.floor(hours)}:${String(Math.round((hours % 1) * 60)).padStart(2, '0')}`;
const minutes = (seconds: number): string => show(seconds / 60, 'min', 0);

/** The two limits that the figures count by. */
const limitRules: Plot['rules'] = [
  { across: 'y', at: limits.below, name: show(limits.below, '%', 0) },
  { across: 'y', at: limits.atOrBelow, name: show(limits.atOrBelow, '%', 0) },
];

const closeUpPlot = (night: NightName, from: number): Plot => ({
  x: { label: `Minutes from ${clockOf(from)} hours`, low: 0, high: windowMinutes, every: 5 },
  y: { label: 'saturation, per cent', low: 60, high: 100, every: 5 },
  lines: [{ name: 'saturation, as the sensor gave it', look: 'main', points: closeUp(night, from) }],
  rules: limitRules,
  dots: [],
});

/** @param from  where the half hour begins that the reader has chosen, hours after the start */
const wholeNightPlot = (night: NightName, from: number): Plot => ({
  x: { label: 'Hours after the start', low: 0, high: hoursOfNight, every: 1 },
  y: { label: 'saturation, per cent', low: 74, high: 100, every: 2 },
  lines: [{ name: 'saturation, lowest and highest of each two minutes', look: 'thin', points: wholeNight(night) }],
  rules: [...limitRules, { across: 'x', at: from, name: 'where the half hour begins' }],
  dots: [],
});

const hourTable = (night: NightName, summary: NightSummary): ResultTable => ({
  caption: `${nights[night].label}, hour by hour`,
  columns: ['Hour', 'Usable', 'Mean', 'Lowest', 'Below 90 %', 'At or below 88 %', 'Drops of 3 or more'],
  rows: [
    ...summary.hours.map((hour, place) => ({
      label: `${clockOf(place)} to ${clockOf(place + 1)}`,
      cells: [
        minutes(hour.usableSeconds),
        hour.meanSpo2 === undefined ? 'no value' : show(hour.meanSpo2, '%', 0),
        hour.lowestSpo2 === undefined ? 'no value' : show(hour.lowestSpo2, '%', 0),
        minutes(hour.below90Seconds),
        minutes(hour.atOrBelow88Seconds),
        String(hour.drops3),
      ],
    })),
    {
      label: 'Whole night',
      cells: [
        minutes(summary.usableSeconds),
        show(summary.meanSpo2, '%', 0),
        show(summary.lowestSpo2, '%', 0),
        minutes(summary.below90Seconds),
        minutes(summary.atOrBelow88Seconds),
        String(summary.drops3),
      ],
    },
  ],
});

export const nightTrace = defineMoving({
  title: 'A night to look through',
  about:
    'These nights are invented. Look at the whole night first, then half an hour at a time. What stands out in the trace, and what could the cause be? Open the answer last. Do not judge a real recording from its trace alone.',
  controls: {
    night: {
      kind: 'choice',
      label: 'Night',
      options: Object.entries(nights).map(([value, { label }]) => ({ value, label })) as {
        value: NightName;
        label: string;
      }[],
      initial: 'one',
    },
    view: {
      kind: 'choice',
      label: 'Show',
      options: [
        { value: 'whole', label: 'The whole night' },
        { value: 'close', label: 'Half an hour' },
      ],
      initial: 'whole',
    },
    from: {
      kind: 'slide',
      label: 'Half an hour from, hours after the start',
      unit: 'h',
      min: 0,
      max: 7.5,
      step: 0.25,
      decimals: 2,
      initial: 3,
    },
  },
  picture: ({ night, view, from }) => {
    const found = summaryOf(night);
    if (!found.ok) throw new Error(found.message);
    const { summary } = found;
    return {
      draws: { kind: 'plot', plot: view === 'close' ? closeUpPlot(night, from) : wholeNightPlot(night, from) },
      table: hourTable(night, summary),
      says: `${nights[night].label}: the saturation is below 90 % for ${minutes(summary.below90Seconds)}, and the lowest value is ${show(summary.lowestSpo2, '%', 0)}. Drops of 3 points or more: ${show(summary.drops3PerHour, '/h', 1)}.`,
      notes: [
        'The figures are calculated by the same rules as for any recording on this site, and do not say what caused the dips. None of these recordings can show whether carbon dioxide rose.',
      ],
      more: { summary: 'What was put into this night', text: nights[night].about },
    };
  },
});
