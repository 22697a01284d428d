/**
 * Point below which a normally distributed number (mean 0, deviation 1) lies with probability p, by halving the distribution
 * function; good to 1e-7.
 *
 * @param p above 0, below 1
 *
 * Distribution function: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), 26.2.11, a series.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`probability ${p} is not between 0 and 1`);
  let [low, high] = [-9, 9];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (probabilityBelow(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Probability that such a number lies below x. */
export function probabilityBelow(x: number): number {
  let term = x;
  let sum = x;
  for (let odd = 3; Math.abs(term) > 1e-17 * Math.abs(sum) && odd < 400; odd += 2) {
    term *= (x * x) / odd;
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI);
}
