/**
 * Middle of the sorted values, the mean of the two middle ones where their number is even.
 *
 * @param values n >= 1
 * @throws RangeError for none: nothing has no middle
 */
export function median(values: ArrayLike<number>): number {
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
export function quantile(values: ArrayLike<number>, share: number): number {
  if (values.length === 0) throw new RangeError("no values to take a quantile of");
  const sorted = values.length <= few.length ? sortedFew(values) : Float64Array.from(values).sort();
  const last = values.length - 1;
  const at = last * share;
  const low = Math.floor(at);
  const below = sorted[low] as number;
  const above = sorted[Math.min(low + 1, last)] as number;
  return below + (at - low) * (above - below);
}

const few = new Float64Array(32);

/** Few values, as most are here, are sorted soonest by insertion, and without a new array; a NaN comes last. */
function sortedFew(values: ArrayLike<number>): Float64Array {
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    let j = i - 1;
    for (; j >= 0 && !((few[j] as number) <= value) && !Number.isNaN(value); j--)
      few[j + 1] = few[j] as number;
    few[j + 1] = value;
  }
  return few;
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
