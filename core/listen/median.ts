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

/**
 * The value with `rank` others below it, by Hoare's selection: no sorting, no copy, but the values change places.
 *
 * @param values only the first `count` of them count, none NaN
 * @param rank   0..count - 1
 */
export function selectInPlace(values: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1] as number;
    let i = low;
    let j = high;
    while (i <= j) {
      while ((values[i] as number) < pivot) i++;
      while ((values[j] as number) > pivot) j--;
      if (i > j) break;
      const held = values[i] as number;
      values[i++] = values[j] as number;
      values[j--] = held;
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank] as number;
}
