import type { Harp } from "../../instrument/harp.ts";
import { BREATHS } from "../../instrument/layout.ts";
import { beatsPerSecond, pureRatio } from "../../pitch/beat-rate.ts";
import { type Semitones, semitones } from "../../units.ts";
import { type ReedPlace, samePlace } from "../measure/reed-reading.ts";
import type { ReedChange } from "./reed-change.ts";
import type { PlannedReed } from "./reed-work.ts";

/** Two reeds that have to agree when the work is finished. */
export interface ReedPair {
  readonly low: ReedPlace;
  readonly high: ReedPlace;
  readonly interval: Semitones;
  /** The pure ratio it is heard against, "2/1", "3/2", "5/4", "1/1". */
  readonly ratio: string;
  /** Beats in a second when both reeds sound what is wanted of them. */
  readonly beatsPerSecond: number;
  /** Beats in a second that one cent on the higher reed makes. */
  readonly beatsPerCent: number;
  /** Whether both sound on one breath; the others are compared one after the other. */
  readonly together: boolean;
}

/** The tongue covers at most three holes between two that sound. Common practice. */
const WIDEST_GRIP = 4;

/**
 * Pairs to finish by ear in which a reed was worked on: the fourths, thirds and sixths of neighbouring holes and
 * the fifths within a grip of the tongue, then octaves within one and unisons wherever they lie, each from low to high.
 *
 * @param wanted the harp as it is to be
 */
export function pairsToFinish(wanted: Harp, reeds: readonly PlannedReed[]): readonly ReedPair[] {
  const worked = reeds.filter(({ work }) => work.kind !== "leave").map(({ change }) => change);
  const isWorked = (reed: ReedChange) => worked.some((one) => samePlace(one, reed));
  const changes = reeds.map(({ change }) => change);
  const found = changes.flatMap((one, place) =>
    changes.slice(place + 1).flatMap((other) => {
      if (!isWorked(one) && !isWorked(other)) return [];
      const [low, high] = one.noteWanted <= other.noteWanted ? [one, other] : [other, one];
      return pairOf(low, high) ?? [];
    }),
  );
  const rank = ({ interval }: ReedPair) => (isSame(interval) ? 1 : 0);
  const noteOf = ({ low }: ReedPair) => wanted.layout.holes[low.hole - 1]?.[low.breath] ?? 0;
  return found.sort(
    (a, b) => rank(a) - rank(b) || noteOf(a) - noteOf(b) || a.interval - b.interval || byBreath(a, b),
  );
}

const byBreath = (a: ReedPair, b: ReedPair) => BREATHS.indexOf(a.low.breath) - BREATHS.indexOf(b.low.breath);

function pairOf(low: ReedChange, high: ReedChange): ReedPair | null {
  const interval = semitones(high.noteWanted - low.noteWanted);
  const together = low.breath === high.breath;
  const apart = Math.abs(low.hole - high.hole);
  const wanted =
    interval === 0 ||
    ((interval === 7 || interval === 12) && together && apart <= WIDEST_GRIP) ||
    (interval < 12 && together && apart === 1);
  const pure = pureRatio(interval);
  const beats = beatsPerSecond(low.wantedHz, high.wantedHz, interval);
  if (!wanted || pure === null || beats === null) return null;
  const { hole: lowHole, breath: lowBreath } = low;
  const { hole, breath } = high;
  return {
    low: { hole: lowHole, breath: lowBreath },
    high: { hole, breath },
    interval,
    ratio: `${pure.over}/${pure.under}`,
    beatsPerSecond: beats,
    // d(under x high) for one cent: under x high x ln 2 / 1200.
    beatsPerCent: (pure.under * high.wantedHz * Math.LN2) / 1200,
    together,
  };
}

/** Whether an interval is a unison or an octave. */
export const isSame = (interval: number) => interval % 12 === 0;

/** Reeds that stand in an octave or unison: what is finished last. */
export function pairedReeds(pairs: readonly ReedPair[]): readonly ReedPlace[] {
  return pairs.filter(({ interval }) => isSame(interval)).flatMap(({ low, high }) => [low, high]);
}
