import { scoreTake } from "../../core/score/score-take.ts";
import type { HistoryEntry, NewEntry } from "../../renderer/store/history-store.ts";
import { exerciseOf } from "../support/drills.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

/** An attempt at a short drill with a 16-bit take of 1 s that holds a ramp, so that a sample out of place shows. */
export function newEntry(changes: Partial<NewEntry> = {}): NewEntry {
  const exercise = exerciseOf();
  const samples = Float32Array.from({ length: 48_000 }, (_, i) => (i - 24_000) / 32_768);
  return {
    atEpochMs: 1_790_000_000_000,
    zone: "Europe/Dublin",
    source: "microphone",
    exercise,
    attempt: scoreTake(exercise, listeningOf([heardNote(1, 62)], 1)),
    take: { samples, sampleRateHz: 48_000 },
    ...changes,
  };
}

/** Ids in order, so that a test can name them. */
export function countingIds(): () => string {
  let count = 0;
  return () => `attempt-${++count}`;
}

export const withId = (entry: NewEntry, id: string): HistoryEntry => ({ ...entry, id });
