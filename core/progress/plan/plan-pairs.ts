import type { Harp } from "../../instrument/harp.ts";
import { readTab } from "../../instrument/tab.ts";
import { pairOf } from "../counts/reed-counts.ts";
import type { WeakSpot } from "../spots/weak-spot.ts";
import type { PlanPair } from "./plan-shape.ts";

/** Weeks of practice in which the pairs that cost most are looked for. */
export const PAIR_WEEKS = 4;

/** They are looked for on so many harps, those with the most notes. */
export const PAIR_HARPS = 3;

/** Pairs found weak on one harp. */
export interface HarpPairs {
  readonly harp: Harp;
  readonly pairs: readonly Pick<WeakSpot, "name" | "words" | "costPer100">[];
}

/** Pairs that were found weak on any of the harps as a plan needs them, what costs most first. */
export function planPairs(harps: readonly HarpPairs[]): readonly PlanPair[] {
  return harps
    .flatMap(({ harp, pairs }) => pairs.map((pair) => ({ harp, pair })))
    .sort((one, other) => other.pair.costPer100 - one.pair.costPer100)
    .flatMap(({ harp, pair: { name, words } }) => {
      const [first, second] = (pairOf(name) ?? []).map(readTab);
      return first == null || second == null ? [] : [{ harp, first, second, why: words.replace(/\.$/, "") }];
    });
}
