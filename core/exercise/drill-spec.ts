import type { Harp } from "../instrument/harp.ts";
import type { Breath } from "../instrument/layout.ts";
import type { Position } from "../instrument/positions.ts";
import type { Abilities, ReedAction } from "../instrument/reed-actions.ts";
import type { Mode } from "../pitch/modes.ts";
import type { Tempo } from "../tune/tempo.ts";
import type { BackingStrokes } from "./backing-strokes.ts";
import type { Exercise } from "./exercise.ts";
import type { Accents, NotesPerBeat, Rhythm } from "./rhythm.ts";

export type MadeExercise =
  | { readonly kind: "exercise"; readonly exercise: Exercise }
  | { readonly kind: "impossible"; readonly reason: string };

/** What every drill needs to know. */
export interface DrillSetting {
  readonly harp: Harp;
  readonly position: Position;
  /** By name, or any set of degrees. */
  readonly mode: Mode;
  readonly abilities: Abilities;
  readonly tempo: Tempo;
  /** Whole beats, 0 to 16. */
  readonly countInBeats: number;
  /** 1 to 16; two dotted crotchets or four of anything else where not said. */
  readonly beatsPerBar?: number;
}

/** Drills of running notes: so many to the beat, with a rhythm and accents (even and none where not said). */
export interface Running {
  readonly notesPerBeat: NotesPerBeat;
  readonly rhythm?: Rhythm;
  readonly accents?: Accents;
}

export type Direction = "up" | "down" | "both";
/** Which place of the harp to begin on: the one that needs the fewest bends, or the lowest that can be played. */
export type Start = "easiest" | "lowest";
/** How far: octaves, or the longest unbroken row of plain notes. */
export type Octaves = 1 | 2 | "plain range";

export interface Range {
  readonly octaves: Octaves;
  readonly start: Start;
  /** Degree the range begins on; where not said the home note, or the first degree of a set without it. */
  readonly fromDegree?: string;
}

export interface ScaleDrill extends DrillSetting, Running, Range {
  readonly direction: Direction;
}

export type ChordSize = "triad" | "seventh";

/** A broken chord of the mode, built in thirds on one of its degrees. */
export interface ArpeggioDrill extends DrillSetting, Running {
  readonly degree: string;
  readonly size: ChordSize;
  readonly octaves: Octaves;
  readonly start: Start;
  readonly direction: Direction;
}

/** Broken chords one after the other, each the nearest inversion to the one before. */
export interface ProgressionDrill extends DrillSetting, Running {
  /** Roman numerals of the mode: "I-IV-V-I", "i-VII-VI-VII", "ii7-V7-I". */
  readonly numerals: string;
  /** How each chord is broken: upwards, or up and back down. */
  readonly figure: "up" | "up-and-back";
  readonly start: Start;
  /** 1 to 32. */
  readonly repeats: number;
}

export type PatternFigure =
  | "thirds"
  | "fourths"
  | "sixths"
  | "octaves"
  | "turns"
  | "1-2-3-1"
  | "1-2-3-5"
  | "threes"
  | "fours";

/** A small figure begun on every note of the scale in turn; downwards it is mirrored. */
export interface PatternDrill extends DrillSetting, Running, Range {
  readonly figure: PatternFigure;
  readonly direction: Direction;
}

export type BendFigure = "hold" | "from-above" | "match" | "ladder";

/** One bent or overblown note, practised by itself. Choices left out are drawn by the seed from those that fit. */
export interface BendDrill extends DrillSetting {
  readonly figure: BendFigure;
  /** "bend" where not said; ladders and approaches from above are for bends alone. */
  readonly technique?: "bend" | "overblow" | "overdraw";
  readonly hole?: number;
  readonly breath?: Breath;
  readonly bentSemitones?: number;
  /** How long each note that is practised lasts, 0.5 to 16 beats. */
  readonly holdBeats: number;
  /** At least this much rest before the next try, 0 to 16 beats. */
  readonly restBeats: number;
  /** 1 to 32. */
  readonly repeats: number;
  /** Whether the player sees the pitch he is to reach while playing. */
  readonly targetShown: boolean;
  readonly seed: number;
}

/**
 * Two reed actions back and forth, faster from round to round. One tempo stays: a round has more notes to the beat
 * than the one before, so lengths in beats shrink and everything stays on one grid. A rest as long as the round
 * follows each.
 */
export interface BreathPairDrill extends DrillSetting {
  readonly first: ReedAction;
  readonly second: ReedAction;
  /** Notes to the beat of each round, rising: [1, 2, 3, 4]. */
  readonly rounds: readonly NotesPerBeat[];
  /** Whole beats, 1 to 64. */
  readonly roundBeats: number;
}

/** Plain reeds so many holes apart; no move is wider than `jump` holes. A rest as long as the pass follows each. */
export interface HoleJumpDrill extends DrillSetting, Running {
  readonly jump: 1 | 2 | 3 | 4;
  /** One breath throughout, or the lower hole of each jump blown and the upper drawn. */
  readonly breath: Breath | "alternate";
  readonly direction: Direction;
  /** 1 to 32. */
  readonly repeats: number;
}

/** The longest run of the mode's notes on one breath through neighbouring holes, up and back; a rest as long follows. */
export interface OneBreathDrill extends DrillSetting, Running {
  readonly breath: Breath | "longest";
  /** 1 to 32. */
  readonly repeats: number;
}

export interface LongToneDrill extends DrillSetting, Range {
  readonly direction: Direction;
  /** 1 to 16 beats. */
  readonly toneBeats: number;
  /** 0 to 16 beats. */
  readonly restBeats: number;
}

/** How the player is told which note to play. */
export type TargetAs = "name" | "degree" | "heard";

/** Notes of the scale in an order nobody can know beforehand. */
export interface RandomNoteDrill extends DrillSetting, Range {
  /** 1 to 500. */
  readonly count: number;
  readonly seed: number;
  readonly targetAs: TargetAs;
  /** Widest move in steps of the scale, >= 1; any where not said. */
  readonly largestLeap?: number;
  /** 0.25 to 16 beats. */
  readonly noteBeats: number;
  /** How long before a note its name, degree or sound is given, 0 to 16 beats; at least `noteBeats` for "heard". */
  readonly callBeats: number;
}

/** Chords of a backing, sounded on neighbouring holes of one breath in the rhythm of a dance. */
export interface BackingDrill extends DrillSetting {
  /** Roman numerals of the mode or chord symbols, a bar each or so many beats: "I-IV-V-I", "G Em:1 D7:1". */
  readonly chords: string;
  readonly strokes: BackingStrokes;
  /** How many holes the mouth covers at once, 2 to 4. */
  readonly mostHoles: number;
  /** Whether a chord may lack a note where the harp has it nowhere whole. */
  readonly partial: boolean;
  /** 1 to 32. */
  readonly repeats: number;
}

/** Everything a drill can be made from. */
export type DrillSpec =
  | ({ readonly kind: "scale" } & ScaleDrill)
  | ({ readonly kind: "arpeggio" } & ArpeggioDrill)
  | ({ readonly kind: "progression" } & ProgressionDrill)
  | ({ readonly kind: "backing" } & BackingDrill)
  | ({ readonly kind: "pattern" } & PatternDrill)
  | ({ readonly kind: "bend" } & BendDrill)
  | ({ readonly kind: "breath-pair" } & BreathPairDrill)
  | ({ readonly kind: "hole-jumps" } & HoleJumpDrill)
  | ({ readonly kind: "one-breath" } & OneBreathDrill)
  | ({ readonly kind: "long-tones" } & LongToneDrill)
  | ({ readonly kind: "random-notes" } & RandomNoteDrill);

export type DrillKind = DrillSpec["kind"];
