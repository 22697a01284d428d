import type { PracticeDay } from "../practice-day.ts";
import type { ShareInterval } from "../statistics/wilson.ts";
import type { TrendLine } from "../trends/trend.ts";

/** A reed action or a pair of them on one harp, and what it cost. */
export interface Spot {
  readonly kind: "reed" | "pair";
  /** As `harpKeyOf`. */
  readonly harp: string;
  /** Tab, "-3''"; of a pair "4 > -4". */
  readonly name: string;
  /** Notes judged, and how many of them were wrong, missed, out of tune or off the beat, each note once. */
  readonly asked: number;
  readonly troubled: number;
  readonly wrong: number;
  readonly missed: number;
  readonly off: number;
  readonly offBeat: number;
  /** Troubled share with its interval. */
  readonly share: ShareInterval;
  /** Troubled share of all notes of the same exercises on the same days, 0..1. */
  readonly usual: number;
  /** The share moved towards the usual, as few notes allow no more: what is to be expected of it, 0..1. */
  readonly expected: number;
  /** Troubled notes beyond the usual to be expected in 100 notes of all that is played; what is sorted by. */
  readonly costPer100: number;
  /** First attempts of each day that has it, oldest first. */
  readonly cold: readonly ColdBaseline[];
  /** Five notes in a hundred beyond the usual to be expected, and above the usual at each of the last two cold baselines. */
  readonly weak: boolean;
}

/** The first attempts of one day. */
export interface ColdBaseline {
  readonly day: PracticeDay;
  readonly asked: number;
  readonly troubled: number;
  /** Troubled share of all notes of those attempts. */
  readonly usual: number;
}

export interface WeakSpot extends Spot {
  /** The day at whose end it was first found weak; nothing up to then is held against or for it afterwards. */
  readonly pickedOn: PracticeDay;
  /** Its troubled share less the usual, cold, on days after that one. */
  readonly since: TrendLine;
  /** Without its name: "14 of 60 notes in trouble, 23 in 100 (14 to 35); the usual is 9 in 100." */
  readonly words: string;
}

export interface WeakSpots {
  /** Weak ones, what costs most first. */
  readonly reeds: readonly WeakSpot[];
  readonly pairs: readonly WeakSpot[];
  /** Found weak on an earlier day and no longer, reed actions and pairs. */
  readonly noLonger: readonly WeakSpot[];
  /** Every reed action and pair that was asked for, what costs most first. */
  readonly allReeds: readonly Spot[];
  readonly allPairs: readonly Spot[];
}

/** What one reed action gave, for the picture of a harp. */
export interface ReedPicture {
  readonly harp: string;
  /** Tab. */
  readonly name: string;
  readonly asked: number;
  /** Share of notes right (neither wrong nor missed), with Wilson's interval. */
  readonly right: ShareInterval;
  /** Cents from the target of notes right; null without any (`spread` with fewer than two). */
  readonly cents: MeanAndSpread | null;
  readonly ms: MeanAndSpread | null;
}

export interface MeanAndSpread {
  readonly notes: number;
  readonly mean: number;
  readonly spread: number | null;
}

/** One field of the matrix of pairs: from its row, to its column. */
export interface PairPicture {
  readonly harp: string;
  readonly from: string;
  readonly to: string;
  readonly asked: number;
  readonly troubled: ShareInterval;
  /** Right, neither wrong nor missed. */
  readonly right: ShareInterval;
}
