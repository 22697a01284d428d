/** Mean of n >= 1 values, or null without any. */
export function mean(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Sample standard deviation (divisor n - 1), or null with fewer than two values. */
export function sampleDeviation(values: readonly number[]): number | null {
  const middle = mean(values);
  if (middle === null || values.length < 2) return null;
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}

export interface Line {
  readonly slope: number;
  /** The middle of the points, through which the line goes. */
  readonly middleX: number;
  readonly middleY: number;
  /** Sample deviation of the points about the line (divisor n - 2). */
  readonly residualDeviation: number;
}

export interface SteadyLine {
  readonly slope: number;
  /** Its value at x = 0. */
  readonly atZero: number;
}

/** Least-squares line through n >= 3 points that do not all share one x; otherwise null. */
export function fitLine(points: readonly { readonly x: number; readonly y: number }[]): Line | null {
  const middleX = mean(points.map((point) => point.x));
  const middleY = mean(points.map((point) => point.y));
  if (middleX === null || middleY === null || points.length < 3) return null;
  const sumXX = points.reduce((sum, { x }) => sum + (x - middleX) ** 2, 0);
  if (sumXX === 0) return null;
  const slope = points.reduce((sum, { x, y }) => sum + (x - middleX) * (y - middleY), 0) / sumXX;
  const squares = points.reduce((sum, { x, y }) => sum + (y - middleY - slope * (x - middleX)) ** 2, 0);
  return { slope, middleX, middleY, residualDeviation: Math.sqrt(squares / (points.length - 2)) };
}

/**
 * Line through n >= 3 points by the middle of the slopes between any two, which a few points far off do not turn (Theil
 * 1950; Sen, "Estimates of the regression coefficient based on Kendall's tau", JASA 63, 1968); null for points of one x.
 */
export function steadyLine(points: readonly { readonly x: number; readonly y: number }[]): SteadyLine | null {
  if (points.length < 3) return null;
  const slopes = points.flatMap((one, place) =>
    points
      .slice(place + 1)
      .flatMap((other) => (other.x === one.x ? [] : [(other.y - one.y) / (other.x - one.x)])),
  );
  const slope = median(slopes);
  if (slope === null) return null;
  return { slope, atZero: median(points.map(({ x, y }) => y - slope * x)) ?? 0 };
}

/** Middle value of n >= 1 values, of an even number the mean of the two middle ones; null without any. */
export function median(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle];
  if (upper === undefined) return null;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
}
