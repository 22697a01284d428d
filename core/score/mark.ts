import type { Breath } from "../instrument/layout.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import type { Cents, Midi, Milliseconds, Seconds } from "../units.ts";

export type Verdict = "hit" | "wrong" | "missed" | "not measured";

/** How far a note may lie from its target before something is said about it. */
export interface Tolerances {
  /** Beyond this the note is a different one. mir_eval and MIREX use the same 50 cents. */
  readonly rightNoteCents: Cents;
  /** Up to here a note is in tune; beyond `offCents` it is sharp or flat; between them it is close. */
  readonly inTuneCents: Cents;
  /** The same for bends and overblows. */
  readonly bendInTuneCents: Cents;
  readonly offCents: Cents;
  /** Beyond this a note is early or late. */
  readonly onBeatMs: Milliseconds;
}

/**
 * Cents: built on the 25-cent boundary of in and out of tune (Larrouy-Maestri 2018) and discrimination near
 * 10 cents (Parncutt and Cohen 1995). Milliseconds: onsets of trios playing together differ by 27 to 49 ms without
 * sounding uneven (Rasch 1979); 40 lies inside that. Both choices are common practice.
 *
 * Bends: a plain reed keeps its own pitch, while that of a bend is held by the mouth alone and lies a few tens of cents
 * about its target in ordinary playing; below 10 to 20 cents listeners do not tell melodic intervals apart (Parncutt and
 * Cohen 1995). So a bend is in tune up to 20. From 25 on anyone hears it, so the outer limit is the same for all.
 */
export const USUAL_TOLERANCES: Tolerances = {
  rightNoteCents: 50 as Cents,
  inTuneCents: 10 as Cents,
  bendInTuneCents: 20 as Cents,
  offCents: 25 as Cents,
  onBeatMs: 40 as Milliseconds,
};

/** What arithmetic adds to a distance of exactly a tolerance does not count: the ends are inside. */
export const withinTolerance = (distance: number, tolerance: number): boolean =>
  Math.abs(distance) <= tolerance + 1e-6;

export type Intonation = "in tune" | "close" | "sharp" | "flat";
export type Timing = "on the beat" | "early" | "late";

/** What may have gone wrong with a note, by the layout in hand. */
export const DIAGNOSIS_KINDS = [
  "neighbour hole",
  "wrong breath",
  "bend too shallow",
  "bend too deep",
  "unbent",
  "octave",
  "two holes at once",
  "early breath change",
  "hole missing",
  "hole too many",
  "another chord",
  "unknown",
] as const;
export type DiagnosisKind = (typeof DIAGNOSIS_KINDS)[number];

export interface Diagnosis {
  readonly kind: DiagnosisKind;
  /** One clause for the player: "5 draw instead of 4 draw". */
  readonly words: string;
  /** What was sounded instead, as far as it can be told. */
  readonly action: ReedAction | null;
  /** The holes that sounded; empty where that cannot be told. */
  readonly holes: readonly number[];
  /** From the target; null where that says nothing. Positive is sharp. */
  readonly offCents: Cents | null;
  /** What else explains the same sound about as well. */
  readonly others: readonly DiagnosisKind[];
}

/** A second reed heard along with a note. */
export interface SecondReed {
  /** Fractional, A4 = 440 Hz. */
  readonly midi: Midi;
  /** Its level against the note's; negative is softer. */
  readonly levelDb: number;
  /** Tab of the reed of this harp on the breath of the note that it is; null if there is none. */
  readonly tab: string | null;
  readonly hole: number | null;
  /** Loud enough to be heard as a second note. */
  readonly loud: boolean;
}

/** A pitch that slides: into the settled part, or off it. */
export interface Slide {
  /** How far from the settled part it begins or ends; negative is below. */
  readonly cents: Cents;
  readonly ms: Milliseconds;
}

/** How a note was held. */
export interface Hold {
  readonly lengthSeconds: Seconds;
  /** Middle of its frames from the target; positive is sharp. */
  readonly distanceCents: Cents;
  /** From the beginning to the end of the hold, along the straight line through its frames; positive is rising. */
  readonly driftCents: Cents;
  /** Sample deviation of its frames about that line. */
  readonly steadinessCents: Cents;
  /** How often the tone broke off and was taken up again. */
  readonly breaks: number;
}

/** What an onset is measured from: the beat; where the player went on after a stop or a skip; his own tempo around it. */
export type MsFrom = "beat" | "where it went on" | "own tempo";

/** The holes heard for a chord. */
export interface ChordHeard {
  /** Null where not even the breath is sure. */
  readonly breath: Breath | null;
  /** Holes that surely sounded, rising. */
  readonly holes: readonly number[];
  /** Holes of which it could not be told whether they sounded. */
  readonly unsureHoles: readonly number[];
  /** Holes an octave above one that sounded: nothing shows whether they sounded as well. */
  readonly octaveHoles: readonly number[];
}

/** What is said about one expected note. */
export interface Mark {
  readonly index: number;
  readonly verdict: Verdict;
  readonly expectedMidi: Midi;
  /** Nearest whole note heard at A4 of the harp; null where no pitch was read. */
  readonly heardMidi: Midi | null;
  /** Deviation from the target, the reed's own offset taken off; null unless the right note was read. Positive is sharp. */
  readonly cents: Cents | null;
  /** The measured offset of the reed itself that was taken off; null where none was measured. */
  readonly reedCents: Cents | null;
  /** Slide into the note and off its end; null where there is none worth telling. */
  readonly scoop: Slide | null;
  readonly fall: Slide | null;
  /** Null unless the way is "hold" and the note long enough. */
  readonly hold: Hold | null;
  /**
   * Onset after latency from what `msFrom` says; null where nothing was heard or nothing is there to measure from.
   * Positive is late. Onset is the first moment of the attack: where the note's own harmonics have reached 5 % of their
   * rise.
   */
  readonly ms: Milliseconds | null;
  readonly msFrom: MsFrom | null;
  /** What the onset may be off by beyond the usual few ms, and early or late are judged wider by. */
  readonly msUncertain: Milliseconds;
  /** Time to the next answered note against what is written, at the player's own tempo there; 1 is even. */
  readonly lengthShare: number | null;
  readonly intonation: Intonation | null;
  readonly timing: Timing | null;
  /** What was asked for. */
  readonly action: ReedAction;
  readonly tab: string;
  /** Reed actions of this harp that give a wrong note; empty otherwise. */
  readonly heardAs: readonly string[];
  /** Null where there is nothing to explain. A right note may have one: it is apart from the verdict. */
  readonly diagnosis: Diagnosis | null;
  readonly secondReed: SecondReed | null;
  /** Where the note stands in the take; null where nothing was heard. */
  readonly onSeconds: Seconds | null;
  readonly offSeconds: Seconds | null;
  /** Why something was not measured or not judged, or null. */
  readonly reason: string | null;
  /** Of a chord for which something was heard; absent for single notes. */
  readonly chord?: ChordHeard;
}
