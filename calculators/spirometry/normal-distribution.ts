/**
 * Share of a standard normal distribution that lies below z, from 0 to 1.
 *
 *   share = (1 + erf(z / sqrt 2)) / 2
 *
 * A z-score of -1.645 has 5 % of healthy people below it, 0 has 50 %. The far tails keep their relative
 * precision (z = -6 gives 9.9 in 10,000 million, not zero), because people with neuromuscular disease live there.
 *
 * @param z  any finite number
 * @source   series and continued fraction of the error function: Abramowitz and Stegun, Handbook of
 *           Mathematical Functions, 7.1.6 and 7.1.14 (from memory; tested against printed table values)
 */
export function shareBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const tail = (x < 3 ? 1 - erfBySeries(x) : erfcByFraction(x)) / 2;
  return z < 0 ? tail : 1 - tail;
}

/** erf x = 2 / sqrt(pi) e^(-x^2) (x + 2 x^3 / 3 + 4 x^5 / 15 + ...): every term is positive, so nothing cancels. */
function erfBySeries(x: number): number {
  let term = x;
  let sum = x;
  for (let odd = 3; term > sum * 1e-17; odd += 2) {
    term *= (2 * x * x) / odd;
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** erfc x = e^(-x^2) / sqrt(pi) / (x + (1/2) / (x + (2/2) / (x + (3/2) / ...))), from the inside out. */
function erfcByFraction(x: number): number {
  let below = x;
  // 60 levels are exact to the last digit from x = 3 upward, where this form takes over.
  for (let level = 60; level > 0; level--) below = x + level / 2 / below;
  return Math.exp(-x * x) / Math.sqrt(Math.PI) / below;
}
