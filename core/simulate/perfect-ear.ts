import type { HeardNote, Listening } from "../listen/listening.ts";
import { cents, dbfs, hz, midi, seconds } from "../units.ts";

/**
 * A note as an ear reports it that misses nothing: 0.4 s long, settled and readable unless told otherwise.
 *
 * @param onSeconds from the first sample of the take
 * @param pitch     fractional MIDI number, A4 = 440 Hz; null where it has no steady pitch
 */
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

/** What such an ear reports that heard just these notes, by onset, in a quiet room. */
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
