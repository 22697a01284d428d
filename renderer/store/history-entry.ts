import type { Exercise } from "../../core/exercise/exercise.ts";
import { positionName } from "../../core/instrument/positions.ts";
import { factOf, type SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { Attempt, Summary } from "../../core/score/attempt.ts";
import { tempoSign } from "../../core/tune/tempo.ts";

/** Samples of a take, mono, -1..1. */
export interface KeptTake {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** An attempt to be kept. A simulated take is no source: it never enters the history. */
export interface NewEntry {
  readonly atEpochMs: number;
  /** Where the player is: IANA name of the time zone, "Europe/Dublin". */
  readonly zone: string;
  readonly source: "microphone" | "recording";
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Null where it is no longer kept, or never was. */
  readonly take: KeptTake | null;
  /** Made up for the demonstration, not played; absent otherwise. */
  readonly demo?: true;
}

export interface HistoryEntry extends NewEntry {
  readonly id: string;
  /** Absent without a star. */
  readonly starred?: true;
}

/** A take as it is stored: its samples as they are, or packed (`take-packing.ts`). */
export type StoredTake = PlainTake | PackedTake;

export interface PlainTake {
  readonly sampleRateHz: number;
  readonly samples: Float32Array;
}

export interface PackedTake {
  readonly sampleRateHz: number;
  /** Number of samples. */
  readonly count: number;
  /** A sample is a whole number times this. */
  readonly step: number;
  readonly packed: Uint8Array;
}

/** An attempt as it is stored. */
export type StoredEntry = Omit<HistoryEntry, "take"> & { readonly take: StoredTake | null };

/** What the list shows of an entry: neither marks nor samples. */
export interface HistoryLine {
  readonly id: string;
  readonly atEpochMs: number;
  readonly zone: string;
  /** In the zone where it was played. */
  readonly day: PracticeDay;
  readonly source: NewEntry["source"];
  readonly title: string;
  /** "G harp, 2nd position". */
  readonly harp: string;
  /** "G harp". */
  readonly harpName: string;
  readonly position: number;
  /** That the exercise asks for, each once: "plain", "bend". */
  readonly techniques: readonly string[];
  /** "♩ = 90". */
  readonly tempo: string;
  readonly durationSeconds: number;
  readonly summary: Summary;
  /** What it is compared with, and what it was whatever harp and tempo: see `core/progress/likeness.ts`. */
  readonly group: string;
  readonly item: string;
  readonly starred: boolean;
  /** What the take needs on the disk; null where it is not kept. */
  readonly takeBytes: number | null;
  readonly demo: boolean;
  /** The tune and the rung of its ladder, where it was one. */
  readonly tuneId?: string;
  readonly rung?: string;
}

/** The line of an entry. @param takeBytes what its take needs where it is kept */
export const lineOf = (entry: Omit<HistoryEntry, "take">, takeBytes: number | null = null): HistoryLine =>
  lineOfFact(entry, factOf(entry), takeBytes);

/** The same where the fact is known already. */
export function lineOfFact(
  { id, atEpochMs, zone, source, exercise, attempt, starred, demo }: Omit<HistoryEntry, "take">,
  { day, group, item, what }: SessionFact,
  takeBytes: number | null,
): HistoryLine {
  const { harp, title, position, techniques, tuneId, rung } = what;
  return {
    ...(tuneId === undefined ? {} : { tuneId }),
    ...(rung === undefined ? {} : { rung }),
    id,
    atEpochMs,
    zone,
    day,
    source,
    title,
    harp: `${harp}, ${positionName(position)} position`,
    harpName: harp,
    position,
    techniques,
    tempo: tempoSign(exercise.tempo),
    durationSeconds: attempt.take.durationSeconds,
    summary: attempt.summary,
    group,
    item,
    starred: starred === true,
    takeBytes,
    demo: demo === true,
  };
}
