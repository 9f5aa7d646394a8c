/**
 * A smooth curve through a few points: the natural cubic spline.
 *
 * Between two neighbouring knots the curve is a cubic. At a knot the two cubics meet in value, slope and
 * bend (second derivative); at the first and last knot the bend is zero. Those conditions fix every cubic,
 * and they are solved once, when the curve is made. Reading the curve is then a few multiplications.
 *
 * With h the gap between two knots, a and b the share of it still to go and already gone, and y'' the bends:
 *
 *   y(x) = a y0 + b y1 + ((a^3 - a) y0'' + (b^3 - b) y1'') h^2 / 6
 *
 * @source  definition of the natural cubic spline; any numerical-analysis textbook
 */
export interface Knots {
  /** strictly rising */
  ages: readonly number[];
  /** the curve's value at each age */
  values: readonly number[];
}

/**
 * @param knots  at least two; ages strictly rising
 * @returns the curve, to be read from the first age to the last. Never ask for more: a spline runs away
 *          outside its knots, so each caller refuses such an age before it comes here
 */
export function naturalSpline({ ages, values }: Knots): (age: number) => number {
  const x = Float64Array.from(ages);
  const y = Float64Array.from(values);
  const bend = bends(x, y);
  const last = x.length - 1;
  return (age) => {
    let right = 1;
    while (right < last && at(x, right) < age) right++;
    const left = right - 1;
    const gap = at(x, right) - at(x, left);
    const gone = (age - at(x, left)) / gap;
    const toGo = (at(x, right) - age) / gap;
    return (
      toGo * at(y, left) +
      gone * at(y, right) +
      (((toGo ** 3 - toGo) * at(bend, left) + (gone ** 3 - gone) * at(bend, right)) * gap ** 2) / 6
    );
  };
}

/** Second derivative at every knot: one tridiagonal system, solved by a sweep up and a sweep down. */
function bends(x: Float64Array, y: Float64Array): Float64Array {
  const count = x.length;
  const bend = new Float64Array(count);
  const share = new Float64Array(count);
  for (let i = 1; i < count - 1; i++) {
    const before = at(x, i) - at(x, i - 1);
    const after = at(x, i + 1) - at(x, i);
    const turn = (at(y, i + 1) - at(y, i)) / after - (at(y, i) - at(y, i - 1)) / before;
    const pivot = 2 * (before + after) - before * at(share, i - 1);
    share[i] = after / pivot;
    bend[i] = (6 * turn - before * at(bend, i - 1)) / pivot;
  }
  for (let i = count - 2; i > 0; i--) bend[i] = at(bend, i) - at(share, i) * at(bend, i + 1);
  return bend;
}

const at = (list: Float64Array, index: number): number => list[index] as number;
