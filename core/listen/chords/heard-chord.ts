import type { Dbfs, Seconds } from "../../units.ts";

/** Reeds that began to sound together. */
export interface HeardChord {
  /** First moment of the attack, seconds from the first sample. */
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
  /** Null where neither breath is sure. */
  readonly breath: "blow" | "draw" | null;
  /** Holes that surely sound, rising; none where nothing is sure. */
  readonly holes: readonly number[];
  /** Holes of that breath of which it cannot be told whether they sound as well. */
  readonly unsureHoles: readonly number[];
  /** Holes next to them that stand octaves above one of them: nothing in the sound shows whether they sound as well. */
  readonly octaveHoles: readonly number[];
  readonly levelDbfs: Dbfs;
  /** Why something is not sure, or null. */
  readonly unsure: UnsureReason | null;
}

export type UnsureReason = "too short" | "more than one chord fits";
