import { type Bits, countBoth, together, without } from "./bits.ts";
import { MOST_TRIES, type Progress, TRIES_A_STEP } from "./long-work.ts";

/** So many sets that together hold most. */
export interface WidestCover {
  /** Places of the sets, ascending; fewer than asked for where more would add nothing. */
  readonly chosen: readonly number[];
  readonly covered: number;
  /** False where the search was given up: then others might hold more. */
  readonly proved: boolean;
}

/** The next set that adds most, again and again: what a player would buy who buys one after another. */
export function greedyOrder(
  sets: readonly Bits[],
  everything: Bits,
): readonly { set: number; adds: number }[] {
  const order: { set: number; adds: number }[] = [];
  let left = everything;
  for (;;) {
    const gains = sets.map((set) => countBoth(set, left));
    const adds = Math.max(0, ...gains);
    if (adds === 0) return order;
    const set = gains.indexOf(adds);
    order.push({ set, adds });
    left = without(left, sets[set] ?? left);
  }
}

/**
 * The best choice of `most` sets, by branch and bound: what is left can add no more than the largest gains together (gains
 * never grow as more is covered: Nemhauser, Wolsey and Fisher, Mathematical Programming 14, 1978).
 */
export function* widestCover(
  sets: readonly Bits[],
  everything: Bits,
  most: number,
  mostTries: number = MOST_TRIES,
): Generator<Progress, WidestCover> {
  const search = new WidestSearch(sets, most, mostTries, everything);
  for (const _ of search.run(everything)) yield { done: search.tries, of: mostTries };
  const chosen = [...search.best].sort((one, other) => one - other);
  return { chosen, covered: search.covered, proved: search.finished };
}

class WidestSearch {
  best: readonly number[];
  covered: number;
  tries = 0;
  finished = true;

  constructor(
    private readonly sets: readonly Bits[],
    private readonly most: number,
    private readonly mostTries: number,
    everything: Bits,
  ) {
    const greedy = greedyOrder(sets, everything).slice(0, most);
    this.best = greedy.map((step) => step.set);
    this.covered = greedy.reduce((sum, step) => sum + step.adds, 0);
  }

  *run(everything: Bits): Generator<void> {
    yield* this.branch([...this.sets.keys()], everything, [], 0);
  }

  private *branch(
    able: readonly number[],
    left: Bits,
    chosen: readonly number[],
    covered: number,
  ): Generator<void> {
    if (covered > this.covered) [this.best, this.covered] = [chosen, covered];
    const free = this.most - chosen.length;
    if (free === 0) return;
    if (this.tries >= this.mostTries) {
      this.finished = false;
      return;
    }
    this.tries++;
    if (this.tries % TRIES_A_STEP === 0) yield;
    const gains = able
      .map((set) => ({ set, gain: countBoth(this.sets[set] ?? left, left) }))
      .filter(({ gain }) => gain > 0)
      .sort((one, other) => other.gain - one.gain);
    for (const [place, { set, gain }] of gains.entries()) {
      const hope = gains.slice(place, place + free).reduce((sum, one) => sum + one.gain, 0);
      if (covered + hope <= this.covered) return;
      const others = gains.slice(place + 1).map((one) => one.set);
      yield* this.branch(others, without(left, this.sets[set] ?? left), [...chosen, set], covered + gain);
    }
  }
}

/** Everything any of the sets holds. */
export const allOf = (sets: readonly Bits[], nothing: Bits): Bits =>
  sets.reduce((all, set) => together(all, set), nothing);
