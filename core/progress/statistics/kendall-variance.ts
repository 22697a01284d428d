import { type Compared, weightOfDifference } from "./like-pairs.ts";

/**
 * Variance of S, the sum of the signs of all comparisons, where the order of the places means nothing.
 *
 * Two comparisons that share a place go together in the same direction if that is first or last in both, against one another
 * otherwise. How much they do depends on what they share: a place's own value, common to all its rows, and the values of the rows
 * that both compare. Which part is common is counted from the comparisons themselves, which takes in ties and rows that disagree.
 * Where all places are compared in one row this is exactly Kendall's variance with ties in y (M. G. Kendall, Rank Correlation
 * Methods, 4th ed. 1970, chapter 5): two signs then go together by a third, at a correlation of a half. In between, the
 * covariance of signs, 2/pi asin of the correlation, is taken as two thirds of it: at most 0.007 off where it matters.
 */
export class VarianceOfS {
  /** Comparisons with a difference. */
  private readonly decided: number;
  private readonly shape: Shape;
  /** How much comparisons go together against the shape, 0..1. */
  private readonly factor: number;

  constructor(compared: Compared) {
    const { pairs, perPlace } = compared;
    this.decided = pairs.filter(({ sign }) => sign !== 0).length;
    const together = perPlace.reduce(
      (sum, { above, below }) => sum + (above - below) ** 2 - (above + below),
      0,
    );
    const { shape, expected } = shapeFor(compared, together);
    this.shape = shape;
    this.factor = expected <= 0 ? 0 : Math.min(Math.max(together / expected, 0), 1);
  }

  /** @param steps for each comparison 1 where its first place comes first, else -1; the order of the places if left out */
  of(steps?: Int8Array): number {
    const apart = this.decided + this.factor * TWO_THIRDS * this.shape.inOrder(steps);
    // A row of places each compared with the next alone has (n + 1) / 3 for n - 1 comparisons; none has less than a third each.
    return Math.max(apart, this.decided / 3);
  }
}

const TWO_THIRDS = 2 / 3;
/** Of the common part against the mean variance of a difference without it, on the way from nothing to everything. */
const SHARES = [0, 0.1, 0.25, 0.5, 1, 2, 4, 10, Number.POSITIVE_INFINITY];

/** The shape under which comparisons go together as often as they were seen to: the one with the least common part that does. */
function shapeFor(compared: Compared, together: number) {
  const alone = compared.weights.length === 1;
  let found = { shape: new Shape(compared, Number.POSITIVE_INFINITY), expected: 0 };
  for (const share of alone ? [Number.POSITIVE_INFINITY] : SHARES) {
    const shape = new Shape(compared, share);
    found = { shape, expected: TWO_THIRDS * shape.fromEach() };
    if (found.expected >= together) break;
  }
  return found;
}

/** Correlations of comparisons with a place in common, as sums over them. */
class Shape {
  private readonly places: number;
  private readonly first: Int32Array;
  private readonly second: Int32Array;
  /** What the common part of a place counts in each comparison. */
  private readonly common: Float64Array;
  /** What each row counts in each comparison, one list after another: [row * pairs + pair]. */
  private readonly ofRows: readonly Float64Array[];
  /** Variance of each row's value at each place; the common part's. */
  private readonly noise: readonly Float64Array[];
  private readonly commonNoise: number;

  /** @param share of the common part's variance, against the mean variance of a difference without it; Infinity for nothing else */
  constructor({ places, pairs, weights }: Compared, share: number) {
    this.places = places.length;
    this.first = Int32Array.from(pairs, ({ first }) => first);
    this.second = Int32Array.from(pairs, ({ second }) => second);
    const total = Float64Array.from(pairs, ({ first, second }) =>
      weights.reduce((sum, row) => sum + weightOfDifference(row[first] ?? 0, row[second] ?? 0), 0),
    );
    const only = share === Number.POSITIVE_INFINITY;
    const middle = total.reduce((sum, weight) => sum + 1 / weight, 0) / Math.max(total.length, 1);
    this.commonNoise = only ? 1 : share * middle;
    const deviation = total.map((weight) => Math.sqrt(2 * this.commonNoise + (only ? 0 : 1 / weight)));
    this.common = deviation.map((one) => 1 / one);
    this.ofRows = only
      ? []
      : weights.map((row) =>
          Float64Array.from(pairs, ({ first, second }, pair) => {
            const weight = weightOfDifference(row[first] ?? 0, row[second] ?? 0);
            return weight / ((total[pair] ?? 1) * (deviation[pair] ?? 1));
          }),
        );
    this.noise = weights.map((row) => row.map((weight) => (weight === 0 ? 0 : 1 / weight)));
  }

  /** Over every two comparisons with a place in common: their correlation, less than nothing where they point apart. */
  inOrder(steps?: Int8Array): number {
    return this.sum(steps ?? null, -1);
  }

  /** The same where every comparison is looked at from the place in common. */
  fromEach(): number {
    return this.sum(null, 1);
  }

  private sum(steps: Int8Array | null, atSecond: 1 | -1): number {
    // Each comparison with itself, once from either end, is one in all.
    let sum = -this.first.length;
    if (this.commonNoise > 0) sum += this.squares(this.common, null, steps, atSecond) * this.commonNoise;
    for (const [row, part] of this.ofRows.entries())
      sum += this.squares(part, this.noise[row] ?? null, steps, atSecond);
    return sum;
  }

  /** Squares of what each place has of one part, times its variance. */
  private squares(
    part: Float64Array,
    noise: Float64Array | null,
    steps: Int8Array | null,
    atSecond: 1 | -1,
  ): number {
    const lead = new Float64Array(this.places);
    for (let pair = 0; pair < part.length; pair++) {
      const by = steps === null ? (part[pair] as number) : (part[pair] as number) * (steps[pair] as number);
      const [one, other] = [this.first[pair] as number, this.second[pair] as number];
      lead[one] = (lead[one] as number) + by;
      lead[other] = (lead[other] as number) + atSecond * by;
    }
    let squares = 0;
    for (let place = 0; place < lead.length; place++)
      squares += (lead[place] as number) ** 2 * (noise === null ? 1 : (noise[place] as number));
    return squares;
  }
}
