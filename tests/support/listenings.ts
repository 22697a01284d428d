import type { HeardNote, Listening } from "../../core/listen/listening.ts";
import { cents, dbfs, hz, midi, seconds } from "../../core/units.ts";

/** A heard note of 0.4 s, settled and readable unless told otherwise. */
export function heardNote(
  onSeconds: number,
  pitch: number | null,
  changes: Partial<HeardNote> = {},
): HeardNote {
  return {
    onSeconds: seconds(onSeconds),
    offSeconds: seconds(onSeconds + 0.4),
    pitchMidi: pitch === null ? null : midi(pitch),
    spreadCents: pitch === null ? null : cents(1),
    settledSeconds: seconds(pitch === null ? 0 : 0.3),
    levelDbfs: dbfs(-20),
    unreadable: pitch === null ? "no steady pitch" : null,
    leak: null,
    ...changes,
  };
}

/** What an ear would report that heard just these notes. */
export function listeningOf(notes: readonly HeardNote[], durationSeconds = 60): Listening {
  return {
    sampleRateHz: hz(48_000),
    durationSeconds: seconds(durationSeconds),
    frames: [],
    notes,
    latencySeconds: seconds(0.026),
    peakDbfs: dbfs(-12),
    noiseFloorDbfs: dbfs(-70),
    clippedShare: 0,
  };
}
