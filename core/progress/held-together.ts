import { type Random, seededRandom } from "../exercise/seeded-random.ts";

import { orderOf, type Signs, signsOf, varianceOfS } from "./kendall-variance.ts";
import type { Compared } from "./like-pairs.ts";
import { probabilityBelow } from "./normal-quantile.ts";

const SHUFFLES = 1000;
/** The same history always gives the same intervals. */
const SEED = 1968;

/** Comparisons of one measure, as bare numbers: these are shuffled a thousand times. Fields are those of `fieldOf`. */
interface Bare {
  readonly signs: Signs;
  /** 1 or -1 where two places differ, else 0. */
  readonly sign: Int8Array;
  /** 1 where two places are compared. */
  readonly isCompared: Int8Array;
  /** See `orderOf`; null where it depends on the order of the places, as not all of them are compared. */
  readonly order: number | null;
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
      return Math.max(...bare.map((one) => claimOf(one, steps, order.length)));
    },
  ).sort();
  const reach = widest[Math.ceil(together * SHUFFLES) - 1] ?? 0;
  return Math.max(together, 2 * probabilityBelow(reach) - 1);
}

function bareOf(compared: Compared, places: readonly number[]): Bare {
  const numbers = new Map(places.map((x, number) => [x, number]));
  const own = compared.places.map((x) => numbers.get(x) ?? 0);
  const fields = (places.length * (places.length - 1)) / 2;
  const [sign, isCompared] = [new Int8Array(fields), new Int8Array(fields)];
  for (const pair of compared.pairs) {
    const field = fieldOf(own[pair.first] ?? 0, own[pair.second] ?? 0);
    sign[field] = pair.sign;
    isCompared[field] = 1;
  }
  const n = own.length;
  const all = compared.pairs.length === (n * (n - 1)) / 2;
  return { signs: signsOf(compared), sign, isCompared, order: all ? orderOf(compared) : null };
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
function claimOf({ signs, sign, isCompared, order }: Bare, steps: Int8Array, places: number): number {
  let sum = 0;
  for (let field = 0; field < sign.length; field++) sum += (steps[field] ?? 0) * (sign[field] ?? 0);
  const variance = varianceOfS(signs, order ?? orderAfter(isCompared, steps, places));
  return variance === 0 ? 0 : Math.max(Math.abs(sum) - 2, 0) / Math.sqrt(variance);
}

/** `orderOf` after those steps. */
function orderAfter(isCompared: Int8Array, steps: Int8Array, places: number): number {
  const lead = new Int32Array(places);
  let [field, comparisons] = [0, 0];
  for (let second = 1; second < places; second++) {
    for (let first = 0; first < second; first++, field++) {
      if (isCompared[field] === 0) continue;
      const step = steps[field] ?? 0;
      lead[first] = (lead[first] ?? 0) + step;
      lead[second] = (lead[second] ?? 0) - step;
      comparisons += 1;
    }
  }
  return lead.reduce((squares, by) => squares + by * by, 0) - 2 * comparisons;
}
