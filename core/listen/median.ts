/**
 * Middle of the sorted values, the mean of the two middle ones where their number is even.
 *
 * @param values n >= 1
 * @throws RangeError for none: nothing has no middle
 */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/**
 * Quantile by linear interpolation between the order statistics: method R-7 of Hyndman and Fan, "Sample quantiles in
 * statistical packages", The American Statistician 50 (1996).
 *
 * @param values n >= 1
 * @param share  0..1
 * @throws RangeError for no values
 */
export function quantile(values: readonly number[], share: number): number {
  if (values.length === 0) throw new RangeError("no values to take a quantile of");
  const sorted = new Float64Array(values).sort();
  const at = (sorted.length - 1) * share;
  const low = Math.floor(at);
  const below = sorted[low] as number;
  const above = sorted[Math.min(low + 1, sorted.length - 1)] as number;
  return below + (at - low) * (above - below);
}
