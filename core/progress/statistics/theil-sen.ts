import { median } from "../../listen/median.ts";
import { VarianceOfS } from "./kendall-variance.ts";
import { type Compared, compareAll, type RowValue } from "./like-pairs.ts";
import { normalQuantile } from "./normal-quantile.ts";

/** Middle of the slopes between any two places that can be compared, in y for each x, and between what it may lie. */
export interface SlopeInterval {
  readonly slope: number;
  /** -Infinity and Infinity where so few places bound nothing. */
  readonly low: number;
  readonly high: number;
  /** Each row's line through the middle of what the slope leaves: y = atZero + slope x. Only rows that were compared. */
  readonly atZero: ReadonlyMap<string, number>;
  /** Places that can be compared with another, rising. */
  readonly places: readonly number[];
}

/**
 * Slope of Theil and Sen with its interval from Kendall's S, over rows each of which is compared only with itself.
 *
 * Two places are compared by the rows they share, weighted; they make one slope, however many rows share them, so that a bad
 * day that is bad in every row is one bad day. Places that share no row are not compared. With one row it is Sen's own
 * interval; with rows that share no place it is that of the seasonal Kendall test.
 *
 * Ranks are rounded outwards, so that the interval is never narrower than asked for: at eight places without ties 95 per cent
 * asked are 96.9 held.
 *
 * @param values     in any order
 * @param confidence 0.5 to below 1
 * @returns null where fewer than three places can be compared
 *
 * Source: P. K. Sen, JASA 63 (1968) 1379-1389; rows: R. M. Hirsch, J. R. Slack and R. A. Smith, Water Resources Research 18
 * (1982) 107-121.
 */
export function theilSen(values: readonly RowValue[], confidence = 0.95): SlopeInterval | null {
  const compared = compareAll(values);
  if (compared.places.length < 3) return null;
  const slopes = Float64Array.from(compared.pairs, ({ slope }) => slope).sort();
  const slope = median(slopes);
  const reach = normalQuantile(0.5 + confidence / 2) * Math.sqrt(new VarianceOfS(compared).of());
  // Where every value is the same S has no variance and all slopes are 0.
  const rank = Math.max(Math.floor((slopes.length - reach) / 2 + 1e-9), 0);
  return {
    slope,
    low: slopes[rank - 1] ?? Number.NEGATIVE_INFINITY,
    high: (rank < 1 ? undefined : slopes[slopes.length - rank]) ?? Number.POSITIVE_INFINITY,
    atZero: rowsAtZero(values, compared, slope),
    places: compared.places,
  };
}

/** Middle of what the slope leaves of each row. */
function rowsAtZero(
  values: readonly RowValue[],
  { rows }: Compared,
  slope: number,
): ReadonlyMap<string, number> {
  const left = new Map<string, number[]>();
  for (const { row, x, y } of values) {
    if (!rows.has(row)) continue;
    const known = left.get(row);
    if (known === undefined) left.set(row, [y - slope * x]);
    else known.push(y - slope * x);
  }
  return new Map([...left].map(([row, ys]) => [row, median(ys)]));
}
