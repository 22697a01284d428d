import type { Harp } from "../instrument/harp.ts";
import type { Position } from "../instrument/positions.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import type { TriadPart } from "../instrument/triads.ts";
import { midiToHz } from "../pitch/equal-temperament.ts";
import type { Mode } from "../pitch/modes.ts";
import { beatsToSeconds, type Tempo } from "../tune/tempo.ts";
import { type Beats, type Cents, type Hz, type Midi, midi, type Seconds } from "../units.ts";
import type { Rhythm } from "./rhythm.ts";

export const EXERCISE_SCHEMA = "reedpath.exercise";
/** Version 4 may have chords of several reeds; version 3 may be a stretch of a tune; version 2 may have a set of degrees for its mode; in version 1 a mode has a name. */
export const EXERCISE_VERSION = 4;

/** Kinds that are made from a mode and a few choices. */
export const DRILL_KINDS = [
  "scale",
  "arpeggio",
  "progression",
  "backing",
  "pattern",
  "bend",
  "breath-pair",
  "hole-jumps",
  "one-breath",
  "long-tones",
  "random-notes",
] as const;

/** Kinds of exercise: the drills, and a stretch of a tune. */
export const EXERCISE_KINDS = [...DRILL_KINDS, "tune"] as const;
export type ExerciseKind = (typeof EXERCISE_KINDS)[number];

type PlainParameter = string | number | boolean | readonly number[];
/** A choice an exercise was made from: plain, a row of numbers, or named parts such as those of a reed action. */
export type Parameter = PlainParameter | { readonly [part: string]: PlainParameter };

/** A reed of a chord besides the lowest. */
export interface ChordReed {
  readonly midi: Midi;
  readonly targetCents: Cents;
  readonly noteName: string;
  readonly action: ReedAction;
}

/** What makes a note a chord: it is the lowest of several reeds that sound at once. */
export interface ExpectedChord {
  /** "Am", "D7". */
  readonly name: string;
  /** Which notes of its triad the harp does not give there. */
  readonly lacks: readonly TriadPart[];
  /** The other reeds, on the breath of the note, rising by hole; at least one. */
  readonly besides: readonly ChordReed[];
}

/** One note the player is asked for; with `chord`, the lowest of several. */
export interface ExpectedNote {
  /** Place in the exercise, from 0. */
  readonly index: number;
  /** Onset counted from beat 0, the first beat after the count-in. */
  readonly startBeats: Beats;
  readonly lengthBeats: Beats;
  readonly midi: Midi;
  /** Where the note should lie against equal temperament on the harp's own A4. */
  readonly targetCents: Cents;
  /** Spelled by its degree of the home note, with octave: "F#4", and "Bb4" for a b3 above G. */
  readonly noteName: string;
  /** Degree of the home note's mode, "b3". */
  readonly degree: string;
  readonly action: ReedAction;
  /** The reed action in tab, of a chord all holes: "-123". */
  readonly tab: string;
  /** To be played stronger than the notes around it; absent for an ordinary one. */
  readonly accent?: true;
  /** What the page shows where that differs from what sounds: swung notes are written even. */
  readonly written?: { readonly startBeats: Beats; readonly lengthBeats: Beats };
  /** When the note is asked for, by name, degree or sound; absent where the page alone asks. */
  readonly calledAtBeats?: Beats;
  /** The reeds that sound with it; absent for a single note. */
  readonly chord?: ExpectedChord;
}

/** Expected notes on a beat grid: plain data, reproducible from `parameters`. */
export interface Exercise {
  readonly schema: typeof EXERCISE_SCHEMA;
  readonly version: typeof EXERCISE_VERSION;
  readonly kind: ExerciseKind;
  readonly title: string;
  /** What this trains, in one sentence. */
  readonly trains: string;
  readonly harp: Harp;
  readonly position: Position;
  /** Home note without octave. */
  readonly home: string;
  readonly mode: Mode;
  readonly tempo: Tempo;
  readonly beatsPerBar: number;
  readonly countInBeats: Beats;
  /** How the notes divide a beat; even where absent. */
  readonly rhythm?: Rhythm;
  /** What the player has to be told about his health before and while doing this. */
  readonly caution?: string;
  /** Whether the player sees the pitch to be reached while playing; he does where absent. */
  readonly targetShown?: boolean;
  /** How the player is told what to play, where that is not by the page. */
  readonly targetAs?: "name" | "degree" | "heard";
  /** The choices it was made from; with harp, position, mode, tempo and bars enough to make it again. */
  readonly parameters: Readonly<Record<string, Parameter>>;
  /** Chords to go with it, by onset; none where absent. */
  readonly chords?: readonly ChordAt[];
  readonly notes: readonly ExpectedNote[];
}

/** A chord of the backing, until the next. */
export interface ChordAt {
  readonly startBeats: Beats;
  /** "Am7". */
  readonly symbol: string;
}

/** Onset of a note in seconds from beat 0. */
export function onsetOf(exercise: Exercise, note: ExpectedNote): Seconds {
  return beatsToSeconds(note.startBeats, exercise.tempo);
}

export function lengthOf(exercise: Exercise, note: ExpectedNote): Seconds {
  return beatsToSeconds(note.lengthBeats, exercise.tempo);
}

export function countInSeconds(exercise: Exercise): Seconds {
  return beatsToSeconds(exercise.countInBeats, exercise.tempo);
}

/** From beat 0 to the end of the last note. */
export function playingSeconds(exercise: Exercise): Seconds {
  const end = exercise.notes.reduce(
    (latest, note) => Math.max(latest, note.startBeats + note.lengthBeats),
    0,
  );
  return beatsToSeconds(end as Beats, exercise.tempo);
}

/** Whether chords of several reeds are asked for. */
export const asksForChords = ({ notes }: Exercise): boolean => notes.some(({ chord }) => chord !== undefined);

/** Holes of a note, of a chord all of them, rising. */
export const holesOf = ({ action, chord }: Pick<ExpectedNote, "action" | "chord">): readonly number[] => [
  action.hole,
  ...(chord?.besides ?? []).map((reed) => reed.action.hole),
];

/** Where a note should sound, as a fractional MIDI number at A4 = 440 Hz: comparable with what was heard. */
export function targetMidi(exercise: Exercise, note: Pick<ExpectedNote, "midi" | "targetCents">): Midi {
  const referenceShift = 12 * Math.log2(exercise.harp.a4 / 440);
  return midi(note.midi + note.targetCents / 100 + referenceShift);
}

export function targetHz(exercise: Exercise, note: Pick<ExpectedNote, "midi" | "targetCents">): Hz {
  return midiToHz(targetMidi(exercise, note));
}
