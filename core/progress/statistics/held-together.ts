import { type Random, seededRandom } from "../../exercise/seeded-random.ts";

import { VarianceOfS } from "./kendall-variance.ts";
import type { Compared } from "./like-pairs.ts";
import { probabilityBelow } from "./normal-quantile.ts";

const SHUFFLES = 1000;
/** The same history always gives the same intervals. */
const SEED = 1968;

/** Comparisons of one measure, as bare numbers: these are shuffled hundreds of times. */
interface Bare {
  readonly variance: VarianceOfS;
  /** 1 or -1 where two places differ, else 0; and which two of all places they are, as `fieldOf` has it. */
  readonly sign: Int8Array;
  readonly field: Int32Array;
  /** Of the order of the places; the same after any shuffle where all places are compared by all rows. */
  readonly always: number | null;
}

/**
 * How much each interval of several measures must hold so that all of them together hold a share of those who do not change:
 * the days are shuffled, whole days, all measures alike, and the widest claim of each shuffle is noted. What goes up and down
 * together (timing spread and evenness, everything on a bad day) so costs less than measures that have nothing in common.
 *
 * @param measures comparisons of each, places numbered alike
 * @param together 0.5 to below 1
 * @returns confidence for each interval, at least `together`
 *
 * Source: P. H. Westfall and S. S. Young, Resampling-Based Multiple Testing (1993), the single-step maximum.
 */
export function confidenceOfEach(measures: readonly Compared[], together: number): number {
  const places = [...new Set(measures.flatMap((one) => one.places))].sort((a, b) => a - b);
  const bare = measures.filter(({ pairs }) => pairs.length > 0).map((one) => bareOf(one, places));
  if (bare.length === 0) return together;
  const random = seededRandom(SEED);
  // Each order and the same from the other end: a history read backwards has the same intervals, turned round.
  const orders = Array.from({ length: SHUFFLES / 2 }, () => shuffled(places.length, random));
  const widest = Float64Array.from(
    orders.flatMap((order) => [order, order.toReversed()]),
    (order) => {
      const steps = stepsOf(order);
      return Math.max(...bare.map((one) => claimOf(one, steps)));
    },
  ).sort();
  const reach = widest[Math.ceil(together * SHUFFLES) - 1] ?? 0;
  return Math.max(together, 2 * probabilityBelow(reach) - 1);
}

function bareOf(compared: Compared, places: readonly number[]): Bare {
  const numbers = new Map(places.map((x, number) => [x, number]));
  const own = compared.places.map((x) => numbers.get(x) ?? 0);
  const variance = new VarianceOfS(compared);
  const isFull = compared.weights.every((row) => row.every((weight) => weight > 0));
  return {
    variance,
    sign: Int8Array.from(compared.pairs, ({ sign }) => sign),
    field: Int32Array.from(compared.pairs, ({ first, second }) => fieldOf(own[first] ?? 0, own[second] ?? 0)),
    always: isFull ? variance.of() : null,
  };
}

/** Two places as one number, the first before the second. */
const fieldOf = (first: number, second: number): number => (second * (second - 1)) / 2 + first;

/** Places in an order of chance: where each comes. */
function shuffled(length: number, random: Random): Int32Array {
  const order = Int32Array.from({ length }, (_, place) => place);
  for (let place = length - 1; place > 0; place--) {
    const other = Math.floor((place + 1) * random());
    const kept = order[place] ?? 0;
    order[place] = order[other] ?? 0;
    order[other] = kept;
  }
  return order;
}

/** For every two places 1 where the first still comes first in that order, else -1. */
function stepsOf(order: Int32Array): Int8Array {
  const steps = new Int8Array((order.length * (order.length - 1)) / 2);
  let field = 0;
  for (let second = 1; second < order.length; second++)
    for (let first = 0; first < second; first++)
      steps[field++] = (order[first] ?? 0) < (order[second] ?? 0) ? 1 : -1;
  return steps;
}

/**
 * S in its deviations, without sign, after those steps; less by the 2 that an interval whose ranks are rounded outwards keeps
 * back by itself.
 */
function claimOf({ variance, sign, field, always }: Bare, steps: Int8Array): number {
  const own = field.map((number) => steps[number] ?? 0);
  let sum = 0;
  for (let pair = 0; pair < sign.length; pair++) sum += (own[pair] as number) * (sign[pair] as number);
  const spread = always ?? variance.of(Int8Array.from(own));
  return spread === 0 ? 0 : Math.max(Math.abs(sum) - 2, 0) / Math.sqrt(spread);
}
