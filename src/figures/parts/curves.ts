/**
 * The shapes that the drawings show. They are shapes only: no number here is measured, none is printed, and sizes run from
 * 0 to 1. Times are in seconds or hours so that one thing comes after another as it does in life. What each is meant to show, and
 * on whose word, is in the caption of its drawing.
 */
import type { Shape } from './path.ts';

/** From 0 to 1 between two times, without a corner at either end. */
export function eased(at: number, from: number, to: number): number {
  const share = Math.min(1, Math.max(0, (at - from) / (to - from)));
  return share * share * (3 - 2 * share);
}
/** 1 at `middle`, and as good as 0 two widths away. */
const bump = (at: number, middle: number, width: number): number => Math.exp(-(((at - middle) / width) ** 2));

// --- A cough: flow at the mouth. Above 0 is out. ---

/** A breath in, a moment with the throat closed, a spike as it opens, and the rest of the breath behind it. */
export const cough: Shape = (at) => {
  if (at < 1) return -0.42 * Math.sin(Math.PI * at) ** 1.3;
  if (at < 1.25) return 0;
  const spike = 0.5 * eased(at, 1.25, 1.29) * Math.exp(-Math.max(0, at - 1.29) / 0.035);
  const rest = 0.5 * eased(at, 1.25, 1.31) * (1 - eased(at, 1.5, 2.15));
  return spike + rest;
};
/** No closed throat, so no spike: the flow rises late and is round. */
export const coughWithoutSpike: Shape = (at) => {
  if (at < 1) return -0.3 * Math.sin(Math.PI * at) ** 1.3;
  return 0.38 * eased(at, 1.05, 1.4) * (1 - eased(at, 1.45, 2.2));
};
/** Cheeks or tongue: as tall as a cough, gone at once, and no breath behind it. */
export const puff: Shape = (at) => 0.86 * bump(at, 1.3, 0.028);

// --- A cough machine: pressure at the mask and flow. Above 0 is into the person. ---

export interface Cycle {
  push: number;
  pull: number;
  pause: number;
}
/** +1 while it pushes, -1 while it pulls, 0 in the pause. */
export const machinePressure =
  ({ push, pull }: Cycle): Shape =>
  (at) => {
    if (at < push) return eased(at, 0, 0.35);
    if (at < push + pull) return 1 - 2 * eased(at, push, push + 0.08);
    return -1 + eased(at, push + pull, push + pull + 0.4);
  };
/** Air goes in until the chest is full, and rushes out when the pressure turns. */
export const openFlow =
  ({ push, pull }: Cycle): Shape =>
  (at) => {
    if (at < push) return 0.62 * eased(at, 0, 0.22) * Math.exp(-at / 0.6);
    const since = at - push;
    if (since < pull) return -eased(since, 0, 0.1) * Math.exp(-Math.max(0, since - 0.1) / 0.38);
    return 0;
  };
/** The same push, but the throat closes at `shuts`: air stops while the pressure stays. Little went in, so little comes out. */
export const closingFlow =
  (cycle: Cycle, shuts: number): Shape =>
  (at) => {
    if (at < cycle.push) return openFlow(cycle)(at) * (1 - eased(at, shuts, shuts + 0.09));
    return 0.22 * openFlow(cycle)(at);
  };

// --- A forced vital capacity: air blown out since the start, of 1 in all. ---

export type Fault = 'none' | 'leak' | 'early-stop' | 'slow-start' | 'cough';
/** 1 while the throat is shut, from a moment on and for so long. */
const shut = (at: number, from: number, lasts: number): number =>
  eased(at, from, from + 0.04) * (1 - eased(at, from + lasts, from + lasts + 0.04));
/** How much of the flow that the chest has to give comes through the mouthpiece at a moment. */
const comesThrough: Record<Fault, Shape> = {
  none: (at) => eased(at, 0, 0.12),
  leak: (at) => eased(at, 0, 0.12) * (1 - 0.62 * eased(at, 0.3, 0.42)),
  'early-stop': (at) => eased(at, 0, 0.12) * (at < 0.85 ? 1 : 0),
  'slow-start': (at) => eased(at, 0, 1.5),
  cough: (at) => eased(at, 0, 0.12) * (1 - shut(at, 0.3, 0.22) - shut(at, 0.75, 0.2)),
};
export interface Blow {
  seconds: number;
  volume: number;
  flow: number;
}
/** The emptier the chest, the less flow it has to give: added up in small steps. A leak loses air that the chest gave. */
export function blow(fault: Fault, seconds: number): Blow[] {
  const step = 0.01;
  const course: Blow[] = [{ seconds: 0, volume: 0, flow: 0 }];
  let left = 1;
  let volume = 0;
  for (let at = step; at <= seconds; at += step) {
    const given = 1.45 * left;
    const flow = given * comesThrough[fault](at);
    const taken = fault === 'leak' ? given * eased(at, 0, 0.12) : flow;
    left -= taken * step;
    volume += flow * step;
    course.push({ seconds: at, volume, flow });
  }
  return course;
}

// --- A ventilator: pressure and flow, breath after breath. Flow above 0 is into the person. ---

export interface Breath {
  at: number;
  /** how long the machine pushes */
  lasts: number;
}
/** Between a lower and a higher pressure, 0 and 1. */
export const supportPressure =
  (breaths: readonly Breath[]): Shape =>
  (at) =>
    breaths.reduce(
      (sum, { at: start, lasts }) =>
        sum + eased(at, start, start + 0.22) * (1 - eased(at, start + lasts, start + lasts + 0.2)),
      0,
    );
/** In quickly and less and less, then out quickly and less and less. */
export const supportFlow =
  (breaths: readonly Breath[]): Shape =>
  (at) => {
    const now = breaths.findLast(({ at: start }) => start <= at);
    if (now === undefined) return 0;
    const since = at - now.at;
    if (since < now.lasts) return eased(since, 0, 0.18) * Math.exp(-since / 0.75);
    const out = since - now.lasts;
    const room = 1 - Math.exp(-now.lasts / 0.45);
    return -room * eased(out, 0, 0.1) * Math.exp(-out / 0.36);
  };
/** A try to breathe that the machine does not answer: a little more flow in, or less out, and a small fall of pressure. */
export const unanswered =
  (tries: readonly number[], size: number): Shape =>
  (at) =>
    tries.reduce((sum, start) => sum + size * bump(at, start + 0.2, 0.13), 0);

// --- A night of eight hours. ---

/** Dream sleep comes back about every hour and a half, and lasts longer towards morning. */
export const dreams: readonly (readonly [from: number, to: number])[] = [
  [1.5, 1.75],
  [3.1, 3.5],
  [4.7, 5.25],
  [6.3, 7.2],
];
const inDream = (at: number): number =>
  dreams.reduce((sum, [from, to]) => sum + eased(at, from, from + 0.2) * (1 - eased(at, to, to + 0.3)), 0);
/** Carbon dioxide climbs through the night, most in dream sleep, and comes down only part of the way after it. */
export const nightCarbonDioxide: Shape = (at) => {
  const kept = dreams.reduce((sum, [from, to]) => sum + 0.1 * eased(at, from, to), 0);
  const asleep = 0.12 * eased(at, 0.3, 1.2);
  const waking = 1 - 0.4 * eased(at, 7.45, 8);
  return (0.12 + asleep + kept + (0.14 + 0.025 * at) * inDream(at)) * waking;
};
/** Saturation sags with each dream sleep, deeper as the night goes on. */
export const nightSaturation: Shape = (at) => 0.86 - 0.02 * eased(at, 0.3, 1.2) - (0.16 + 0.055 * at) * inDream(at);
/** 3 awake, 2 dream sleep, 1 light sleep, 0 deep sleep. */
export const stages: readonly (readonly [from: number, stage: 0 | 1 | 2 | 3])[] = [
  [0, 3],
  [0.3, 1],
  [0.7, 0],
  [1.3, 1],
  [1.5, 2],
  [1.75, 1],
  [2.1, 0],
  [2.8, 1],
  [3.1, 2],
  [3.5, 1],
  [4.7, 2],
  [5.25, 3],
  [5.35, 1],
  [6.3, 2],
  [7.2, 1],
  [7.45, 3],
];
