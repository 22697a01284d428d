import { type Random, seededRandom } from "../exercise/seeded-random.ts";

import { type Signs, signsOf, varianceOfS } from "./kendall-variance.ts";
import type { Compared } from "./like-pairs.ts";
import { probabilityBelow } from "./normal-quantile.ts";

const SHUFFLES = 1000;
/** The same history always gives the same intervals. */
const SEED = 1968;

/** Comparisons of one measure, as bare numbers: this is shuffled a thousand times. */
interface Bare {
  readonly signs: Signs;
  /** Numbers among all places. */
  readonly first: Int32Array;
  readonly second: Int32Array;
  readonly sign: Int8Array;
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
    (order) => Math.max(...bare.map((one) => claimOf(one, order))),
  ).sort();
  const reach = widest[Math.ceil(together * SHUFFLES) - 1] ?? 0;
  return Math.max(together, 2 * probabilityBelow(reach) - 1);
}

function bareOf(compared: Compared, places: readonly number[]): Bare {
  const numbers = new Map(places.map((x, number) => [x, number]));
  const numberOf = (place: number) => numbers.get(compared.places[place] ?? 0) ?? 0;
  return {
    signs: signsOf(compared),
    first: Int32Array.from(compared.pairs, ({ first }) => numberOf(first)),
    second: Int32Array.from(compared.pairs, ({ second }) => numberOf(second)),
    sign: Int8Array.from(compared.pairs, ({ sign }) => sign),
  };
}

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

/**
 * S in its deviations, without sign, were the places in that order; less by the 2 that an interval whose ranks are rounded
 * outwards keeps back by itself.
 */
function claimOf({ signs, first, second, sign }: Bare, order: Int32Array): number {
  const lead = new Int32Array(order.length);
  let [sum, all] = [0, 0];
  for (let pair = 0; pair < sign.length; pair++) {
    const [one, other] = [first[pair] ?? 0, second[pair] ?? 0];
    const step = (order[one] ?? 0) < (order[other] ?? 0) ? 1 : -1;
    sum += step * (sign[pair] ?? 0);
    lead[one] = (lead[one] ?? 0) + step;
    lead[other] = (lead[other] ?? 0) - step;
    all += 2;
  }
  const variance = varianceOfS(signs, lead.reduce((squares, by) => squares + by * by, 0) - all);
  return variance === 0 ? 0 : Math.max(Math.abs(sum) - 2, 0) / Math.sqrt(variance);
}
