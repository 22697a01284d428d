/**
 * Count, sum and sum of squares of values kept as whole tenths (of a cent, of a millisecond): whole numbers add up to the same
 * in any order, so that roll-ups are exactly what a recount gives.
 */
export interface Sums {
  readonly n: number;
  readonly sumTenths: number;
  readonly squaresTenths: number;
}

export const NO_SUMS: Sums = { n: 0, sumTenths: 0, squaresTenths: 0 };

/** @param values in any unit; each is rounded to a tenth */
export function sumsOf(values: readonly number[]): Sums {
  return values.reduce<Sums>((sums, value) => {
    const tenths = Math.round(10 * value);
    // Minus zero is not the zero a recount stores.
    return addSums(sums, { n: 1, sumTenths: tenths === 0 ? 0 : tenths, squaresTenths: tenths * tenths });
  }, NO_SUMS);
}

export const addSums = (one: Sums, other: Sums): Sums => ({
  n: one.n + other.n,
  sumTenths: one.sumTenths + other.sumTenths,
  squaresTenths: one.squaresTenths + other.squaresTenths,
});

/** What is left of a whole without one of its parts: the exact reverse of adding. */
export const withoutSums = (whole: Sums, part: Sums): Sums => ({
  n: whole.n - part.n,
  sumTenths: whole.sumTenths - part.sumTenths,
  squaresTenths: whole.squaresTenths - part.squaresTenths,
});

/** Mean; null without values. */
export const meanOf = ({ n, sumTenths }: Sums): number | null => (n === 0 ? null : sumTenths / n / 10);

/** Sample standard deviation (divisor n - 1); null with fewer than two values. */
export const deviationOf = (sums: Sums): number | null => deviationWithin([sums]);

/** Deviation of several kinds of values each about its own mean, pooled; null where no kind has two values. */
export function deviationWithin(kinds: readonly Sums[]): number | null {
  let [squares, free] = [0, 0];
  for (const { n, sumTenths, squaresTenths } of kinds) {
    if (n < 2) continue;
    // Whole numbers: n times the sum of squares about the mean, without loss.
    squares += Math.max(0, n * squaresTenths - sumTenths * sumTenths) / n;
    free += n - 1;
  }
  return free === 0 ? null : Math.sqrt(squares / free) / 10;
}

/** Root mean square distance from a point in the same unit; null without values. */
export function distanceOf({ n, sumTenths, squaresTenths }: Sums, from: number): number | null {
  if (n === 0) return null;
  const squares = squaresTenths - 20 * from * sumTenths + n * (10 * from) ** 2;
  return Math.sqrt(Math.max(0, squares) / n) / 10;
}
