import type { Harp } from "../instrument/harp.ts";
import type { Tune } from "../tune/tune.ts";
import { type Bits, hasBit, noBits, numbersIn, without } from "./bits.ts";
import { coverage, type PlayLimits } from "./coverage.ts";
import type { Progress } from "./long-work.ts";
import { smallestCover } from "./smallest-cover.ts";
import { allOf, greedyOrder, widestCover } from "./widest-cover.ts";

export interface OwnOptions extends PlayLimits {
  /** Harps the player has already; none where absent. */
  readonly owned?: readonly Harp[];
}

/** The best so many harps to add. */
export interface BestOfSize {
  readonly harps: readonly Harp[];
  /** Tunes played by them or the owned ones. */
  readonly tunes: number;
  /** False where the search was given up: then others might play more. */
  readonly proved: boolean;
}

/** What one more harp adds to those before it. */
export interface NextHarp {
  readonly harp: Harp;
  readonly adds: number;
  /** Tunes played with it. */
  readonly tunes: number;
}

export interface HarpsToOwn {
  /** Tunes the owned harps play, by their places. */
  readonly alreadyPlayed: readonly number[];
  /** Tunes no harp plays within the limits. */
  readonly unplayable: readonly number[];
  /** Fewest harps that play, with the owned ones, every tune that can be played. */
  readonly smallest: readonly Harp[];
  readonly provedSmallest: boolean;
  /** For one harp, two ... up to one fewer than the smallest: those that together play most. */
  readonly bestOfSize: readonly BestOfSize[];
  /** One after another, always the one that adds most. May need more harps than `smallest`. */
  readonly oneByOne: readonly NextHarp[];
}

/**
 * Which harps to own for a repertoire: exact searches, see `smallest-cover.ts` and `widest-cover.ts`. Its steps count the tunes,
 * then the tries of each search that takes more than a moment.
 *
 * @param harps those that come into question; of equally good ones the earlier
 */
export function* harpsToOwn(
  tunes: readonly Tune[],
  harps: readonly Harp[],
  options: OwnOptions,
): Generator<Progress, HarpsToOwn> {
  const { owned = [] } = options;
  const all = yield* coverage(tunes, [...owned, ...harps], options);
  const nothing = noBits(tunes.length);
  const played = allOf(all.slice(0, owned.length), nothing);
  const sets = all.slice(owned.length).map((set) => without(set, played));
  const everything = allOf(sets, nothing);
  const smallest = yield* smallestCover(sets);
  const start = numbersIn(played).length;
  const bestOfSize: BestOfSize[] = [];
  for (let size = 1; size < smallest.chosen.length; size++) {
    const { chosen, covered, proved } = yield* widestCover(sets, everything, size);
    bestOfSize.push({ harps: harpsAt(harps, chosen), tunes: start + covered, proved });
  }
  return {
    alreadyPlayed: numbersIn(played),
    unplayable: [...tunes.keys()].filter((tune) => !hasBit(played, tune) && !hasBit(everything, tune)),
    smallest: harpsAt(harps, smallest.chosen),
    provedSmallest: smallest.proved,
    bestOfSize,
    oneByOne: oneByOne(harps, sets, everything, start),
  };
}

const harpsAt = (harps: readonly Harp[], places: readonly number[]): readonly Harp[] =>
  places.flatMap((place) => harps[place] ?? []);

function oneByOne(
  harps: readonly Harp[],
  sets: readonly Bits[],
  everything: Bits,
  start: number,
): readonly NextHarp[] {
  let played = start;
  return greedyOrder(sets, everything).flatMap(({ set, adds }) => {
    played += adds;
    const harp = harps[set];
    return harp === undefined ? [] : [{ harp, adds, tunes: played }];
  });
}
