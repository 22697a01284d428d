import type { DrillSpec } from "../exercise/drill-spec.ts";
import type { Cents, Dbfs, Midi, Milliseconds, Seconds } from "../units.ts";
import type { Diagnosis, DiagnosisKind, Mark, MsFrom, Tolerances } from "./mark.ts";

export {
  DIAGNOSIS_KINDS,
  type Diagnosis,
  type DiagnosisKind,
  type Hold,
  type Intonation,
  type Mark,
  type MsFrom,
  type SecondReed,
  type Slide,
  type Timing,
  type Tolerances,
  USUAL_TOLERANCES,
  type Verdict,
} from "./mark.ts";

export const ATTEMPT_SCHEMA = "reedpath.attempt";
/** 2 adds ways to play, diagnosis, ornaments, abandoned tries, stretches and advice; `readAttempt` opens 1. */
export const ATTEMPT_VERSION = 2;

/**
 * How a take was meant: with the beat, in the player's own time, each note held, or with the beat after hearing it and
 * without seeing it.
 */
export const WAYS = ["in time", "own pace", "hold", "echo"] as const;
export type Way = (typeof WAYS)[number];

/** Whether a take of that way goes with the beat. */
export const hasBeat = (way: Way): boolean => way === "in time" || way === "echo";

/** A note heard that nothing asked for. */
export interface ExtraNote {
  readonly verdict: "extra";
  /** The last expected note before it, or -1 before the first. */
  readonly afterIndex: number;
  readonly heardMidi: Midi;
  readonly heardAs: readonly string[];
  readonly diagnosis: Diagnosis | null;
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
}

/** A sound too short to be a note, beside one: a cut, a tap, a grace note. Neither right nor wrong. */
export interface Ornament {
  /** The expected note it stands in or before; -1 where it stands by none. */
  readonly index: number;
  readonly place: "before" | "in";
  /** Null where it was too short for its pitch. */
  readonly heardMidi: Midi | null;
  readonly heardAs: readonly string[];
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
}

/** A passage begun, broken off and played again; what counts is the later try. The ends count as inside. */
export interface AbandonedTry {
  readonly fromIndex: number;
  readonly toIndex: number;
  readonly notes: number;
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
}

/** How a row of notes played on end begins. "start": with the exercise; the rest: after what happened before it. */
export type StretchBegins = "start" | "late start" | "stop" | "skip" | "again";

/** Notes played on end. */
export interface PlayedStretch {
  readonly begins: StretchBegins;
  /** The first and last expected note answered in it. */
  readonly fromIndex: number;
  readonly toIndex: number;
  /** Where beat 0 would lie for these notes, on the take's clock. */
  readonly beatZeroSeconds: Seconds;
  readonly msFrom: MsFrom | null;
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
  /** The same for bends and overblows alone; null in attempts of version 1. */
  readonly bends: BiasAndSpread | null;
  /** How many of the notes had the measured offset of their own reed taken off. */
  readonly reedsTakenOff: number;
}

export interface BiasAndSpread {
  readonly measuredNotes: number;
  readonly biasCents: Cents | null;
  readonly spreadCents: Cents | null;
}

/** Long against short of notes that share a beat unevenly. */
export interface Swing {
  /** As the exercise has it, 3 for dotted. */
  readonly asked: number;
  /** Median over the pairs; null where that is not measured. */
  readonly played: number | null;
  /** Half the width within which the true ratio lies two times in three. */
  readonly uncertain: number | null;
  readonly pairs: number;
  /** Only a difference that can be measured is called one. */
  readonly judged: "as asked" | "straighter" | "more uneven" | null;
  readonly reason: string | null;
}

export interface TimingSummary {
  readonly measuredNotes: number;
  /** Mean error; null without notes, or where the recording has no beat to measure from. */
  readonly biasMs: Milliseconds | null;
  readonly spreadMs: Milliseconds | null;
  /** Sample deviation of what is left when a steady drift of tempo is taken off; null with fewer than three notes. */
  readonly evennessMs: Milliseconds | null;
  /** The same as a share of the written lengths, 0.05 = a twentieth; in any way of playing. */
  readonly evennessShare: number | null;
  /** Tempo played against tempo asked for, 1 = the same; null with fewer than three notes. */
  readonly tempoRatio: number | null;
  /** The same at the beginning and at the end of the longest stretch; null with fewer than twelve notes. */
  readonly tempoDrift: { readonly first: number; readonly last: number } | null;
  /** Null where the exercise is even. */
  readonly swing: Swing | null;
}

/** Over all notes held. */
export interface HoldSummary {
  readonly measuredNotes: number;
  readonly distanceCents: Cents | null;
  readonly driftCents: Cents | null;
  readonly steadinessCents: Cents | null;
}

export interface Summary {
  readonly notes: NotesSummary;
  readonly intonation: IntonationSummary;
  readonly timing: TimingSummary;
  /** Null unless the way is "hold". */
  readonly hold: HoldSummary | null;
}

/** Something that cost notes, and what to do about it. */
export interface Advice {
  /** What it is about: a diagnosis, or one of the measures. */
  readonly cause:
    | DiagnosisKind
    | "missed"
    | "too many"
    | "sharp"
    | "flat"
    | "early"
    | "late"
    | "uneven"
    | "swing";
  /** "5 of 18 notes: 5 draw instead of 4 draw". */
  readonly words: string;
  readonly notes: number;
  readonly of: number;
  /** What the drill does for it: "Jumps between neighbouring holes, drawn". */
  readonly drillWords: string | null;
  /** Null where no drill can be made on this harp for this player. */
  readonly drill: DrillSpec | null;
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
  readonly way: Way;
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
  readonly ornaments: readonly Ornament[];
  readonly abandoned: readonly AbandonedTry[];
  readonly stretches: readonly PlayedStretch[];
  readonly faults: readonly Fault[];
  /** At most three, what cost most first. */
  readonly advice: readonly Advice[];
}
