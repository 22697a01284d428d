import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { positionName } from "../../core/instrument/positions.ts";
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
  readonly source: "microphone" | "recording";
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  readonly take: KeptTake;
}

export interface HistoryEntry extends NewEntry {
  readonly id: string;
}

/** What the list shows of an entry: neither marks nor samples. */
export interface HistoryLine {
  readonly id: string;
  readonly atEpochMs: number;
  readonly source: NewEntry["source"];
  readonly title: string;
  /** "G harp, 2nd position". */
  readonly harp: string;
  /** "♩ = 90". */
  readonly tempo: string;
  readonly durationSeconds: number;
  readonly summary: Summary;
  /** The tune and the rung of its ladder, where it was one. */
  readonly tuneId?: string;
  readonly rung?: string;
}

/** Where attempts are kept. Every verb rejects with a StoreTrouble when it cannot do its work. */
export interface HistoryStore {
  /** Keeps an attempt and its take, both or neither; resolves once they are on disk. */
  save(entry: NewEntry): Promise<string>;
  /** Newest first. */
  list(): Promise<readonly HistoryLine[]>;
  /** Attempts at a tune, oldest first. */
  ofTune(tuneId: string): Promise<readonly HistoryLine[]>;
  /** null if there is no such attempt. */
  open(id: string): Promise<HistoryEntry | null>;
  /** Deletes, and gives back what `restore` needs; null if there was no such attempt. */
  remove(id: string): Promise<HistoryEntry | null>;
  restore(entry: HistoryEntry): Promise<void>;
}

/** The line of an entry. */
export function lineOf(entry: HistoryEntry): HistoryLine {
  const { tuneId, rung } = entry.exercise.parameters;
  return {
    ...(typeof tuneId === "string" ? { tuneId } : {}),
    ...(typeof rung === "string" ? { rung } : {}),
    id: entry.id,
    atEpochMs: entry.atEpochMs,
    source: entry.source,
    title: entry.exercise.title,
    harp: `${harpName(entry.exercise.harp)}, ${positionName(entry.exercise.position)} position`,
    tempo: tempoSign(entry.exercise.tempo),
    durationSeconds: entry.attempt.take.durationSeconds,
    summary: entry.attempt.summary,
  };
}
