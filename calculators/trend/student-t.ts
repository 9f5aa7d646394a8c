/**
 * The multiplier of a 95 per cent interval: Student's t at 0.975.
 *
 * With many readings it is 1.96. With three readings (1 degree of freedom) it is 12.7, because three
 * points hardly say how much they scatter. Using 2 for three readings would make the interval six
 * times too narrow.
 *
 * How: for a whole number of degrees of freedom the share of the distribution within +-t is a finite
 * sum of sines and cosines of the angle atan(t / sqrt(df)) (Abramowitz and Stegun, 26.7.3 and 26.7.4,
 * from memory). It grows with t, so halving an interval finds the t at which it is 0.95. Sixty
 * halvings leave an error below 1e-12; no table is stored.
 *
 * @param degrees  degrees of freedom: readings minus 2 for a line; a whole number, 1 or more
 * @returns t, unrounded; 12.706 for 1, 2.228 for 10, towards 1.960
 * @source  checked against a printed copy of the table in the NIST/SEMATECH e-Handbook of Statistical
 *          Methods, upper critical values, column 0.025 (see the test)
 */
export function t975(degrees: number): number {
  let low = 0;
  let high = 16;
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, degrees) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Share of Student's distribution between -t and t, for a whole number of degrees of freedom. */
export function shareWithin(t: number, degrees: number): number {
  const angle = Math.atan(t / Math.sqrt(degrees));
  const cosine = Math.cos(angle);
  const odd = degrees % 2 === 1;
  if (degrees === 1) return (2 * angle) / Math.PI;
  // Each term is the one before times cos^2 and k / (k + 1): 2/3, 4/5 ... for odd, 1/2, 3/4 ... for even degrees.
  let term = odd ? cosine : 1;
  let sum = term;
  for (let k = odd ? 2 : 1; k <= degrees - 3; k += 2) {
    term *= (cosine * cosine * k) / (k + 1);
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}
