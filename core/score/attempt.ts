import type { ReedAction } from "../instrument/reed-actions.ts";
import type { Cents, Dbfs, Midi, Milliseconds, Seconds } from "../units.ts";

export const ATTEMPT_SCHEMA = "reedpath.attempt";
export const ATTEMPT_VERSION = 1;

export type Verdict = "hit" | "wrong" | "missed" | "not measured";

/** How far a note may lie from its target before something is said about it. */
export interface Tolerances {
  /** Beyond this the note is a different one. mir_eval and MIREX use the same 50 cents. */
  readonly rightNoteCents: Cents;
  /** Up to here a note is in tune; beyond `offCents` it is sharp or flat; between them it is close. */
  readonly inTuneCents: Cents;
  readonly offCents: Cents;
  /** Beyond this a note is early or late. */
  readonly onBeatMs: Milliseconds;
}

/**
 * Cents: built on the 25-cent boundary of in and out of tune (Larrouy-Maestri 2018) and discrimination near
 * 10 cents (Parncutt and Cohen 1995). Milliseconds: onsets of trios playing together differ by 27 to 49 ms without
 * sounding uneven (Rasch 1979); 40 lies inside that. Both choices are common practice.
 */
export const USUAL_TOLERANCES: Tolerances = {
  rightNoteCents: 50 as Cents,
  inTuneCents: 10 as Cents,
  offCents: 25 as Cents,
  onBeatMs: 40 as Milliseconds,
};

export type Intonation = "in tune" | "close" | "sharp" | "flat";
export type Timing = "on the beat" | "early" | "late";

/** What is said about one expected note. */
export interface Mark {
  readonly index: number;
  readonly verdict: Verdict;
  readonly expectedMidi: Midi;
  /** Nearest whole note heard at A4 of the harp; null where no pitch was read. */
  readonly heardMidi: Midi | null;
  /** Deviation from the target; null unless the right note was read. Positive is sharp. */
  readonly cents: Cents | null;
  /** Onset from the beat after latency; null where nothing was heard. Positive is late. */
  readonly ms: Milliseconds | null;
  readonly intonation: Intonation | null;
  readonly timing: Timing | null;
  /** What was asked for. */
  readonly action: ReedAction;
  readonly tab: string;
  /** Reed actions of this harp that give a wrong note; empty otherwise. */
  readonly heardAs: readonly string[];
  /** Where the note stands in the take; null where nothing was heard. */
  readonly onSeconds: Seconds | null;
  readonly offSeconds: Seconds | null;
  /** Why something was not measured, or null. */
  readonly reason: string | null;
}

/** A note heard that nothing asked for. */
export interface ExtraNote {
  readonly verdict: "extra";
  /** The last expected note before it, or -1 before the first. */
  readonly afterIndex: number;
  readonly heardMidi: Midi;
  readonly heardAs: readonly string[];
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
}

export interface NotesSummary {
  readonly expected: number;
  readonly hit: number;
  readonly wrong: number;
  readonly missed: number;
  readonly notMeasured: number;
  readonly extra: number;
  /** Hits among the notes that could be measured, 0..1; null if none could. */
  readonly hitShare: number | null;
}

export interface IntonationSummary {
  readonly measuredNotes: number;
  /** Mean deviation; null without notes. */
  readonly biasCents: Cents | null;
  /** Sample standard deviation; null with fewer than two notes. */
  readonly spreadCents: Cents | null;
}

export interface TimingSummary {
  readonly measuredNotes: number;
  /** Mean error; null without notes, or where the recording has no beat to measure from. */
  readonly biasMs: Milliseconds | null;
  readonly spreadMs: Milliseconds | null;
  /** Sample deviation of what is left when a steady drift of tempo is taken off; null with fewer than three notes. */
  readonly evennessMs: Milliseconds | null;
  /** Tempo played against tempo asked for, 1 = the same; null with fewer than three notes. */
  readonly tempoRatio: number | null;
}

export interface Summary {
  readonly notes: NotesSummary;
  readonly intonation: IntonationSummary;
  readonly timing: TimingSummary;
}

/** Something worth telling the player, in the order it was played. */
export interface Fault {
  readonly kind: "wrong" | "missed" | "extra" | "sharp" | "flat" | "early" | "late";
  /** The expected note, or for an extra the one before it (-1 before the first). */
  readonly index: number;
  readonly words: string;
}

/** Where beat 0 lies in the take. */
export interface TakeStart {
  readonly beatZeroSeconds: Seconds;
  /** "given": known from the recorder or the caller; "found": estimated from the notes, so no bias can be told. */
  readonly source: "given" | "found";
}

/** An exercise's marks: what the `score` command prints and what is kept. */
export interface Attempt {
  readonly schema: typeof ATTEMPT_SCHEMA;
  readonly version: typeof ATTEMPT_VERSION;
  readonly title: string;
  readonly take: {
    readonly durationSeconds: Seconds;
    readonly sampleRateHz: number;
    readonly peakDbfs: Dbfs;
    readonly clippedShare: number;
  };
  readonly start: TakeStart;
  readonly latencyMs: Milliseconds;
  readonly tolerances: Tolerances;
  readonly summary: Summary;
  readonly marks: readonly Mark[];
  readonly extras: readonly ExtraNote[];
  readonly faults: readonly Fault[];
}
