/**
 * Where an ordered cough session is after so many seconds: which set, which cycle, in, out, pause or rest.
 *
 * One cycle is in, out, pause. A rest follows each set but the last, so that the whole lasts exactly as
 * long as the session plan says. A phase of no length is passed over. Every length is the order's own:
 * nothing is added, no time to get ready and no time between phases.
 *
 * The place is worked out from the seconds alone, never by counting ticks: a screen that was covered for a
 * minute shows the right breath when it comes back.
 */
export interface SessionOrder {
  /** whole, one or more */
  sets: number;
  /** in each set; whole, one or more */
  cycles: number;
  /** seconds */
  timeIn: number;
  timeOut: number;
  pause: number;
  rest: number;
}

export type Phase = 'in' | 'out' | 'pause' | 'rest';

export interface Moment {
  phase: Phase;
  /** from 1 */
  set: number;
  /** from 1; in a rest, the last cycle of the set before it */
  cycle: number;
  /** seconds of this phase gone, and its length */
  gone: number;
  length: number;
}

const cycleLength = ({ timeIn, timeOut, pause }: SessionOrder): number => timeIn + timeOut + pause;
const setLength = (order: SessionOrder): number => order.cycles * cycleLength(order);

/** Seconds of the whole session, rests between sets included. */
export const sessionLength = (order: SessionOrder): number =>
  order.sets * setLength(order) + (order.sets - 1) * order.rest;

/**
 * @param seconds  since the start; before it counts as the start
 * @returns undefined when the session is over
 */
export function momentAt(order: SessionOrder, seconds: number): Moment | undefined {
  const since = Math.max(0, seconds);
  if (since >= sessionLength(order)) return undefined;
  const { sets, cycles, timeIn, timeOut, pause, rest } = order;
  const turn = setLength(order) + rest;
  const setsGone = Math.min(sets - 1, Math.floor(since / turn));
  const inSet = since - setsGone * turn;
  const set = setsGone + 1;
  if (inSet >= setLength(order) && set < sets)
    return { phase: 'rest', set, cycle: cycles, gone: inSet - setLength(order), length: rest };
  const cyclesGone = Math.min(cycles - 1, Math.floor(inSet / cycleLength(order)));
  const inCycle = inSet - cyclesGone * cycleLength(order);
  const at = { set, cycle: cyclesGone + 1 };
  if (inCycle < timeIn) return { phase: 'in', ...at, gone: inCycle, length: timeIn };
  if (inCycle < timeIn + timeOut || pause === 0)
    return { phase: 'out', ...at, gone: Math.min(timeOut, inCycle - timeIn), length: timeOut };
  return { phase: 'pause', ...at, gone: Math.min(pause, inCycle - timeIn - timeOut), length: pause };
}

/** Where to go on after a halt: half a breath is no breath, so its cycle begins again; a rest goes on where it was. */
export function goOnFrom(order: SessionOrder, seconds: number): number {
  const moment = momentAt(order, seconds);
  if (!moment || moment.phase === 'rest') return Math.max(0, seconds);
  return (moment.set - 1) * (setLength(order) + order.rest) + (moment.cycle - 1) * cycleLength(order);
}
