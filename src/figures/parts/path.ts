/** From a shape, as a function of time, to the path of an SVG: sampled, freed of points that nobody would miss, and written short. */

export type Point = readonly [x: number, y: number];
/** what is drawn against what: seconds, hours or litres in; a size without a unit out */
export type Shape = (at: number) => number;

/** Where a plot is on the picture, in its units, and what its edges stand for. */
export interface Frame {
  left: number;
  right: number;
  top: number;
  bottom: number;
  from: number;
  to: number;
  low: number;
  high: number;
}

export const across = (frame: Frame, at: number): number =>
  frame.left + ((at - frame.from) / (frame.to - frame.from)) * (frame.right - frame.left);
export const up = (frame: Frame, value: number): number =>
  frame.bottom - ((value - frame.low) / (frame.high - frame.low)) * (frame.bottom - frame.top);

/** Steps fine enough for a peak that lasts a fiftieth of the picture. */
const steps = 400;

export const sampled = (shape: Shape, from: number, to: number): Point[] =>
  Array.from({ length: steps + 1 }, (_, step) => {
    const at = from + ((to - from) * step) / steps;
    return [at, shape(at)] as const;
  });

/** How far a point lies from the straight line between two others. */
function off([x, y]: Point, [fromX, fromY]: Point, [toX, toY]: Point): number {
  const [dx, dy] = [toX - fromX, toY - fromY];
  const length = Math.hypot(dx, dy);
  return length === 0 ? Math.hypot(x - fromX, y - fromY) : Math.abs(dy * (x - fromX) - dx * (y - fromY)) / length;
}

/** Leaves out every point that is less than `most` away from the line without it (Douglas and Peucker's way). */
export function thinned(points: readonly Point[], most: number): Point[] {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < 3) return [...points];
  let far = 0;
  let place = 0;
  for (const [at, point] of points.entries()) {
    const distance = off(point, first, last);
    if (distance > far) [far, place] = [distance, at];
  }
  if (far < most) return [first, last];
  return [...thinned(points.slice(0, place + 1), most).slice(0, -1), ...thinned(points.slice(place), most)];
}

const tenth = (value: number): number => Math.round(value * 10) / 10 + 0;
const pair = (x: number, y: number): string => `${tenth(x)}${tenth(y) < 0 ? '' : ' '}${tenth(y)}`;

/** A line through points, each written as its way from the last. Rounding never adds up: each way starts where the pen is. */
export function written(points: readonly Point[]): string {
  const [first, ...rest] = thinned(points, 0.3);
  if (first === undefined) return '';
  let pen: Point = [tenth(first[0]), tenth(first[1])];
  const ways = rest.map(([x, y]) => {
    const way = pair(x - pen[0], y - pen[1]);
    pen = [tenth(x), tenth(y)];
    return way;
  });
  return `M${pair(...first)}l${ways.join(' ')}`;
}

/** The shape as a line in its frame, from `from` to `to`: the whole of the frame unless told. */
export const drawn = (shape: Shape, frame: Frame, from = frame.from, to = frame.to): string =>
  written(sampled(shape, from, to).map(([at, value]) => [across(frame, at), up(frame, value)] as const));

/** The same line, closed along a level: what is under it can be filled. */
export const filled = (shape: Shape, frame: Frame, level = 0): string =>
  `${drawn(shape, frame)}V${tenth(up(frame, level))}H${tenth(across(frame, frame.from))}z`;

/** Where the drawn person looks. */
export type Way = 'right' | 'left' | 'up';

/** An outline whose places are absolute, and drawn to face right: moved, sized, and turned. */
export function placed(outline: string, x: number, y: number, size: number, way: Way = 'right'): string {
  return outline.replace(/(-?[\d.]+) (-?[\d.]+)/g, (_, first: string, second: string) => {
    const [dx, dy] = [Number(first) * size, Number(second) * size];
    if (way === 'up') return `${tenth(x + dy)} ${tenth(y - dx)}`;
    return `${tenth(way === 'left' ? x - dx : x + dx)} ${tenth(y + dy)}`;
  });
}
