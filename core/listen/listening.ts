import type { Cents, Dbfs, Hz, Midi, Seconds } from "../units.ts";
import type { HeardChord } from "./chords/heard-chord.ts";

/** One pitch estimate. Times count from the first sample of the take to the centre of the analysed window. */
export interface Frame {
  readonly atSeconds: Seconds;
  /** Best estimate, or null where none could be made (silence). Present in unvoiced frames too, where a guess exists. */
  readonly pitchHz: Hz | null;
  /** True where a reed is judged to sound. */
  readonly voiced: boolean;
  /** Periodicity, 0..1. */
  readonly clarity: number;
  /** Of the window, up to about 10 kHz: what reeds use. */
  readonly levelDbfs: Dbfs;
}

/** Why a heard note has no pitch that can be trusted. */
export type UnreadableReason = "too short" | "too quiet" | "no steady pitch" | "clipped";

/** A second reed that sounds along with a note. */
export interface Leak {
  /** Fractional, A4 = 440 Hz. */
  readonly pitchMidi: Midi;
  /** Its level against the note's; negative is softer. */
  readonly levelDb: number;
}

/** One note found in a take. */
export interface HeardNote {
  /** First moment of the attack, seconds from the first sample. */
  readonly onSeconds: Seconds;
  /** End of sounding; >= onSeconds. */
  readonly offSeconds: Seconds;
  /**
   * Pitch of the settled part, fractional, A4 = 440 Hz: by least squares where one steady pitch explains it, else the
   * middle of what its frames swing between. Null when `unreadable` says why.
   */
  readonly pitchMidi: Midi | null;
  /** Interquartile range of the settled part; null with pitchMidi. */
  readonly spreadCents: Cents | null;
  /** Length of the settled part the pitch rests on; 0 when there is none. */
  readonly settledSeconds: Seconds;
  readonly levelDbfs: Dbfs;
  readonly unreadable: UnreadableReason | null;
  /** The strongest other reed heard along with it; null where none was. */
  readonly leak: Leak | null;
}

/** A place where sound is missing that was there to be heard. */
export interface Hole {
  /** From the first sample of the take. */
  readonly fromSeconds: Seconds;
  readonly toSeconds: Seconds;
}

/** What was heard in one whole take. */
export interface Listening {
  readonly sampleRateHz: Hz;
  readonly durationSeconds: Seconds;
  /** Ascending by time, constant hop; none where the listener was told not to keep them. */
  readonly frames: readonly Frame[];
  /** Ascending by onset, not overlapping. */
  readonly notes: readonly HeardNote[];
  /** Ascending by onset; absent where chords were not listened for. */
  readonly chords?: readonly HeardChord[];
  /** Ascending; absent where nothing is missing. */
  readonly holes?: readonly Hole[];
  /** Algorithmic delay of a live estimate: half a window, one hop, and any look-ahead. */
  readonly latencySeconds: Seconds;
  readonly peakDbfs: Dbfs;
  /** Level of the room where nothing sounds, up to about 10 kHz; -80 where the take never shows it. */
  readonly noiseFloorDbfs: Dbfs;
  /** Share of samples at full scale, 0..1. */
  readonly clippedShare: number;
}
