import type { Harp } from "../instrument/harp.ts";
import { readTab } from "../instrument/tab.ts";
import type { PlanPair } from "./plan-shape.ts";
import { pairOf } from "./reed-counts.ts";
import type { WeakSpot } from "./weak-spot.ts";

/** Weeks of practice in which the pairs that cost most are looked for. */
export const PAIR_WEEKS = 4;

/** Pairs that were found weak as a plan needs them. @param harp the one they were played on */
export function planPairs(
  pairs: readonly Pick<WeakSpot, "name" | "words">[],
  harp: Harp,
): readonly PlanPair[] {
  return pairs.flatMap(({ name, words }) => {
    const [first, second] = (pairOf(name) ?? []).map(readTab);
    return first == null || second == null ? [] : [{ harp, first, second, why: words.replace(/\.$/, "") }];
  });
}
