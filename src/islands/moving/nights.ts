/**
 * Invented nights for teaching, made the same each time: a second-by-second saturation with patterns put in on purpose. The
 * figures beside them come from the night-oximetry summary like those of any recording. No real recording is ever named by
 * a pattern.
 */
import { randomFrom } from '../../../calculators/learning/random.ts';
import type { Recording } from '../../../calculators/night-oximetry/recording.ts';

export const hoursOfNight = 8;
const length = hoursOfNight * 3600;

interface Stretch {
  /** hours from the start */
  from: number;
  to: number;
}

interface Sag extends Stretch {
  depth: number;
}

interface NightPlan {
  label: string;
  /** what was put in, for a reader who has looked first */
  about: readonly string[];
  level: number;
  sags?: readonly Sag[];
  teeth?: readonly Stretch[];
  /** sensor off or slipped: no value, with a sudden drop before it */
  lost?: readonly Stretch[];
  /** hour from which oxygen runs */
  oxygenFrom?: number;
}

const sags: readonly Sag[] = [
  { from: 1.4, to: 1.65, depth: 6 },
  { from: 3.05, to: 3.4, depth: 9 },
  { from: 4.8, to: 5.3, depth: 13 },
  { from: 6.5, to: 7.2, depth: 16 },
];
const clusters: readonly Stretch[] = [
  { from: 0.7, to: 1.9 },
  { from: 3.6, to: 4.9 },
  { from: 6, to: 7.3 },
];

export const nights = {
  one: {
    label: 'Night 1',
    level: 95,
    sags,
    about: [
      'There are four long dips in saturation with level periods between them. Each dip lasts a quarter of an hour or more, and is longer and deeper than the one before. In this invented recording, the dips were placed where REM sleep often occurs.',
      'Shallow breathing in REM sleep often gives long dips like these. A trace with long dips is a reason to record carbon dioxide as well, because saturation cannot show carbon dioxide.',
    ],
  },
  two: {
    label: 'Night 2',
    level: 95,
    teeth: clusters,
    about: [
      'There are three periods of quick dips, one soon after another. Each dip goes down in half a minute and comes back in seconds, so the trace looks like the teeth of a saw.',
      'Repeated closure of the upper airway often gives quick dips like these. There are many drops an hour, but the time below each line is shorter than it looks on the trace.',
    ],
  },
  three: {
    label: 'Night 3',
    level: 95,
    lost: [
      { from: 1.2, to: 1.32 },
      { from: 2.6, to: 2.9 },
      { from: 5.05, to: 5.1 },
      { from: 5.5, to: 6.2 },
    ],
    about: [
      'The saturation is level, but the sensor slipped four times. Before each gap the value falls by tens within a second. Real saturation cannot fall that fast, but the reading of a loose sensor can.',
      'The site leaves out readings that fall this fast, and says how many hours it left out. Nobody knows what happened during a long gap in the readings.',
    ],
  },
  four: {
    label: 'Night 4',
    level: 94,
    sags,
    oxygenFrom: 4,
    about: [
      'The first half of this night is like Night 1. Four hours into the night someone switched on oxygen. On oxygen the trace is high and flat.',
      'The breathing did not change. The person still breathes too little at the same times, but the saturation no longer shows the weak breathing. By itself the second half of the night looks normal, but carbon dioxide could be at any level.',
    ],
  },
  five: {
    label: 'Night 5',
    level: 94,
    sags: sags.slice(1),
    teeth: clusters.slice(0, 2),
    about: [
      'This night has both patterns: saw-tooth periods early in the night, and long dips, one of them in the middle of the second saw-tooth period. Many real nights show both patterns, or neither.',
      'So the shape of a trace suggests what to ask, but does not show the cause.',
    ],
  },
} as const satisfies Record<string, NightPlan>;
export type NightName = keyof typeof nights;

const made = new Map<NightName, Recording>();

/** @returns seconds from the start and saturation in per cent, one value a second; NaN where the sensor was off */
export function nightOf(name: NightName): Recording {
  const known = made.get(name);
  if (known) return known;
  const plan: NightPlan = nights[name];
  const random = randomFrom(Object.keys(nights).indexOf(name) + 7);
  const seconds = new Float64Array(length);
  const spo2 = new Float32Array(length);
  let drift = 0;
  for (let second = 0; second < length; second += 1) {
    const hour = second / 3600;
    drift = drift * 0.995 + (random() - 0.5) * 0.12;
    const oxygen = plan.oxygenFrom !== undefined && hour >= plan.oxygenFrom;
    let level = oxygen ? 98 + drift * 0.3 : plan.level + drift;
    if (!oxygen) {
      for (const { from, to, depth } of plan.sags ?? [])
        if (hour > from && hour < to) level -= depth * Math.sin((Math.PI * (hour - from)) / (to - from)) ** 0.8;
      for (const { from, to } of plan.teeth ?? [])
        if (hour > from && hour < to) {
          const phase = second % 50;
          level -= phase < 36 ? (phase / 36) * 7 : ((50 - phase) / 14) * 7;
        }
    }
    let value = Math.max(50, Math.min(100, Math.round(level)));
    for (const { from, to } of plan.lost ?? []) {
      const into = second - Math.round(from * 3600);
      if (into >= 0 && into < 6) value = 62;
      else if (into >= 6 && hour < to) value = Number.NaN;
    }
    seconds[second] = second;
    spo2[second] = value;
  }
  const recording: Recording = { seconds, spo2 };
  made.set(name, recording);
  return recording;
}
