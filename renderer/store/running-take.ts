import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Way } from "../../core/score/attempt.ts";
import type { KeptTake } from "./history-entry.ts";

/** What a take needs besides its sound to be marked, as it stands while the take runs. */
export interface RunningHead {
  readonly atEpochMs: number;
  /** IANA name of the time zone the player is in. */
  readonly zone: string;
  readonly exercise: Exercise;
  readonly way: Way;
  /** Taken off every onset. */
  readonly latencyMs: number;
  readonly sampleRateHz: number;
  /** Where beat 0 lies, counted from the first sample; null where nobody knows. */
  readonly beatZeroSeconds: number | null;
}

/** A take on its way onto the disk, piece by piece. No verb rejects: a take goes on whatever becomes of its copy. */
export interface RunningTake {
  readonly id: string;
  /**
   * Resolves once the piece is on the disk, or given up.
   *
   * @param samples mono, -1..1, those that follow the piece before; the caller's no longer
   */
  add(head: RunningHead, samples: Float32Array): Promise<void>;
  /** Nothing more comes: resolves once all pieces are on the disk, or given up. The take stays this window's. */
  end(): Promise<void>;
  /** Forgets it. */
  discard(): Promise<void>;
  /** It is kept, or left for whoever opens the program next: no longer this window's. */
  leave(): void;
}

/** A take that no window records any longer and that was neither kept nor thrown away. */
export interface LeftTake {
  readonly id: string;
  readonly atEpochMs: number;
  readonly title: string;
  /** From beat 0, or from the beginning of the recording where no beat is known. */
  readonly playedSeconds: number;
}

/** Where takes lie while they are recorded. Every verb but `begin` rejects with a StoreTrouble when it cannot do its work. */
export interface RunningTakes {
  begin(): RunningTake;
  /** Newest first. Those in which nothing was played are forgotten, and those too old or too many. */
  left(nowEpochMs: number): Promise<readonly LeftTake[]>;
  /** Takes it over; null where it is gone, or another window has it. */
  takeOver(id: string): Promise<TakenOver | null>;
}

/** A left take in the hands of this window. */
export interface TakenOver {
  readonly id: string;
  readonly head: RunningHead;
  readonly take: KeptTake;
  discard(): Promise<void>;
  /** Not this window's any longer: it is kept, or is to be offered again. */
  leave(): void;
}
