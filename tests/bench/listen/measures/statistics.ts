/** Of an empty list all of these are NaN, which the tables show as a dash. */

export function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? Number.NaN) + upper) / 2;
}

/** The value below which the share `q`, 0..1, of the values lies: no interpolation, so it is one of them. */
export function quantile(values: readonly number[], q: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
}

export function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / (values.length || Number.NaN));
}

export const sizes = (values: readonly number[]) => values.map(Math.abs);
